"""Pots that are trays of their own, many on one page of maps.pdf: what stands in each, its number, its own QR code.

Which pots share a page, how they stand on it, and the page. A single pot, and any tray of several cells, has a page to
itself (`maps.py`).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from traysheets.arrange.model import ArrangedTray
from traysheets.base.directions import side_by_side
from traysheets.page import qr
from traysheets.page.lettering import cap_height_mm, fits, width_mm
from traysheets.page.marks import Link, Mark, Page, Place, Text
from traysheets.sheets import links, phrases
from traysheets.sheets.foot import Foot, foot
from traysheets.sheets.frame import BETWEEN, Frame, Head, frame_on, head
from traysheets.sheets.job import Job
from traysheets.sheets.legend import Legend, shared_entries
from traysheets.sheets.looks import Look
from traysheets.sheets.map_layout import ABOVE_MM, BELOW_MM
from traysheets.sheets.tray_drawing import TrayDrawing
from traysheets.sheets.tray_titles import tray_title
from traysheets.trade.papers import SCALES
from traysheets.trade.trays import Tray

_MOST_SIDE_MM = 150.0
"""Up to this a tray of one cell is a pot; a larger one is a flat, to which a page of its own is clipped."""
_DRAWN_MM = 40.0
"""How large a pot is drawn at most where no scale is asked for."""
_NUMBER_PT = 14.0
_MODULE_MM = 0.5
_BESIDE_MM, _UNDER_MM, _GAP_MM = 2.0, 2.0, 5.0
"""Between a drawing and its number, between number and QR code, and between pots."""


def together(trays: Iterable[ArrangedTray]) -> Iterator[tuple[ArrangedTray, ...]]:
    """The trays in their order: pots of one kind, day and place with consecutive numbers together, others alone.

    There is one tray at least.
    """
    group: list[ArrangedTray] = []
    for tray in trays:
        if group and not _alike(group[-1], tray):
            yield tuple(group)
            group = []
        group.append(tray)
    yield tuple(group)


def _alike(one: ArrangedTray, other: ArrangedTray) -> bool:
    kind = one.kind
    is_pot = kind.cells == 1 and max(kind.outer_mm) <= _MOST_SIDE_MM
    same = (kind.name, one.sow, one.place) == (other.kind.name, other.sow, other.place)
    return is_pot and same and other.number == one.number + 1


@dataclass(frozen=True, slots=True)
class _Grid:
    """How pots stand on a page: the scale by its name, the frame, a pot's room with its number and code, how many
    go side by side.
    """

    scale: str
    frame: Frame
    panel_mm: tuple[float, float]
    across: int

    @property
    def pitch_mm(self) -> tuple[float, float]:
        """From pot to pot: side by side they are spread over the width, unless that is far."""
        wide, high = (side + _GAP_MM for side in self.panel_mm)
        return min((self.frame.field_mm[0] + _GAP_MM) / self.across, 1.3 * wide), high


@dataclass(frozen=True, slots=True)
class PotSheet:
    """The pots of one page."""

    pots: tuple[ArrangedTray, ...]
    grid: _Grid

    @property
    def pages(self) -> int:
        """How many pages it takes."""
        return 1


class PotMaps:
    """The pages of pots of one job; they share the drawing and the looks of its other maps."""

    def __init__(self, job: Job, drawing: TrayDrawing, looks: dict[int, Look]) -> None:
        self._job, self._words, self._drawing, self._looks = job, job.words, drawing, looks

    def sheets(self, pots: Sequence[ArrangedTray]) -> list[PotSheet]:
        """The pots over the fewest pages, on turned paper where upright takes no fewer; none where one has no room."""
        ways = [self._dealt(pots, self._grid(pots, landscape=landscape)) for landscape in (True, False)]
        return min((way for way in ways if way), key=len, default=[])

    def _grid(self, pots: Sequence[ArrangedTray], *, landscape: bool) -> _Grid:
        kind = pots[0].kind
        scale = self._scale(kind)
        scaled = self._drawing.scaled(kind, SCALES[scale])
        names = max(width_mm(self._name(pot), "bold", _NUMBER_PT) for pot in pots)
        side = max(self._code_mm(pot) for pot in pots)
        wide = scaled.width_mm + _BESIDE_MM + max(names, side)
        high = max(scaled.height_mm, cap_height_mm("bold", _NUMBER_PT) + _UNDER_MM + side)
        frame = frame_on(self._job.choices.paper, landscape=landscape)
        return _Grid(scale, frame, (wide, high), int((frame.field_mm[0] + _GAP_MM) / (wide + _GAP_MM)))

    def _scale(self, kind: Tray) -> str:
        """The scale asked for, else the largest at which a pot is no larger than need be."""
        if self._job.choices.scale != "fit":
            return self._job.choices.scale
        fitting = (name for name, factor in SCALES.items() if max(kind.outer_mm) * factor <= _DRAWN_MM)
        return next(fitting, list(SCALES)[-1])

    def _code_mm(self, pot: ArrangedTray) -> float:
        return qr.smallest_side_mm(links.tray_text(self._job, pot), _MODULE_MM)

    def _dealt(self, pots: Sequence[ArrangedTray], grid: _Grid) -> list[PotSheet]:
        """As many pots on each page as leave their legend room; none where not even one does."""
        dealt: list[PotSheet] = []
        left = tuple(pots)
        while left:
            number = next((number for number in range(len(left), 0, -1) if self._fit(left[:number], grid)), 0)
            if not number:
                return []
            dealt.append(PotSheet(left[:number], grid))
            left = left[number:]
        return dealt

    def _fit(self, pots: Sequence[ArrangedTray], grid: _Grid) -> bool:
        if not grid.across:
            return False
        room = grid.frame.field_mm[1] - ABOVE_MM - self._rows_mm(pots, grid) - BELOW_MM
        if room < 0:
            return False
        legend = self._legend(pots, grid.frame)
        return fits(legend.height_mm(len(legend.rows)), room)

    def _rows_mm(self, pots: Sequence[ArrangedTray], grid: _Grid) -> float:
        rows = ceil(len(pots) / grid.across)
        return rows * (grid.panel_mm[1] + _GAP_MM) - _GAP_MM

    def _legend(self, pots: Sequence[ArrangedTray], frame: Frame) -> Legend:
        return Legend(shared_entries(self._job, pots, self._looks), frame.field_mm[0], self._words)

    # ---- the page ----

    def page(self, sheet: PotSheet, page: int, pages: int) -> Page:
        """The page of some pots, the `page`-th of `pages`."""
        pots, frame = sheet.pots, sheet.grid.frame
        shown = self._head(pots)
        marks: list[Mark] = [*head(frame, shown), *self._foot(sheet, page, pages)]
        top = frame.top_mm + ABOVE_MM
        across_mm, down_mm = sheet.grid.pitch_mm
        for i, pot in enumerate(pots):
            row, column = divmod(i, sheet.grid.across)
            marks += self._panel(pot, sheet.grid, frame.left_mm + column * across_mm, top + row * down_mm)
        top += self._rows_mm(pots, sheet.grid) + BELOW_MM
        legend = self._legend(pots, frame)
        growth = legend.growth(len(legend.rows), frame.bottom_mm - top)
        marks += legend.marks(0, len(legend.rows), frame.left_mm, top, growth)
        numbers = tuple(str(pot.number) for pot in pots)
        return Page(frame.width_mm, frame.height_mm, tuple(marks), shown.name, stands_for=numbers)

    def _panel(self, pot: ArrangedTray, grid: _Grid, left: float, top: float) -> Iterator[Mark]:
        """A pot, and beside it its number and the code that leads to its record."""
        factor = SCALES[grid.scale]
        yield from self._drawing.marks(pot, factor, left, top)
        left += self._drawing.scaled(pot.kind, factor).width_mm + _BESIDE_MM
        base = top + cap_height_mm("bold", _NUMBER_PT)
        yield Text(left, base, self._name(pot), "bold", _NUMBER_PT)
        code = qr.code(links.tray_text(self._job, pot), self._code_mm(pot)).stamp
        yield Place(code, left, base + _UNDER_MM)
        if url := links.tray_url(self._job, pot):
            yield Link(left, base + _UNDER_MM, code.width_mm, code.width_mm, url)

    def _name(self, pot: ArrangedTray) -> str:
        return self._words("maps.tray", number=pot.number)

    def _head(self, pots: Sequence[ArrangedTray]) -> Head:
        """Which pots; the day; what they are; how many seeds, where and whose."""
        job, words, first, last = self._job, self._words, pots[0], pots[-1]
        name = words("maps.trays", first=str(first.number), last=str(last.number))
        kind = f"{words.number(len(pots))} × {tray_title(first.kind, words, job.units)}"
        seeds = sum(run.cells * job.batch(run.batch).seeds_per_cell.value for pot in pots for run in pot.runs)
        place = words("maps.place", place=first.place) if first.place else ""
        what = (words("maps.seeds", n=seeds), place, job.plan.grower)
        day = words("maps.sow", day=words.day(first.sow))
        of = words("maps.of", total=job.last_tray_number)
        return Head(name if len(pots) > 1 else self._name(first), of, (day, kind, side_by_side(what, BETWEEN)))

    def _foot(self, sheet: PotSheet, page: int, pages: int) -> Iterator[Mark]:
        """The scale, and where the QR codes lead; nothing of them where they are short text."""
        words = self._words
        lead = words("maps.qr_each") if links.tray_url(self._job, sheet.pots[0]) else ""
        scale = words("frame.scale", scale=phrases.scale(sheet.grid.scale, words))
        shown = Foot(scale, lead, self._job.plan.title, words("frame.page", page=page, pages=pages))
        yield from foot(sheet.grid.frame, shown, words, self._job.units)
