"""The seed list: for each sowing day what to set out, in the order it is sown; then what to buy for the whole plan.

One packet is open at a time, so that seed cannot be mixed up: sowings from the same packet stand together, packets
in the order of the trays. The buying list is `buying.py`.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from traysheets.page.marks import Page
from traysheets.reckon.minutes import minutes_by_day
from traysheets.reckon.model import Batch
from traysheets.reckon.seeds import by_lot, in_tin, is_in_packets, left_in_tin, packets_for, set_out
from traysheets.reckon.totals import totals
from traysheets.sheets import cautions, measures, phrases
from traysheets.sheets.buying import buying_list
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.cups import MANY_SEEDS, Cups, cups
from traysheets.sheets.frame import Frame, Head
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import (
    Badge,
    Part,
    Said,
    Sign,
    Stack,
    Under,
    caution_lines,
    columns,
    few,
    swatch,
    tick_box,
)
from traysheets.sheets.list_strips import closing, heading, row
from traysheets.sheets.lists import Listing, Strip, growth, list_frame, listing_pages
from traysheets.sheets.looks import Look, looks
from traysheets.sheets.pictures.pen import tints
from traysheets.sheets.pictures.signs import caution_sign
from traysheets.sheets.standing_places import MOST_PLACES, in_trays, places

_ROW_MM = 14.0
_SWATCH_MM = 10.0, 5.0
_BOX_MM = 8.0
_SIGN_MM = 6.0
_MOST_CUPS = 4


def seed_pages(job: Job) -> Iterator[Page]:
    """A list for each sowing day, then the buying list for the whole plan, one page at a time."""
    for day in sorted({batch.sow for batch in job.batches}):
        yield from listing_pages(job, day_list(job, day))
    yield from listing_pages(job, buying_list(job))


def day_list(job: Job, day: date) -> Listing:
    """What is to be set out for one sowing day."""
    batches = [batch for batch in job.batches if batch.sow == day]
    packets = working_order(job, batches)
    rows = _Rows(job)
    return Listing(
        title=job.words("seeds.title", day=job.words.day(day)),
        head=_head(job, day, packets),
        heading=rows.heading(),
        strips=[strip for packet in packets for strip in rows.packet(packet)],
        closing=rows.closing(batches),
    )


def working_order(job: Job, batches: Iterable[Batch]) -> list[list[Batch]]:
    """The sowings of each packet, packets and sowings by where they first stand."""

    def first_place(batch: Batch) -> tuple[int, int, int]:
        runs = job.runs(batch)
        return (runs[0].tray, runs[0].first, batch.index) if runs else (job.last_tray_number + 1, 0, batch.index)

    packets = (sorted(packet, key=first_place) for packet in by_lot(batches))
    return sorted(packets, key=lambda packet: first_place(packet[0]))


def _head(job: Job, day: date, packets: Sequence[Sequence[Batch]]) -> Head:
    """The day, what is to be set out in all, and how long it takes."""
    words, batches = job.words, [batch for packet in packets for batch in packet]
    whole = totals(batches, ())
    amounts = [words("seeds.lots", n=len(packets)), words("sow.seeds", n=sum(map(set_out, batches)))]
    if whole.seed_grams is not None and not whole.unweighed:
        amounts.append(measures.grams(whole.seed_grams, words))
    helpers = job.plan.pace.helpers
    time = measures.duration(minutes_by_day(batches, helpers)[day], words)
    work = words("seeds.work_shared" if helpers > 1 else "seeds.work", time=time, n=helpers)
    lines = (
        words("seeds.sow", day=words.day(day)),
        " · ".join(amounts),
        " · ".join((in_trays(job, batches), work)),
    )
    return Head(words("seeds.name"), "", lines)


class _Rows:
    """The rows of one job's seed lists, all in the same columns."""

    def __init__(self, job: Job) -> None:
        self._job, self._words, self._looks = job, job.words, looks(job)
        self._lots = {index: need.batches for need in job.reckoned.seed_needs for index in need.batches}
        self._tints = tints(grey=job.choices.grey)
        self._frame: Frame = list_frame(job)
        self._growth = growth(self._frame)
        self._columns = columns(
            self._frame, self._growth, tick=8, code=11, packet=0, seeds=25, weight=18, gap=1, cups=38, stands=30
        )

    def heading(self) -> Strip:
        """The names of the columns."""
        right = {"seeds", "weight"}
        titles = [
            (self._words(f"seeds.{name}"), column, name in right)
            for name, column in self._columns.items()
            if name not in {"tick", "code", "gap"}
        ]
        return heading(self._frame, self._growth, titles)

    def closing(self, batches: Iterable[Batch]) -> Strip:
        """How cups are counted out, and what to beware of."""
        how = Said(self._words("seeds.how_cups", n=MANY_SEEDS), lines=2)
        beware = caution_lines((*cautions.handled(batches), Hazard.MIX), self._words)
        return closing(self._frame, [how, *beware], self._growth)

    def packet(self, batches: Sequence[Batch]) -> Iterator[Strip]:
        """A row for each sowing from one packet; what is to be opened is said at the first."""
        in_all = sum(map(set_out, batches))
        for number, batch in enumerate(batches):
            opened = self._words("seeds.same_packet") if number else self._opened(batch, in_all)
            yield self._row(batch, self._looks[batch.index], opened)

    def _opened(self, batch: Batch, seeds: int) -> str:
        """What to open for so many seeds of a batch's lot: what is on hand in no whole packets goes first."""
        size, of_lot = batch.sowing.packet, self._of_lot(batch)
        if size is None:
            return ""
        left = 0 if is_in_packets(in_tin(of_lot), size) else left_in_tin(of_lot, batch.sow) or 0
        packets = packets_for(max(0, seeds - left), size)
        key = "seeds.open" if not left else "seeds.open_both" if packets else "seeds.open_on_hand"
        return self._words(key, n=packets or 0, size=size, left=self._words.number(left))

    def _of_lot(self, batch: Batch) -> list[Batch]:
        """All sowings of the plan from the same lot, on whatever day."""
        return [self._job.batch(index) for index in self._lots[batch.index]]

    def _row(self, batch: Batch, look: Look, opened: str) -> Strip:
        at, grown = self._columns, self._growth
        packet: Part = Stack(self._packet(batch, opened), at["packet"], grown)
        if batch.sowing.treated:
            sign = caution_sign(Hazard.TREATED, _SIGN_MM * grown, self._tints)
            packet = Under(packet, Badge([self._words("cautions.badge")], at["packet"], grown, sign))
        code = Stack([Said(batch.sowing.code, "bold", 13)], at["code"], grown)
        colours = Sign(swatch(look, *(side * grown for side in _SWATCH_MM)), at["code"])
        parts: list[Part] = [
            Sign(tick_box(_BOX_MM * grown), at["tick"]),
            Under(code, colours, 0.0),
            packet,
            Stack(self._seeds(batch), at["seeds"], grown, to_right=True),
            Stack(self._weight(batch), at["weight"], grown, to_right=True),
            Stack(self._cups(batch), at["cups"], grown),
            Stack(self._stands(batch), at["stands"], grown),
        ]
        return row(self._frame, grown, parts, _ROW_MM)

    def _packet(self, batch: Batch, opened: str) -> Iterator[Said]:
        sowing = batch.sowing
        yield Said(sowing.variety, "bold", 12, lines=3, readable_pt=9.5)
        yield Said(sowing.crop_name, size_pt=9)
        yield Said(self._words("seeds.lot", lot=sowing.lot) if sowing.lot else self._words("seeds.no_lot"), "bold", 9.5)
        yield Said(opened, lines=2, readable_pt=8)

    def _seeds(self, batch: Batch) -> Iterator[Said]:
        """How many to set out; of clusters that one is a seed; how many are spare, and left over of those planned."""
        words, number = self._words, set_out(batch)
        yield Said(words.number(number), "bold", 17)
        yield Said(words("seeds.grains", n=number))
        if batch.sowing.crop.cluster:
            yield Said(words("seeds.clusters"), lines=2, readable_pt=8)
        if batch.seeds_spare:
            yield Said(words("seeds.spare", n=batch.seeds_spare))
        if batch.seeds_left:
            planned = number + batch.seeds_left
            yield Said(words("seeds.left", n=batch.seeds_left, all=planned), lines=2, readable_pt=8)

    def _weight(self, batch: Batch) -> Iterator[Said]:
        if batch.seed_grams is None:
            yield Said(self._words("seeds.unweighed"), lines=2)
            return
        yield Said(measures.grams(batch.seed_grams.value, self._words), "bold", 11)
        if self._job.units == "inch":
            yield Said(measures.ounces(batch.seed_grams.value, self._words))

    def _cups(self, batch: Batch) -> Iterator[Said]:
        """The cups; of more sizes than there is room for the smaller ones in a line together."""
        found = cups(batch, self._job.runs(batch))
        shown = found if len(found) <= _MOST_CUPS else found[: _MOST_CUPS - 1]
        for some in shown:
            yield Said(self._cups_of(some), "bold", 11)
            yield Said(self._for_cells(some, batch), lines=2)
        yield Said(", ".join(self._cups_of(some) for some in found[len(shown) :]), "bold", 9, lines=3)

    def _cups_of(self, some: Cups) -> str:
        return self._words("seeds.cups_of", n=some.number, seeds=some.seeds)

    def _for_cells(self, some: Cups, batch: Batch) -> str:
        key = "seeds.cup_for_each" if some.number > 1 else "seeds.cup_for"
        what = self._words("seeds.in_each", what=phrases.count_in_cell(batch, self._words))
        return self._words(key, n=some.cells) if some.cells == 1 else f"{self._words(key, n=some.cells)}, {what}"

    def _stands(self, batch: Batch) -> Iterator[Said]:
        for place in few(places(self._job, batch), MOST_PLACES):
            yield Said(place, "bold", 9.5, lines=2)
        if batch.sowing.place and batch.sowing.place != self._job.plan.place:
            yield Said(batch.sowing.place, lines=2)
