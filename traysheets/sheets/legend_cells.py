"""What stands in a legend's rows: lines of text made to fit the columns, drawn level with the middle of the row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from traysheets.page.lettering import MM_PER_POINT, cap_height_mm, fit, width_mm
from traysheets.page.marks import BLACK, WHITE, Mark, Rect, Text

LEAST_PT = 7.0
CODE_PT = 11.0
NAME_PT = 10.0
TEXT_PT = 8.5
ROW_MM = (6.0, 7.4, 10.4)
"""Height of a row at its tightest, by the most lines that stand in it."""

_SMALL_PT = 8.0
_SPACE_MM = 2.0
_LEADING = 1.15


@dataclass(frozen=True, slots=True)
class Piece:
    """A few words in one face and size; on a black plate where they are a warning."""

    text: str
    face: str
    size_pt: float
    warning: bool = False

    @property
    def width_mm(self) -> float:
        """Width of the words, and of their plate."""
        return width_mm(self.text, self.face, self.size_pt) + (2.0 if self.warning else 0.0)


Lines: TypeAlias = tuple[tuple[Piece, ...], ...]


def line_mm(pieces: Sequence[Piece]) -> float:
    """Width of pieces side by side."""
    return sum(piece.width_mm for piece in pieces) + _SPACE_MM * (len(pieces) - 1)


def name_line(name: str, crop: str, treated: str, growth: float, *, narrow: bool = False) -> tuple[Piece, ...]:
    """A variety, its crop and the mark of treated seed on one line, however long; in narrow letters if asked."""
    named = Piece(name, "condensed-bold" if narrow else "bold", NAME_PT * growth)
    pieces = (named, Piece(crop, "condensed" if narrow else "regular", TEXT_PT * growth), _mark(treated))
    return tuple(piece for piece in pieces if piece.text)


def _mark(treated: str) -> Piece:
    return Piece(treated, "bold", 8.0, warning=True)


def name_lines(name: str, crop: str, treated: str, width: float, growth: float) -> Lines:
    """The same in a column: on one line, in narrow letters or a little smaller; else the crop below; else wrapped."""
    for narrow, part in ((False, 1.0), (True, 1.0), (True, 0.92), (True, 0.84)):
        whole = name_line(name, crop, treated, growth * part, narrow=narrow)
        if line_mm(whole) <= width:
            return (whole,)
    placed = fit(name, "bold", width, NAME_PT * growth, _SMALL_PT)
    if placed.cut:
        placed = fit(name, "bold", width, _SMALL_PT, LEAST_PT, lines=2)
    named = tuple((Piece(line, placed.face, placed.size_pt),) for line in placed.lines)
    room = width - (line_mm((_mark(treated),)) + _SPACE_MM if treated else 0.0)
    below = fit(crop, "regular", room, TEXT_PT, LEAST_PT)
    last = tuple(piece for piece in (Piece(below.lines[0], below.face, below.size_pt), _mark(treated)) if piece.text)
    return (*named, last) if last else named


def text_lines(text: str, face: str, width: float, growth: float) -> Lines:
    """A text in a column, on two lines at most, wrapped rather than set very small."""
    placed = fit(text, face, width, TEXT_PT * growth, _SMALL_PT, lines=2)
    if placed.cut:
        placed = fit(text, face, width, _SMALL_PT, LEAST_PT, lines=2)
    return tuple((Piece(line, placed.face, placed.size_pt),) for line in placed.lines)


def drawn(lines: Lines, left: float, middle: float, width: float, *, to_right: bool = False) -> Iterator[Mark]:
    """Lines in their column, level with the middle of the row."""
    sizes = [max(piece.size_pt for piece in line) for line in lines]
    block = cap_height_mm("bold", sizes[0]) + sum(size * _LEADING * MM_PER_POINT for size in sizes[1:])
    base = middle - block / 2 + cap_height_mm("bold", sizes[0])
    for i, line in enumerate(lines):
        base += sizes[i] * _LEADING * MM_PER_POINT if i else 0.0
        x = left + width - line_mm(line) if to_right else left
        for piece in line:
            yield from _piece(piece, x, base)
            x += piece.width_mm + _SPACE_MM


def _piece(piece: Piece, x: float, base: float) -> Iterator[Mark]:
    if not piece.warning:
        yield Text(x, base, piece.text, piece.face, piece.size_pt)
        return
    cap = cap_height_mm(piece.face, piece.size_pt)
    yield Rect(x, base - cap - 0.6, piece.width_mm, cap + 1.2, fill=BLACK, radius_mm=0.5)
    yield Text(x + 1.0, base, piece.text, piece.face, piece.size_pt, WHITE)
