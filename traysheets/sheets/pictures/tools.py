"""Tools of sowing: a board to press with, a dibber, a scoop of mix, a watering can, a spray bottle, seed packets.

Each is drawn in millimetres of a tool about 20 large, and hung by the place where it works.
"""

from collections.abc import Iterator

from traysheets.page.marks import BLACK, WHITE, Mark, Path
from traysheets.sheets.pictures.pen import BOLD_MM, LINE_MM, THIN_MM, Pen, Tints
from traysheets.sheets.pictures.pot import Pot, filled

_CAN = "M 13 -9 L 25 -9 L 26.5 5 L 11.5 5 Z"
_SPOUT = "M 11.9 1.6 L 2.6 -7.4 L 1.2 -6 L 11.6 4.6 Z"
_ROSE = "M 3.9 -8.7 L -0.1 -4.7 L -1.5 -5.1 L 3.5 -10.1 Z"
_HANDLE = "M 13.6 -9 C 14 -16 24 -17.5 29 -11 C 32 -7 31 -1 26.2 1.4"
_HANDLE_IN = "M 15.4 -9 C 16.4 -14 23.4 -15 27.3 -10 C 29.6 -6.8 28.8 -2.6 26 -0.8"


def watering_can(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A can whose rose is about the origin, facing down to the left."""
    yield pen.shape(_HANDLE)
    yield pen.shape(_HANDLE_IN)
    yield pen.shape(_CAN, fill=tints.metal)
    yield pen.shape(_SPOUT, fill=tints.metal)
    yield pen.shape(_ROSE, fill=WHITE)


_DROP = (
    "M 0 -1 C 0.25 -0.5 0.62 -0.1 0.62 0.35 C 0.62 0.72 0.34 1 0 1 "
    "C -0.34 1 -0.62 0.72 -0.62 0.35 C -0.62 -0.1 -0.25 -0.5 0 -1 Z"
)


def drop(pen: Pen, tints: Tints, x: float, y: float, size: float = 1.0, stroke_mm: float = THIN_MM) -> Path:
    """A drop of water about (x, y), twice `size` high."""
    place_x, place_y = pen.at(x, y)
    own = Pen(place_x, place_y, size * pen.unit_mm)
    return own.shape(_DROP, fill=tints.water, stroke_mm=stroke_mm)


_BOTTLE = "M -3.4 -3 L -4.6 2 L -4.6 14 L 4.6 14 L 4.6 2 L 3.4 -3 Z"
_SPRAY_HEAD = "M -7.4 -7.6 L 3.6 -7.6 L 4.8 -4.4 L 2.4 -3 L -2.4 -3 L -2.4 -5 L -7.4 -5 Z"
_TRIGGER = "M -3.2 -5 C -5 -3.6 -5.6 -2 -6.8 -0.8"


def spray_bottle(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A bottle whose nozzle is at the origin and sprays to the left."""
    x, y = pen.at(8.6, 6.3)
    own = Pen(x, y, pen.unit_mm, pen.degrees, pen.mirrored)
    yield own.shape(_TRIGGER, stroke_mm=BOLD_MM * 0.8)
    yield own.shape(_BOTTLE, fill=WHITE)
    yield own.shape("M -4.6 4.6 L -4.6 14 L 4.6 14 L 4.6 4.6 Z", fill=tints.water, stroke_mm=THIN_MM)
    yield own.shape(_SPRAY_HEAD, fill=tints.metal)
    yield own.shape("M -7.4 -7.9 L -8.7 -7.9 L -8.7 -4.7 L -7.4 -4.7 Z", fill=BLACK)


def board(pen: Pen, tints: Tints, width: float) -> Iterator[Mark]:
    """A board with a knob, its lower side on the origin."""
    half = width / 2
    yield pen.shape(f"M {-half} 0 L {half} 0 L {half} -2.2 L {-half} -2.2 Z", fill=tints.wood)
    yield pen.shape(
        "M -1.6 -2.2 C -1.2 -3.4 -3 -4 -3 -5.2 C -3 -7 3 -7 3 -5.2 C 3 -4 1.2 -3.4 1.6 -2.2 Z", fill=tints.wood
    )


def straightedge(pen: Pen, tints: Tints, width: float) -> Iterator[Mark]:
    """A lath drawn over rims to level what stands above them, its lower edge from the origin to the right."""
    yield pen.shape(f"M 0 0 L {width} 0 L {width} -1.8 L 0 -1.8 Z", fill=tints.wood)
    yield from arrow(pen, width * 0.3, -4.4, width * 0.7, -4.4, 1.7)


def dibber(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A stick with a blunt point at the origin, upright, 15 long."""
    half = 1.5
    point = f"C {half} -0.9 {half * 0.55} 0 0 0 C {-half * 0.55} 0 {-half} -0.9 {-half} -2.4"
    yield pen.shape(f"M {half} -15 L {half} -2.4 {point} L {-half} -15 Z", fill=tints.wood)
    knob = half + 1.1
    yield pen.shape(f"M {-knob} -15 L {knob} -15 L {knob} -17 L {-knob} -17 Z", fill=tints.wood)


def block_press(pen: Pen, it: Pot, tints: Tints) -> Iterator[Mark]:
    """A press that has just set down a block, on the plane of the block's section: a box, a plunger, its grip."""
    half = it.half(0) + 0.7
    yield from filled(pen, it, 0.0, tints)
    yield pen.shape(f"M {-half} -1.6 L {half} -1.6 L {half} -8 L {-half} -8 Z", fill=tints.metal)
    yield pen.shape("M -0.6 -8 L 0.6 -8 L 0.6 -12 L -0.6 -12 Z", fill=tints.metal)
    yield pen.shape("M -4 -12 L 4 -12 L 4 -14 L -4 -14 Z", fill=tints.wood)
    for side in (-1, 1):
        yield from arrow(pen, side * (half + 3), -2, side * (half + 3), -9)


_HEAP = "M 0 0 C -0.6 -2.6 2.6 -3.2 3.6 -4.4 C 5 -6.2 8.4 -5.4 9.4 -3.6 C 10.4 -2.4 10.8 -1.2 10.6 0 Z"


def scoop(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A hand scoop full of mix; it pours at the origin, its grip up to the right."""
    x, y = pen.at(0, 0)
    own = Pen(x, y, pen.unit_mm, pen.degrees - 24, pen.mirrored)
    yield own.shape("M 10.4 0.9 L 18 0.9 C 19.4 0.9 19.4 2.9 18 2.9 L 10.4 2.9 Z", fill=tints.wood)
    yield own.shape(_HEAP, fill=tints.soil)
    yield own.shape("M -0.6 0 L 11 0 L 11 2.6 C 11 4 9.6 4.4 8.6 4.2 L 1.2 2.2 Z", fill=tints.metal)


def arrow(pen: Pen, x1: float, y1: float, x2: float, y2: float, head: float = 2.0) -> Iterator[Mark]:
    """An arrow from the first point to the second, on an upright or level line; `head` is in units of the pen."""
    length = abs(x2 - x1) + abs(y2 - y1)
    across, down = (x2 - x1) / length, (y2 - y1) / length
    back_x, back_y = x2 - across * head, y2 - down * head
    side_x, side_y = -down * head * 0.7, across * head * 0.7
    yield pen.line(x1, y1, back_x, back_y, BOLD_MM)
    yield pen.shape(
        f"M {x2} {y2} L {back_x + side_x} {back_y + side_y} L {back_x - side_x} {back_y - side_y} Z",
        fill=BLACK,
        stroke=None,
    )


def packet(pen: Pen, *, opened: bool) -> Iterator[Mark]:
    """A seed packet standing, 10 wide and 14 high about the origin: torn open at the top, or shut with a clip."""
    top = "L 5 -7 L 3.4 -5.8 L 1.6 -7.2 L -0.4 -5.6 L -2.4 -7.4 L -5 -6 Z" if opened else "L 5 -7 L -5 -7 Z"
    yield pen.shape(f"M -5 7 L 5 7 {top}", fill=WHITE)
    yield from _leaves(pen)
    if not opened:
        yield pen.shape("M -6 -8 L 6 -8 L 6 -4.6 L -6 -4.6 Z", fill=BLACK)


def _leaves(pen: Pen) -> Iterator[Mark]:
    """The picture on a packet: a seedling."""
    yield pen.line(0, 5, 0, 0.4, LINE_MM)
    for side in (-1, 1):
        yield pen.shape(
            f"M 0 0.8 C {side * 0.4} -1.6 {side * 2} -2 {side * 3.2} -1.8 C {side * 3} -0.2 {side * 1.8} 1 0 0.8 Z",
            fill=BLACK,
            stroke=None,
        )
