"""Panels: the parts of a sheet of paper that each bear a whole record sheet, one or two side by side."""

from dataclasses import dataclass

from traysheets.sheets.frame import EDGE_MM
from traysheets.trade.papers import Paper

_NARROW_MM = 170.0
_HALF_FROM_MM = 200.0
"""Width from which half of a sheet, lying, is wide enough to be written on like a sheet of its own."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle of the page that may be drawn on."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        """Its right edge."""
        return self.left_mm + self.width_mm

    @property
    def narrow(self) -> bool:
        """Whether it is so narrow that less stands side by side."""
        return self.width_mm < _NARROW_MM

    @property
    def bottom_mm(self) -> float:
        """Its bottom edge."""
        return self.top_mm + self.height_mm


@dataclass(frozen=True, slots=True)
class Panels:
    """A page and its panels, all of one size, from the left."""

    width_mm: float
    height_mm: float
    panels: tuple[Panel, ...]


def panels_on(paper: Paper) -> Panels:
    """Two panels side by side where the paper, lying, is large enough for that; else one, the paper upright."""
    half = paper.height_mm / 2
    if half < _HALF_FROM_MM:
        return Panels(paper.width_mm, paper.height_mm, (_panel(0.0, paper.width_mm, paper.height_mm),))
    pair = tuple(_panel(i * half, half, paper.width_mm) for i in range(2))
    return Panels(paper.height_mm, paper.width_mm, pair)


def _panel(left: float, width: float, height: float) -> Panel:
    return Panel(left + EDGE_MM, EDGE_MM, width - 2 * EDGE_MM, height - 2 * EDGE_MM)
