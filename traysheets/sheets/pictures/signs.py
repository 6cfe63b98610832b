"""Signs: the tick and the cross that tell right from wrong, and one for every caution, in a square of 18 units."""

from collections.abc import Callable, Iterator
from functools import lru_cache

from traysheets.page.marks import BLACK, WHITE, Mark, Path, Stamp
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.pictures.hands import carrying, open_glove
from traysheets.sheets.pictures.pen import BOLD_MM, LINE_MM, Pen, Tints
from traysheets.sheets.pictures.pot import speck
from traysheets.sheets.pictures.tools import arrow, drop

_STROKE = 1.3
_SIDE = 18.0


def tick(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A tick in a round ground, about the origin, 9 across."""
    yield pen.circle(0, 0, 4.5, tints.right, None)
    yield pen.shape("M -2.3 0.2 L -0.7 2.0 L 2.4 -1.9", stroke=WHITE, stroke_mm=_STROKE * pen.unit_mm)


def wrong(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A cross in a square ground, 9 across: another shape than the tick's, so that neither needs its colour."""
    side = 4.3
    yield pen.shape(f"M {-side} {-side} L {side} {-side} L {side} {side} L {-side} {side} Z", tints.wrong, None)
    for slope in (-1, 1):
        yield pen.line(-2.2, -2.2 * slope, 2.2, 2.2 * slope, _STROKE * pen.unit_mm, WHITE)


def cross(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A cross of two strokes, about the origin, 6 across, its edges white to be seen on anything."""
    for stroke, wide in ((WHITE, 2.4), (tints.wrong, 1.2)):
        for side in (-1, 1):
            yield pen.line(-2.6, -2.6 * side, 2.6, 2.6 * side, wide * pen.unit_mm, stroke)


@lru_cache(maxsize=64)
def caution_sign(hazard: Hazard, side_mm: float, tints: Tints) -> Stamp:
    """The sign of a caution."""
    unit, edge = side_mm / _SIDE, LINE_MM / 2
    low, high = edge, side_mm - edge
    frame = f"M {low} {low} L {high} {low} L {high} {high} L {low} {high} Z"
    inside = _DRAWN[hazard](Pen(side_mm / 2, side_mm / 2, unit), tints)
    return Stamp(f"sign: {hazard}", side_mm, side_mm, (Pen(0, 0).shape(frame, fill=WHITE), *inside))


def _treated(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A glove."""
    yield from open_glove(pen.moved(0.4, 0.6, 0.75), tints)


def _mix(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A heap of mix that is damped."""
    yield pen.shape("M -8 7.6 C -6 3.4 -3.6 2.6 -2.4 1.4 C -0.6 -0.2 1.6 0.4 3 2.4 C 4.6 4.4 6.6 5 8 7.6 Z", tints.soil)
    yield from _specks(pen, tints)
    for x, y in ((-4.6, -3.6), (0.2, -5.6), (4.8, -3.4), (-1.8, -2.0), (2.6, -1.4)):
        yield drop(pen, tints, x, y, 1.15)


def _specks(pen: Pen, tints: Tints) -> Iterator[Mark]:
    from_middle = ((-4, 6), (-1.6, 4.4), (0.6, 3), (2.6, 5.2), (4.8, 6.4), (0.4, 6.2), (-2.6, 6.4))
    yield Path(tuple(speck(*pen.at(x, y), 0.3) for x, y in from_middle), fill=tints.grain)


def _knives(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """Scissors."""
    for side in (-1, 1):
        yield pen.shape(f"M {side * 2.6} 3 L {-side * 2.2} -7.6 L {-side * 3.2} -5.4 L {side * 1.4} 3.4 Z", tints.metal)
        yield pen.circle(side * 3.2, 5.2, 2.2, WHITE, BLACK, BOLD_MM)
    yield pen.circle(0, -1.2, 0.5, BLACK, None)


def _lifting(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """Two hands under a tray."""
    yield pen.shape("M -6.4 -1.6 L 6.4 -1.6 L 5.6 2.6 L -5.6 2.6 Z", tints.soil)
    for mirrored in (False, True):
        hand = pen.moved(-1.0 if mirrored else 1.0, 3.4, 0.3)
        yield from carrying(Pen(hand.x_mm, hand.y_mm, hand.unit_mm, 0, mirrored=mirrored))
    yield from arrow(pen, 0, -3, 0, -7.8, 2.0)


def _water(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A plug, and a drop that is crossed out."""
    yield pen.shape("M -7 1.6 L -1.4 1.6 L -1.4 6 L -7 6 Z", fill=BLACK)
    for y in (2.6, 5.0):
        yield pen.line(-1.4, y, 1.4, y, BOLD_MM)
    yield pen.shape("M -7 3.8 C -9 3.8 -7.6 7 -8.4 8.2", stroke_mm=BOLD_MM)
    yield drop(pen, tints, 3.4, -2.6, 4.4, LINE_MM)
    yield from cross(pen.moved(3.4, -1.6, 1.15), tints)


_DRAWN: dict[Hazard, Callable[[Pen, Tints], Iterator[Mark]]] = {
    Hazard.TREATED: _treated,
    Hazard.MIX: _mix,
    Hazard.KNIVES: _knives,
    Hazard.LIFTING: _lifting,
    Hazard.WATER: _water,
}
