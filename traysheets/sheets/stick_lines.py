"""How the facts of a stick are set in their column. How its name is set is `stick_name.py`.

A fact too long for a line is said shorter, condensed, set a little smaller, broken over two rows, set smaller still,
cut. When the lines are too many for the column, facts share lines; when that is not enough the least important is left
out. Nothing is set below `LEAST_PT`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product, zip_longest

from traysheets.page.faces import NARROWER
from traysheets.page.fonts import remembered
from traysheets.page.lettering import MM_PER_POINT, SIZE_STEP_PT, Fitted, fit, fits, ink_mm, width_mm
from traysheets.sheets.stick_facts import IMPORTANCE, Piece
from traysheets.sheets.stick_layout import LINE_EM, Box

LEAST_PT = 6.0
LEAST_CODE_PT = 7.0
GOOD_CODE_PT = 8.0
WORTH_A_ROW = 0.8
"""How much smaller a fact may be set before it is broken over two rows."""
MOST_STRETCH = 0.35
"""Most that lines are moved apart to fill a column, as a part of a line."""
ABOVE_EM, BELOW_EM = 0.8, 0.25
"""How far lettering usually reaches from the base line; what reaches further, an accent on a capital, counts too."""

SHARING = (("lot", "place"), ("code", "treated"), ("sown", "plant_out"), ("crop", "code"), ("do", "sown"))
"""Facts that may share a line, in the order that they are asked to."""
BREAKABLE = ("crop", "do", "lot")
"""Facts that may be broken over two rows."""
SEPARATOR = "  ·  "
TIGHT_SEPARATOR = " · "
"""What stands between facts on one line, and the same where all of them would have no room."""
UNDOTTED = ("code", "treated")
"""Facts that stand out enough to need no dot before them."""
SIGN_EM = 1.5
"""Room that the drawn sign before the word `treated` takes up, as a part of its size."""


@dataclass(frozen=True, slots=True)
class Setting:
    """A piece of text where it is to be drawn: on its base line, from the label's top left corner."""

    kind: str
    text: str
    face: str
    size_pt: float
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Column:
    """Facts set in a column, which kinds had no room, and which were cut with an ellipsis."""

    settings: tuple[Setting, ...]
    left_out: tuple[str, ...] = ()
    cut: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Part:
    """One fact on a line: its rows of text (more than one only when it stands alone), face and size."""

    kind: str
    rows: tuple[str, ...]
    face: str
    size_pt: float

    @property
    def width_mm(self) -> float:
        """Width of the only row, with what is drawn before it."""
        return _sign_mm(self.kind, self.size_pt) + width_mm(self.rows[0], self.face, self.size_pt)


@dataclass(frozen=True, slots=True)
class _Line:
    """What stands side by side, made from the pieces; `cut` when an ellipsis ends it.

    `size_pt` is the largest size in it. It reaches `above_mm` over its first base line, `below_mm` under its last, and
    these are `rows_mm` apart. `gap_mm` lies between its parts.
    """

    pieces: tuple[Piece, ...]
    parts: tuple[_Part, ...]
    cut: bool
    size_pt: float
    above_mm: float
    rows_mm: float
    below_mm: float
    gap_mm: float

    @property
    def width_mm(self) -> float:
        """From its left to its right end."""
        return sum(part.width_mm for part in self.parts) + (len(self.parts) - 1) * self.gap_mm


def _line(pieces: tuple[Piece, ...], parts: tuple[_Part, ...], cut: bool = False, between: str = SEPARATOR) -> _Line:
    sizes = [part.size_pt for part in parts]
    rows_mm = (len(parts[0].rows) - 1) * _row_mm(parts[0])
    above = max(reach_mm(part.rows[0], part.face, part.size_pt)[0] for part in parts)
    below = max(reach_mm(part.rows[-1], part.face, part.size_pt)[1] for part in parts)
    return _Line(pieces, parts, cut, max(sizes), above, rows_mm, below, width_mm(between, "regular", min(sizes)))


def reach_mm(text: str, face: str, size_pt: float) -> tuple[float, float]:
    """How far a text reaches above and below its base line, what is usual at the least."""
    below, above = ink_mm(text, face, size_pt)
    em = size_pt * MM_PER_POINT
    return max(above, ABOVE_EM * em), max(-below, BELOW_EM * em)


def _row_mm(part: _Part) -> float:
    """From row to row of a fact, further than usual where an accent would meet the tail of a letter."""
    reaches = [reach_mm(row, part.face, part.size_pt) for row in part.rows]
    apart = (below + above for (_, below), (above, _) in pairwise(reaches))
    return max((part.size_pt * LINE_EM * MM_PER_POINT, *apart))


def _sign_mm(kind: str, size_pt: float) -> float:
    """Room for the sign drawn before treated seed."""
    return SIGN_EM * size_pt * MM_PER_POINT if kind == "treated" else 0.0


def whole_steps(size_pt: float) -> float:
    """A size brought down to a whole number of `SIZE_STEP_PT`."""
    return int(size_pt / SIZE_STEP_PT + 1e-9) * SIZE_STEP_PT


def set_column(pieces: Sequence[Piece], box: Box, size_pt: float) -> Column:
    """The facts in a column, in the order given. None is cut when leaving out those that matter less helps."""
    kept, cut_short = list(pieces), None
    while kept:
        lines = _lines(kept, box, size_pt)
        cut = [line.pieces[0].kind for line in lines if line.cut]
        least = max(kept, key=_rank)
        if lines and not cut:
            return _column(lines, box, pieces, kept)
        if lines:
            cut_short = cut_short or _column(lines, box, pieces, kept)
            if least.kind in cut:
                break
        kept.remove(least)
    return cut_short or Column((), tuple(piece.kind for piece in pieces))


def have_room(pieces: Iterable[Piece], box: Box, size_pt: float, *, narrow: bool, alone: bool) -> bool:
    """Whether facts could stand in a column unbroken at their own sizes, for all that can be told without setting them.

    `narrow` lets them be condensed; `alone` wants each on a line of its own.
    """
    parts = [_part(piece, size_pt, short=False, narrow=narrow) for piece in pieces]
    if not all(fits(part.width_mm, box.width_mm) for part in parts):
        return False
    return not alone or fits(_least_ink_mm([part.size_pt for part in parts]), box.height_mm)


def _least_ink_mm(sizes: Sequence[float]) -> float:
    """How high lines of those sizes are at the least, one below the other."""
    steps = sum(_usual_step_mm(above, below) for above, below in pairwise(sizes))
    return steps + (ABOVE_EM * sizes[0] + BELOW_EM * sizes[-1]) * MM_PER_POINT if sizes else 0.0


def _rank(piece: Piece) -> int:
    return IMPORTANCE.index(piece.kind)


def _column(lines: Sequence[_Line], box: Box, pieces: Iterable[Piece], kept: Iterable[Piece]) -> Column:
    stand = {piece.kind for piece in kept}
    left_out = tuple(piece.kind for piece in pieces if piece.kind not in stand)
    return Column(tuple(_placed(lines, box)), left_out, tuple(line.pieces[0].kind for line in lines if line.cut))


def _lines(pieces: Sequence[Piece], box: Box, size_pt: float) -> list[_Line]:
    """All the facts in lines that go into the box, sharing lines where they must; empty when they do not go in."""
    for rows in (2, 1):  # pragma: no branch - a text in one row is not broken
        lines = [_alone(piece, box.width_mm, size_pt, rows) for piece in pieces]
        if any(line.cut and line.pieces[0].kind == "place" for line in lines):
            return []
        broken = any(len(line.parts[0].rows) > 1 for line in lines)
        for kinds in ((), *SHARING):
            lines = _shared(lines, kinds, box.width_mm, size_pt)
            if fits(_ink_mm(lines), box.height_mm):
                return lines
        if not broken:
            break
    return []


def _ink_mm(lines: Sequence[_Line]) -> float:
    """From the top of the first line to the bottom of the last."""
    steps = sum(_step_mm(above, below) for above, below in pairwise(lines))
    return lines[0].above_mm + sum(line.rows_mm for line in lines) + steps + lines[-1].below_mm


def _step_mm(above: _Line, below: _Line) -> float:
    """From the last base line of a line to the first of the next."""
    return max(_usual_step_mm(above.size_pt, below.size_pt), above.below_mm + below.above_mm)


def _usual_step_mm(above_pt: float, below_pt: float) -> float:
    """The same between lines of usual letters."""
    return ((LINE_EM - ABOVE_EM) * above_pt + ABOVE_EM * below_pt) * MM_PER_POINT


def size_of(kind: str, size_pt: float) -> float:
    """The size of a fact where facts are set in `size_pt`: the batch code larger, the crop too where there is room."""
    if kind == "code":
        return max(whole_steps(size_pt * 1.15), GOOD_CODE_PT)
    return whole_steps(size_pt * 1.1) if kind == "crop" and size_pt > 7 else size_pt


@remembered(maxsize=1024)
def _alone(piece: Piece, width: float, size_pt: float, rows: int) -> _Line:
    """A fact on a line of its own, over so many rows at most."""
    size_pt, least_pt = size_of(piece.kind, size_pt), LEAST_CODE_PT if piece.kind == "code" else LEAST_PT
    room = width - _sign_mm(piece.kind, size_pt)
    for said in dict.fromkeys((piece.text, piece.short or piece.text)):
        fitted = _fact(said, piece.face, room, size_pt, least_pt, rows if piece.kind in BREAKABLE else 1)
        if fitted.size_pt >= size_pt:
            break
    return _line((piece,), (_Part(piece.kind, fitted.lines, fitted.face, fitted.size_pt),), fitted.cut)


@remembered(maxsize=16384)
def _fact(text: str, face: str, width: float, size_pt: float, least_pt: float, rows: int) -> Fitted:
    one = fit(text, face, width, size_pt, least_pt)
    if rows == 1 or (not one.cut and one.size_pt >= WORTH_A_ROW * size_pt):
        return one
    more = fit(text, face, width, size_pt, max(least_pt, WORTH_A_ROW * size_pt), rows, LINE_EM)
    return fit(text, face, width, size_pt, least_pt, rows, LINE_EM) if more.cut else more


def _shared(lines: list[_Line], kinds: tuple[str, ...], width: float, size_pt: float) -> list[_Line]:
    """The lines with the two kinds joined on one, where they stand one after the other and go in."""
    for n, (above, below) in enumerate(pairwise(lines)):
        if (above.pieces[-1].kind, below.pieces[0].kind) == kinds:
            joined = _joined((*above.pieces, *below.pieces), width, size_pt)
            return [*lines[:n], joined, *lines[n + 2 :]] if joined else lines
    return lines


@remembered(maxsize=1024)
def _joined(pieces: tuple[Piece, ...], width: float, size_pt: float) -> _Line | None:
    """The facts side by side: as given, condensed, in short, close together; None when even that is too wide."""
    for between, short, narrow in product((SEPARATOR, TIGHT_SEPARATOR), (False, True), (False, True)):
        parts = tuple(_part(piece, size_pt, short, narrow) for piece in pieces)
        line = _line(pieces, parts, between=between)
        if fits(line.width_mm, width):
            return line
    return None


def _part(piece: Piece, size_pt: float, short: bool, narrow: bool) -> _Part:
    text = piece.short if short and piece.short else piece.text
    face = NARROWER.get(piece.face, piece.face) if narrow else piece.face
    return _Part(piece.kind, (text,), face, size_of(piece.kind, size_pt))


def _placed(lines: Sequence[_Line], box: Box) -> Iterator[Setting]:
    """The lines moved apart to fill the box as far as looks well, and the rest of the room shared above and below."""
    spare, gaps = box.height_mm - _ink_mm(lines), len(lines) - 1
    most = MOST_STRETCH * min(line.size_pt for line in lines) * LINE_EM * MM_PER_POINT
    apart = min(spare / max(gaps, 1), most)
    base = box.y_mm + (spare - apart * gaps) / 2 + lines[0].above_mm
    for line, following in zip_longest(lines, lines[1:]):
        yield from _across(line, box.x_mm, base)
        if following:
            base += line.rows_mm + _step_mm(line, following) + apart


def _across(line: _Line, x_mm: float, y_mm: float) -> Iterable[Setting]:
    gap, dot_pt = line.gap_mm, min(part.size_pt for part in line.parts)
    for number, part in enumerate(line.parts):
        if number and part.kind not in UNDOTTED:
            dot = x_mm - (gap + width_mm("·", "regular", dot_pt)) / 2
            yield Setting("dot", "·", "regular", dot_pt, dot, y_mm)
        for row, text in enumerate(part.rows):
            x = x_mm + _sign_mm(part.kind, part.size_pt)
            yield Setting(part.kind, text, part.face, part.size_pt, x, y_mm + row * _row_mm(part))
        x_mm += part.width_mm + gap
