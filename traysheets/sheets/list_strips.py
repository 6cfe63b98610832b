"""The strips that lists are stacked from, over the whole width: rows, names of columns, heads, closing lines.

What stands in a column of a row is `list_parts.py`; which strips go on which page is `lists.py`.
"""

from collections.abc import Iterator, Sequence

from traysheets.page.lettering import cap_height_mm, fit
from traysheets.page.marks import BLACK, WHITE, Line, Mark, Rect, Text
from traysheets.sheets.frame import LEAST_PT, Frame
from traysheets.sheets.list_parts import RULE, Column, Part, Said, Stack
from traysheets.sheets.lists import Strip

_HEADING_MM = 6.5
_GROUP_MM = 8.0
_DAY_MM = 8.0
_PAD_MM = 1.3


def row(frame: Frame, growth: float, parts: Sequence[Part], least_mm: float = 0.0) -> Strip:
    """A row as high as its highest part, a thin rule below it. All first lines of text stand on one base line."""
    pad = _PAD_MM * growth
    base = max(part.base_mm for part in parts)
    placed = [(part, base - part.base_mm if part.base_mm else 0.0) for part in parts]
    height = max(least_mm * growth, 2 * pad + max(part.height_mm + down for part, down in placed))

    def marks(top: float) -> Iterator[Mark]:
        for part, down in placed:
            yield from part.marks(top + pad + down)
        yield Line(frame.left_mm, top + height, frame.right_mm, top + height, RULE, 0.2)

    return Strip(height, marks)


def heading(frame: Frame, growth: float, titles: Sequence[tuple[str, Column, bool]]) -> Strip:
    """The names of the columns over a rule; the third of each says whether the column ends at its right edge."""
    height = _HEADING_MM * growth
    stacks = [Stack([Said(title)], column, growth, to_right=to_right) for title, column, to_right in titles if title]

    def marks(top: float) -> Iterator[Mark]:
        for stack in stacks:
            yield from stack.marks(top + height - 1.2 * growth - stack.height_mm)
        yield Line(frame.left_mm, top + height, frame.right_mm, top + height, stroke_mm=0.35)

    return Strip(height, marks)


def group_head(frame: Frame, growth: float, text: str, again: str) -> Strip:
    """A head over a group of rows: white letters on a black band; `again` is what it says where the group goes on."""
    height = _GROUP_MM * growth

    def strip(words: str, again: Strip | None) -> Strip:
        placed = fit(words, "bold", frame.field_mm[0] - 4.0, 11.0 * growth, LEAST_PT)

        def marks(top: float) -> Iterator[Mark]:
            yield Rect(frame.left_mm, top + 1.0, frame.field_mm[0], height - 1.0, fill=BLACK)
            base = top + 1.0 + (height - 1.0 + cap_height_mm(placed.face, placed.size_pt)) / 2
            yield Text(frame.left_mm + 2.0, base, placed.lines[0], placed.face, placed.size_pt, WHITE)

        return Strip(height, marks, 1, again)

    return strip(text, strip(again, None))


def day_head(frame: Frame, growth: float, text: str, again: str) -> Strip:
    """A lesser head: bold letters over a rule."""
    height = _DAY_MM * growth

    def strip(words: str, again: Strip | None) -> Strip:
        placed = fit(words, "bold", frame.field_mm[0], 11.0 * growth, LEAST_PT)

        def marks(top: float) -> Iterator[Mark]:
            yield Text(frame.left_mm, top + height - 1.8 * growth, placed.lines[0], placed.face, placed.size_pt)
            yield Line(frame.left_mm, top + height, frame.right_mm, top + height, stroke_mm=0.35)

        return Strip(height, marks, 2, again)

    return strip(text, strip(again, None))


def section_head(frame: Frame, growth: float, text: str) -> Strip:
    """The head of a drawing: it stands with the first strip of it and is not said again."""
    stack = Stack([Said(text, "bold", 12)], Column(frame.left_mm, frame.field_mm[0]), growth)

    def marks(top: float) -> Iterator[Mark]:
        yield Line(frame.left_mm, top + 1.0, frame.right_mm, top + 1.0, stroke_mm=0.5)
        yield from stack.marks(top + 2.0)

    return Strip(stack.height_mm + 4.0 * growth, marks, level=1)


def closing(frame: Frame, lines: Sequence[Said], growth: float) -> Strip:
    """Small lines over the whole width for the bottom of a page, below a rule."""
    stack = Stack(lines, Column(frame.left_mm, frame.field_mm[0]), growth)

    def marks(top: float) -> Iterator[Mark]:
        yield Line(frame.left_mm, top + 1.5, frame.right_mm, top + 1.5, stroke_mm=0.35)
        yield from stack.marks(top + 2.6)

    return Strip(stack.height_mm + 3.0, marks)
