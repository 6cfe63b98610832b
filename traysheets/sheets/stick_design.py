"""The look of the sticks of one job: the form and the sizes of type that suit its stock, and each batch's lettering.

One `Design` serves the whole job, so that sticks side by side look alike. A batch with a long name or long facts
departs from it as little as it must.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from traysheets.base.words import Words
from traysheets.page.lettering import MM_PER_POINT, SIZE_STEP_PT, fits, width_mm
from traysheets.page.qr import GOOD_MODULE_MM, LEAST_MODULE_MM
from traysheets.sheets.stick_facts import Piece, sample_pieces
from traysheets.sheets.stick_layout import LINE_EM, Box, Form, forms, module_mm
from traysheets.sheets.stick_lines import (
    LEAST_CODE_PT,
    LEAST_PT,
    Column,
    Setting,
    have_room,
    set_column,
    size_of,
    whole_steps,
)
from traysheets.sheets.stick_name import set_name
from traysheets.trade.stocks import Stock

LARGEST_NAME_PT = 26.0
LARGEST_FACT_PT = 11.0
FACT_TO_NAME = 0.6
"""Facts are never set larger than this part of the name's size."""
PLAIN_PT = 7.0
"""From this size on facts are rather set plainly, one a line and not condensed, than larger."""
LEVEL_WORTH = 1.1
"""How much larger facts must come out to begin and end elsewhere than the code does."""
IDENTITY = ("crop", "code", "treated", "lot", "place")
"""What stands in the left column where there are two."""


@dataclass(frozen=True, slots=True)
class Design:
    """A form, the same with more room for a long name, the sizes of type, and the module of the longest QR code.

    `short` are the kinds of facts that are said in short on all sticks.
    """

    form: Form
    roomy: Form
    name_pt: float
    fact_pt: float
    module_mm: float
    short: frozenset[str]


@dataclass(frozen=True, slots=True)
class Lettering:
    """The lettering of one stick; which facts had no room, and which texts were cut (`name` is the variety)."""

    form: Form
    settings: tuple[Setting, ...]
    left_out: tuple[str, ...]
    cut: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Tried:
    """A form tried with facts of usual length: how many are lost, and how plainly they stand."""

    design: Design
    lost: int
    plainness: int

    @property
    def merit(self) -> tuple[float, ...]:
        """What decides between the ways to set the columns of one form; one column has more room for what is long."""
        worth = LEVEL_WORTH if self.design.form.level else 1.0
        return -self.lost, self.plainness, self.design.fact_pt * worth, -len(self.design.form.columns)


def design(stock: Stock, words: Words, text: str) -> Design | None:
    """The best look on a stock for a QR code that says `text`; None when no form has room for the least a stick needs.

    Best is, in this order: modules that read well, fewest facts lost, the form that suits the shape, plain large type.
    """
    sample = sample_pieces(words)
    found = [best for ways in forms(stock, text) if (best := _best(ways, sample, text))]
    return min(found, key=lambda it: (it.design.module_mm < GOOD_MODULE_MM, it.lost)).design if found else None


def _best(ways: Iterable[tuple[Form, Form]], sample: tuple[Piece, ...], text: str) -> _Tried | None:
    tried = [_tried(usual, roomy, sample, text) for usual, roomy in ways if _usable(usual, sample, text)]
    return max(tried, key=lambda it: it.merit, default=None)


def _usable(form: Form, sample: Iterable[Piece], text: str) -> bool:
    """Whether there is room for a code that scans, a few letters of a name and the batch code."""
    if min(form.codes[0].width_mm, form.name.width_mm, *(column.width_mm for column in form.columns)) < 10:
        return False
    scans = module_mm(text, form.codes[0].width_mm, form.quiet_modules) >= LEAST_MODULE_MM
    return scans and _holds_code(form.columns[0], sample)


def _holds_code(column: Box, sample: Iterable[Piece]) -> bool:
    code = next(piece for piece in sample if piece.kind == "code")
    wide = fits(width_mm(code.text, code.face, LEAST_CODE_PT), column.width_mm)
    return wide and fits(LEAST_CODE_PT * LINE_EM * MM_PER_POINT, column.height_mm)


def _tried(form: Form, roomy: Form, sample: tuple[Piece, ...], text: str) -> _Tried:
    name_pt = whole_steps(min(form.name.height_mm / (LINE_EM * MM_PER_POINT), LARGEST_NAME_PT))
    module = module_mm(text, form.codes[0].width_mm, form.quiet_modules)
    fact_pt, plainness, columns = _facts(form, sample, min(LARGEST_FACT_PT, FACT_TO_NAME * name_pt))
    lost = sum(len(column.left_out) + len(column.cut) for column in columns)
    roomy = roomy if _holds_code(roomy.columns[0], sample) else form
    said = {it.text for it in _settings(columns)}
    short = frozenset(piece.kind for piece in sample if piece.text not in said and piece.short in said)
    return _Tried(Design(form, roomy, name_pt, fact_pt, module, short), lost, plainness)


def _facts(form: Form, sample: tuple[Piece, ...], most_pt: float) -> tuple[float, int, tuple[Column, ...]]:
    """The size for the facts, how plainly they stand at it, and the columns that this makes of the sample."""
    steps = range(int((max(most_pt, LEAST_PT) - LEAST_PT) / SIZE_STEP_PT), -1, -1)
    sizes = [LEAST_PT + step * SIZE_STEP_PT for step in steps]
    set_at = cache(lambda size_pt: set_columns(form, sample, size_pt))
    for plainness, (least_pt, is_so) in reversed(tuple(enumerate(_PLAINNESS, 1))):
        for size_pt in (size for size in sizes if size >= least_pt and _may_be(plainness, form, sample, size)):
            if is_so(set_at(size_pt), sample, size_pt):
                return size_pt, plainness, set_at(size_pt)
    return LEAST_PT, 0, set_at(LEAST_PT)


def _settings(columns: Iterable[Column]) -> list[Setting]:
    return [it for column in columns for it in column.settings]


def _is_plain(columns: Iterable[Column], sample: Iterable[Piece], size_pt: float) -> bool:
    """Whether every fact stands as given, in its own face and size, and on a line of its own."""
    return _is_full(columns, sample, size_pt) and len({it.y_mm for it in _settings(columns)}) == len(_settings(columns))


def _is_full(columns: Iterable[Column], sample: Iterable[Piece], size_pt: float) -> bool:
    """Whether every fact stands as given, in its own face and size, if beside another."""
    wanted = {(piece.kind, piece.text, piece.face, size_of(piece.kind, size_pt)) for piece in sample}
    return {(it.kind, it.text, it.face, it.size_pt) for it in _settings(columns) if it.kind != "dot"} == wanted


def _is_whole(columns: Iterable[Column], sample: Iterable[Piece], size_pt: float) -> bool:
    """Whether every fact stands somewhere at its own size, if condensed or in short."""
    settings = [it for it in _settings(columns) if it.kind != "dot"]
    whole = {piece.kind for piece in sample} == {it.kind for it in settings}
    return whole and all(it.size_pt >= size_of(it.kind, size_pt) for it in settings)


def _is_as_given(columns: Iterable[Column], sample: Iterable[Piece], size_pt: float) -> bool:
    """The same, and none of them in short."""
    said = {it.text for it in _settings(columns)}
    return _is_whole(columns, sample, size_pt) and all(piece.text in said for piece in sample)


_PLAINNESS = ((LEAST_PT, _is_whole), (LEAST_PT, _is_as_given), (PLAIN_PT, _is_full), (PLAIN_PT, _is_plain))
"""Ways for the facts to stand, from the last resort to the best, each with the size from which it counts."""
_WHOLE, _AS_GIVEN, _FULL, _PLAIN = range(1, 5)
"""What they are called, in the same order."""


def _may_be(plainness: int, form: Form, sample: tuple[Piece, ...], size_pt: float) -> bool:
    """Whether it is worth while to set the facts in that size, to see whether they stand so plainly."""
    if plainness == _WHOLE:
        return True
    narrow, alone = plainness < _FULL, plainness == _PLAIN
    parted = _parted(form, sample)
    return all(have_room(own, box, size_pt, narrow=narrow, alone=alone) for own, box in parted)


def set_columns(form: Form, pieces: Iterable[Piece], size_pt: float) -> tuple[Column, ...]:
    """The facts in the columns of a form."""
    return tuple(set_column(own, box, size_pt) for own, box in _parted(form, tuple(pieces)))


def _parted(form: Form, pieces: tuple[Piece, ...]) -> tuple[tuple[tuple[Piece, ...], Box], ...]:
    """The facts by column: all in one, or what it is at the left and what to do at the right."""
    if len(form.columns) == 1:
        return ((pieces, form.columns[0]),)
    left = tuple(piece for piece in pieces if piece.kind in IDENTITY)
    right = tuple(piece for piece in pieces if piece.kind not in IDENTITY)
    return (left, form.columns[0]), (right, form.columns[1])


def letter(made: Design, name: str, pieces: tuple[Piece, ...]) -> Lettering:
    """One batch's name and facts set in the design; where not all goes in, in short, roomy or smaller if it helps.

    The letters of the map stand before the crop, or before the batch code where the crop leaves them no room.
    """
    pieces = tuple(replace(it, text=it.short) if it.kind in made.short - {"crop"} else it for it in pieces)
    with_letters = tuple(replace(it, short="") if it.kind == "crop" else it for it in pieces)
    usual = _lettered(made.form, made.name_pt, made.fact_pt, name, with_letters)
    if not usual.left_out and not usual.cut:
        return usual
    said = [way for given in (with_letters, _before_code(pieces), pieces) for way in (given, _in_short(given))]
    sizes = dict.fromkeys((made.fact_pt, whole_steps((made.fact_pt + LEAST_PT) / 2), LEAST_PT))
    ways = [(made.form, way, made.fact_pt) for way in said]
    ways += [(made.roomy, way, size_pt) for way in said for size_pt in sizes]
    tried = (_lettered(form, made.name_pt, size_pt, name, way) for form, way, size_pt in ways)
    return min(usual, *tried, key=lambda it: _loss(it, name, pieces))


def _in_short(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """All facts in short, but for the crop with its letters."""
    return tuple(replace(it, text=it.short) if it.short and it.kind != "crop" else it for it in pieces)


def _before_code(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """The letters of the map moved from the crop to the batch code, `LW · 27-014-Y`: its line has room as a rule."""
    letters = _letters(pieces)
    return tuple(
        replace(it, text=it.short)
        if it.kind == "crop" and letters
        else replace(it, text=f"{letters} · {it.text}")
        if it.kind == "code" and letters
        else it
        for it in pieces
    )


def _letters(pieces: Iterable[Piece]) -> str:
    """The letters of the map, which stand before the crop; empty where there are none."""
    crop = next((it for it in pieces if it.kind == "crop" and it.short), None)
    return crop.text.removesuffix(crop.short).rstrip(" ·") if crop else ""


def _loss(lettering: Lettering, name: str, pieces: Iterable[Piece]) -> tuple[bool, int, bool, int, int]:
    """What is lost of a stick: the batch code, letters of the name, the map's letters, facts left out, facts cut."""
    shown = sum(len(it.text) for it in lettering.settings if it.kind == "name")
    lost = len(name) - shown if "name" in lettering.cut else 0
    told = _tells_letters(lettering, pieces)
    return "code" in lettering.cut, lost, not told, len(lettering.left_out), len(lettering.cut)


def _tells_letters(lettering: Lettering, pieces: Iterable[Piece]) -> bool:
    """Whether the crop or the batch code stands behind the letters of the map, where there are any."""
    letters = _letters(pieces)
    rows = (it.text for it in lettering.settings if it.kind in ("crop", "code"))
    return not letters or any(row == letters or row.startswith(f"{letters} ") for row in rows)


def _lettered(form: Form, name_pt: float, fact_pt: float, name: str, pieces: tuple[Piece, ...]) -> Lettering:
    settings, cut = set_name(name, form.name, name_pt)
    columns = set_columns(form, pieces, fact_pt)
    left_out = tuple(kind for column in columns for kind in column.left_out)
    cuts = (("name",) if cut else ()) + tuple(kind for column in columns for kind in column.cut)
    return Lettering(form, settings + tuple(_settings(columns)), left_out, cuts)
