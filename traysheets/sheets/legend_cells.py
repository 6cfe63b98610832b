"""What stands in a legend's rows: lines of text made to fit the columns, drawn level with the middle of the row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from traysheets.page.lettering import MM_PER_POINT, cap_height_mm, fit, ink_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Mark, Rect, Text
from traysheets.sheets.frame import LEAST_PT

CODE_PT = 11.0
NAME_PT = 10.0
TEXT_PT = 8.5
ROW_MM = 6.0
"""Height of a row of single lines at its tightest."""

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
    """A text in a column, on two lines, or three where it must, wrapped rather than set very small."""
    placed = fit(text, face, width, TEXT_PT * growth, _SMALL_PT, lines=2)
    if placed.cut:
        placed = fit(text, face, width, _SMALL_PT, LEAST_PT, lines=3)
    return tuple((Piece(line, placed.face, placed.size_pt),) for line in placed.lines)


def needed_mm(lines: Lines) -> float:
    """Height of a row whose middle these lines are level with, so that no ink comes near that of the rows beside it."""
    bases, inks = _bases(lines), [_ink_mm(line) for line in lines]
    up = max(ink[1] - base for base, ink in zip(bases, inks, strict=True))
    down = max(base - ink[0] for base, ink in zip(bases, inks, strict=True))
    return max(ROW_MM, 2 * max(up, down) + 0.8)


def _bases(lines: Lines) -> list[float]:
    """Base lines from the middle of the row: lines a usual leading apart, further where accents would touch tails."""
    pitches = [
        max(_size_pt(below) * _LEADING * MM_PER_POINT, _ink_mm(below)[1] - _ink_mm(above)[0] + 0.25)
        for above, below in pairwise(lines)
    ]
    first = cap_height_mm("bold", _size_pt(lines[0])) if lines else 0.0
    return [(first - sum(pitches)) / 2 + sum(pitches[:i]) for i in range(len(lines))]


def _size_pt(line: Sequence[Piece]) -> float:
    return max(piece.size_pt for piece in line)


def _ink_mm(line: Sequence[Piece]) -> tuple[float, float]:
    """How far the ink of a line reaches below its base line (negative) and above it."""
    inks = [ink_mm(piece.text, piece.face, piece.size_pt) for piece in line]
    return min(below for below, _ in inks), max(above for _, above in inks)


def drawn(lines: Lines, left: float, middle: float, width: float, *, to_right: bool = False) -> Iterator[Mark]:
    """Lines in their column, level with the middle of the row."""
    for base, line in zip(_bases(lines), lines, strict=True):
        x = left + width - line_mm(line) if to_right else left
        for piece in line:
            yield from _piece(piece, x, middle + base)
            x += piece.width_mm + _SPACE_MM


def _piece(piece: Piece, x: float, base: float) -> Iterator[Mark]:
    if not piece.warning:
        yield Text(x, base, piece.text, piece.face, piece.size_pt)
        return
    cap = cap_height_mm(piece.face, piece.size_pt)
    yield Rect(x, base - cap - 0.6, piece.width_mm, cap + 1.2, fill=BLACK, radius_mm=0.5)
    yield Text(x + 1.0, base, piece.text, piece.face, piece.size_pt, WHITE)
