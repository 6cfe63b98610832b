"""The sticks of a plan: which there are, in which order, and on which label of which page each is printed.

What a stick looks like is decided in `stick_design.py`, what is odd or impossible about it is said in
`stick_checks.py`.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from traysheets.base.directions import side_by_side
from traysheets.page.lettering import MM_PER_POINT, fit, ink_mm
from traysheets.page.marks import MARGIN_MM, Mark, Page, Place, Stamp, Text
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.links import batch_text
from traysheets.sheets.stick_checks import checked_design, stick_notices
from traysheets.sheets.stick_design import Design, letter
from traysheets.sheets.stick_facts import pieces
from traysheets.sheets.stick_lines import Setting
from traysheets.sheets.stick_marks import lettered, outlines, stick_stamp
from traysheets.sheets.stick_places import places, stick_count, widest_place
from traysheets.trade.stocks import Stock

__all__ = ["stick_count", "stick_notices", "stick_pages"]

CAPTION_PT = 7.0
CAPTION_GREY = "#555555"
CAPTION_CLEAR_MM = 0.15
"""Least room above and below the caption, together."""


def stick_pages(job: Job) -> Iterator[Page]:
    """The sticks of the chosen batches on the chosen stock, page by page, in the order of the bench: plan, tray, cell.

    Raises SheetError when the stock has no room for what a stick cannot do without, or a character has no glyph.
    """
    sheet = _Sheet(job, checked_design(job))
    waiting, skipped, done = _sticks(job), job.choices.first_label - 1, 0
    while sticks := tuple(islice(waiting, job.choices.stock.labels - skipped)):
        yield sheet.page(sticks, skipped, done)
        done, skipped = done + len(sticks), 0


@dataclass(frozen=True, slots=True)
class _Stick:
    """One stick: its batch, where it goes, and whether it is the batch's first."""

    batch: Batch
    place: str
    first: bool


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A batch's stick drawn: the stamp, and the lettering that differs from stick to stick, if any does."""

    batch: Batch
    stamp: Stamp
    place: Setting | None


def _sticks(job: Job) -> Iterator[_Stick]:
    for batch in job.batches:
        for number, place in enumerate(places(job, batch)):
            yield _Stick(batch, place, number == 0)


class _Sheet:
    """Draws page after page. It remembers how many there were, and the batch drawn last, whose sticks may go on."""

    def __init__(self, job: Job, design: Design) -> None:
        self.job, self.design, self.stock = job, design, job.choices.stock
        self.count, self.pages = stick_count(job), 0
        self.corners = tuple(self.stock.corner_mm(label) for label in range(self.stock.labels))
        self.margin_mm, self.strips_mm = _margin_mm(self.stock), _free_strips_mm(self.stock)
        self.drawn: _Drawn | None = None
        outlined = self.stock.cut or job.choices.outlines
        self.outlines = self._outlines(0, self.stock.labels) if outlined else None

    def page(self, sticks: tuple[_Stick, ...], skipped: int, done: int) -> Page:
        """One page: `skipped` labels are left free at its start, `done` sticks stand on earlier pages."""
        self.pages += 1
        marks = list(self._labels(sticks, skipped))
        if self.strips_mm:
            marks.extend(_caption(self.stock, self._caption(sticks, done), self.strips_mm))
        return Page(*self.stock.page_mm, tuple(marks), self._title(sticks), self.margin_mm)

    def _labels(self, sticks: tuple[_Stick, ...], skipped: int) -> Iterator[Mark]:
        """All stamps first, then what is lettered label by label: like beside like is written in less."""
        texts: list[Text] = []
        for stick, (x, y) in zip(sticks, self.corners[skipped:], strict=False):
            drawn = self._of(stick.batch)
            yield Place(drawn.stamp, x, y)
            if drawn.place:
                texts.append(lettered(drawn.place, x, y, stick.place))
        if self.outlines:
            whole = len(sticks) == self.stock.labels
            yield Place(self.outlines if whole else self._outlines(skipped, skipped + len(sticks)), *self.corners[0])
        yield from texts

    def _of(self, batch: Batch) -> _Drawn:
        if self.drawn is None or self.drawn.batch is not batch:
            self.drawn = _drawn(self.job, self.design, batch)
        return self.drawn

    def _outlines(self, first: int, end: int) -> Stamp:
        """The outlines of some labels, from the corner of the first of the page."""
        (left, top), (right, bottom) = self.corners[0], self.corners[-1]
        (width, height), corners = self.stock.label_mm, self.corners[first:end]
        marks = outlines(self.stock, ((x - left, y - top) for x, y in corners))
        return Stamp("outlines", right - left + width, bottom - top + height, marks)

    def _title(self, sticks: tuple[_Stick, ...]) -> str:
        """For the bookmarks: what a page begins and ends with; on a roll only where a batch begins."""
        first, last = (
            side_by_side((it.batch.sowing.variety, self.job.codes[it.batch.index]), " ")
            for it in (sticks[0], sticks[-1])
        )
        if self.stock.labels == 1:
            return first if sticks[0].first else ""
        key = "sticks.page_one" if first == last else "sticks.page"
        return self.job.words(key, page=str(self.pages), first=first, last=last)

    def _caption(self, sticks: tuple[_Stick, ...], done: int) -> str:
        job, names = self.job, tuple(dict.fromkeys(it.batch.sowing.variety for it in (sticks[0], sticks[-1])))
        said = job.words("sticks.from_to", first=names[0], last=names[-1]) if len(names) > 1 else names[0]
        key = "sticks.caption" if len(sticks) > 1 else "sticks.caption_one"
        rest = job.words(key, plan=job.plan.title, first=done + 1, last=done + len(sticks), n=self.count, names=said)
        return job.words("sticks.caption_cut" if self.stock.cut else "sticks.caption_whole", rest=rest)


def _drawn(job: Job, design: Design, batch: Batch) -> _Drawn:
    """The stick of a batch, without its place where every stick has a place of its own."""
    lettering = letter(design, batch.sowing.variety, pieces(job, batch, widest_place(job, batch)))
    apart = () if isinstance(batch.sowing.sticks, int) else ("place",)
    text, code = batch_text(job, batch), job.codes[batch.index]
    stamp = stick_stamp(job.choices.stock, code, text, lettering, apart)
    return _Drawn(batch, stamp, next((it for it in lettering.settings if it.kind in apart), None))


def _margin_mm(stock: Stock) -> float:
    """The usual edge, or less where the stock's own labels reach into it."""
    (left, top), (last_left, last_top) = stock.first_mm, stock.corner_mm(stock.labels - 1)
    right = stock.page_mm[0] - last_left - stock.label_mm[0]
    bottom = stock.page_mm[1] - last_top - stock.label_mm[1]
    return max(0.0, min(MARGIN_MM, left, top, right, bottom))


def _free_strips_mm(stock: Stock) -> tuple[tuple[float, float], ...]:
    """Top and bottom of what is printable above the labels and below them, as far as it could hold a caption."""
    foot = stock.corner_mm(stock.labels - 1)[1] + stock.label_mm[1]
    strips = ((MARGIN_MM, stock.first_mm[1]), (foot, stock.page_mm[1] - MARGIN_MM))
    return tuple((top, bottom) for top, bottom in strips if bottom - top > CAPTION_PT * MM_PER_POINT)


def _caption(stock: Stock, text: str, strips_mm: Iterable[tuple[float, float]]) -> Iterator[Text]:
    """The caption in the first strip that it goes into; nothing where there is none."""
    left = max(MARGIN_MM, stock.first_mm[0])
    fitted = fit(text, "regular", stock.page_mm[0] - MARGIN_MM - left, CAPTION_PT, CAPTION_PT)
    below, above = ink_mm(fitted.lines[0], fitted.face, fitted.size_pt)
    for top, bottom in strips_mm:
        if bottom - top >= above - below + CAPTION_CLEAR_MM:
            base = (top + bottom + above + below) / 2
            yield Text(left, base, fitted.lines[0], fitted.face, fitted.size_pt, CAPTION_GREY)
            return
