"""maps.pdf: for every tray a page to clip to it, the tray from above to scale and a legend of what is sown where.

Here the parts are put on the page: head, tray, legend, foot. Each part is a file of its own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from traysheets.arrange.model import ArrangedTray
from traysheets.base.directions import side_by_side
from traysheets.base.errors import Problem, SheetError
from traysheets.page.marks import Mark, Page, Text
from traysheets.sheets import links, phrases, tiles
from traysheets.sheets.foot import Foot, foot
from traysheets.sheets.frame import BETWEEN, Frame, Head, frame_on, head, head_height_mm, small_head
from traysheets.sheets.job import Choices, Job
from traysheets.sheets.legend import Legend, entries
from traysheets.sheets.looks import looks
from traysheets.sheets.map_layout import ABOVE_MM, BELOW_MM, MORE_MM, Asked, Layout, lay_out, rows_in
from traysheets.sheets.pot_maps import PotMaps, PotSheet, together
from traysheets.sheets.tiles import Tiles, Tiling
from traysheets.sheets.tray_drawing import TrayDrawing
from traysheets.sheets.tray_titles import tray_title

_CONTINUED_HEAD_MM = 10.0


def map_pages(job: Job) -> Iterator[Page]:
    """The pages of maps.pdf, one at a time, in the order of the trays.

    Raises SheetError, before the first page, with every kind of tray that does not fit the chosen paper and scale.
    """
    maps = _Maps(job)
    sheets = maps.laid_out()
    pages = sum(sheet.pages for sheet in sheets)
    page = 1
    for sheet in sheets:
        yield from maps.pages(sheet, page, pages)
        page += sheet.pages


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A tray laid out: the first legend row of each of its pages, and how it is parted where it is also tiled."""

    tray: ArrangedTray
    layout: Layout
    starts: tuple[int, ...]
    tiling: Tiling | None

    @property
    def pages(self) -> int:
        """How many pages the tray takes."""
        return len(self.starts) + (self.tiling.pages if self.tiling else 0)


class _Maps:
    """The maps of one job: the drawing and the looks that all pages share."""

    def __init__(self, job: Job) -> None:
        self._job, self._words = job, job.words
        self._drawing = TrayDrawing(job)
        self._looks = looks(job)
        self._tiles = Tiles(job, self._drawing)
        self._pots = PotMaps(job, self._drawing, self._looks)

    # ---- which rows on which page ----

    def laid_out(self) -> list[_Sheet | PotSheet]:
        """Every tray laid out."""
        sheets: list[_Sheet | PotSheet] = []
        problems: dict[str, tuple[Problem, ...]] = {}
        for trays in together(self._job.trays):
            try:
                sheets += self._sheets(trays)
            except SheetError as error:
                problems.setdefault(trays[0].kind.name, error.problems)
        if problems:
            raise SheetError(problem for kind in problems.values() for problem in kind)
        return sheets

    def _sheets(self, trays: tuple[ArrangedTray, ...]) -> Sequence[_Sheet | PotSheet]:
        """Pots that share pages, as far as there is room for them so; every other tray on its own."""
        return (self._pots.sheets(trays) if len(trays) > 1 else []) or [self._sheet(tray) for tray in trays]

    def _sheet(self, tray: ArrangedTray) -> _Sheet:
        """A tray on a page; at full size, where the paper is too small for it, at a scale that fits and on tiles."""
        choices, tiling = self._job.choices, None
        try:
            layout = self._lay_out(tray, choices)
        except SheetError:
            if choices.scale != tiles.SCALE:
                raise
            layout, tiling = self._lay_out(tray, replace(choices, scale="fit")), self._tiles.tiling(tray)
        return _Sheet(tray, layout, tuple(self._starts(tray, layout)), tiling)

    def _lay_out(self, tray: ArrangedTray, choices: Choices) -> Layout:
        rows = entries(self._job, tray, self._looks)
        asked = Asked(
            tray.kind,
            lambda factor: self._drawing.scaled(tray.kind, factor),
            lambda width: Legend(rows, width, self._words),
            head_height_mm(links.tray_text(self._job, tray)),
        )
        return lay_out(asked, choices)

    def _starts(self, tray: ArrangedTray, layout: Layout) -> Iterator[int]:
        yield 0
        if layout.rows == len(tray.batches):
            return
        start, frame = layout.rows, self._continued_frame(layout)
        legend = self._legend(tray, frame)
        while start < len(legend.rows):
            yield start
            start += max(rows_in(legend, frame.field_mm[1], start), 1)

    def _continued_frame(self, layout: Layout) -> Frame:
        landscape = layout.frame.width_mm > layout.frame.height_mm
        return frame_on(self._job.choices.paper, landscape=landscape, head_mm=_CONTINUED_HEAD_MM)

    def _legend(self, tray: ArrangedTray, frame: Frame) -> Legend:
        return Legend(entries(self._job, tray, self._looks), frame.field_mm[0], self._words)

    # ---- the pages ----

    def pages(self, sheet: _Sheet | PotSheet, page: int, pages: int) -> Iterator[Page]:
        """The pages of a tray, or the page of some pots, the first of which is page `page` of `pages`."""
        if isinstance(sheet, PotSheet):
            yield self._pots.page(sheet, page, pages)
            return
        tray, layout, starts = sheet.tray, sheet.layout, sheet.starts
        first, last = page + len(starts), page + sheet.pages - 1
        follow = self._words("tiles.follow", first=first, last=last) if sheet.tiling else ""
        yield self._first_page(tray, layout, page, pages, follow)
        for i, start in enumerate(starts[1:], 1):
            yield self._continued(tray, layout, start, (*starts, None)[i + 1], page + i, pages)
        if sheet.tiling:
            yield from self._tiles.pages(tray, sheet.tiling, first, pages)

    def _first_page(self, tray: ArrangedTray, layout: Layout, page: int, pages: int, follow: str) -> Page:
        """The page with the tray, and as much of its legend as the layout says; `follow` tells of full size pages."""
        frame = layout.frame
        marks = [*head(frame, self._head(tray, follow)), *self._foot(frame, page, pages, layout.scale)]
        marks += self._tray_and_legend(tray, layout)
        title = self._words("maps.tray", number=tray.number)
        return Page(frame.width_mm, frame.height_mm, tuple(marks), title, stands_for=(str(tray.number),))

    def _continued(
        self, tray: ArrangedTray, layout: Layout, first: int, after: int | None, page: int, pages: int
    ) -> Page:
        """A page with further rows of the legend, up to row `after` or the last."""
        frame = self._continued_frame(layout)
        legend = self._legend(tray, frame)
        last = len(legend.rows) if after is None else after
        marks: list[Mark] = [*small_head(frame, self._head(tray), self._words("maps.continued"))]
        marks += self._legend_marks(legend, frame, first, last, frame.top_mm)
        return Page(frame.width_mm, frame.height_mm, (*marks, *self._foot(frame, page, pages)))

    def _tray_and_legend(self, tray: ArrangedTray, layout: Layout) -> Iterator[Mark]:
        frame, scaled = layout.frame, self._drawing.scaled(tray.kind, layout.factor)
        left = frame.left_mm + (frame.field_mm[0] - scaled.width_mm) / 2
        top = frame.top_mm + ABOVE_MM
        yield from self._drawing.marks(tray, layout.factor, left, top)
        top += scaled.height_mm + BELOW_MM
        yield from self._legend_marks(self._legend(tray, frame), frame, 0, layout.rows, top)

    def _legend_marks(self, legend: Legend, frame: Frame, first: int, last: int, top: float) -> Iterator[Mark]:
        """Rows of the legend as large as the room allows, and how many follow on the next page."""
        more, room = len(legend.rows) - last, frame.bottom_mm - top
        growth = legend.growth(last - first, room - (MORE_MM if more else 0.0))
        if last > first:
            yield from legend.marks(first, last, frame.left_mm, top, growth)
        if more:
            base = top + legend.height_mm(last - first, growth) + MORE_MM - 1.0
            yield Text(frame.left_mm, base, self._words("maps.more", n=more), "bold", 8.5)

    def _head(self, tray: ArrangedTray, follow: str = "") -> Head:
        job, words = self._job, self._words
        text, url = links.tray_text(job, tray), links.tray_url(job, tray)
        return Head(
            words("maps.tray", number=tray.number),
            words("maps.of", total=job.last_tray_number),
            self._lines(tray, follow),
            text,
            self._code_words(tray),
            url,
        )

    def _code_words(self, tray: ArrangedTray) -> str:
        """What the QR code tells of: all batches, or how many of them where its short text does not hold more."""
        told, batches = links.batches_told(self._job, tray), len(tray.batches)
        return self._words("maps.qr") if told == batches else self._words("maps.qr_some", n=told, all=batches)

    def _lines(self, tray: ArrangedTray, follow: str) -> tuple[str, ...]:
        """What stands beside the tray's number: the day; the kind; how much, where and whose."""
        words, kind = self._words, tray.kind
        title = tray_title(kind, words, self._job.units)
        size = phrases.size(*kind.cell_mm, words, self._job.units)
        rows, columns = words("maps.rows", n=kind.rows), words("maps.columns", n=kind.columns)
        grid = words("maps.grid", rows=rows, columns=columns, size=size)
        grid = words("maps.one_cell", size=size) if kind.cells == 1 else grid
        cells = words("maps.cells", n=kind.cells - tray.spare)
        empty = words("maps.empty", n=tray.spare) if tray.spare else ""
        seeds = sum(run.cells * self._job.batch(run.batch).seeds_per_cell.value for run in tray.runs)
        place = words("maps.place", place=tray.place) if tray.place else ""
        what = (cells, words("maps.seeds", n=seeds), empty, place, self._job.plan.grower)
        last = (follow, cells) if follow else what
        day = words("maps.sow", day=words.day(tray.sow))
        return day, f"{title}{BETWEEN}{grid}", side_by_side(last, BETWEEN)

    def _foot(self, frame: Frame, page: int, pages: int, scale: str = "") -> Iterator[Mark]:
        words = self._words
        number = words("frame.page", page=page, pages=pages)
        scale = words("frame.scale", scale=phrases.scale(scale, words)) if scale else ""
        shown = Foot(scale, words("maps.corner"), self._job.plan.title, number)
        yield from foot(frame, shown, words, self._job.units)
