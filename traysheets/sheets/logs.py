"""logs.pdf: a record sheet on paper for every batch, to be written on at the bench with a pencil.

Each batch has a panel: facts filled in, dated lines, and where its cells are few a box for every one. What does not go
on that stands on a second one. Here the parts are put on the page; each part is a file of its own.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from traysheets.base.words import Words
from traysheets.page.marks import Line, Mark, Page
from traysheets.reckon.model import Batch
from traysheets.sheets import cautions
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.frame import EDGE_MM
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Column, Said, Stack
from traysheets.sheets.lists import plan_line
from traysheets.sheets.log_cells import CellGrid
from traysheets.sheets.log_head import SMALL_HEAD_MM, LogHead
from traysheets.sheets.log_lines import TASKS, Group, again, groups, grown, lines, parted
from traysheets.sheets.log_table import HEADING_MM, LEAST_LINE_MM, Table, line_height_mm
from traysheets.sheets.looks import Look, looks
from traysheets.sheets.panel import Panel, panels_on

_FOOT_MM = 5.4
_GAP_MM = 2.0
_SPARE_LINES = 3
"""Further lines that a sheet has at least where its cells share the page."""


def log_pages(job: Job) -> Iterator[Page]:
    """The record sheets of the chosen batches in plan order, one page at a time."""
    sheet, look = panels_on(job.choices.paper), looks(job)
    drawings = (found for batch in job.batches for found in _drawings(job, batch, look[batch.index], sheet.panels[0]))
    for together in _together(drawings, len(sheet.panels)):
        marks = [mark for panel, shown in zip(sheet.panels, together, strict=False) for mark in shown.marks(panel)]
        if len(sheet.panels) > 1:
            marks.append(_fold(sheet.width_mm / 2, sheet.height_mm))
        title = " · ".join(shown.title for shown in together if shown.title)
        yield Page(sheet.width_mm, sheet.height_mm, tuple(marks), title)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """What fills a panel, and its name in the bookmarks, which only the first of a batch has."""

    title: str
    marks: Callable[[Panel], Iterator[Mark]]


def _together(drawings: Iterator[_Drawing], number: int) -> Iterator[list[_Drawing]]:
    """The drawings of each page, so many on each but the last."""
    page: list[_Drawing] = []
    for drawing in drawings:
        page.append(drawing)
        if len(page) == number:
            yield page
            page = []
    if page:
        yield page


def _fold(x: float, height: float) -> Mark:
    """Where two sheets are cut apart."""
    return Line(x, EDGE_MM, x, height - EDGE_MM, stroke_mm=0.2, dash_mm=(1.5, 1.5))


def _drawings(job: Job, batch: Batch, look: Look, panel: Panel) -> Iterator[_Drawing]:
    log = _BatchLog(job, batch, look, panel)
    title = f"{job.codes[batch.index]} {batch.sowing.variety}"
    for number, _ in enumerate(log.parts):
        yield _Drawing("" if number else title, partial(log.marks, number))


@dataclass(frozen=True, slots=True)
class _Part:
    """What stands on one panel: lines to write on, and the grid of cells or not."""

    groups: tuple[Group, ...]
    grid: bool


class _BatchLog:
    """The record sheet of one batch, on panels as large as the one given."""

    def __init__(self, job: Job, batch: Batch, look: Look, panel: Panel) -> None:
        self._job, self._batch, self._panel = job, batch, panel
        self._head = LogHead(job, batch, look, panel)
        self._grid = CellGrid(job, batch, panel.width_mm)
        self._groups = groups(batch, job.words)
        self.parts = tuple(self._parts())

    def marks(self, number: int, panel: Panel) -> Iterator[Mark]:
        """The marks of a part, the first one numbered 0, in a panel."""
        part = self.parts[number]
        yield from self._head.small_marks(panel) if number else self._head.marks(panel)
        top = panel.top_mm + self._head_mm(number)
        grid_mm = self._grid.height_mm if part.grid else 0.0
        line_mm = line_height_mm(self._room_mm(number) - grid_mm, lines(part.groups))
        yield from Table(panel, self._job.words).marks(part.groups, top, line_mm)
        beware = self._beware(panel)
        bottom = panel.bottom_mm - _FOOT_MM - beware.height_mm
        if part.grid:
            yield from self._grid.marks(panel, bottom - _GAP_MM - grid_mm)
        yield from beware.marks(bottom)
        page = self._job.words("frame.page", page=number + 1, pages=len(self.parts))
        yield from plan_line(self._job, panel.left_mm, panel.right_mm, panel.bottom_mm - 1.0, page)

    def _parts(self) -> Iterator[_Part]:
        """All on one panel where that leaves lines enough; else what is left over, and the cells, on further ones."""
        grid = 0.0 < self._grid.height_mm <= self._room_mm(1)
        both, alone = self._most(0, grid), self._most(0, False)
        if both >= lines(self._groups) + (_SPARE_LINES if grid else 0):
            yield _Part(grown(self._groups, both), grid)
            return
        here, rest = parted(grown(self._groups, alone), alone)
        yield _Part(here, grid=False)
        both = self._most(1, grid)
        if lines(rest) > both:
            yield _Part(grown(rest, self._most(1, False)), grid=False)
            rest = ()
        yield _Part(grown(rest or again(self._groups, both), both), grid)

    def _most(self, number: int, grid: bool) -> int:
        """How many lines go on a part, beside the grid or without it."""
        return int((self._room_mm(number) - (self._grid.height_mm if grid else 0.0)) / LEAST_LINE_MM)

    def _head_mm(self, number: int) -> float:
        return SMALL_HEAD_MM if number else self._head.height_mm

    def _room_mm(self, number: int) -> float:
        """Height that lines and cells share on a part."""
        taken = self._head_mm(number) + HEADING_MM + self._beware(self._panel).height_mm + _FOOT_MM + 2 * _GAP_MM
        return self._panel.height_mm - taken

    def _beware(self, panel: Panel) -> Stack:
        done = {TASKS[group.noted] for group in self._groups if group.noted in TASKS}
        hazards = cautions.met(done, [self._batch])
        return Stack(_said(hazards, self._job.words), Column(panel.left_mm, panel.width_mm))


def _said(hazards: Sequence[Hazard], words: Words) -> Iterator[Said]:
    """What to beware of in as little room as can be: treated seed in bold on its own, all else run on."""
    if Hazard.TREATED in hazards:
        yield Said(cautions.line(Hazard.TREATED, words), "bold", lines=2, readable_pt=8.0)
    others = (cautions.line(hazard, words) for hazard in hazards if hazard is not Hazard.TREATED)
    yield Said(" ".join((*others, words("cautions.follow"))), lines=5, readable_pt=7.5)
