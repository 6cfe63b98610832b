"""Helpers as small figures, each told by the look of the shirt: black, white, striped."""

from collections.abc import Iterator

from traysheets.page.marks import BLACK, WHITE, Mark
from traysheets.sheets.pictures.pen import THIN_MM, Pen

SHIRTS = 3
HEIGHT = 10.0
WIDTH = 8.0

_BODY = "M -3.6 5 L -3.6 1.4 C -3.6 -0.6 -2.4 -1.4 -1 -1.4 L 1 -1.4 C 2.4 -1.4 3.6 -0.6 3.6 1.4 L 3.6 5 Z"


def person(pen: Pen, shirt: int) -> Iterator[Mark]:
    """A figure about the origin, 8 wide and 10 high."""
    yield pen.circle(0, -3.3, 1.55, WHITE, BLACK, THIN_MM)
    yield pen.shape(_BODY, fill=BLACK if shirt == 0 else WHITE, stroke_mm=THIN_MM)
    if shirt == 2:
        for y, half in ((-0.2, 2.9), (1.3, 3.5), (2.8, 3.5), (4.2, 3.5)):
            yield pen.line(-half, y, half, y, 0.75 * pen.unit_mm)
