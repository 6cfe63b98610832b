"""Proof of a QR code as it is drawn: its rectangles are laid on a grid again, and what they show is read.

What is wrong with a code is said here in words. How modules are read is `page/qr_reading.py`; how a code is made is
`page/qr.py`, of which nothing is used but the limits.
"""

from collections.abc import Iterable
from functools import cache
from typing import Any, cast

from traysheets.page.lettering import SLACK_MM
from traysheets.page.marks import Path, Rect, Stamp
from traysheets.page.qr_reading import UnreadableError, read

LEAST_QUIET_MODULES = 2
"""White that a code needs on all sides; 4 by the standard, less will do where the label is white as well."""


_MOST_SIDE_MM = 1000.0
"""Larger than any paper; and what is no number is not below it."""


def broken(stamp: Stamp) -> str | None:
    """What keeps a stamp that says it is a QR code from being read as its text; None when it comes out whole."""
    try:
        said = _said(stamp)
    except UnreadableError as error:
        return f"cannot be read: {error}"
    return None if said == stamp.reads else f"reads '{said}', and should read '{stamp.reads}'"


def _said(stamp: Stamp) -> str:
    ground, dark = _drawn(stamp)
    if not 0 < dark.unit_mm < stamp.width_mm < _MOST_SIDE_MM:
        raise UnreadableError("its size is none that a code can have")
    across = round(stamp.width_mm / dark.unit_mm)
    if abs(across * dark.unit_mm - stamp.width_mm) > SLACK_MM or stamp.width_mm != stamp.height_mm:
        raise UnreadableError("its modules do not fill its square")
    if (ground.x_mm, ground.y_mm, ground.width_mm, ground.height_mm) != (0, 0, stamp.width_mm, stamp.height_mm):
        raise UnreadableError("its ground is not white all over")
    return read(*_symbol(_laid(cast("Iterable[tuple[Any, ...]]", dark.d), across), across))


def _drawn(stamp: Stamp) -> tuple[Rect, Path]:
    """The two marks of a code: white ground, and the dark modules as rectangles on a grid."""
    match stamp.marks:
        case (
            Rect(fill="#FFFFFF", stroke=None, radius_mm=0) as ground,
            Path(fill="#000000", stroke=None) as dark,
        ):
            return ground, dark
    raise UnreadableError("it is not black rectangles on white")


def drawn_module_mm(stamp: Stamp) -> float:
    """The size of the modules of a stamp that is a QR code. Raises UnreadableError when it is not drawn as one."""
    return _drawn(stamp)[1].unit_mm


def _laid(pieces: Iterable[tuple[Any, ...]], across: int) -> str:
    """The grid that rectangles of whole modules darken, row by row. What lies twice adds up, and is then not read."""
    try:
        total = sum([_dark(width, height, across) << y * across + x for _, x, y, width, height in pieces])
    except (TypeError, ValueError):
        raise UnreadableError("it is drawn with something else than whole modules") from None
    return f"{total:0{across * across}b}"[::-1]


@cache
def _dark(width: int, height: int, across: int) -> int:
    """A dark rectangle in the first corner of a grid, as an integer: a bit a module, the first module the lowest."""
    row = (1 << width) - 1
    return sum(row << i * across for i in range(height))


def _symbol(grid: str, across: int) -> tuple[str, int]:
    """The symbol without its quiet zone, and the modules of its side. A finder pattern is dark in its first module."""
    quiet, beside = divmod(grid.find("1"), across)
    side = across - 2 * quiet
    if quiet < LEAST_QUIET_MODULES or beside != quiet or len(grid) != across * across:
        raise UnreadableError("the white around it is too narrow, or its first corner is missing")
    starts = range(quiet * across + quiet, (across - quiet) * across, across)
    symbol = "".join([grid[start : start + side] for start in starts])
    if symbol.count("1") != grid.count("1"):
        raise UnreadableError("something dark stands in the white around it")
    return symbol, side
