"""The bar of 50 mm at the foot of sheets, found among the lines of a page and measured, as a ruler would on paper."""

from collections.abc import Iterable, Sequence
from typing import TypeAlias

BAR_MM = 50.0
STEPS = 5
_SAME_MM = 0.03
"""Ends of lines that are nearer than this are one and the same."""
_SAME_TICK_MM = 0.15
"""The same for the ends of ticks: a page stretched for a printer has them longer than it has the bar."""
_LONG, _SHORT = 2.6 / BAR_MM, 1.4 / BAR_MM
"""Length of the ticks at its ends and between, as parts of the bar's."""

Line: TypeAlias = tuple[float, float, float, float]
"""From (x, y) to (x, y), in mm of the page."""


def bars_mm(lines: Iterable[Line]) -> list[float]:
    """The lengths of the bars among lines: level, with a tick at every fifth, those at the ends longer."""
    known = [_from_left(line) for line in lines]
    level = [line for line in known if abs(line[1] - line[3]) < _SAME_MM and line[2] - line[0] > _SAME_MM]
    upright = [line for line in known if abs(line[0] - line[2]) < _SAME_MM]
    return [line[2] - line[0] for line in level if _is_bar(line, upright)]


def _from_left(line: Line) -> Line:
    x1, y1, x2, y2 = line
    return line if x1 <= x2 else (x2, y2, x1, y1)


def _is_bar(line: Line, upright: Sequence[Line]) -> bool:
    left, _, right, _ = line
    length = right - left
    ticks = sorted((x, abs(y2 - y1)) for x, y1, _, y2 in upright if _starts_on(x, (y1, y2), line))
    if len(ticks) != STEPS + 1:
        return False
    steps = (abs(x - left - length * i / STEPS) < _SAME_MM for i, (x, _) in enumerate(ticks))
    sizes = (
        abs(high - length * (_LONG if i in (0, STEPS) else _SHORT)) < _SAME_TICK_MM for i, (_, high) in enumerate(ticks)
    )
    return all(steps) and all(sizes)


def _starts_on(x: float, ends: tuple[float, float], line: Line) -> bool:
    left, y, right, _ = line
    return left - _SAME_MM < x < right + _SAME_MM and min(abs(end - y) for end in ends) < _SAME_MM
