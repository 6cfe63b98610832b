"""Signs for what is noted on a record sheet beyond the work itself: counted, sold, lost, and anything else.

They are drawn in the manner of `task_signs.py`, whose signs stand for the rest.
"""

from collections.abc import Iterator
from functools import lru_cache

from traysheets.page.marks import BLACK, Line, Mark, Path, Stamp
from traysheets.sheets.log_lines import TASKS, Noted
from traysheets.sheets.task_signs import GRID, GROUND, THICK, THIN, ground, scaled, sprout, task_sign


@lru_cache(maxsize=64)
def log_sign(noted: Noted, side_mm: float) -> Stamp:
    """The sign of what is noted."""
    if noted in TASKS:
        return task_sign(TASKS[noted], side_mm)
    return Stamp(f"sign: {noted}", side_mm, side_mm, tuple(scaled(_DRAWN[noted](), side_mm / GRID)))


def _count() -> Iterator[Mark]:
    """Four strokes and one across them: five."""
    for x in (2.0, 4.0, 6.0, 8.0):
        yield Line(x, 1.6, x, GROUND, stroke_mm=THICK)
    yield Line(0.6, 7.4, 9.4, 2.8, stroke_mm=THICK)


def _sold() -> Iterator[Mark]:
    """A plant in its pot goes away."""
    yield from sprout(3.0, 5.4, 3.0)
    pot = (("M", 1.2, 5.4), ("L", 4.8, 5.4), ("L", 4.3, GROUND), ("L", 1.7, GROUND), ("Z",))
    yield Path(pot, fill=BLACK)
    yield Line(5.9, 7.0, 8.2, 7.0, stroke_mm=THICK)
    yield Path((("M", 7.8, 5.7), ("L", 9.7, 7.0), ("L", 7.8, 8.3), ("Z",)), fill=BLACK)


def _lost() -> Iterator[Mark]:
    """A seedling that has fallen over."""
    yield ground()
    stem = (("M", 3.2, GROUND), ("C", 3.2, 4.4, 4.4, 3.2, 6.4, 5.2))
    yield Path(stem, stroke=BLACK, stroke_mm=THICK)
    for tip_x, tip_y in ((5.6, 8.0), (8.6, 7.0)):
        out = ("C", 5.4, 5.9, (5.0 + tip_x) / 2 - 0.4, tip_y - 1.0, tip_x, tip_y)
        back = ("C", tip_x + 0.9, tip_y - 0.9, 7.4, 5.6, 6.4, 5.2)
        yield Path((("M", 6.4, 5.2), out, back, ("Z",)), fill=BLACK)
    for slope in (-1, 1):
        yield Line(6.9, 2.2 - slope * 1.1, 9.1, 2.2 + slope * 1.1, stroke_mm=THICK)


def _remark() -> Iterator[Mark]:
    """A pencil that writes a line."""
    yield Line(0.5, GROUND, 6.0, GROUND, stroke_mm=THIN)
    shaft = (("M", 3.4, 5.8), ("L", 7.4, 0.8), ("L", 9.2, 2.2), ("L", 5.2, 7.2), ("Z",))
    yield Path(shaft, stroke=BLACK, stroke_mm=THICK)
    yield Path((("M", 3.4, 5.8), ("L", 5.2, 7.2), ("L", 2.6, 8.2), ("Z",)), fill=BLACK)


_DRAWN = {Noted.COUNT: _count, Noted.SOLD: _sold, Noted.LOST: _lost, Noted.REMARKS: _remark}
