"""Samples on the printer's check page: small letters, greys, fills, hatches and QR codes of falling size.

Each is a block with a height, drawn in a column. What the page asks of its reader is `printer_check.py`.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from traysheets.base.words import Words
from traysheets.page import palette, qr
from traysheets.page.hatches import HATCHES, hatched
from traysheets.page.lettering import cap_height_mm, fit, width_mm
from traysheets.page.marks import BLACK, WHITE, Mark, Place, Rect, Stamp, Text
from traysheets.sheets.frame import LEAST_PT

TITLE_PT, TEXT_PT = 10.5, 8.5
TITLE_MM = 5.6
LINE_MM = 4.1

SIZES_PT = (9.0, 8.0, 7.0, 6.0, 5.0)
GREYS = tuple(range(0, 101, 10))
"""Parts of black in percent."""
MODULES_MM = (0.60, 0.50, 0.42, 0.38, 0.34, 0.30, 0.25)

_SWATCH_MM = 8.4
_GAP_MM = 1.5
_LABEL_MM = 3.4
_CODE_GAP_MM, _CODE_LABEL_MM = 1.5, 10.5
_EDGE_MM = 0.2
_SAMPLE_MM = 14.0
_SAMPLE_CODE = "27-014-K"
_LETTER_PT = 10.0


@dataclass(frozen=True, slots=True)
class Block:
    """A part of the page: its height, and what draws it from a left top corner."""

    height_mm: float
    draw: Callable[[float, float], Iterator[Mark]]


class Heading:
    """The title of a block in bold and what to look for: on the same line where both go on it, else below."""

    def __init__(self, words: Words, key: str, width: float) -> None:
        self._title, how = words(f"printer.{key}"), words(f"printer.{key}_how")
        self._start_mm = width_mm(self._title, "bold", TITLE_PT) + 3.0
        beside = fit(how, "regular", width - self._start_mm, TEXT_PT, TEXT_PT - 0.5)
        self._below = beside.cut
        self._said = fit(how, "regular", width, TEXT_PT, LEAST_PT, lines=2) if beside.cut else beside
        self.height_mm = TITLE_MM + (LINE_MM * len(self._said.lines) if self._below else 0.0) + 1.0

    def marks(self, left: float, top: float) -> Iterator[Mark]:
        """The heading, from its left top corner."""
        base = top + 3.6
        yield Text(left, base, self._title, "bold", TITLE_PT)
        x, base = (left, base + LINE_MM + 0.6) if self._below else (left + self._start_mm, base)
        for number, line in enumerate(self._said.lines):
            yield Text(x, base + number * LINE_MM, line, self._said.face, self._said.size_pt)


def letters(words: Words, width: float) -> Block:
    """The same line smaller and smaller, and a batch code beside it."""
    heading = Heading(words, "letters", width)

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from heading.marks(left, top)
        for number, size_pt in enumerate(SIZES_PT, 1):
            base = top + heading.height_mm + number * LINE_MM - 0.8
            yield Text(left, base, words("printer.points", n=size_pt), "bold", TEXT_PT)
            yield Text(left + _SAMPLE_MM, base, words("printer.sample"), "regular", size_pt)
            yield Text(left + width, base, _SAMPLE_CODE, "code", size_pt, anchor="end")

    return Block(heading.height_mm + len(SIZES_PT) * LINE_MM, draw)


def greys(words: Words, width: float) -> Block:
    """Eleven steps from white to black."""
    levels = [round(255 * (1 - part / 100)) for part in GREYS]
    swatches = [_plain(f"#{level:02X}{level:02X}{level:02X}") for level in levels]
    return _swatches(words, "greys", width, swatches, [f"{part} %" for part in GREYS])


def fills(words: Words, width: float) -> Block:
    """The eight fills of the palette with black letters on them."""
    return _swatches(words, "fills", width, [_lettered(fill) for fill in palette.FILLS], [])


def hatches(words: Words, width: float) -> Block:
    """The sixteen hatches, numbered in their order."""
    swatches = [_hatched(name) for name in HATCHES]
    return _swatches(words, "hatches", width, swatches, [str(number + 1) for number in range(len(HATCHES))])


def _plain(fill: str) -> Stamp:
    return Stamp(fill, _SWATCH_MM, _SWATCH_MM, (Rect(0, 0, _SWATCH_MM, _SWATCH_MM, fill, BLACK, _EDGE_MM),))


def _lettered(fill: str) -> Stamp:
    base = (_SWATCH_MM + cap_height_mm("bold", _LETTER_PT)) / 2
    letter = Text(_SWATCH_MM / 2, base, "AB", "bold", _LETTER_PT, anchor="middle")
    return Stamp(fill, _SWATCH_MM, _SWATCH_MM, (*_plain(fill).marks, letter))


def _hatched(name: str) -> Stamp:
    edge = Rect(0, 0, _SWATCH_MM, _SWATCH_MM, None, BLACK, _EDGE_MM)
    return Stamp(name, _SWATCH_MM, _SWATCH_MM, (hatched(name, _SWATCH_MM, _SWATCH_MM, WHITE), edge))


def _swatches(words: Words, key: str, width: float, swatches: Sequence[Stamp], labels: Sequence[str]) -> Block:
    """Swatches in as few rows as they go in, about equally long, each with its label below it."""
    heading = Heading(words, key, width)
    rows = ceil(len(swatches) / int((width + _GAP_MM) / (_SWATCH_MM + _GAP_MM)))
    in_row = ceil(len(swatches) / rows)
    row_mm = _SWATCH_MM + (_LABEL_MM if labels else 0.0) + _GAP_MM

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from heading.marks(left, top)
        for number, swatch in enumerate(swatches):
            row, column = divmod(number, in_row)
            x, y = left + column * (_SWATCH_MM + _GAP_MM), top + heading.height_mm + row * row_mm
            yield Place(swatch, x, y)
            if labels:
                at = y + _SWATCH_MM + _LABEL_MM - 0.6
                yield Text(x + _SWATCH_MM / 2, at, labels[number], "regular", LEAST_PT, anchor="middle")

    return Block(heading.height_mm + rows * row_mm - _GAP_MM, draw)


def codes(words: Words, width: float) -> Block:
    """QR codes of smaller and smaller modules; each says its own size, and has it below in print."""
    heading = Heading(words, "codes", width)
    made = [(size, _code(size)) for size in MODULES_MM]
    in_row = len(made) if sum(map(_column_mm, (code for _, code in made))) <= width else ceil(len(made) / 2)
    rows = [made[first : first + in_row] for first in range(0, len(made), in_row)]

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from heading.marks(left, top)
        top += heading.height_mm
        for row in rows:
            yield from _code_row(words, row, left, top)
            top += _code_row_mm(row)

    return Block(heading.height_mm + sum(map(_code_row_mm, rows)), draw)


def _code_row(words: Words, row: Sequence[tuple[float, Stamp]], left: float, top: float) -> Iterator[Mark]:
    foot = top + _code_row_mm(row) - _LABEL_MM
    for size, code in row:
        middle = left + _column_mm(code) / 2
        yield Place(code, middle - code.width_mm / 2, foot - code.height_mm)
        face = "bold" if size in (qr.GOOD_MODULE_MM, qr.LEAST_MODULE_MM) else "regular"
        label = words("measures.millimetres", n=words.number(size, 2))
        yield Text(middle, foot + _LABEL_MM - 0.8, label, face, LEAST_PT, anchor="middle")
        left += _column_mm(code)


def _code_row_mm(row: Sequence[tuple[float, Stamp]]) -> float:
    """The height of a row of codes: of the largest, and the labels."""
    return max(code.height_mm for _, code in row) + _LABEL_MM


def _column_mm(code: Stamp) -> float:
    """What a code takes up across, its label included."""
    return max(code.width_mm, _CODE_LABEL_MM) + _CODE_GAP_MM


def _code(module_mm: float) -> Stamp:
    """A QR code of version 1 that says the size of its modules."""
    text = f"{module_mm:.2f} MM"
    return qr.code(text, qr.smallest_side_mm(text, module_mm)).stamp
