"""Tallies: how many, as dots that can be counted, in fives, in hundreds, or hole by hole."""

import math
from functools import lru_cache

from traysheets.page.marks import BLACK, WHITE, Circle, Mark, Place, Stamp
from traysheets.sheets.lesson import Covering, Lesson
from traysheets.sheets.pictures.hands import pinching
from traysheets.sheets.pictures.pen import LINE_MM, THIN_MM, Pen, Tints
from traysheets.sheets.seed_dots import in_hole

MOST = 3000
"""More than this is not drawn: nobody counts it."""

_FIVE = 5
_SMALL_FROM = 120
_DOT_MM, _PITCH_MM, _ROW_MM = 0.85, 2.3, 3.3
_SMALL_DOT_MM, _SMALL_PITCH_MM, _BLOCK_GAP_MM = 0.36, 1.0, 2.0
_COLUMN_GAP_MM = 4.0
_HAND_MM, _HAND_WIDE_MM, _HAND_UNIT_MM = 11.0, 14.0, 0.47
"""Room above for the hand, its width, and how large it is drawn."""


@lru_cache(maxsize=128)
def tally(lesson: Lesson, height_mm: float, tints: Tints) -> Stamp | None:
    """The seeds of one cell as dots that fall from a hand, no higher than `height_mm`; hole by hole where it has holes.

    None where there is nothing to count: one seed, or too many.
    """
    number, holes = lesson.seeds_in_cell, lesson.holes
    room = height_mm - _HAND_MM
    if not 1 < number <= MOST or room < 3 * _ROW_MM:
        return None
    if holes:
        counted = _in_rings(holes, lesson.in_hole, room, ringed=lesson.covering is not Covering.BARE)
    else:
        counted = _in_hundreds(number, room) if number > _SMALL_FROM else _in_fives(number, room)
    width = max(counted.width_mm + 0.6, _HAND_WIDE_MM)
    hand = pinching(Pen(1.0, _HAND_MM - 1.6, _HAND_UNIT_MM), tints, gloved=lesson.treated)
    return Stamp("tally", width, counted.height_mm + _HAND_MM, (*hand, Place(counted, 0.6, _HAND_MM)))


def _in_fives(number: int, height_mm: float) -> Stamp:
    """Rows of five, in as many columns as it takes; a gap after every fifth row."""
    rows = math.ceil(number / _FIVE)
    per_column = max(min(rows, int((height_mm - 2 * _DOT_MM) / _ROW_MM) + 1), 1)
    columns = math.ceil(rows / per_column)
    across = _FIVE * _PITCH_MM + _COLUMN_GAP_MM
    marks: list[Mark] = []
    for i in range(number):
        row, place = divmod(i, _FIVE)
        column, row = divmod(row, per_column)
        x, y = column * across + place * _PITCH_MM + _DOT_MM, row * _ROW_MM + _DOT_MM
        marks.append(Circle(x, y, _DOT_MM, BLACK))
    width = (columns - 1) * across + min(number, _FIVE) * _PITCH_MM
    return Stamp("dots", width, (per_column - 1) * _ROW_MM + 2 * _DOT_MM, tuple(marks))


def _in_hundreds(number: int, height_mm: float) -> Stamp:
    """Squares of ten by ten, one below the other, in as many columns as it takes."""
    side = 10 * _SMALL_PITCH_MM + _BLOCK_GAP_MM
    per_column = max(int((height_mm + _BLOCK_GAP_MM) / side), 1)
    blocks = math.ceil(number / 100)
    marks: list[Mark] = []
    for i in range(number):
        block, place = divmod(i, 100)
        column, row = divmod(block, per_column)
        x = column * side + (place % 10 + 0.5) * _SMALL_PITCH_MM
        y = row * side + (place // 10 + 0.5) * _SMALL_PITCH_MM
        marks.append(Circle(x, y, _SMALL_DOT_MM, BLACK))
    width = math.ceil(blocks / per_column) * side - _BLOCK_GAP_MM
    return Stamp("dots", width, min(blocks, per_column) * side - _BLOCK_GAP_MM, tuple(marks))


def _in_rings(holes: int, seeds: int, height_mm: float, *, ringed: bool) -> Stamp:
    """Seeds hole by hole, one below the other, in as many columns as it takes; a ring about those that get a hole."""
    unit = in_hole(seeds)
    reach = max(math.hypot(x, y) for x, y in unit) * _PITCH_MM
    radius = max(reach + 2 * _DOT_MM, 2.6)
    step = 2 * radius + 1.4
    per_column = max(min(holes, int((height_mm + 1.4) / step)), 1)
    columns = math.ceil(holes / per_column)
    marks: list[Mark] = []
    for i in range(holes):
        x, y = i // per_column * step + radius, i % per_column * step + radius
        if ringed:
            marks.append(Circle(x, y, radius - LINE_MM / 2, WHITE, BLACK, THIN_MM))
        marks += (Circle(x + dx * _PITCH_MM, y + dy * _PITCH_MM, _DOT_MM, BLACK) for dx, dy in unit)
    return Stamp("dots", columns * step - 1.4, per_column * step - 1.4, tuple(marks))
