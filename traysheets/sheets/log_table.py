"""The ruled table of a record sheet: what is planned of each step, and lines to write on with a pencil and wet hands.

What there are lines for is `log_lines.py`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from traysheets.base.words import Words
from traysheets.page.lettering import cap_height_mm, fit
from traysheets.page.marks import Line, Mark, Place, Text
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.list_parts import SMALL_PT, Column, Said, Stack
from traysheets.sheets.log_lines import Group, Noted
from traysheets.sheets.log_signs import log_sign
from traysheets.sheets.panel import Panel

HEADING_MM = 5.6
LEAST_LINE_MM = 8.5
"""Height of a line that large letters go on."""

_MOST_LINE_MM = 10.5
_WRITE_ON = "#868686"
_SIGN_MM = 6.6
_LABEL_PT = 10.5
_PAD_MM = 1.2
_WIDE_PARTS = {"sign": 8.0, "noted": 30.0, "planned": 46.0, "date": 27.0, "number": 30.0, "who": 22.0, "remark": 33.0}
_NARROW_PARTS = {"sign": 7.6, "noted": 24.4, "planned": 43.0, "date": 21.0, "number": 23.0, "who": 15.4}
"""Widths of the columns in proportion. A narrow sheet has remarks on lines of their own alone."""

_OF_PART = 0.5
"""Part of its column that the words beside a number may take; the rest is to write on."""
_OF_BELOW_MM = 0.8

_WRITTEN = ("date", "number", "who", "remark")


@dataclass(frozen=True, slots=True)
class Table:
    """The table in a panel: its columns by name, from the left."""

    panel: Panel
    words: Words

    @property
    def _columns(self) -> dict[str, Column]:
        parts = _NARROW_PARTS if self.panel.narrow else _WIDE_PARTS
        scale, left = self.panel.width_mm / sum(parts.values()), self.panel.left_mm
        found = {}
        for name, part in parts.items():
            found[name] = Column(left, part * scale)
            left = found[name].right_mm
        return found

    def marks(self, groups: Sequence[Group], top: float, line_mm: float) -> Iterator[Mark]:
        """Headings and lines, each line `line_mm` high; nothing where there are none."""
        if not groups:
            return
        columns = self._columns
        yield from self._headings(columns, top)
        top += HEADING_MM
        for group in groups:
            yield Line(self.panel.left_mm, top, self.panel.right_mm, top, stroke_mm=0.35)
            yield from self._printed(group, columns, top, line_mm)
            yield from self._ruled(group, columns, top, line_mm)
            top += group.lines * line_mm
        yield Line(self.panel.left_mm, top, self.panel.right_mm, top, stroke_mm=0.35)

    def _headings(self, columns: dict[str, Column], top: float) -> Iterator[Mark]:
        for name, column in columns.items():
            if name in ("planned", *_WRITTEN):
                room = column.width_mm - 2 * _PAD_MM
                placed = fit(self.words(f"logs.{name}"), "regular", room, SMALL_PT, LEAST_PT)
                x = column.left_mm + _PAD_MM
                yield Text(x, top + HEADING_MM - 1.5, placed.lines[0], placed.face, placed.size_pt)

    def _printed(self, group: Group, columns: dict[str, Column], top: float, line_mm: float) -> Iterator[Mark]:
        """Sign and name on the first line of a group, beside them what is planned, and what its numbers are of."""
        middle = top + line_mm / 2
        yield Place(log_sign(group.noted, _SIGN_MM), columns["sign"].left_mm, middle - _SIGN_MM / 2)
        name = fit(self.words(f"logs.{group.noted}"), "bold", columns["noted"].width_mm - 1.0, _LABEL_PT, LEAST_PT)
        base = middle + cap_height_mm(name.face, name.size_pt) / 2
        yield Text(columns["noted"].left_mm, base, name.lines[0], name.face, name.size_pt)
        room = Column(columns["planned"].left_mm + _PAD_MM, columns["planned"].width_mm - 2 * _PAD_MM)
        planned = Stack([Said(text) for text in group.planned], room)
        yield from planned.marks(middle - planned.height_mm / 2)
        of = _beside_number(group, columns["number"])
        for i in range(group.lines):
            yield from of.marks(top + (i + 1) * line_mm - _OF_BELOW_MM - of.height_mm)

    def _ruled(self, group: Group, columns: dict[str, Column], top: float, line_mm: float) -> Iterator[Mark]:
        """Lines between those of a group, and the edges of what is written. Remarks run over the whole width."""
        whole = group.noted is Noted.REMARKS
        left = columns["planned" if whole else "date"].left_mm
        for i in range(1, group.lines):
            yield Line(left, top + i * line_mm, self.panel.right_mm, top + i * line_mm, _WRITE_ON)
        for name in ("planned",) if whole else _WRITTEN:
            if name in columns:
                x = columns[name].left_mm
                yield Line(x, top, x, top + group.lines * line_mm, _WRITE_ON)


def _beside_number(group: Group, column: Column) -> Stack:
    """What the numbers of a group are of, at the right of their column."""
    wide = column.width_mm * _OF_PART
    at_right = Column(column.right_mm - wide, wide - _PAD_MM)
    return Stack([Said(group.number_of, lines=2, readable_pt=SMALL_PT)], at_right, to_right=True)


def line_height_mm(room_mm: float, lines: int) -> float:
    """How high lines are that fill a room, within what is good to write on."""
    return min(room_mm / lines, _MOST_LINE_MM) if lines else LEAST_LINE_MM
