"""Reading a QR code back from its modules: what a scanner would say, if it saw them all (ISO/IEC 18004).

It knows nothing of how the code was made: the figures are the standard's, and nothing is corrected. One module that is
not as it should be makes the code unreadable here, long before a scanner would mind. So what is read is proof that the
code, as it is drawn, is whole.

A symbol is a text of `0` and `1`, row by row from the top left, `1` for a dark module.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from operator import itemgetter

LEVELS = "MLHQ"
"""Error correction levels by the two bits that name them (7.9.1)."""

_CORRECTION = {
    "L": (7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28),
    "M": (10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26),
    "Q": (13, 22, 18, 26, 18, 24, 18, 22, 20, 24, 28, 26, 24, 20, 30, 24, 28, 28, 26, 30),
    "H": (17, 28, 22, 16, 22, 28, 26, 26, 24, 28, 24, 28, 22, 24, 24, 30, 28, 28, 26, 28),
}
"""Error correction codewords in each block, of versions 1 to 20 (Table 9)."""
_BLOCKS = {
    "L": (1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8),
    "M": (1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16),
    "Q": (1, 1, 2, 2, 4, 4, 6, 6, 8, 8, 8, 10, 12, 16, 12, 17, 16, 18, 21, 20),
    "H": (1, 1, 2, 4, 4, 4, 5, 6, 8, 8, 11, 11, 16, 16, 18, 16, 19, 21, 25, 25),
}
"""Blocks of codewords, of versions 1 to 20 (Table 9)."""
MOST_VERSION = 20

_FINDER = ("11111110", "10000010", "10111010", "10111010", "10111010", "10000010", "11111110", "00000000")
"""A finder pattern and the light modules that set it apart, at the top left (6.3.3, 6.3.4)."""
_ALIGNMENT = ("11111", "10001", "10101", "10001", "11111")
_ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_MASKS: tuple[Callable[[int, int], int], ...] = (
    lambda i, j: (i + j) % 2,
    lambda i, j: i % 2,
    lambda i, j: j % 3,
    lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2,
    lambda i, j: i * j % 2 + i * j % 3,
    lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
)
"""The masks: a module of row i and column j is turned over where this is 0 (Table 10)."""


class UnreadableError(ValueError):
    """A symbol that is not whole: its message says in which part."""


@lru_cache(maxsize=1024)
def read(symbol: str, side: int) -> str:
    """The text of a symbol of so many modules a side. Raises UnreadableError when any module is not as it should be."""
    version, rest = divmod(side - 17, 4)
    if rest or not 1 <= version <= MOST_VERSION or len(symbol) != side * side:
        raise UnreadableError(f"{side} modules are the side of no code we print")
    plan = _plan(version)
    if int(symbol, 2) & plan.fixed_where != plan.fixed:
        raise UnreadableError("a pattern to find it by is broken")
    level, mask = _format(plan, symbol)
    bits = int("".join(plan.data(symbol)), 2) ^ _mask_bits(version, mask)
    spare = len(plan.order) % 8
    if bits & (1 << spare) - 1:
        raise UnreadableError("modules without meaning are dark")
    words = (bits >> spare).to_bytes(len(plan.order) // 8, "big")
    return _text(_data(words, version, level), version)


@dataclass(frozen=True, slots=True)
class _Plan:
    """Where all is in the symbols of one version: modules that are fixed, as integers; places of all others in order.

    `formats` picks the two copies of the level and the mask, `data` the modules of the codewords.
    """

    fixed: int
    fixed_where: int
    formats: tuple[Callable[[str], Sequence[str]], ...]
    data: Callable[[str], Sequence[str]]
    order: tuple[int, ...]


@cache
def _plan(version: int) -> _Plan:
    side = 17 + 4 * version
    fixed = dict(_fixed(version, side))
    formats = tuple(_format_places(side))
    taken = fixed.keys() | {place for copy in formats for place in copy}
    order = tuple(place for place in _placement(side) if place not in taken)
    last = side * side - 1
    return _Plan(
        sum(1 << last - place for place, dark in fixed.items() if dark),
        sum(1 << last - place for place in fixed),
        tuple(itemgetter(*copy) for copy in formats),
        itemgetter(*order),
        order,
    )


def _fixed(version: int, side: int) -> Iterator[tuple[int, bool]]:
    """The modules that are the same in all symbols of a version, by place. Later ones lie over earlier ones."""
    for i in range(8, side - 8):
        yield 6 * side + i, i % 2 == 0
        yield i * side + 6, i % 2 == 0
    for y, x in _alignments(version, side):
        for i, row in enumerate(_ALIGNMENT):
            yield from (((y + i) * side + x + j, dark == "1") for j, dark in enumerate(row))
    for i, row in enumerate(_FINDER):
        for j, dark in enumerate(row):
            for y, x in ((i, j), (i, side - 1 - j), (side - 1 - i, j)):
                yield y * side + x, dark == "1"
    yield (side - 8) * side + 8, True
    if version >= 7:
        yield from _version_modules(version, side)


def _alignments(version: int, side: int) -> Iterator[tuple[int, int]]:
    """Top and left of the alignment patterns: on a grid, but for the corners with a finder pattern (Annex E)."""
    if version == 1:
        return
    number = version // 7 + 2
    step = (version * 8 + number * 3 + 5) // (number * 4 - 4) * 2
    middles = [6, *sorted(side - 7 - i * step for i in range(number - 1))]
    corners = {(6, 6), (6, middles[-1]), (middles[-1], 6)}
    yield from ((y - 2, x - 2) for y in middles for x in middles if (y, x) not in corners)


def _version_modules(version: int, side: int) -> Iterator[tuple[int, bool]]:
    """The version, twice: 6 bits and 12 to prove them (7.10)."""
    bits = version << 12 | _remainder(version << 12, 0b1111100100101)
    for i in range(18):
        y, x = i // 3, side - 11 + i % 3
        yield y * side + x, bool(bits >> i & 1)
        yield x * side + y, bool(bits >> i & 1)


def _remainder(value: int, divisor: int) -> int:
    """What is left of a division of polynomials over two elements."""
    while value.bit_length() >= divisor.bit_length():
        value ^= divisor << value.bit_length() - divisor.bit_length()
    return value


def _format_places(side: int) -> Iterator[tuple[int, ...]]:
    """The places of level and mask, the first bit first: round one finder and beside the others (7.9.1)."""
    around = [(8, x) for x in (0, 1, 2, 3, 4, 5, 7, 8)] + [(y, 8) for y in (7, 5, 4, 3, 2, 1, 0)]
    beside = [(side - 1 - i, 8) for i in range(7)] + [(8, side - 8 + i) for i in range(8)]
    yield from (tuple(y * side + x for y, x in copy) for copy in (around, beside))


def _placement(side: int) -> Iterator[int]:
    """All places in the order of the codewords' bits: columns in pairs from the right, up and down in turn (7.7.3)."""
    up = True
    for right in (*range(side - 1, 6, -2), *range(5, 0, -2)):
        for y in reversed(range(side)) if up else range(side):
            yield y * side + right
            yield y * side + right - 1
        up = not up


@cache
def _formats() -> dict[str, tuple[str, int]]:
    """Level and mask by the 15 modules that tell them: 5 bits and 10 to prove them, turned over by a mask."""
    found = {}
    for value in range(32):
        bits = (value << 10 | _remainder(value << 10, 0b10100110111)) ^ 0b101010000010010
        found[f"{bits:015b}"] = LEVELS[value >> 3], value & 7
    return found


def _format(plan: _Plan, symbol: str) -> tuple[str, int]:
    one, other = ("".join(places(symbol)) for places in plan.formats)
    if one != other or one not in _formats():
        raise UnreadableError("what tells its level and mask is broken")
    return _formats()[one]


@cache
def _mask_bits(version: int, mask: int) -> int:
    """A mask in the order of the codewords' bits."""
    side, light = 17 + 4 * version, _MASKS[mask]
    return int("".join("0" if light(*divmod(place, side)) else "1" for place in _plan(version).order), 2)


def _data(words: bytes, version: int, level: str) -> bytes:
    """The data codewords, put in order block by block (7.6). Raises UnreadableError when a block does not come out."""
    correction, blocks = _CORRECTION[level][version - 1], _BLOCKS[level][version - 1]
    each, longer = divmod(len(words), blocks)
    each -= correction
    data = len(words) - correction * blocks
    parts = []
    for block in range(blocks):
        extra = block - blocks + longer
        part = words[block : each * blocks : blocks] + (words[each * blocks + extra :][:1] if extra >= 0 else b"")
        if _is_broken(part + words[data + block :: blocks], correction):
            raise UnreadableError("its codewords are broken")
        parts.append(part)
    return b"".join(parts)


def _is_broken(block: bytes, correction: int) -> bool:
    """Whether a block is no multiple of the generator polynomial, which is to say that a syndrome is not zero (7.5.2).

    The division goes a codeword at a time, and what is left of it is one integer.
    """
    table, top, rest = _multiples(correction), 8 * correction, 0
    for word in block:
        rest = rest << 8 | word
        high = rest >> top
        if high:
            rest ^= table[high]
    return rest != 0


@cache
def _multiples(correction: int) -> tuple[int, ...]:
    """The generator polynomial with so many roots times each of the 256 elements of the field."""
    generator, root = [1], 1
    for _ in range(correction):
        shifted = [_product(term, root) for term in generator]
        generator = [a ^ b for a, b in zip([*generator, 0], [0, *shifted], strict=True)]
        root = _product(root, 2)
    return tuple(int.from_bytes(bytes(_product(term, by) for term in generator), "big") for by in range(256))


@cache
def _logarithms() -> tuple[list[int], list[int]]:
    """Powers of 2 in the field of 256 elements, modulo x^8 + x^4 + x^3 + x^2 + 1, and the logarithms to them."""
    powers, logarithms, value = [0] * 510, [0] * 256, 1
    for exponent in range(255):
        powers[exponent] = powers[exponent + 255] = value
        logarithms[value] = exponent
        value = value << 1 ^ (0x11D if value & 0x80 else 0)
    return powers, logarithms


def _product(one: int, other: int) -> int:
    powers, logarithms = _logarithms()
    return powers[logarithms[one] + logarithms[other]] if one and other else 0


def _text(data: bytes, version: int) -> str:
    """The text of the data codewords: runs, each with its mode, its length and its characters (7.4)."""
    bits = f"{int.from_bytes(data, 'big'):0{8 * len(data)}b}"
    try:
        return b"".join(_runs(bits, version)).decode("utf-8")
    except (LookupError, ValueError):
        raise UnreadableError("what it says is no text") from None


def _runs(bits: str, version: int) -> Iterator[bytes]:
    """The characters of run after run, up to the mode of four zeros that ends them, or the end of the data."""
    place = 0
    while bits[place : place + 4].strip("0"):
        counted, characters = _MODES[bits[place : place + 4]]
        start = place + 4 + counted[version > 9]
        said, place = characters(bits, start, int(bits[place + 4 : start], 2))
        yield said


def _digits(bits: str, start: int, count: int) -> tuple[bytes, int]:
    """Three digits in 10 bits; the last two in 7, the last one in 4."""
    said = ""
    for left in range(count, 0, -3):
        held = min(left, 3)
        end = start + (0, 4, 7, 10)[held]
        said += f"{int(bits[start:end], 2):0{held}d}"
        start = end
    return said.encode(), start


def _capitals(bits: str, start: int, count: int) -> tuple[bytes, int]:
    """Two of the 45 alphanumeric characters in 11 bits, the last one in 6."""
    pairs, end = _pairs(), start + 11 * (count // 2)
    said = "".join([pairs[bits[place : place + 11]] for place in range(start, end, 11)])
    if count % 2:
        said += pairs["00000" + bits[end : end + 6]][1]
        end += 6
    return said.encode(), end


@cache
def _pairs() -> dict[str, str]:
    """Every two alphanumeric characters by their bits."""
    return {
        f"{45 * i + j:011b}": one + other
        for i, one in enumerate(_ALPHANUMERIC)
        for j, other in enumerate(_ALPHANUMERIC)
    }


def _bytes(bits: str, start: int, count: int) -> tuple[bytes, int]:
    end = start + 8 * count
    return int(bits[start:end] or "0", 2).to_bytes(count, "big"), end


_MODES: dict[str, tuple[tuple[int, int], Callable[[str, int, int], tuple[bytes, int]]]] = {
    "0001": ((10, 12), _digits),
    "0010": ((9, 11), _capitals),
    "0100": ((8, 16), _bytes),
}
"""Modes: the bits of their counts, in versions 1 to 9 and from 10 on, and what reads their characters (Tables 2, 3)."""
