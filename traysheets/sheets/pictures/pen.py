"""The hand that all pictures are drawn in: its lines, its tints, and a pen that draws shapes anywhere, at any size.

A pen scales and turns where things stand, but never its lines: small pictures have the same strokes as large ones.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from traysheets.page.marks import BLACK, WHITE, Circle, Colour, Line, Path

LINE_MM = 0.45
"""Outlines."""
THIN_MM = 0.28
"""What is inside an outline, and measures."""
BOLD_MM = 0.9
"""Arrows, and what must be seen from afar."""

_Pieces: TypeAlias = tuple[tuple[str, tuple[float, ...]], ...]


@dataclass(frozen=True, slots=True)
class Tints:
    """The fills of a job's pictures. Each is told from the others by its shape and place as well."""

    soil: Colour
    grain: Colour
    """Specks in the soil."""
    water: Colour
    wood: Colour
    metal: Colour
    glove: Colour
    seed: Colour
    large_seed: Colour
    """Seeds that have an outline of their own."""
    right: Colour
    wrong: Colour


COLOURED = Tints(
    soil="#DCC8AE",
    grain="#8F7355",
    water="#109EEB",
    wood="#F8BA7E",
    metal="#DDE3E6",
    glove="#8FA9C4",
    seed="#1E1712",
    large_seed="#8C6A4C",
    right="#1B7F3B",
    wrong="#B3261E",
)
GREY = Tints(
    soil="#DADADA",
    grain="#7A7A7A",
    water=WHITE,
    wood="#EDEDED",
    metal="#E6E6E6",
    glove="#A8A8A8",
    seed=BLACK,
    large_seed="#8A8A8A",
    right=BLACK,
    wrong=BLACK,
)


def tints(*, grey: bool) -> Tints:
    """The fills for a printer with colour or without."""
    return GREY if grey else COLOURED


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws on a plane of its own, whose origin lies at (x, y) on the page and whose unit is `unit_mm` there.

    The plane may be turned clockwise by `degrees` about its origin, and mirrored left to right before that.
    """

    x_mm: float
    y_mm: float
    unit_mm: float = 1.0
    degrees: float = 0.0
    mirrored: bool = False

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the plane lies on the page."""
        across, angle = (-x if self.mirrored else x), math.radians(self.degrees)
        sine, cosine = (math.sin(angle), math.cos(angle)) if self.degrees else (0.0, 1.0)
        right, down = across * cosine - y * sine, across * sine + y * cosine
        return self.x_mm + right * self.unit_mm, self.y_mm + down * self.unit_mm

    def moved(self, x: float = 0.0, y: float = 0.0, unit: float = 1.0) -> "Pen":
        """A pen with its origin at a point of this one's plane, drawing so much larger."""
        return Pen(*self.at(x, y), self.unit_mm * unit, self.degrees, self.mirrored)

    def line(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        stroke_mm: float = LINE_MM,
        stroke: Colour = BLACK,
        dash_mm: tuple[float, ...] = (),
    ) -> Line:
        """A straight line."""
        return Line(*self.at(x1, y1), *self.at(x2, y2), stroke, stroke_mm, dash_mm)

    def circle(
        self,
        x: float,
        y: float,
        radius: float,
        fill: Colour | None = None,
        stroke: Colour | None = BLACK,
        stroke_mm: float = LINE_MM,
    ) -> Circle:
        """A circle; its radius is in units of the plane."""
        return Circle(*self.at(x, y), radius * self.unit_mm, fill, stroke, stroke_mm)

    def shape(
        self,
        drawn: str,
        fill: Colour | None = None,
        stroke: Colour | None = BLACK,
        stroke_mm: float = LINE_MM,
        dash_mm: tuple[float, ...] = (),
    ) -> Path:
        """A shape written as `M x y`, `L x y`, `C x1 y1 x2 y2 x y` and `Z`, all places from the origin of the plane."""
        d: tuple[tuple[str | float, ...], ...] = tuple(
            (verb, *self._placed(numbers)) for verb, numbers in _pieces(drawn)
        )
        return Path(d, fill, stroke, stroke_mm, dash_mm)

    def _placed(self, numbers: tuple[float, ...]) -> tuple[float, ...]:
        points = zip(numbers[::2], numbers[1::2], strict=True)
        return tuple(part for point in points for part in self.at(*point))


_NUMBERS = {"M": 2, "L": 2, "C": 6, "Z": 0}


@lru_cache(maxsize=1024)
def _pieces(drawn: str) -> _Pieces:
    """The pieces of a shape. A verb may be followed by several groups of numbers."""
    found: list[tuple[str, tuple[float, ...]]] = []
    verb, numbers = "", list[float]()
    for word in drawn.split():
        if word in _NUMBERS:
            verb = word
            if not _NUMBERS[verb]:
                found.append((verb, ()))
            continue
        numbers.append(float(word))
        if len(numbers) == _NUMBERS[verb]:
            found.append((verb, tuple(numbers)))
            numbers = []
    return tuple(found)
