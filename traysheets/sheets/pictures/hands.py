"""Hands: one that lets seed fall between finger and thumb, bare or gloved, and one that carries from below.

Drawn in millimetres of a hand about 20 long; fingertips at the origin, the arm up and to the right.
"""

from collections.abc import Iterator

from traysheets.page.marks import WHITE, Mark
from traysheets.sheets.pictures.pen import THIN_MM, Pen, Tints

_PINCH = (
    "M 0 0 C -1.1 -0.9 -1.2 -2.2 -0.6 -3.5 C 0.4 -5.8 1.6 -8.4 3.6 -10.4 C 5.6 -12.3 9 -13.4 12.4 -13.6 "
    "C 14.6 -13.8 17 -14.2 19 -14.7 L 20.5 -8.0 C 18.4 -7.4 16.8 -6.6 15.4 -5.4 C 13.9 -4.0 12 -2.7 9.9 -2.6 "
    "C 8.4 -2.4 7.4 -2.7 6.7 -3.3 C 5.3 -1.9 3.8 -0.2 2.3 0.3 C 1.3 0.6 0.6 0.5 0 0 Z"
)
_BETWEEN = "M 1.0 -1.3 C 2.1 -3.5 3.5 -5.5 6.0 -7.0"
_CURLED = ("M 6.7 -3.3 C 6.9 -4.6 7.9 -5.7 9.2 -6.1", "M 9.9 -2.6 C 10.1 -3.9 11 -5 12.3 -5.4")
_SLEEVE = "M 18.5 -15.6 L 24.5 -17.2 L 26.4 -7.2 L 20.4 -6.9 Z"
_CUFF = "M 17.2 -14.9 L 19.6 -15.6 L 21.4 -7.2 L 19 -6.8 Z"
_GLOVE_ROLL = "M 18.6 -15.3 L 20.5 -7.0"


def pinching(pen: Pen, tints: Tints, *, gloved: bool) -> Iterator[Mark]:
    """A hand from the right that holds seed between finger and thumb, just above the origin."""
    yield pen.shape(_SLEEVE, fill=WHITE)
    yield pen.shape(_PINCH, fill=tints.glove if gloved else WHITE)
    yield pen.shape(_BETWEEN, stroke_mm=THIN_MM)
    for finger in _CURLED:
        yield pen.shape(finger, stroke_mm=THIN_MM)
    if gloved:
        yield pen.shape(_CUFF, fill=tints.glove)
        yield pen.shape(_GLOVE_ROLL, stroke_mm=THIN_MM)


_CARRYING = (
    "M 0 0 C 2.6 -0.6 7 -0.9 10.4 -0.6 C 12.2 -0.4 13.4 -1.6 13.3 -3.2 C 13.2 -4.6 15.2 -4.9 15.6 -3.2 "
    "C 16 -1.4 16.4 -0.4 18.4 0.2 L 21 1.4 L 19 7 C 16.4 6.6 13.6 5.4 11.4 4 "
    "C 8 3.4 3.4 2.6 0.4 2.2 C -0.8 2 -0.8 0.2 0 0 Z"
)


def carrying(pen: Pen) -> Iterator[Mark]:
    """A hand from the right, flat below what lies on it: its upper side begins at the origin and runs to the right."""
    yield pen.shape(_CARRYING, fill=WHITE)
    yield pen.shape("M 20.4 0 L 25 2 L 22.6 8.8 L 18.2 7.6 Z", fill=WHITE)


_OPEN = (
    "M -3.2 9 L -3.4 3.2 C -5 1.6 -6.6 -0.4 -7.4 -1.8 C -8.2 -3.4 -6.4 -4.6 -5.2 -3.2 L -3.5 -1.2 L -4.3 -8 "
    "C -4.4 -9.8 -2.4 -10 -2.1 -8.3 L -1.5 -3.6 L -1.4 -9.6 C -1.4 -11.4 0.8 -11.4 0.8 -9.6 L 0.9 -3.6 L 1.9 -8.9 "
    "C 2.3 -10.6 4.2 -10.2 4 -8.5 L 3.3 -3 L 4.9 -6.6 C 5.6 -8 7.2 -7.3 6.8 -5.8 C 6.2 -3.4 5.4 0 4.4 2.8 L 4.2 9 Z"
)


def open_glove(pen: Pen, tints: Tints) -> Iterator[Mark]:
    """A glove seen from the back, fingers up; about 20 high about the origin."""
    yield pen.shape(_OPEN, fill=tints.glove)
    yield pen.shape("M -4.2 6.4 L 5.2 6.4 L 5.2 9.2 L -4.2 9.2 Z", fill=WHITE)
