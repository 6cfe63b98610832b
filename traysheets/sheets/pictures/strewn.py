"""Where the seeds of one cell lie when it is sown right, and when it is sown wrong: positions alone, in real mm.

Wrong is what helpers do who were not shown: a clump in a heap, all seeds of the stations in one hole, a single seed
in a corner or several where one is wanted (common practice, no source).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from traysheets.plan.model import Method
from traysheets.sheets.lesson import Lesson
from traysheets.sheets.seed_dots import Ground, Point, closest_mm, in_hole, spread, stations

MOST_SEEDS = 600
"""Most seeds that a picture shows one by one; nobody counts more."""

_MOST_HEAPED = 150
_APART = 1.08
"""Least distance of seeds that are told apart, in sizes of a seed."""
_CLEAR_MM = 0.4
_HOLE_SHARE = 0.055
_HOLE_MM = (2.2, 6.0)
"""Radius of a hole: of the cell's shorter side, within a finger's limits (judgement, no source)."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole, or the place for seed that is not covered."""

    x_mm: float
    y_mm: float
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Strewn:
    """Holes and seeds of a cell from its top left corner. Seeds that would not lie apart are drawn at `seed_scale`.

    `heaped` says that seeds lie on one another.
    """

    holes: tuple[Hole, ...]
    seeds: tuple[Point, ...]
    seed_scale: float = 1.0
    heaped: bool = False


@lru_cache(maxsize=256)
def rightly(lesson: Lesson) -> Strewn:
    """The cell as it should be; of very many seeds only `MOST_SEEDS`."""
    return _in_holes(lesson) if lesson.holes else _scattered(lesson, min(lesson.seeds_in_cell, MOST_SEEDS))


@lru_cache(maxsize=256)
def wrongly(lesson: Lesson) -> tuple[Strewn, ...]:
    """The cell as it should not be, in one way or two."""
    holes = rightly(lesson).holes
    if lesson.method is Method.SINGLE or lesson.seeds_in_cell == 1:
        return _heaps(lesson, holes, _corner(lesson)), _heaps(lesson, holes, _several(lesson))
    if not holes:
        return (_heaps(lesson, holes, *_large_and_small(lesson)),)
    if len(holes) == 1:
        return (_heaps(lesson, holes, _corner(lesson)),)
    return (_heaps(lesson, holes, _Heap(lesson.seeds_in_cell, (holes[0].x_mm, holes[0].y_mm))),)


def _scattered(lesson: Lesson, number: int) -> Strewn:
    width, height = lesson.cell_mm
    inset = min(lesson.seed.length_mm / 2 + 0.6, 0.2 * lesson.side_mm)
    circle = (width / 2 - inset, height / 2 - inset, lesson.side_mm / 2 - inset) if lesson.round else None
    points = spread(number, Ground(width - 2 * inset, height - 2 * inset, circle))
    across = (lesson.seed.length_mm + lesson.seed.width_mm) / 2
    scale = min(1.0, closest_mm(points) / _APART / across, 0.6 * lesson.side_mm / lesson.seed.length_mm)
    return Strewn((), tuple((x + inset, y + inset) for x, y in points), scale)


def _in_holes(lesson: Lesson) -> Strewn:
    """Holes on their figure, the seeds of each side by side in it."""
    width, height = lesson.cell_mm
    centres = stations(lesson.holes, width, height)
    unit, pitch = in_hole(lesson.in_hole), _APART * lesson.seed.length_mm
    reach = max(math.hypot(x, y) for x, y in unit)
    wanted = reach * pitch + 0.55 * lesson.seed.length_mm + _CLEAR_MM
    room = min(closest_mm(centres) / 2, _from_edge(lesson, centres))
    room -= min(_CLEAR_MM, 0.2 * room)
    usual = min(max(_HOLE_SHARE * lesson.side_mm, _HOLE_MM[0]), _HOLE_MM[1])
    radius, scale = min(max(wanted, usual), room), min(1.0, room / wanted)
    seeds = ((x + dx * pitch * scale, y + dy * pitch * scale) for x, y in centres for dx, dy in unit)
    return Strewn(tuple(Hole(x, y, radius) for x, y in centres), tuple(seeds), scale)


def _from_edge(lesson: Lesson, centres: Sequence[Point]) -> float:
    """How near the edge of the cell the holes' centres come."""
    width, height = lesson.cell_mm
    if lesson.round:
        return min(lesson.side_mm / 2 - math.dist(centre, (width / 2, height / 2)) for centre in centres)
    return min(min(x, y, width - x, height - y) for x, y in centres)


@dataclass(frozen=True, slots=True)
class _Heap:
    """So many seeds on one another about a place."""

    seeds: int
    middle: Point


def _heaps(lesson: Lesson, holes: tuple[Hole, ...], *heaps: _Heap) -> Strewn:
    """Heaps of seed inside the cell, in a cell with holes or without."""
    scale = min(1.0, 0.5 * lesson.side_mm / lesson.seed.length_mm)
    across_mm = scale * math.sqrt(lesson.seed.length_mm * lesson.seed.width_mm)
    seeds = tuple(point for heap in heaps for point in _heaped(lesson, heap, across_mm, scale))
    return Strewn(holes, seeds, scale, heaped=True)


def _heaped(lesson: Lesson, heap: _Heap, across_mm: float, scale: float) -> Iterator[Point]:
    """Places as in the head of a sunflower but too close, moved in from the edge of the cell."""
    number = min(heap.seeds, _MOST_HEAPED)
    half_mm = 0.75 * scale * lesson.seed.length_mm
    spread_mm = min(0.64 * across_mm * math.sqrt(number), 0.42 * lesson.side_mm - half_mm)
    pitch, turn = max(spread_mm, 0.0) / math.sqrt(number), math.pi * (3 - math.sqrt(5))
    middle = _moved_in(lesson, heap.middle, max(spread_mm, 0.0) + half_mm)
    for i in range(number):
        away = pitch * math.sqrt(i + (0.3 if number > 1 else 0.0))
        yield middle[0] + away * math.cos(i * turn), middle[1] + away * math.sin(i * turn)


def _moved_in(lesson: Lesson, point: Point, reach_mm: float) -> Point:
    """The place nearest to a point from which so much lies inside the cell."""
    width, height = lesson.cell_mm
    if not lesson.round:
        return min(max(point[0], reach_mm), width - reach_mm), min(max(point[1], reach_mm), height - reach_mm)
    centre = (width / 2, height / 2)
    away, most = math.dist(point, centre), max(width / 2 - reach_mm, 0.0)
    part = min(1.0, most / away) if away else 1.0
    return centre[0] + (point[0] - centre[0]) * part, centre[1] + (point[1] - centre[1]) * part


def _large_and_small(lesson: Lesson) -> tuple[_Heap, ...]:
    """A large heap and a small one, with bare ground about them."""
    width, height = lesson.cell_mm
    small = min(lesson.seeds_in_cell, _MOST_HEAPED) // 5
    large = _Heap(min(lesson.seeds_in_cell, _MOST_HEAPED) - small, (0.4 * width, 0.42 * height))
    return (large, _Heap(small, (0.74 * width, 0.76 * height))) if small else (large,)


def _corner(lesson: Lesson) -> _Heap:
    return _Heap(lesson.seeds_in_cell, (0.0, 0.0))


def _several(lesson: Lesson) -> _Heap:
    """Far more than are wanted."""
    return _Heap(max(5, 3 * lesson.seeds_in_cell), (lesson.cell_mm[0] / 2, lesson.cell_mm[1] / 2))
