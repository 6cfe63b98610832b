"""The first page of a sowing day in the guide: the order of work, the cautions, the packets one by one, the trays.

A day with many packets goes on over further pages.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property

from traysheets.base.words import sentence
from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.marks import Mark, Page
from traysheets.reckon.minutes import minutes_by_day
from traysheets.reckon.model import Batch
from traysheets.sheets import measures
from traysheets.sheets.frame import EDGE_MM
from traysheets.sheets.guide_cautions import caution_strip
from traysheets.sheets.guide_packets import Packets
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_steps import Steps
from traysheets.sheets.guide_text import Room, Saying, lettered, say, set_in
from traysheets.sheets.guide_trays import tray_strips
from traysheets.sheets.job import Job
from traysheets.sheets.lists import Strip, paginate
from traysheets.sheets.seeds import working_order
from traysheets.sheets.standing_places import in_trays

_TITLE_PT, _LEAST_TITLE_PT = 27.0, 24.0
_LINE_PT = 13.5
_GAP_MM = 3.0
_TRAYS_ACROSS = (3, 4, 5)


class DayPages:
    """The pages of one sowing day that stand before those of its batches."""

    def __init__(self, shared: Shared, day: date) -> None:
        self._shared, self._job, self._day = shared, shared.job, day
        packets = working_order(self._job, [batch for batch in self._job.batches if batch.sow == day])
        self.batches: list[Batch] = [batch for packet in packets for batch in packet]
        self._packets = len(packets)
        self._rows = Packets(shared, packets)
        self._dealt = self._on_fewest_pages()

    def __len__(self) -> int:
        """How many pages there are."""
        return len(self._dealt)

    def pages(self, first: int, pages: int, on_page: Mapping[int, int]) -> Iterator[Page]:
        """The pages, the first of them the `first`-th of the guide; `on_page` tells which is that of each batch."""
        self._rows.on_page.update(on_page)
        for number, strips in enumerate(self._dealt):
            marks: list[Mark] = [*self._head()]
            top = self._top_mm
            for strip in strips:
                marks += strip.marks(top)
                top += strip.height_mm
            marks += self._shared.foot(first + number, pages)
            title = "" if number else self._title[0]
            yield Page(self._shared.frame.width_mm, self._shared.frame.height_mm, tuple(marks), title)

    def _on_fewest_pages(self) -> list[list[Strip]]:
        """The strips of each page, the trays as large as they can be on the fewest pages."""
        room, above = self._shared.frame.bottom_mm - 1.0 - self._top_mm, list(self._above_trays())
        of_day = [tray for tray in self._job.trays if tray.sow == self._day]
        dealt = (paginate([*above, *tray_strips(self._shared, of_day, across)], room) for across in _TRAYS_ACROSS)
        return min(dealt, key=len)

    def _above_trays(self) -> Iterator[Strip]:
        """Steps, cautions and packets."""
        shared = self._shared
        gloved = all(batch.sowing.treated for batch in self.batches)
        yield from Steps(shared, gloved=gloved).strips()
        yield caution_strip(shared, self.batches)
        yield from self._rows.strips()

    # ---- the head ----

    @cached_property
    def _title(self) -> Saying:
        return say(self._shared.speaking, lambda job: job.words("seeds.sow", day=job.words.day(self._day)))

    @cached_property
    def _amounts(self) -> Saying:
        """How many trays, packets and seeds, and how long it takes."""
        return say(self._shared.speaking, self._in_all)

    def _in_all(self, job: Job) -> str:
        words, helpers = job.words, job.plan.pace.helpers
        time = measures.duration(minutes_by_day(self.batches, helpers)[self._day], words)
        parts = (
            in_trays(job, self.batches),
            words("guide.packets", n=self._packets),
            words("sow.seeds", n=sum(batch.seeds_total for batch in self.batches)),
            words("seeds.work_shared" if helpers > 1 else "seeds.work", time=time, n=helpers),
        )
        return sentence(" · ".join(parts))

    @cached_property
    def _title_room(self) -> Room:
        shared = self._shared
        size_pt = max(_TITLE_PT * shared.grown, _LEAST_TITLE_PT)
        height = size_pt * MM_PER_POINT * (3.6 if shared.two else 2.4)
        return Room(shared.frame.left_mm, EDGE_MM, shared.width_mm, height, size_pt, lines=2)

    @cached_property
    def _line_room(self) -> Room:
        shared = self._shared
        top = EDGE_MM + set_in(self._title, self._title_room).height_mm
        size_pt = _LINE_PT * shared.grown
        height = size_pt * MM_PER_POINT * 1.2 * (4.0 if shared.two else 2.0)
        return Room(shared.frame.left_mm, top, shared.width_mm, height, size_pt, lines=2, face="regular")

    @cached_property
    def _top_mm(self) -> float:
        """Where the strips begin."""
        return self._line_room.top_mm + set_in(self._amounts, self._line_room).height_mm + _GAP_MM

    def _head(self) -> Iterator[Mark]:
        yield from lettered(self._title, self._title_room)
        yield from lettered(self._amounts, self._line_room)
