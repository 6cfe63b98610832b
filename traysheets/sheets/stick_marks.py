"""Sticks as marks: one stamp a batch, the outline of labels and stakes, the sign before `treated seed`.

Draws what `stick_design.py` has decided.
"""

from collections.abc import Iterable, Iterator

from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.marks import BLACK, WHITE, Colour, Line, Mark, Path, Place, Rect, Stamp, Text
from traysheets.sheets.stick_design import Lettering
from traysheets.sheets.stick_layout import LARGEST_MODULE_MM, Form, insertion_mm
from traysheets.sheets.stick_lines import SIGN_EM, Setting
from traysheets.trade.stocks import Stock

CUT: Colour = "#000000"
CUT_MM = 0.15
PREVIEW: Colour = "#9A9A9A"
PREVIEW_MM = 0.2
INSERTION: Colour = "#8A8A8A"
POINT_SHARE = 0.88
"""Length of a stake's point, as a part of its width."""


def stick_stamp(stock: Stock, batch: str, text: str, lettering: Lettering, apart: Iterable[str] = ()) -> Stamp:
    """A whole stick of the batch with that code, for which it stands.

    `text` is what its QR code says; kinds in `apart` are left to be drawn label by label.
    """
    marks = (*_codes(lettering.form, text), *_lettered(lettering.settings, tuple(apart)), *_insertion(stock))
    return Stamp(batch, *stock.label_mm, marks, stands_for=batch)


def _codes(form: Form, text: str) -> Iterator[Place]:
    """The codes, upright: the corner without a finder is at the lower right, towards the soil on a stake and a pot.

    A code held smaller than its square stands towards the end of the label.
    """
    for number, square in enumerate(form.codes):
        code = qr.code(text, square.width_mm, form.quiet_modules, LARGEST_MODULE_MM)
        spare = square.width_mm - code.stamp.width_mm
        across = spare if number else 0 if form.kind != "tower" else spare / 2
        yield Place(code.stamp, square.x_mm + across, square.y_mm + spare / 2)


def _lettered(sets: Iterable[Setting], apart: tuple[str, ...]) -> Iterator[Mark]:
    for it in sets:
        if it.kind == "treated":
            yield from _sign(it)
        if it.kind not in apart:
            yield lettered(it)


def lettered(it: Setting, x_mm: float = 0.0, y_mm: float = 0.0, text: str = "") -> Text:
    """A set piece of text on a label whose corner is at (x, y), or another text in its stead."""
    return Text(x_mm + it.x_mm, y_mm + it.y_mm, text or it.text, it.face, it.size_pt)


def _sign(it: Setting) -> Iterator[Mark]:
    """The warning sign, a triangle with a stroke and a dot in it, left of the word and as high as its capitals."""
    em = it.size_pt * MM_PER_POINT
    left, right, top, foot = it.x_mm - SIGN_EM * em, it.x_mm - 0.4 * em, it.y_mm - 0.86 * em, it.y_mm + 0.08 * em
    middle = (left + right) / 2
    yield Path((("M", middle, top), ("L", right, foot), ("L", left, foot), ("Z",)), fill=BLACK)
    yield Line(middle, top + 0.34 * em, middle, foot - 0.3 * em, WHITE, 0.13 * em)
    yield Line(middle, foot - 0.2 * em, middle, foot - 0.08 * em, WHITE, 0.13 * em)


def _insertion(stock: Stock) -> Iterator[Mark]:
    """On a stake how deep it goes into the soil: a dashed line, and an arrow to the point."""
    if stock.point != "right":
        return
    x, height = insertion_mm(stock), stock.label_mm[1]
    yield Line(x, 0.12 * height, x, 0.88 * height, INSERTION, 0.2, (1.0, 1.0))
    a, middle = 0.08 * height, height / 2
    arrow = (("M", x + 1.5, middle - a), ("L", x + 1.5 + a, middle), ("L", x + 1.5, middle + a))
    yield Path(arrow, stroke=INSERTION, stroke_mm=0.2)


def outlines(stock: Stock, corners: Iterable[tuple[float, float]]) -> tuple[Mark, ...]:
    """The outlines of labels with their corners there: lines to cut along on card, a grey preview on labels."""
    colour, stroke_mm = (CUT, CUT_MM) if stock.cut else (PREVIEW, PREVIEW_MM)
    if stock.point == "right":
        return (
            Path(tuple(step for x, y in corners for step in _stake(stock, x, y)), stroke=colour, stroke_mm=stroke_mm),
        )
    return tuple(Rect(x, y, *stock.label_mm, None, colour, stroke_mm, stock.radius_mm) for x, y in corners)


def _stake(stock: Stock, x: float, y: float) -> Iterator[tuple[str | float, ...]]:
    """A stake with its blunt end at the left and its point at the right."""
    width, height = stock.label_mm
    shoulder = x + width - min(POINT_SHARE * height, width / 4)
    yield ("M", x, y)
    yield ("L", shoulder, y)
    yield ("L", x + width, y + height / 2)
    yield ("L", shoulder, y + height)
    yield ("L", x, y + height)
    yield ("Z",)
