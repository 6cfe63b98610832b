"""A scene: what each of the six pictures of sowing is drawn with, and the parts that several of them have.

A picture is drawn on a grid of 60 x 30 units: the pot at the left, at the right what has to be looked at closely.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from traysheets.page.marks import BLACK, Mark
from traysheets.sheets.lesson import Lesson, Vessel
from traysheets.sheets.pictures import cut
from traysheets.sheets.pictures.pen import THIN_MM, Pen, Tints
from traysheets.sheets.pictures.pot import DEPTH, Pot, across_at, pot
from traysheets.sheets.seed_dots import stations

WIDTH, HEIGHT = 60.0, 30.0
POT_X, RIM_Y = 17.0, 15.5
DOT = 0.42
"""Radius of a seed as the pictures show it: a sign, not its size."""


@dataclass(frozen=True, slots=True)
class Scene:
    """What a picture is drawn with: the pen of the whole grid, that of the pot, the lesson, the tints, the units."""

    pen: Pen
    lesson: Lesson
    tints: Tints
    units: str
    pot_x: float = POT_X

    @property
    def at_pot(self) -> Pen:
        """A pen whose origin is the middle of the rim."""
        return self.pen.moved(self.pot_x, RIM_Y)

    @property
    def pot(self) -> Pot:
        """The pot of all six."""
        return pot(self.lesson)

    @property
    def gap(self) -> float:
        """How far below the rim it is filled."""
        if self.lesson.vessel is Vessel.BLOCK:
            return 0.0
        return self.pot.shown(self.lesson.gap_mm, 1.3, 0.4 * DEPTH)

    @property
    def cover(self) -> float:
        """How deep seed is covered."""
        return self.pot.shown(self.lesson.cover_mm or 0.0, 1.5, 0.6 * (DEPTH - self.gap))

    def beside(self, x: float, y: float) -> Pen:
        """A pen whose origin is a place of the grid."""
        return self.pen.moved(x, y)

    @property
    def frame(self) -> cut.Frame:
        """Where the close look stands."""
        left, top = self.pen.at(38.0, 2.0)
        return cut.Frame(left, top, 20.0 * self.pen.unit_mm, 26.5 * self.pen.unit_mm, self.units)


def close_by(scene: Scene, across: float, down: float) -> Iterator[Mark]:
    """A ring on the pot and lines to the frame that shows the place in its real size."""
    x, y, radius = POT_X + across, RIM_Y + down, 1.9
    yield scene.pen.circle(x, y, radius, None, BLACK, THIN_MM)
    for side, edge in ((-1, 2.6), (1, 28.0)):
        yield scene.pen.line(x + radius * 0.5, y + side * radius * 0.87, 38.0, edge, THIN_MM * 0.7)


def seen_from_side(scene: Scene) -> list[float]:
    """Where holes stand as seen from the side, across the pot: those behind one another count once."""
    width, _ = scene.lesson.cell_mm
    places = {round(x / width * 2 - 1, 2) for x, _ in stations(scene.lesson.holes, *scene.lesson.cell_mm)}
    return [place * scene.pot.half(scene.gap) for place in sorted(places)]


def gap_of(places: list[float]) -> float:
    """The least distance between neighbouring places."""
    return min((after - before for before, after in pairwise(places)), default=9.0)


def few(pen: Pen, x: float, level: float, seeds: int) -> Iterator[Mark]:
    """Up to three seeds side by side on a level."""
    shown = min(seeds, 3)
    for i in range(shown):
        yield pen.circle(x + (i - (shown - 1) / 2) * 2 * DOT, level - DOT, DOT, BLACK, None)


def on_top(scene: Scene) -> Iterator[Mark]:
    """Seed that lies on the mix."""
    places = seen_from_side(scene) if scene.lesson.holes else across_at(scene.pot, scene.gap, 7)
    for x in places:
        yield from few(scene.at_pot, x, scene.gap, scene.lesson.in_hole if scene.lesson.holes else 1)
