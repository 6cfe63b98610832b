"""The printer's check page: rulers to measure, what to write into the plan, and samples to look at and to scan.

It is the one sheet that reaches into the edge of the paper, to show how much of it the printer leaves blank; and the
one that is never corrected for the printer.
"""

from collections.abc import Iterator, Sequence

from traysheets.base.words import Words, inches
from traysheets.page.lettering import fit, width_mm
from traysheets.page.marks import BLACK, Line, Mark, Page, Place, Stamp, Text
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.phrases import paper_size
from traysheets.sheets.printer_rulers import (
    BASE_MM,
    CORNER_REACH_MM,
    CORNERS_MM,
    PAD_MM,
    RULER_MM,
    SHORT_MM,
    corner_marks,
    ruler,
    ruler_mm,
)
from traysheets.sheets.printer_samples import (
    LINE_MM,
    TEXT_PT,
    TITLE_MM,
    TITLE_PT,
    Block,
    codes,
    fills,
    greys,
    hatches,
    letters,
)
from traysheets.trade.papers import Paper

_NAME_PT = 22.0
_KEYS = ("measured_across", "measured_down", "shift_right", "shift_down")
_BLANK_MM = 24.0
_SIXTY_FOURTHS = 64
_FORM_PT, _FORM_LINE_MM = 9.5, 6.4
_RULER_TOP_MM = 31.0
_DOWN_LEFT_MM = 19.0
_GAP_MM = 4.0


def printer_pages(paper: Paper, words: Words, units: str) -> Iterator[Page]:
    """The check page on a paper, upright; on small paper its samples go on on further pages."""
    check = _Check(paper, words, units)
    pages = check.parted()
    for number, blocks in enumerate(pages, 1):
        yield check.page(blocks, number, len(pages))


class _Check:
    """The page on one paper."""

    def __init__(self, paper: Paper, words: Words, units: str) -> None:
        self._paper, self._words, self._units = paper, words, units
        self._across_mm = ruler_mm(paper.width_mm)
        self._bottom = paper.height_mm - CORNER_REACH_MM
        self._label_base = _RULER_TOP_MM + BASE_MM + (12.0 if units == "inch" else 5.0)
        self._down_top = self._label_base + 7.0
        self._down_mm = RULER_MM if paper.height_mm - self._down_top - CORNER_REACH_MM >= RULER_MM else SHORT_MM
        self._left = _DOWN_LEFT_MM + 2 * BASE_MM + 3.0
        self._width = paper.width_mm - CORNER_REACH_MM - self._left

    def parted(self) -> list[list[tuple[Block, float]]]:
        """The blocks of every page, each with its top edge."""
        pages: list[list[tuple[Block, float]]] = [[]]
        top = self._down_top - 1.0
        for block in self._blocks():
            if top + block.height_mm > self._bottom and pages[-1]:
                pages.append([])
                top = CORNER_REACH_MM + 14.0
            pages[-1].append((block, top))
            top += block.height_mm + _GAP_MM
        return pages

    def _blocks(self) -> Iterator[Block]:
        yield self._form()
        for samples in (letters, codes, hatches, fills, greys):
            yield samples(self._words, self._width)

    def page(self, blocks: Sequence[tuple[Block, float]], number: int, pages: int) -> Page:
        """One page: the rulers stand on the first."""
        words, paper = self._words, self._paper
        marks: list[Mark] = [*corner_marks(paper.width_mm, paper.height_mm, words)]
        if number == 1:
            marks += [*self._head("printer.title", "printer.how"), *self._rulers()]
        else:
            marks += self._head("printer.continued")
        for block, top in blocks:
            marks += block.draw(self._left, top)
        foot = f"{paper_size(paper, words, self._units)}  ·  {words('frame.page', page=number, pages=pages)}"
        marks.append(Text(paper.width_mm / 2, paper.height_mm - 8.0, foot, "regular", 8.0, anchor="middle"))
        return Page(paper.width_mm, paper.height_mm, tuple(marks), words("printer.title"), margin_mm=0.0)

    def _head(self, title: str, how: str = "") -> Iterator[Mark]:
        left, width = CORNER_REACH_MM, self._paper.width_mm - 2 * CORNER_REACH_MM
        name = fit(self._words(title), "bold", width, _NAME_PT, LEAST_PT)
        yield Text(left, CORNER_REACH_MM + 7.0, name.lines[0], name.face, name.size_pt)
        if how:
            said = fit(self._words(how), "regular", width, 10.0, LEAST_PT)
            yield Text(left, CORNER_REACH_MM + 12.6, said.lines[0], said.face, said.size_pt)

    def _rulers(self) -> Iterator[Mark]:
        left = (self._paper.width_mm - self._across_mm) / 2
        if self._across_mm < RULER_MM or left > _DOWN_LEFT_MM:
            left = _DOWN_LEFT_MM
        yield Place(ruler(self._across_mm, self._units), left - PAD_MM, _RULER_TOP_MM)
        yield Text(left + 12.0, self._label_base, self._meant("across", self._across_mm), "bold", TITLE_PT)
        down = ruler(self._down_mm, self._units)
        yield Place(down, _DOWN_LEFT_MM + BASE_MM, self._down_top - PAD_MM, turns=1)
        label = self._meant("down", self._down_mm)
        room = Stamp(
            "name of the ruler", width_mm(label, "bold", TITLE_PT), 4.0, (Text(0, 3.2, label, "bold", TITLE_PT),)
        )
        yield Place(room, _DOWN_LEFT_MM + BASE_MM + 5.0, self._down_top + 12.0, turns=1)

    def _meant(self, line: str, length_mm: float) -> str:
        words = self._words
        return words("printer.meant", name=words(f"printer.{line}"), length=self._length(length_mm))

    def _length(self, mm: float) -> str:
        """A length in millimetres, for plans in inches in both."""
        words = self._words
        length = words("measures.millimetres", n=mm)
        both = words("measures.inches", n=inches(mm, _SIXTY_FOURTHS))
        return f"{length} ({both})" if self._units == "inch" else length

    def _steps(self) -> list[str]:
        words = self._words
        twice = ["printer.step_twice"] if SHORT_MM in (self._across_mm, self._down_mm) else []
        cut = [] if twice else ["printer.step_cut"]
        keys = ["printer.step_lines", *twice, *cut, "printer.step_left", "printer.step_top", "printer.step_minus"]
        mark = {"length": self._length(CORNERS_MM[-1]), "example": words(f"printer.example_minus_{self._units}")}
        return [words(key, **mark) for key in (*keys, "printer.step_edge")]

    def _form(self) -> Block:
        """What to do, and the lines of the plan with room to write what the ruler says."""
        set_steps = [fit(step, "regular", self._width, 9.0, LEAST_PT, lines=2) for step in self._steps()]
        steps_mm = sum(len(step.lines) for step in set_steps) * LINE_MM + len(set_steps) * 0.6
        height = TITLE_MM + steps_mm + 3.0 + (len(_KEYS) + 1) * _FORM_LINE_MM

        def draw(left: float, top: float) -> Iterator[Mark]:
            yield Text(left, top + 3.6, self._words("printer.into_plan"), "bold", TITLE_PT)
            base = top + TITLE_MM
            for step in set_steps:
                base += 0.6
                for line in step.lines:
                    base += LINE_MM
                    yield Text(left, base - 1.0, line, step.face, step.size_pt)
            yield from self._lines(left, base + 3.0)

        return Block(height, draw)

    def _lines(self, left: float, top: float) -> Iterator[Mark]:
        """`measured_across = "_____"`, with what belongs there at the right."""
        base = top + _FORM_LINE_MM - 2.0
        yield Text(left, base, "[printer]", "code", _FORM_PT)
        for key, comment in zip(_KEYS, self._comments(), strict=True):
            base += _FORM_LINE_MM
            at = left + width_mm(f'{_KEYS[0]} = "', "code", _FORM_PT)
            yield Text(at, base, f'{key} = "', "code", _FORM_PT, anchor="end")
            yield Line(at + 0.6, base + 0.4, at + 0.6 + _BLANK_MM, base + 0.4, BLACK, 0.2)
            yield Text(at + _BLANK_MM + 1.2, base, '"', "code", _FORM_PT)
            at += _BLANK_MM + 5.0
            said = fit(comment, "regular", self._width - at + left, TEXT_PT, LEAST_PT)
            yield Text(at, base, said.lines[0], said.face, said.size_pt)

    def _comments(self) -> list[str]:
        """What belongs into each line of the plan, with an example."""
        words, units = self._words, self._units
        lengths = [self._comment(*line) for line in (("across", self._across_mm), ("down", self._down_mm))]
        shift = words(f"printer.example_shift_{units}")
        return [*lengths, shift, shift]

    def _comment(self, line: str, length_mm: float) -> str:
        key = "printer.twice" if length_mm == SHORT_MM else "printer.once"
        example = self._words(f"printer.example_length_{self._units}")
        return self._words(key, line=self._words(f"printer.{line}"), example=example)
