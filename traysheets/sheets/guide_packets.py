"""Packet by packet, in the order of work: what is sown from each, how, where, and on which page that is taught."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from traysheets.page.lettering import fits, width_mm
from traysheets.page.marks import Mark, Stamp
from traysheets.reckon.model import Batch
from traysheets.sheets import phrases
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.guide_sayings import Sayings
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_steps import numbered
from traysheets.sheets.guide_text import Room, Saying, lettered, say, words_of
from traysheets.sheets.job import Job
from traysheets.sheets.lesson import lesson
from traysheets.sheets.list_parts import Badge, Column, Part, Said, Sign, Stack, Under, columns, few, swatch
from traysheets.sheets.list_strips import row
from traysheets.sheets.lists import Strip
from traysheets.sheets.pictures.from_above import cell_from_above
from traysheets.sheets.pictures.signs import caution_sign
from traysheets.sheets.pictures.strewn import rightly
from traysheets.sheets.standing_places import places

_ROW_MM = 17.0
_PICTURE_MM = 14.0
_SWATCH_MM = (12.0, 5.0)
_MOST_PLACES = 3
_MOST_PLACE_LINES = 4
_LEAST_BADGE, _BADGE_EDGE_MM, _SIGN_MM = 0.9, 3.2, 6.0
_READABLE = 0.82


class Packets:
    """The rows of one day. `on_page`, the page of each batch, is told before they are drawn."""

    def __init__(self, shared: Shared, packets: Sequence[Sequence[Batch]]) -> None:
        self._shared, self._packets = shared, packets
        self._columns = columns(
            shared.frame, shared.grown, number=7, code=12, packet=0, picture=14, how=42, stands=38, seeds=18
        )
        self.on_page: dict[int, int] = {}

    def strips(self) -> Iterator[Strip]:
        """A row for every batch; packets are numbered, and batches from the same packet stand under one number."""
        for number, packet in enumerate(self._packets, 1):
            for i, batch in enumerate(packet):
                yield self._row(number if i == 0 else None, batch)

    def _row(self, number: int | None, batch: Batch) -> Strip:
        at, grown, sowing = self._columns, self._shared.grown, batch.sowing
        colours = Sign(swatch(self._shared.looks[batch.index], *(side * grown for side in _SWATCH_MM)), at["code"])
        packet: Part = Stack(self._packet(batch), at["packet"], grown)
        if sowing.treated:
            packet = self._warned(packet)
        stands = Stack(self._places(batch), at["stands"], grown)
        parts: list[Part] = [
            *([Sign(_disc(number, 3.3 * grown), at["number"])] if number else []),
            Under(Stack([Said(sowing.code, "bold", 14)], at["code"], grown), colours, 0.0),
            packet,
            Sign(self._picture(batch), at["picture"]),
            Stack(self._how(batch), at["how"], grown),
            Under(stands, _OnPage(self._shared, batch.index, self.on_page, at["stands"]), 0.0),
            Stack(self._amount(batch), at["seeds"], grown, to_right=True),
        ]
        return row(self._shared.frame, grown, parts, _ROW_MM)

    def _say(self, key: str, **values: object) -> Saying:
        return words_of(self._shared.speaking, key, **values)

    def _packet(self, batch: Batch) -> Iterator[Said]:
        sowing = batch.sowing
        yield self._said(sowing.variety, 13, "bold", lines=2)
        yield self._said(sowing.crop_name, 10.5)
        if sowing.lot:
            yield from (self._said(text, 9) for text in self._say("seeds.lot", lot=sowing.lot))

    def _how(self, batch: Batch) -> Iterator[Said]:
        """The count, large; then how it is sown and covered, in words."""
        yield self._said(phrases.count_in_cell(batch, self._shared.job.words), 19, "bold")
        sayings = Sayings(self._shared.speaking, batch, lesson(batch))
        yield from (self._said(text, 9.5, lines=3) for said in sayings.in_short for text in said)

    def _places(self, batch: Batch) -> Iterator[Said]:
        for place in few(places(self._shared.job, batch), _MOST_PLACES):
            yield self._said(place, 11.5, "bold", lines=_MOST_PLACE_LINES)

    def _amount(self, batch: Batch) -> Iterator[Said]:
        yield self._said(self._shared.job.words.number(batch.seeds_total), 14, "bold")
        yield from (self._said(text, 9) for text in self._say("seeds.grains", n=batch.seeds_total))

    def _said(self, text: str, size_pt: float, face: str = "regular", lines: int = 1) -> Said:
        """Words that are wrapped before they are much smaller, and never too small to be read on small paper."""
        least = LEAST_PT / self._shared.grown
        return Said(text, face, max(size_pt, least), lines, readable_pt=max(_READABLE * size_pt, least))

    def _warned(self, packet: Part) -> Part:
        """What a treated packet is marked with, the glove before it: in few words where the column is narrow."""
        column, grown = self._columns["packet"], max(self._shared.grown, _LEAST_BADGE)
        sign = caution_sign(Hazard.TREATED, _SIGN_MM * grown, self._shared.tints)
        room = column.width_mm - sign.width_mm - _BADGE_EDGE_MM * grown

        def warning(job: Job) -> str:
            whole = job.words("cautions.badge")
            fitting = fits(width_mm(whole, "condensed-bold", LEAST_PT), room)
            return whole if fitting else job.words("cautions.badge_short")

        return Under(packet, Badge(say(self._shared.speaking, warning), column, grown, sign))

    def _picture(self, batch: Batch) -> Stamp:
        """The cell from above, small."""
        taught, side = lesson(batch), _PICTURE_MM * self._shared.grown
        factor = round(side / max(taught.cell_mm), 5)
        return cell_from_above(taught, rightly(taught), factor, self._shared.tints, "cell, small")


class _OnPage:
    """The page of the guide that teaches a batch, said when it is drawn."""

    base_mm = 0.0

    def __init__(self, shared: Shared, batch: int, on_page: Mapping[int, int], column: Column) -> None:
        self._shared, self._batch, self._on_page, self._column = shared, batch, on_page, column
        self.height_mm = (4.6 if shared.two else 4.0) * shared.grown * len(shared.speaking)

    def marks(self, top: float) -> Iterator[Mark]:
        """The words, below a given top edge."""
        saying = words_of(self._shared.speaking, "guide.on_page", page=str(self._on_page[self._batch]))
        size_pt, column = 9.5 * self._shared.grown, self._column
        yield from lettered(saying, Room(column.left_mm, top, column.width_mm, self.height_mm, size_pt, face="regular"))


@lru_cache(maxsize=256)
def _disc(number: int, radius: float) -> Stamp:
    """The number of a packet in a black disc."""
    return Stamp(f"number {number}", 2 * radius, 2 * radius, tuple(numbered(0, 0, number, radius)))
