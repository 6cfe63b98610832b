"""Hatches: sixteen patterns told apart at 6 mm, in any quarter turn, in black and white.

Lines are 0.42 mm (five dots of a 300 dpi printer), dots 0.84 mm, gaps 0.8 mm or more, pitches 1.8 to 4.4 mm. Upright
against level, and rising against falling, are left out on purpose: a quarter turn makes them one. Every pattern is
one path, and its middle is the middle of the rectangle, so that small ones show it well.
"""

from collections.abc import Callable, Iterator
from functools import lru_cache
from math import ceil, sqrt
from typing import TypeAlias

from traysheets.page.marks import BLACK, Clip, Path, Rect

HATCHES: tuple[str, ...] = (
    "solid", "diagonal", "dots", "squares", "bold-diagonal", "plus", "checker", "grid",
    "bold-horizontal", "cross", "zigzag", "waves", "rings", "horizontal", "big-dots", "brick",
)  # fmt: skip
"""In order: the first k differ most."""

LINE_MM = 0.42
BOLD_MM = 1.3
DOT_MM = 0.84
BIG_DOT_MM = 1.9

_ARC = 4 / 3 * (sqrt(2) - 1)
"""How far the control points of a cubic quarter circle stand off, for a radius of one."""

_Piece: TypeAlias = tuple[str | float, ...]
_Pieces: TypeAlias = Iterator[_Piece]
_Draw: TypeAlias = Callable[[float, float], _Pieces]


def hatch(number: int) -> str:
    """The hatch of the `number`-th variety of a sheet, from 0.

    With the eight colours that makes 128 pairs, of which the first 16 all differ in hatch.
    """
    return HATCHES[(number + number // 16) % 16]


@lru_cache(maxsize=4096)
def hatched(name: str, width_mm: float, height_mm: float, fill: str, radius_mm: float = 0.0) -> Clip:
    """A rectangle at the origin filled with a colour and hatched in black."""
    ground = Rect(0, 0, width_mm, height_mm, fill=fill)
    if name not in _PATTERNS:
        return Clip(0, 0, width_mm, height_mm, (ground,), radius_mm)
    draw, line_mm = _PATTERNS[name]
    d = tuple(draw(width_mm, height_mm))
    pattern = Path(d, stroke=BLACK, stroke_mm=line_mm) if line_mm else Path(d, fill=BLACK)
    return Clip(0, 0, width_mm, height_mm, (ground, pattern), radius_mm)


def _steps(length: float, pitch: float) -> Iterator[float]:
    """Places a pitch apart, one in the middle of a length, over its ends by one."""
    reach = ceil(length / 2 / pitch) + 1
    return (length / 2 + i * pitch for i in range(-reach, reach + 1))


def _staggered(width: float, height: float, pitch: float) -> Iterator[tuple[float, float]]:
    """Points in rows half a pitch apart, every other row moved on by half a pitch."""
    for row, y in enumerate(_steps(height, pitch / 2)):
        for x in _steps(width, pitch):
            yield x + row % 2 * pitch / 2, y


def _square(width: float, height: float, pitch: float) -> Iterator[tuple[float, float]]:
    """Points in rows and columns, four of them about the middle."""
    for y in _steps(height, pitch):
        for x in _steps(width, pitch):
            yield x + pitch / 2, y + pitch / 2


def _circle(x: float, y: float, radius: float) -> _Pieces:
    off = radius * _ARC
    yield "M", x + radius, y
    yield "C", x + radius, y + off, x + off, y + radius, x, y + radius
    yield "C", x - off, y + radius, x - radius, y + off, x - radius, y
    yield "C", x - radius, y - off, x - off, y - radius, x, y - radius
    yield "C", x + off, y - radius, x + radius, y - off, x + radius, y
    yield ("Z",)


def _line(x1: float, y1: float, x2: float, y2: float) -> _Pieces:
    yield "M", x1, y1
    yield "L", x2, y2


def _diagonals(pitch: float, *slopes: int) -> _Draw:
    """Lines at 45 degrees, `pitch` apart as measured across them; slope 1 rises to the right, -1 falls."""

    def draw(width: float, height: float) -> _Pieces:
        reach = (width + height) / 2
        for slope in slopes:
            for x in _steps(width + height, pitch * sqrt(2)):
                middle = x - height / 2
                yield from _line(middle - reach, height / 2 + slope * reach, middle + reach, height / 2 - slope * reach)

    return draw


def _levels(pitch: float) -> _Draw:
    def draw(width: float, height: float) -> _Pieces:
        for y in _steps(height, pitch):
            yield from _line(-1, y, width + 1, y)

    return draw


def _grid(width: float, height: float) -> _Pieces:
    pitch = 2.1
    for y in _steps(height, pitch):
        yield from _line(-1, y + pitch / 2, width + 1, y + pitch / 2)
    for x in _steps(width, pitch):
        yield from _line(x + pitch / 2, -1, x + pitch / 2, height + 1)


def _dots(diameter: float, pitch: float) -> _Draw:
    def draw(width: float, height: float) -> _Pieces:
        for x, y in _staggered(width, height, pitch):
            yield from _circle(x, y, diameter / 2)

    return draw


def _rings(width: float, height: float) -> _Pieces:
    for x, y in _square(width, height, 2.6):
        yield from _circle(x, y, 0.68)


def _squares(width: float, height: float) -> _Pieces:
    side = 1.6
    for x, y in _square(width, height, 2.9):
        yield "R", x - side / 2, y - side / 2, side, side


def _plus(width: float, height: float) -> _Pieces:
    arm = 0.65
    for x, y in _square(width, height, 2.4):
        yield from _line(x - arm, y, x + arm, y)
        yield from _line(x, y - arm, x, y + arm)


def _checker(width: float, height: float) -> _Pieces:
    side = 1.5
    for x, y in _staggered(width, height, 2 * side):
        yield "R", x - side / 2, y - side / 2, side, side


def _zigzag(width: float, height: float) -> _Pieces:
    pitch, run, rise = 2.1, 1.1, 0.45
    for y in _steps(height, pitch):
        for i, x in enumerate(_steps(width, run)):
            yield ("L" if i else "M"), x, y + (rise if i % 2 else -rise)


def _waves(width: float, height: float) -> _Pieces:
    pitch, run, rise = 2.8, 1.7, 0.75
    for y in _steps(height, pitch):
        side = rise
        for i, x in enumerate(_steps(width, run)):
            if i == 0:
                yield "M", x, y + side
            else:
                yield "C", x - run / 2, y - side, x - run / 2, y + side, x, y + side
            side = -side


def _brick(width: float, height: float) -> _Pieces:
    course, length = 1.9, 3.8
    for row, y in enumerate(_steps(height, course)):
        yield from _line(-1, y + course / 2, width + 1, y + course / 2)
        for x in _steps(width, length):
            joint = x + row % 2 * length / 2
            yield from _line(joint, y - course / 2, joint, y + course / 2)


_PATTERNS: dict[str, tuple[_Draw, float]] = {
    "diagonal": (_diagonals(1.8, 1), LINE_MM),
    "dots": (_dots(DOT_MM, 2.6), 0),
    "squares": (_squares, LINE_MM),
    "bold-diagonal": (_diagonals(3.4, 1), BOLD_MM),
    "plus": (_plus, LINE_MM),
    "checker": (_checker, 0),
    "grid": (_grid, LINE_MM),
    "bold-horizontal": (_levels(3.4), BOLD_MM),
    "cross": (_diagonals(2.2, 1, -1), LINE_MM),
    "zigzag": (_zigzag, LINE_MM),
    "waves": (_waves, LINE_MM),
    "rings": (_rings, LINE_MM),
    "horizontal": (_levels(1.8), LINE_MM),
    "big-dots": (_dots(BIG_DOT_MM, 4.0), 0),
    "brick": (_brick, LINE_MM),
}
"""How each hatch but `solid` is drawn, and the width of its lines; 0: filled shapes."""
