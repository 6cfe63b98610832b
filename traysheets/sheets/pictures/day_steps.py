"""The pictures of a whole sowing day: what is done once before, again for every packet, and once at the end.

Each is a stamp on a grid of 46 x 26 units.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from traysheets.page.marks import BLACK, WHITE, Mark, Stamp
from traysheets.sheets.lesson import Vessel
from traysheets.sheets.pictures.hands import carrying, pinching
from traysheets.sheets.pictures.pen import THIN_MM, Pen, Tints
from traysheets.sheets.pictures.pot import Pot, filled
from traysheets.sheets.pictures.signs import tick
from traysheets.sheets.pictures.tools import arrow, drop, packet, scoop, straightedge

WIDTH, HEIGHT = 46.0, 26.0

_CELL = Pot(Vessel.CELL, width=8.0, depth=8.0, base=0.66, per_mm=1.0)
_CELLS, _PITCH, _FIRST, _RIM = 3, 11.0, 9.0, 15.0
_DOT = 0.4


class Step(StrEnum):
    """What is done on a sowing day, in its order. The values are parts of keys of the words of the sheets."""

    FILL = "fill"
    MARK = "mark"
    OPEN = "open"
    SOW = "sow"
    FINISH = "finish"
    CLOSE = "close"
    CHECK = "check"
    CARRY = "carry"


@dataclass(frozen=True, slots=True)
class _Scene:
    pen: Pen
    tints: Tints
    gloved: bool


@lru_cache(maxsize=64)
def day_picture(step: Step, unit_mm: float, tints: Tints, *, gloved: bool) -> Stamp:
    """The picture of a step; where all seed of the day is treated the hand that sows it is gloved."""
    scene = _Scene(Pen(0, 0, unit_mm), tints, gloved)
    return Stamp(f"day: {step}", WIDTH * unit_mm, HEIGHT * unit_mm, tuple(_DRAWN[step](scene)))


def _tray(scene: _Scene, level: float, left: float = _FIRST) -> Iterator[Mark]:
    """A tray cut open from the side, its cells filled up to a level below the rim."""
    for i in range(_CELLS):
        yield from filled(scene.pen.moved(left + i * _PITCH, _RIM), _CELL, level, scene.tints)


def _fill(scene: _Scene) -> Iterator[Mark]:
    yield from _tray(scene, 0.6)
    yield from straightedge(scene.pen.moved(_FIRST - 4, _RIM), scene.tints, 24.0)
    for x, y in ((31, 10.5), (31.7, 12), (30.6, 13.2)):
        yield scene.pen.circle(x, y, 0.45, scene.tints.grain, None)
    yield from scoop(scene.pen.moved(31, 8.5, 0.75), scene.tints)


def _mark(scene: _Scene) -> Iterator[Mark]:
    """A tray from above with its black corner, a hand that writes there."""
    pen = scene.pen
    yield pen.shape("M 6 8 L 40 8 L 40 24 L 6 24 Z", fill=WHITE)
    yield pen.shape("M 6 8 L 14 8 L 6 16 Z", fill=BLACK)
    for row in range(2):
        for column in range(5):
            x, y = 9.4 + column * 6, 12 + row * 5.6
            if row or column:
                cell = f"M {x} {y} L {x + 4.6} {y} L {x + 4.6} {y + 4.6} L {x} {y + 4.6} Z"
                yield pen.shape(cell, fill=scene.tints.soil, stroke_mm=THIN_MM)
    yield pen.line(12.4, 11.4, 19.4, 4.2, 1.9)
    yield from pinching(pen.moved(15.6, 9.6, 0.5), scene.tints, gloved=False)


def _open(scene: _Scene) -> Iterator[Mark]:
    """One packet open, all others shut."""
    for i in range(3):
        yield from packet(scene.pen.moved(27.4 + i * 7.2, 17.5, 0.48), opened=False)
    yield from packet(scene.pen.moved(15, 14.0, 1.25), opened=True)


def _sow(scene: _Scene) -> Iterator[Mark]:
    """Cell after cell from the first on."""
    yield from _tray(scene, 1.2)
    for i, x in enumerate((_FIRST, _FIRST + _PITCH)):
        for away in (-1.8, 0, 1.8):
            height = 1.2 - _DOT if i == 0 else (1.2 - _DOT, -1.2, -2.6)[int(away / 1.8 + 1)]
            yield scene.pen.circle(x + away * (1 if i == 0 else 0.5), _RIM + height, _DOT, BLACK, None)
    yield from arrow(scene.pen, 8.6, 8.2, 15.4, 8.2, 1.7)
    yield from pinching(scene.pen.moved(_FIRST + _PITCH, _RIM - 4.2, 0.55), scene.tints, gloved=scene.gloved)


def _finish(scene: _Scene) -> Iterator[Mark]:
    """The page of the batch, its last three pictures bold: how its cells are finished; and the stick at the first."""
    pen = scene.pen
    yield pen.shape("M 9 3 L 21 3 L 21 23 L 9 23 Z", fill=WHITE)
    yield pen.shape("M 10.4 4.6 L 18 4.6 L 18 6.2 L 10.4 6.2 Z", fill=BLACK, stroke=None)
    for row, bold in ((8.2, False), (14.8, True)):
        for column in range(3):
            x = 10.2 + column * 3.4
            box = f"M {x} {row} L {x + 2.8} {row} L {x + 2.8} {row + 4.8} L {x} {row + 4.8} Z"
            yield pen.shape(box, fill=BLACK if bold else WHITE, stroke_mm=THIN_MM)
    yield from arrow(pen, 22.2, 17.4, 25.8, 17.4, 1.7)
    small = pen.moved(24.7, 9.0, 0.54)
    for i in range(_CELLS):
        yield from filled(small.moved(_FIRST + i * _PITCH, _RIM), _CELL, 0.8, scene.tints)
    yield from _stick(small.moved(_FIRST, _RIM))


def _close(scene: _Scene) -> Iterator[Mark]:
    """The packet is shut and joins those done with."""
    yield from packet(scene.pen.moved(15, 14.0, 1.25), opened=False)
    yield from arrow(scene.pen, 23.5, 17, 29, 17, 2.0)
    pen = scene.pen
    yield from packet(pen.moved(36, 10.5, 0.5), opened=False)
    yield pen.shape("M 30 14 L 31.2 22.5 L 41 22.5 L 42.2 14 Z", fill=scene.tints.wood)


def _check(scene: _Scene) -> Iterator[Mark]:
    """A stick at the first cell of every batch, all cells damp, a tick."""
    pen = scene.pen.moved(5.0, 5.8, 0.8)
    for i in range(_CELLS):
        cell = pen.moved(_FIRST + i * _PITCH, _RIM)
        yield from filled(cell, _CELL, 0.8, scene.tints)
        yield drop(cell, scene.tints, 0 if i == 1 else 1.7, 4.4, 1.4)
        if i != 1:
            yield from _stick(cell.moved(-1.6, 0))
    yield from tick(scene.pen.moved(39.4, 8.4, 1.1), scene.tints)


def _carry(scene: _Scene) -> Iterator[Mark]:
    """Two hands under a tray, lifting it."""
    pen = scene.pen.moved(5.9, 2.6, 0.75)
    for i in range(_CELLS):
        yield from filled(pen.moved(12 + i * _PITCH, 9), _CELL, 0.8, scene.tints)
    yield from carrying(pen.moved(12 + 2 * _PITCH - 3, 18.2, 0.72))
    mirrored = pen.moved(12 + 3, 18.2, 0.72)
    yield from carrying(Pen(mirrored.x_mm, mirrored.y_mm, mirrored.unit_mm, 0, mirrored=True))
    yield from arrow(scene.pen, 23, 7.2, 23, 1.6, 2.0)


def _stick(pen: Pen) -> Iterator[Mark]:
    """A stick in a cell, its code at the top; the rim of the cell at the origin."""
    yield pen.shape("M -1.3 -11 L 1.3 -11 L 1.3 3 L 0 5.4 L -1.3 3 Z", fill=WHITE)
    yield pen.shape("M -0.7 -10.2 L 0.7 -10.2 L 0.7 -8.8 L -0.7 -8.8 Z", fill=BLACK, stroke=None)


_DRAWN: dict[Step, Callable[[_Scene], Iterator[Mark]]] = {
    Step.FILL: _fill,
    Step.MARK: _mark,
    Step.OPEN: _open,
    Step.SOW: _sow,
    Step.FINISH: _finish,
    Step.CLOSE: _close,
    Step.CHECK: _check,
    Step.CARRY: _carry,
}
