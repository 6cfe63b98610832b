"""What a stick of a given size may look like: where its QR codes, its name and its columns of facts stand.

Geometry only, in millimetres from the label's top left corner; one `Form` serves all sticks of a stock. There are four:

    card    the name across the top, below it the code and the facts beside the code
    band    the code at the left, beside it the name over the facts
    stake   a band above the line of insertion, with a second code before that line where length allows
    tower   the code at the top, below it the name, then the facts

Which of them is taken is decided in `stick_design.py`; how facts are set in a column in `stick_lines.py`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import sqrt

from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT
from traysheets.trade.stocks import Stock

EDGE_MM = 1.2
"""Least distance of lettering from the edge of a label: label sheets feed and are cut no truer than that."""
STAKE_QUIET_MODULES = 2
"""Quiet zone towards the edge of a white stake. Lettering keeps the full one."""
APART_MM = 8.0
"""Least distance between the two codes of a stake, so that one splash of mud does not spoil both."""
ABOVE_SOIL = 2 / 3
"""Part of a stake's length that stays above the soil."""
LINE_EM = 1.2
"""From one base line to the next: an accented capital below a descender touches nothing."""
NAME_LEADING = 1.15
BELOW_NAME_MM = 0.2
"""Between the box of the name and that of the facts: accents of the first fact have room to go into."""
LARGEST_MODULE_MM = 0.8
LEAST_SQUARE_MM = 11.6
"""A little more than the least square that a code of version 2, the size aimed at, scans in."""
LEAST_NAME_PT = 6.0
LEAST_LETTERING_MM = 28.0
"""Least width for the lettering between the two codes of a stake."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the label."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        """Its right edge."""
        return self.x_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        """Its lower edge."""
        return self.y_mm + self.height_mm


@dataclass(frozen=True, slots=True)
class Form:
    """Where everything stands.

    `codes` are squares that hold a code with a quiet zone of `quiet_modules`. `columns` hold the facts: one, or two
    with what the batch is at the left and what to do at the right. `level` says that they begin and end with the code.
    """

    kind: str
    codes: tuple[Box, ...]
    quiet_modules: int
    name: Box
    columns: tuple[Box, ...]
    level: bool = False


def forms(stock: Stock, text: str) -> tuple[tuple[tuple[Form, Form], ...], ...]:
    """The forms that a label could have, the one that suits its shape first, each with the ways to set its columns.

    Beside every way stands the same with more room for a long name and for many facts. `text` is what the QR code says.
    Boxes may come out too small to use, even negative: whether a form will do is for the caller to try.
    """
    both = zip(_shapes(_Label(stock, text)), _shapes(_Label(stock, text, roomy=True)), strict=True)
    return tuple(tuple(_with_columns(usual, roomy)) for usual, roomy in both)


def insertion_mm(stock: Stock) -> float:
    """How far from its blunt end a stake goes into the soil; the whole width of a label that is none."""
    return stock.label_mm[0] * (ABOVE_SOIL if stock.point == "right" else 1)


def module_mm(text: str, side_mm: float, quiet_modules: int) -> float:
    """The module of a text's code in such a square, at the level that it will have there."""
    version = qr.version_for(text, qr.level_for(text, side_mm, quiet_modules))
    return min(side_mm / (17 + 4 * version + 2 * quiet_modules), LARGEST_MODULE_MM)


class _Label:
    """What every form of a label starts from."""

    def __init__(self, stock: Stock, text: str, roomy: bool = False) -> None:
        self.width_mm, self.height_mm = insertion_mm(stock), stock.label_mm[1]
        self.stake = stock.point == "right"
        self.inset_mm = _inset_mm(*stock.label_mm, stock.radius_mm)
        self.text = text
        lines = 1 if not roomy else 2 if self.width_mm > self.height_mm else 4
        self.least_name_mm = (LINE_EM + (lines - 1) * NAME_LEADING) * LEAST_NAME_PT * MM_PER_POINT

    def name_mm(self, wanted: float) -> float:
        """Height of the name: what is wanted, but room for its lines at any rate."""
        return max(wanted, self.least_name_mm)

    def quiet_mm(self, side_mm: float, quiet_modules: int = qr.QUIET_MODULES) -> float:
        """Width of the quiet zone in a square, all that is not dark modules counted as such."""
        if side_mm <= 0:
            return 0.0
        module = module_mm(self.text, side_mm, quiet_modules)
        return quiet_modules * module


def _inset_mm(width_mm: float, height_mm: float, radius_mm: float) -> float:
    """From the label's edge to the lettering: more on large labels, and clear of rounded corners."""
    corner = radius_mm - (radius_mm - EDGE_MM) / sqrt(2) if radius_mm > EDGE_MM else 0.0
    return max(EDGE_MM + 0.1, min(0.06 * min(width_mm, height_mm), 2.6), corner)


def _shapes(label: _Label) -> tuple[Form, ...]:
    """The forms that could be, the likeliest first."""
    shape = label.width_mm / label.height_mm
    if label.stake:
        return _stake(label), _stake_with_one_code(label)
    if shape < 1.1:
        return _tower(label), _card(label), _band(label)
    if label.height_mm < 19 or shape > 3.2:
        return _band(label), _card(label), _tower(label)
    return _card(label), _band(label), _tower(label)


def _with_columns(usual: Form, roomy: Form) -> Iterator[tuple[Form, Form]]:
    """A form with one column and with two; on a card also with columns that are level with the code."""
    roomy_ways = (roomy, replace(roomy, columns=_halves(roomy.columns[0])))
    yield usual, roomy_ways[0]
    yield replace(usual, columns=_halves(usual.columns[0])), roomy_ways[1]
    if usual.kind == "card":
        square, quiet = usual.codes[0], usual.name.x_mm - usual.codes[0].x_mm
        level = replace(usual.columns[0], y_mm=square.y_mm + quiet, height_mm=square.height_mm - 2 * quiet)
        yield replace(usual, columns=(level,), level=True), roomy_ways[0]
        yield replace(usual, columns=_halves(level), level=True), roomy_ways[1]


def _halves(box: Box) -> tuple[Box, Box]:
    """Two columns with a gutter between."""
    gutter = max(1.5, 0.05 * box.width_mm)
    each = (box.width_mm - gutter) / 2
    return replace(box, width_mm=each), Box(box.right_mm - each, box.y_mm, each, box.height_mm)


def _card(label: _Label) -> Form:
    """The name across the top; the dark of the code as far from the left and lower edges as its quiet zone asks."""
    inset, width, height = label.inset_mm, label.width_mm, label.height_mm
    name = label.name_mm(max(4.4, min(0.25 * height, 0.125 * width, 11)))
    most = min(height - inset - name, 0.46 * width, 34)
    side = min(most, height - 2 * inset - name + label.quiet_mm(most - inset))
    quiet = label.quiet_mm(side)
    edge = max(inset, quiet)
    square = Box(edge - quiet, max(height - edge + quiet - side, inset + name), side, side)
    top = inset + name + BELOW_NAME_MM
    column = Box(square.right_mm, top, width - inset - square.right_mm, height - inset - top)
    return Form("card", (square,), qr.QUIET_MODULES, Box(edge, inset, width - edge - inset, name), (column,))


def _band(label: _Label) -> Form:
    side = min(label.height_mm, max(0.36 * label.width_mm, LEAST_SQUARE_MM), 26)
    quiet = label.quiet_mm(side)
    square = Box(max(label.inset_mm - quiet, 0), (label.height_mm - side) / 2, side, side)
    return _beside("band", label, (square,), qr.QUIET_MODULES, square.right_mm, label.width_mm - label.inset_mm)


def _beside(kind: str, label: _Label, codes: tuple[Box, ...], quiet: int, left: float, right: float) -> Form:
    """The name over one column of facts, between `left` and `right`."""
    top, bottom = label.inset_mm, label.height_mm - label.inset_mm
    name = Box(left, top, right - left, label.name_mm(max(3.8, min(0.34 * (bottom - top), 9))))
    column = Box(left, name.bottom_mm + BELOW_NAME_MM, right - left, bottom - name.bottom_mm - BELOW_NAME_MM)
    return Form(kind, codes, quiet, name, (column,))


def _stake(label: _Label) -> Form:
    """A code at either end of the part that stays above the soil, where that leaves the lettering room between them."""
    first = _stake_code(label, 0.2)
    keep = label.quiet_mm(first.width_mm, STAKE_QUIET_MODULES)
    second = replace(first, x_mm=label.width_mm - keep - first.width_mm)
    if second.x_mm - first.right_mm - 2 * keep < max(APART_MM, LEAST_LETTERING_MM):
        return _stake_with_one_code(label)
    return _beside("stake", label, (first, second), STAKE_QUIET_MODULES, first.right_mm + keep, second.x_mm - keep)


def _stake_with_one_code(label: _Label) -> Form:
    first = _stake_code(label, 0.25)
    left = first.right_mm + label.quiet_mm(first.width_mm, STAKE_QUIET_MODULES)
    return _beside("stake", label, (first,), STAKE_QUIET_MODULES, left, label.width_mm - label.inset_mm)


def _stake_code(label: _Label, share: float) -> Box:
    """The square of a stake's first code. The dark stays `EDGE_MM` inside the cut."""
    side = min(label.height_mm - 0.8, share * label.width_mm, 22)
    quiet = label.quiet_mm(side, STAKE_QUIET_MODULES)
    return Box(max(label.inset_mm - quiet, 0.4), (label.height_mm - side) / 2, side, side)


def _tower(label: _Label) -> Form:
    inset, width, height = label.inset_mm, label.width_mm, label.height_mm
    side = min(width, 0.42 * height, 30)
    square = Box((width - side) / 2, max(0.0, inset - label.quiet_mm(side)), side, side)
    name = Box(inset, square.bottom_mm, width - 2 * inset, label.name_mm(min(0.17 * height, 12)))
    top = name.bottom_mm + BELOW_NAME_MM
    column = Box(inset, top, width - 2 * inset, height - inset - top)
    return Form("tower", (square,), qr.QUIET_MODULES, name, (column,))
