"""The figure that seeds are sown in, as a template: one cell with its holes, at any size, with or without measures.

Positions are in millimetres from the top left corner of the cell. What else stands on the page is `templates.py`.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise

from traysheets.base.words import Words
from traysheets.page.lettering import width_mm
from traysheets.page.marks import BLACK, Circle, Line, Mark, Rect
from traysheets.sheets.dimensions import TEXT_PT, aslant, chain_across, chain_down, measure
from traysheets.sheets.seed_dots import Ground, Point, closest_mm, spread, stations

CHAIN_MM = 7.0
"""From the lower edge of the cell to the first line of dimensions, and from it to the next."""
ASIDE = 1.6
"""How many times as far those lie that stand at the right."""

_MOST_HOLE_MM, _LEAST_HOLE_MM = 12.0, 1.5
_CLEAR = 0.08
"""Edge that scattered seeds keep clear of, as a part of the cell's shorter side."""
_DOT_MM = 0.7
_EDGE_STROKE_MM, _HOLE_STROKE_MM, _CROSS_STROKE_MM = 0.35, 0.25, 0.18
_CROSS_MM = 2.2
"""How far a cross reaches over the edge of its hole at the most."""
_CLEAR_LINE_MM, _ARROWS_MM = 1.0, 3.4
"""Between the cell and its dimensions, and what arrows take up beside a measure."""


@dataclass(frozen=True)
class Figure:
    """A cell and how it is sown: so many holes; none where `seeds` are scattered."""

    holes: int
    seeds: int
    cell_mm: tuple[float, float]
    round: bool

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """The middles of the holes."""
        return stations(self.holes, *self.cell_mm) if self.holes else ()

    @cached_property
    def scattered(self) -> tuple[Point, ...]:
        """Seeds spread as evenly as a hand can, none close to the edge."""
        (width, height), clear = self.cell_mm, _CLEAR * min(self.cell_mm)
        circle = (width / 2 - clear, height / 2 - clear, width / 2 - clear) if self.round else None
        ground = Ground(round(width - 2 * clear, 3), round(height - 2 * clear, 3), circle)
        return tuple((x + clear, y + clear) for x, y in spread(self.seeds, ground))

    @property
    def spacing_mm(self) -> float:
        """How far neighbours are apart: holes, else seeds; infinite for one alone."""
        return closest_mm(self.points or self.scattered)

    @cached_property
    def edge_mm(self) -> float:
        """How far the holes are from the edge of the cell, at the least."""
        width, height = self.cell_mm
        if self.round:
            return min(width / 2 - math.dist(point, (width / 2, height / 2)) for point in self.points)
        return min(min(x, y, width - x, height - y) for x, y in self.points)

    @property
    def hole_mm(self) -> float:
        """A diameter for the holes: a finger's, or a third of the way to the next hole or over the edge if less.

        To half a millimetre. Common practice, no source.
        """
        most = min(self.spacing_mm, 2 * self.edge_mm) / 3
        return max(min(math.floor(most * 2) / 2, _MOST_HOLE_MM), _LEAST_HOLE_MM)

    @cached_property
    def across_mm(self) -> tuple[float, ...]:
        """What is measured across: both edges, and all places where a hole stands between."""
        return _places([x for x, _ in self.points], self.cell_mm[0])

    @cached_property
    def down_mm(self) -> tuple[float, ...]:
        """What is measured down."""
        return _places([y for _, y in self.points], self.cell_mm[1])

    @cached_property
    def slanting(self) -> tuple[Point, Point] | None:
        """Two neighbouring holes on a slanting line, where that is their least distance."""
        pairs = (pair for pair in combinations(self.points, 2) if math.dist(*pair) < self.spacing_mm * 1.001)
        slanting = (pair for pair in pairs if min(abs(pair[0][i] - pair[1][i]) for i in (0, 1)) > 0.1)
        return next(slanting, None)


def _places(found: Sequence[float], end: float) -> tuple[float, ...]:
    return (0.0, *sorted({round(place, 3) for place in found}), end)


class Drawing:
    """A figure drawn at a factor, its cell's corner at the origin."""

    def __init__(self, figure: Figure, factor: float) -> None:
        self._figure, self._factor = figure, factor
        self.width_mm, self.height_mm = figure.cell_mm[0] * factor, figure.cell_mm[1] * factor

    def marks(self) -> Iterator[Mark]:
        """The cell, with a cross and a circle for every hole, or its scattered seeds."""
        figure, f = self._figure, self._factor
        if figure.round:
            middle = self.width_mm / 2
            yield Circle(middle, middle, middle, None, BLACK, _EDGE_STROKE_MM)
        else:
            yield Rect(0, 0, self.width_mm, self.height_mm, None, BLACK, _EDGE_STROKE_MM)
        for x, y in figure.points:
            yield from _hole(x * f, y * f, figure.hole_mm * f / 2)
        for x, y in figure.scattered if not figure.holes else ():
            yield Circle(x * f, y * f, _DOT_MM, BLACK)

    def measures(self, words: Words, units: str) -> Iterator[Mark]:
        """Dimension lines below the cell and at its right, from hole to hole, then edge to edge; and on a slant."""
        figure, f = self._figure, self._factor
        for number, places in enumerate(_lines(figure.across_mm), 1):
            texts, at = _texts(places, words, units), self.height_mm + number * CHAIN_MM
            yield from chain_across([x * f for x in places], at, self.height_mm + _CLEAR_LINE_MM, texts)
        for number, places in enumerate(_lines(figure.down_mm), 1):
            texts, at = _texts(places, words, units), self.width_mm + number * CHAIN_MM * ASIDE
            yield from chain_down([y * f for y in places], at, self.width_mm + _CLEAR_LINE_MM, texts)
        if figure.slanting:
            (x1, y1), (x2, y2) = figure.slanting
            text = measure(figure.spacing_mm, words, units)
            yield from aslant((x1 * f, y1 * f), (x2 * f, y2 * f), text)


def most_factor(figure: Figure, words: Words, units: str) -> float:
    """How much larger than it is a figure must be drawn for its measures to go between their arrows."""
    needed = (
        (width_mm(text, "regular", TEXT_PT) + _ARROWS_MM) / (end - start)
        for start, end, text in _steps(figure.across_mm, words, units)
    )
    return max(needed, default=1.0)


def _lines(places: Sequence[float]) -> Iterator[tuple[float, ...]]:
    """What is measured on the first line and on the second: all steps, then the whole where there is more than one."""
    yield tuple(places)
    if len(places) > 2:
        yield places[0], places[-1]


def _steps(places: Sequence[float], words: Words, units: str) -> Iterator[tuple[float, float, str]]:
    """Steps from place to place, with their measures."""
    return ((start, end, measure(end - start, words, units)) for start, end in pairwise(places))


def _texts(places: Sequence[float], words: Words, units: str) -> list[str]:
    return [text for _, _, text in _steps(places, words, units)]


def _hole(x: float, y: float, radius: float) -> Iterator[Mark]:
    """A hole: a circle, and a cross over it to prick through."""
    reach = radius + min(_CROSS_MM, radius)
    yield Circle(x, y, radius, None, BLACK, _HOLE_STROKE_MM)
    yield Line(x - reach, y, x + reach, y, stroke_mm=_CROSS_STROKE_MM)
    yield Line(x, y - reach, x, y + reach, stroke_mm=_CROSS_STROKE_MM)
