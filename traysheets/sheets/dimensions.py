"""Dimension lines, as on a workshop drawing: arrows from point to point, the measure beside or on the line.

Measures are in the plan's units, the unit itself said once on the page: millimetres to a tenth, inches to a sixteenth,
or to a thirty-second where they are less than one.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from traysheets.base.units import MM_PER_INCH
from traysheets.base.words import Words, inches, to_a_tenth
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Line, Mark, Path, Rect, Text
from traysheets.sheets.seed_dots import Point

TEXT_PT = 9.0
LINE_MM = 0.13
_ARROW_MM = 1.6
_BEYOND_MM = 1.0
_BELOW_MM = 3.4


def measure(mm: float, words: Words, units: str) -> str:
    """A measure without its unit: `20.4`, or in inches `13/16`."""
    if units == "inch":
        return inches(mm, 16 if mm > MM_PER_INCH else 32)
    return words.number(to_a_tenth(mm))


def chain_across(places: Sequence[float], y_mm: float, foot_mm: float, texts: Sequence[str]) -> Iterator[Mark]:
    """Dimensions from place to place along a level line at `y_mm`, each text on it; thin lines lead up to `foot_mm`.

    Where texts are wider than their steps, every other one stands below the line.
    """
    steps = list(zip(pairwise(places), texts, strict=True))
    crowded = any(width_mm(text, "regular", TEXT_PT) + 1.0 > right - left for (left, right), text in steps)
    for x in places:
        yield Line(x, foot_mm, x, y_mm + _BEYOND_MM, stroke_mm=LINE_MM)
    for number, ((left, right), text) in enumerate(steps):
        yield from _arrowed((left, y_mm), (right, y_mm))
        yield from _plated((left + right) / 2, y_mm + (_BELOW_MM if crowded and number % 2 else 0.0), text)


def chain_down(places: Sequence[float], x_mm: float, foot_mm: float, texts: Sequence[str]) -> Iterator[Mark]:
    """The same along an upright line at `x_mm`, with lines leading back to `foot_mm`."""
    for y in places:
        yield Line(foot_mm, y, x_mm + _BEYOND_MM, y, stroke_mm=LINE_MM)
    for (top, bottom), text in zip(pairwise(places), texts, strict=True):
        yield from _arrowed((x_mm, top), (x_mm, bottom))
        yield from _plated(x_mm, (top + bottom) / 2, text)


def aslant(one: Point, other: Point, text: str) -> Iterator[Mark]:
    """The dimension of two points, on the line between them."""
    yield from _arrowed(one, other)
    yield from _plated((one[0] + other[0]) / 2, (one[1] + other[1]) / 2, text)


def _arrowed(one: Point, other: Point) -> Iterator[Mark]:
    """A thin line with an arrow head at both ends; heads shrink where it is short."""
    length = math.dist(one, other)
    along = (other[0] - one[0]) / length, (other[1] - one[1]) / length
    yield Line(*one, *other, stroke_mm=LINE_MM)
    size = min(_ARROW_MM, length / 4)
    yield _head(one, along, size)
    yield _head(other, (-along[0], -along[1]), size)


def _head(tip: Point, along: Point, size: float) -> Path:
    """A slender arrow head: its tip there, its body lying along a direction."""
    (x, y), (dx, dy), half = tip, along, size * 0.17
    back = x + dx * size, y + dy * size
    left, right = (back[0] - dy * half, back[1] + dx * half), (back[0] + dy * half, back[1] - dx * half)
    return Path((("M", x, y), ("L", *left), ("L", *right), ("Z",)), fill=BLACK)


def _plated(x: float, y: float, text: str) -> Iterator[Mark]:
    """A measure in the middle of its line, which makes room for it."""
    wide, high = width_mm(text, "regular", TEXT_PT), cap_height_mm("regular", TEXT_PT)
    yield Rect(x - wide / 2 - 0.4, y - high / 2 - 0.4, wide + 0.8, high + 0.8, fill=WHITE)
    yield Text(x, y + high / 2, text, "regular", TEXT_PT, anchor="middle")
