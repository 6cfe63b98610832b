"""Signs for the work after sowing, small enough for a line of a list: understood without words, black on white.

Each is drawn on a square of `GRID` units, its ground near the bottom, and scaled to the size asked for.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import cos, pi, sin

from traysheets.page.marks import BLACK, WHITE, Circle, Line, Mark, Path, Stamp
from traysheets.sheets.steps import Task

GRID = 10.0
GROUND = 8.6
THICK, THIN = 0.55, 0.4


@lru_cache(maxsize=64)
def task_sign(task: Task, side_mm: float) -> Stamp:
    """The sign of a kind of work."""
    return Stamp(f"sign: {task}", side_mm, side_mm, tuple(scaled(_DRAWN[task](), side_mm / GRID)))


def scaled(marks: Iterator[Mark], by: float) -> Iterator[Mark]:
    """The marks from units of the grid to millimetres."""
    for mark in marks:
        if isinstance(mark, Line):
            dash = tuple(length * by for length in mark.dash_mm)
            yield Line(
                mark.x1_mm * by, mark.y1_mm * by, mark.x2_mm * by, mark.y2_mm * by, BLACK, mark.stroke_mm * by, dash
            )
        elif isinstance(mark, Circle):
            yield Circle(
                mark.x_mm * by, mark.y_mm * by, mark.radius_mm * by, mark.fill, mark.stroke, mark.stroke_mm * by
            )
        elif isinstance(mark, Path):  # pragma: no branch - signs are of these three alone
            pieces = tuple((verb, *(float(number) * by for number in numbers)) for verb, *numbers in mark.d)
            yield Path(pieces, mark.fill, mark.stroke, mark.stroke_mm * by)


def ground() -> Line:
    """The ground that plants stand in."""
    return Line(0.5, GROUND, GRID - 0.5, GROUND, stroke_mm=THICK)


def sprout(x: float, foot: float, high: float) -> Iterator[Mark]:
    """A stem with two seed leaves."""
    top, leaf = foot - high, high * 0.62
    yield Line(x, foot, x, top, stroke_mm=THICK)
    for side in (-1, 1):
        tip_x, tip_y = x + side * leaf, top - leaf * 0.55
        out = ("C", x + side * leaf * 0.1, top - leaf * 0.75, x + side * leaf * 0.6, top - leaf * 0.85, tip_x, tip_y)
        back = ("C", x + side * leaf * 0.95, top - leaf * 0.05, x + side * leaf * 0.45, top + leaf * 0.1, x, top)
        yield Path((("M", x, top), out, back, ("Z",)), fill=BLACK)


def _sow() -> Iterator[Mark]:
    """A seed falls into its hole."""
    level = 5.2
    for left, right in ((0.5, 3.4), (6.6, GRID - 0.5)):
        yield Line(left, level, right, level, stroke_mm=THICK)
    yield Path((("M", 3.4, level), ("C", 3.6, 9.6, 6.4, 9.6, 6.6, level)), stroke=BLACK, stroke_mm=THICK)
    yield Circle(5.0, 6.6, 0.85, fill=BLACK)
    for x, top, end in ((3.9, 1.6, 3.4), (5.0, 0.8, 4.2), (6.1, 1.6, 3.4)):
        yield Line(x, top, x, end, stroke_mm=THIN)


def _look() -> Iterator[Mark]:
    """A seedling that comes up."""
    yield ground()
    yield from sprout(5.0, GROUND, 3.9)


def _thin() -> Iterator[Mark]:
    """One of three is left."""
    yield ground()
    yield from sprout(5.0, GROUND, 3.7)
    for x in (1.5, 8.5):
        yield Line(x, GROUND, x, 7.0, stroke_mm=THICK)
        for slope in (-1, 1):
            yield Line(x - 0.9, 5.9 - slope * 0.9, x + 0.9, 5.9 + slope * 0.9, stroke_mm=THICK)


def _trim() -> Iterator[Mark]:
    """Leaves cut off level."""
    yield ground()
    for foot, top in ((3.6, 2.6), (5.0, 5.0), (6.4, 7.4)):
        yield Line(foot, GROUND, (foot + top) / 2, 5.1, stroke_mm=THICK)
        middle = (foot + top) / 2
        yield Line(middle + (top - middle) * 0.3, 4.0, top, 1.0, stroke_mm=THIN, dash_mm=(0.5, 0.5))
    yield Line(0.5, 4.55, GRID - 0.5, 4.55, stroke_mm=THICK)


def _harden_off() -> Iterator[Mark]:
    """A plant out in the sun."""
    yield ground()
    yield from sprout(3.4, GROUND, 2.9)
    yield Circle(7.4, 2.9, 1.1, WHITE, BLACK, THICK)
    for turn in range(8):
        x, y = cos(turn * pi / 4), sin(turn * pi / 4)
        yield Line(7.4 + 1.6 * x, 2.9 + 1.6 * y, 7.4 + 2.3 * x, 2.9 + 2.3 * y, stroke_mm=THIN)


def _plant_out() -> Iterator[Mark]:
    """A plug with its plant goes into the ground."""
    level = 6.2
    yield Line(0.5, level, 3.2, level, stroke_mm=THICK)
    yield Line(6.8, level, GRID - 0.5, level, stroke_mm=THICK)
    yield from sprout(5.0, level - 0.1, 3.0)
    plug = (("M", 3.4, level), ("L", 6.6, level), ("L", 6.1, 9.4), ("L", 3.9, 9.4), ("Z",))
    yield Path(plug, fill=BLACK)


_DRAWN = {
    Task.SOW: _sow,
    Task.EMERGE: _look,
    Task.THIN: _thin,
    Task.TRIM: _trim,
    Task.HARDEN_OFF: _harden_off,
    Task.PLANT_OUT: _plant_out,
}
