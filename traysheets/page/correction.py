"""What a printer does to a page, and the page to hand it so that what comes out is true. Only sums: nothing is drawn.

A printer prints a little too long or too short, and a little off the place. A ruler laid to its check page says how
much, and undoing it is a stretch and a shift of the whole page, made in one place: where pages are written.
"""

from dataclasses import dataclass
from typing import TypeAlias

Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right and bottom edge, in mm from the top left corner."""

_SMALLEST_SHEET_MM = 148
"""Long side of the smallest sheet (A6); a smaller page is a label on a roll, which another printer prints."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Where a printer puts what a page has at (x, y): at `x * across + right_mm`, `y * down + down_mm`."""

    across: float
    down: float
    right_mm: float
    down_mm: float

    @property
    def undone(self) -> "Stretch":
        """The stretch that leads back."""
        return Stretch(1 / self.across, 1 / self.down, -self.right_mm / self.across, -self.down_mm / self.down)

    def point(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Where a point comes out."""
        return x_mm * self.across + self.right_mm, y_mm * self.down + self.down_mm

    def box(self, box: Box) -> Box:
        """Where a box comes out."""
        return *self.point(*box[:2]), *self.point(*box[2:])


UNCHANGED = Stretch(1.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Correction:
    """A printer as its check page shows it, which is printed upright.

    `scale_across` is measured over meant length along the short side of the paper, `scale_down` along its long side.
    All comes out `shift_right_mm` and `shift_down_mm` beside its place.
    """

    scale_across: float = 1.0
    scale_down: float = 1.0
    shift_right_mm: float = 0.0
    shift_down_mm: float = 0.0

    def printed(self, width_mm: float, height_mm: float) -> Stretch:
        """What the printer does to a page of that size.

        Labels on a roll are left as they are. A sheet that is wider than high goes through the printer upright all the
        same, the page turned a quarter to the left on it (landscape of RFC 8011, 5.2.10, from memory): its right is
        then up on the paper, its down is right.
        """
        if max(width_mm, height_mm) < _SMALLEST_SHEET_MM:
            return UNCHANGED
        if width_mm <= height_mm:
            return Stretch(self.scale_across, self.scale_down, self.shift_right_mm, self.shift_down_mm)
        right_mm = width_mm * (1 - self.scale_down) - self.shift_down_mm
        return Stretch(self.scale_down, self.scale_across, right_mm, self.shift_right_mm)

    def corrected(self, width_mm: float, height_mm: float) -> Stretch:
        """What to do to a page of that size so that the printer brings all of it to its true place."""
        return self.printed(width_mm, height_mm).undone

    def nearest_mm(self, width_mm: float, height_mm: float, margin_mm: float) -> float:
        """How near to an edge of the page the correction brings what stands `margin_mm` inside; negative: off it."""
        inside = (margin_mm, margin_mm, width_mm - margin_mm, height_mm - margin_mm)
        left, top, right, bottom = self.corrected(width_mm, height_mm).box(inside)
        return min(left, top, width_mm - right, height_mm - bottom)
