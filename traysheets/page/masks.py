"""The mask of a QR code: eight symbols weighed by the rules of ISO/IEC 18004, 7.8.3, and the least penalised taken.

`qrcode` places the data; it also weighs, but module by module, which is most of its time. Here a whole symbol is one
integer, a bit a module from the top left on, so that a rule is a handful of shifts: to the right is one bit up, down
is `side` bits up.
"""

from collections.abc import Iterable
from functools import cache
from typing import Any

from qrcode.main import QRCode

MASKS = range(8)
_FINDER_LIKE = ("10111010000", "00001011101")
"""Dark and light as in a finder pattern, beside four light ones."""


def least_penalised(code: Any) -> tuple[str, ...]:
    """The rows, `1` for dark, of the best symbol of a code that has its version and its data.

    A symbol without data shows the mask and all that is no data. Data laid over it, bit against bit, make the symbol
    whole.
    """
    side = 17 + 4 * code.version
    blanks = _blanks(code.version, code.error_correction)
    data = _symbol(code, MASKS[0]) ^ blanks[0]
    best = min((data ^ blank for blank in blanks), key=lambda symbol: penalty(symbol, side))
    bits = f"{best:0{side * side}b}"[::-1]
    return tuple(bits[start : start + side] for start in range(0, side * side, side))


@cache
def _blanks(version: int, error_correction: int) -> tuple[int, ...]:
    """The symbols of a version and level without data, one a mask."""
    code: Any = QRCode(version=version, error_correction=error_correction, border=0)
    code.data_cache = ()
    return tuple(_symbol(code, mask) for mask in MASKS)


def _symbol(code: Any, mask: int) -> int:
    code.makeImpl(False, mask)
    return packed(code.modules)


def packed(rows: Iterable[Iterable[bool]]) -> int:
    """A symbol as one integer."""
    return int("".join("1" if dark else "0" for row in rows for dark in row)[::-1], 2)


def penalty(symbol: int, side: int) -> int:
    """The penalty of a symbol: long runs, blocks, likeness to a finder pattern, too much dark or light (Table 11)."""
    dark_percent = symbol.bit_count() / side**2 * 100
    lines = sum(_runs(symbol, side, step) + _likeness(symbol, side, step) for step in (1, side))
    return lines + _blocks(symbol, side) + 10 * int(abs(dark_percent - 50) / 5)


@cache
def _starts(side: int, length: int, step: int) -> int:
    """Where a stretch of that length may start, for it to end within its row (step 1) or column (step `side`)."""
    if step == side:
        return (1 << side * (side - length + 1)) - 1
    row = (1 << side - length + 1) - 1
    return sum(row << side * y for y in range(side))


def _alike(symbol: int, side: int, step: int) -> int:
    """The modules that are as their neighbour one step on."""
    return ~(symbol ^ symbol >> step) & _starts(side, 2, step)


def _runs(symbol: int, side: int, step: int) -> int:
    """3 for a run of five alike, 1 for each module more: 1 for every five in a row, 2 for the first five of a run."""
    alike = _alike(symbol, side, step)
    fives = alike & alike >> step & alike >> 2 * step & alike >> 3 * step
    return fives.bit_count() + 2 * (fives & ~(fives << step)).bit_count()


def _blocks(symbol: int, side: int) -> int:
    """3 for every two by two alike, whether or not they overlap."""
    across, down = _alike(symbol, side, 1), _alike(symbol, side, side)
    return 3 * (across & across >> side & down).bit_count()


def _likeness(symbol: int, side: int, step: int) -> int:
    """40 for every stretch like a finder pattern."""
    found = 0
    for pattern in _FINDER_LIKE:
        places = _starts(side, len(pattern), step)
        for i, module in enumerate(pattern):
            ahead = symbol >> i * step
            places &= ahead if module == "1" else ~ahead
        found += places.bit_count()
    return 40 * found
