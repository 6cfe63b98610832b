"""A cell from above: the mix, the holes, the seeds in their own size, at any scale. Where seeds lie is `strewn.py`."""

import math
from collections.abc import Iterator
from functools import lru_cache

from traysheets.page.marks import BLACK, WHITE, Circle, Clip, Mark, Rect, Stamp
from traysheets.sheets.lesson import Covering, Lesson
from traysheets.sheets.pictures.pen import LINE_MM, THIN_MM, Tints
from traysheets.sheets.pictures.seeds import seed, turn_of
from traysheets.sheets.pictures.strewn import Strewn

LEAST_SEED_MM = 0.6
"""In a cell drawn smaller than it is seeds are no smaller than this: they must be seen."""
LEAST_LAID_MM = 1.2
"""The same where a single seed is laid on the ground with nothing about it to find it by."""


@lru_cache(maxsize=512)
def cell_from_above(lesson: Lesson, strewn: Strewn, factor: float, tints: Tints, name: str) -> Stamp:
    """A cell of exactly its size times `factor`. Seeds drawn larger than that, to be seen, end at its edge."""
    width, height = (side * factor for side in lesson.cell_mm)
    sown = tuple(_sown(lesson, strewn, factor, tints))
    inside = (Clip(0, 0, width, height, sown),) if factor < 1 else sown
    return Stamp(name, width, height, (_ground(lesson, factor, tints), *inside))


@lru_cache(maxsize=128)
def part_from_above(lesson: Lesson, strewn: Strewn, side_mm: float, tints: Tints, name: str) -> Stamp:
    """A round part of a large cell at its real size, about its middle, or about a hole."""
    x, y = middle_of_part(lesson, strewn, side_mm)
    left, top, radius = x - side_mm / 2, y - side_mm / 2, side_mm / 2
    seen = tuple(
        (across, down) for across, down in strewn.seeds if 0 < across - left < side_mm and 0 < down - top < side_mm
    )
    part = Strewn(strewn.holes, seen, strewn.seed_scale, strewn.heaped)
    ground = Rect(0, 0, side_mm, side_mm, fill=tints.soil)
    inside = (ground, *_sown(lesson, part, 1.0, tints, left, top))
    edge = Circle(radius, radius, radius - LINE_MM / 2, stroke=BLACK, stroke_mm=LINE_MM)
    return Stamp(name, side_mm, side_mm, (Clip(0, 0, side_mm, side_mm, inside, radius), edge))


def middle_of_part(lesson: Lesson, strewn: Strewn, side_mm: float) -> tuple[float, float]:
    """Where in the cell the middle of its round part lies, in real mm: at a hole, as far as it stays in the cell."""
    width, height = lesson.cell_mm
    x, y = (strewn.holes[0].x_mm, strewn.holes[0].y_mm) if strewn.holes else (width / 2, height / 2)
    if not lesson.round:
        half = side_mm / 2
        return min(max(x, half), width - half), min(max(y, half), height - half)
    away, most = math.dist((x, y), (width / 2, height / 2)), (width - side_mm) / 2
    part = min(1.0, most / away) if away else 1.0
    return width / 2 + (x - width / 2) * part, height / 2 + (y - height / 2) * part


def _ground(lesson: Lesson, factor: float, tints: Tints) -> Mark:
    width, height = (side * factor for side in lesson.cell_mm)
    if lesson.round:
        return Circle(width / 2, height / 2, width / 2, tints.soil, BLACK, LINE_MM)
    return Rect(0, 0, width, height, tints.soil, BLACK, LINE_MM, radius_mm=0.07 * min(width, height))


def _sown(
    lesson: Lesson, strewn: Strewn, factor: float, tints: Tints, left: float = 0.0, top: float = 0.0
) -> Iterator[Mark]:
    """Holes and seeds, seen from a corner at (left, top) of the cell. What is not covered lies on the ground."""
    for hole in () if lesson.covering is Covering.BARE else strewn.holes:
        x, y = (hole.x_mm - left) * factor, (hole.y_mm - top) * factor
        yield Circle(x, y, hole.radius_mm * factor, WHITE, BLACK, THIN_MM)
    drawn = factor * strewn.seed_scale
    if factor < 1:
        laid = len(strewn.seeds) == len(strewn.holes) and lesson.covering is Covering.BARE
        drawn = max(drawn, (LEAST_LAID_MM if laid else LEAST_SEED_MM) / lesson.seed.length_mm)
    for number, (x, y) in enumerate(strewn.seeds):
        turn = turn_of(number)
        yield seed(lesson.seed, drawn, (x - left) * factor, (y - top) * factor, turn, tints, edged=strewn.heaped)
