"""QR codes: the level that fits the room, and the code as one stamp. ISO/IEC 18004.

The data are coded and placed by `qrcode`, once a text and level; the mask is chosen by `page/masks.py`.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from qrcode import util
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.main import QRCode

from traysheets.base.errors import SheetError
from traysheets.page.marks import BLACK, WHITE, Path, Rect, Stamp
from traysheets.page.masks import least_penalised

QUIET_MODULES = 4
GOOD_MODULE_MM = 0.42
LEAST_MODULE_MM = 0.34
LEVELS = ("H", "Q", "M")
"""Levels chosen from, the strongest first. L is too weak for dirt."""
MOST_VERSION = 20
"""The largest code printed: 97 modules a side, 44 mm at `GOOD_MODULE_MM`."""

_CORRECTION = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}
_RUNS = (8, 20)
"""Shortest runs worth a mode of their own; which is best depends on the text."""

_DARK = re.compile("1+")


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code made to fit: its stamp (quiet zone included), error correction level, version and module size."""

    stamp: Stamp
    text: str
    level: str
    version: int
    module_mm: float


@lru_cache(maxsize=4096)
def version_for(text: str, level: str) -> int:
    """The least version (1 to `MOST_VERSION`) that holds the text at that level. Raises SheetError when none does."""
    room = util.BIT_LIMIT_TABLE[_CORRECTION[level]]
    for version in range(1, MOST_VERSION + 1):
        if min(_bits(packing, version) for packing in _packings(text)) <= room[version]:
            return version
    raise SheetError(
        f"{len(text)} characters are too many for a QR code of level {level}: {text[:40]!r}...; shorten the text"
    )


@lru_cache(maxsize=4096)
def _packings(text: str) -> tuple[tuple[util.QRData, ...], ...]:
    """The ways worth trying: all in one mode, or long runs of digits, of capitals and of bytes each in theirs."""
    whole = util.QRData(text)
    if whole.mode != util.MODE_8BIT_BYTE:
        return ((whole,),)
    return ((whole,), *(tuple(util.optimal_data_chunks(text, minimum=run)) for run in _RUNS))


def _bits(packing: tuple[util.QRData, ...], version: int) -> int:
    """Length of a packed text: a mode of 4 bits, a count and the characters for every run (ISO/IEC 18004, 7.4)."""
    return sum(4 + util.length_in_bits(data.mode, version) + _data_bits(data.mode, len(data.data)) for data in packing)


def _data_bits(mode: int, length: int) -> int:
    """Bits of the characters alone: 10 for three digits, 11 for two of the alphanumeric set, 8 for a byte."""
    if mode == util.MODE_NUMBER:
        return 10 * (length // 3) + (0, 4, 7)[length % 3]
    if mode == util.MODE_ALPHA_NUM:
        return 11 * (length // 2) + 6 * (length % 2)
    return 8 * length


@lru_cache(maxsize=1024)
def modules(text: str, level: str) -> tuple[str, ...]:
    """The code as rows of modules, `1` for a dark one, without a quiet zone."""
    version = version_for(text, level)
    code: Any = QRCode(version=version, error_correction=_CORRECTION[level], border=0)
    for data in min(_packings(text), key=lambda packing: _bits(packing, version)):
        code.add_data(data)
    return least_penalised(code)


def smallest_side_mm(text: str, module_mm: float = GOOD_MODULE_MM, quiet_modules: int = QUIET_MODULES) -> float:
    """The least square, quiet zone included, in which the code at level M has modules of that size."""
    return _across(version_for(text, "M"), quiet_modules) * module_mm


def _across(version: int, quiet_modules: int) -> int:
    """Modules from edge to edge: 17 + 4 times the version, and the quiet zone on both sides."""
    return 17 + 4 * version + 2 * quiet_modules


def level_for(text: str, side_mm: float, quiet_modules: int = QUIET_MODULES) -> str:
    """The strongest level whose modules stay good in that square; M, however small they are, when none does."""
    stronger = (level for level in LEVELS[:-1] if _keeps_good(text, level, side_mm, quiet_modules))
    return next(stronger, LEVELS[-1])


def _keeps_good(text: str, level: str, side_mm: float, quiet_modules: int) -> bool:
    try:
        return side_mm >= GOOD_MODULE_MM * _across(version_for(text, level), quiet_modules)
    except SheetError:
        return False


def module_mm(
    text: str, side_mm: float, quiet_modules: int = QUIET_MODULES, largest_module_mm: float | None = None
) -> float:
    """The size of the modules that `code` would make of a text, without encoding it."""
    across = _across(version_for(text, level_for(text, side_mm, quiet_modules)), quiet_modules)
    return min(side_mm / across, largest_module_mm or side_mm)


@lru_cache(maxsize=1024)
def code(text: str, side_mm: float, quiet_modules: int = QUIET_MODULES, largest_module_mm: float | None = None) -> Code:
    """The code of a text in a square of `side_mm`, quiet zone included: the highest of H, Q, M that keeps modules at
    `GOOD_MODULE_MM` or more, else M however small. Encoded once a text and level. The caller judges `module_mm`.
    Where `largest_module_mm` holds the modules down, the stamp is smaller than the square.
    Raises SheetError when the text does not fit any version that could be printed here.
    """
    level = level_for(text, side_mm, quiet_modules)
    size_mm = module_mm(text, side_mm, quiet_modules, largest_module_mm)
    version = version_for(text, level)
    side = _across(version, quiet_modules) * size_mm
    ground = Rect(0, 0, side, side, fill=WHITE)
    dark = Path(_rectangles(modules(text, level), quiet_modules), fill=BLACK, unit_mm=size_mm)
    return Code(Stamp(f"QR code {text}", side, side, (ground, dark), text), text, level, version, size_mm)


def _rectangles(rows: tuple[str, ...], quiet: int) -> tuple[tuple[str | int, ...], ...]:
    """The dark modules as few rectangles, in modules: runs of a row, joined with equal runs of the rows below."""
    rectangles: list[tuple[str | int, ...]] = []
    growing: dict[tuple[int, int], int] = {}
    for y, row in enumerate((*rows, "")):
        runs = {run: growing.get(run, y) for run in _runs(row)}
        for run, top in growing.items():
            if run not in runs:
                rectangles.append(("R", quiet + run[0], quiet + top, run[1] - run[0], y - top))
        growing = runs
    return tuple(rectangles)


def _runs(row: str) -> list[tuple[int, int]]:
    """Where the dark runs of a row start, and where they end."""
    return [run.span() for run in _DARK.finditer(row)]
