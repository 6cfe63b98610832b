"""Label stocks: what sticks are printed on. A sheet of adhesive labels, a roll, or card to be cut into stakes."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stock:
    """A grid of labels on a page, all sizes (across, down) in millimetres as the page lies in the printer.

    `first_mm` is the left and top edge of the first label; `pitch_mm` from one label to the next. A roll is a page
    the size of its label. `point` is "none", or "right": a stake pointed at its right-hand end. `radius_mm` rounds the corners
    of a label. `cut` says that the page is plain card whose outlines must be printed to be cut along.
    """

    name: str
    title: str
    page_mm: tuple[float, float]
    label_mm: tuple[float, float]
    rows: int
    columns: int
    first_mm: tuple[float, float]
    pitch_mm: tuple[float, float]
    point: str = "none"
    radius_mm: float = 0.0
    cut: bool = False
    origin: str = ""
    built_in: bool = True

    @property
    def labels(self) -> int:
        """How many labels a page holds."""
        return self.rows * self.columns

    def corner_mm(self, label: int) -> tuple[float, float]:
        """Left and top edge of a label on its page, labels counted from 0 in reading order."""
        row, column = divmod(label, self.columns)
        return self.first_mm[0] + column * self.pitch_mm[0], self.first_mm[1] + row * self.pitch_mm[1]
