"""The buying list: the seed of every variety and lot over the whole plan, what to buy of it, and what to buy first."""

from collections.abc import Iterator
from datetime import date

from traysheets.plan.model import Wanted
from traysheets.reckon.model import SeedNeed
from traysheets.reckon.seeds import set_out
from traysheets.sheets import measures
from traysheets.sheets.frame import Frame, Head
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Badge, Part, Said, Sign, Stack, Under, WritingLine, columns, tick_box
from traysheets.sheets.list_strips import group_head, heading, row
from traysheets.sheets.lists import Listing, Strip, growth, list_frame

_ROW_MM = 9.5
_BOX_MM = 6.0
_WRITING_MM = 5.6


def buying_list(job: Job) -> Listing:
    """What seed the plan takes, what is short standing first, by the day it is needed."""
    words, needs = job.words, job.reckoned.seed_needs
    short = [need for need in needs if need.to_buy]
    return Listing(
        title=words("seeds.buying_title"),
        head=Head(words("seeds.buying_name"), "", (_summary(job, short), job.plan.title)),
        heading=(rows := _Rows(job)).heading(),
        strips=[*rows.short(short), *rows.enough([need for need in needs if not need.to_buy])],
    )


def needed_by(job: Job, need: SeedNeed) -> date | None:
    """The first sowing day that the seed on hand does not suffice for; None where nothing is to be bought.

    What is on hand goes to the sowings in the order of their days. Where the plan does not say what is on hand, seed
    to be used up is, and nothing else.
    """
    batches = sorted((job.batch(index) for index in need.batches), key=lambda batch: batch.sow)
    if need.on_hand is None:
        batches = [batch for batch in batches if batch.sowing.amount.wanted is not Wanted.SEEDS]
    left = need.on_hand or 0
    for batch in batches:
        left -= set_out(batch)
        if left < 0:
            return batch.sow
    return None


def grams_to_buy(need: SeedNeed) -> float | None:
    """Weight of the seed to buy: its share of the weight of all that is wanted."""
    return None if need.grams is None else need.grams * need.to_buy / need.seeds


def _summary(job: Job, short: list[SeedNeed]) -> str:
    """What the list comes to, in a line."""
    if not short:
        return job.words("seeds.buy_nothing")
    seeds = sum(need.to_buy for need in short)
    return job.words(
        "seeds.buy_in_all", lots=job.words("seeds.lots", n=len(short)), seeds=job.words("sow.seeds", n=seeds)
    )


class _Rows:
    """The rows of the buying list, all in the same columns."""

    def __init__(self, job: Job) -> None:
        self._job, self._words = job, job.words
        self._frame: Frame = list_frame(job)
        self._growth = growth(self._frame)
        self._columns = columns(
            self._frame,
            self._growth,
            tick=7,
            variety=0,
            lot=22,
            wanted=16,
            hand=17,
            buy=16,
            packets=20,
            grams=19,
            gap=0.5,
            day=23,
        )

    def heading(self) -> Strip:
        """The names of the columns."""
        left = {"variety", "lot", "day"}
        titles = [
            (self._words(f"seeds.buy_{name}"), column, name not in left)
            for name, column in self._columns.items()
            if name not in {"tick", "gap"}
        ]
        return heading(self._frame, self._growth, titles)

    def short(self, needs: list[SeedNeed]) -> Iterator[Strip]:
        """What is to be bought, the soonest needed first."""
        yield from self._group(
            "seeds.buy_first", sorted(needs, key=lambda need: needed_by(self._job, need) or date.max)
        )

    def enough(self, needs: list[SeedNeed]) -> Iterator[Strip]:
        """What there is enough of."""
        yield from self._group("seeds.enough", needs)

    def _group(self, key: str, needs: list[SeedNeed]) -> Iterator[Strip]:
        if needs:
            yield group_head(
                self._frame, self._growth, self._words(key), self._words("lists.continued", what=self._words(key))
            )
        for need in needs:
            yield self._row(need)

    def _row(self, need: SeedNeed) -> Strip:
        at, grown, words = self._columns, self._growth, self._words
        lot = Said(need.lot, size_pt=10, lines=2) if need.lot else Said(words("seeds.any_lot"))
        day = needed_by(self._job, need)
        parts = [
            *([Sign(tick_box(_BOX_MM * grown), at["tick"])] if need.to_buy else []),
            self._variety(need),
            Stack([lot], at["lot"], grown),
            self._figure("wanted", words.number(need.seeds)),
            self._on_hand(need),
            self._figure(
                "buy", words.number(need.to_buy) if need.to_buy else words("seeds.none"), bold=need.to_buy > 0
            ),
            self._figure("packets", self._packets(need)),
            Stack(self._weight(need), at["grams"], grown, to_right=True),
            Stack([Said(words.short_day(day) if day else "", size_pt=10)], at["day"], grown),
        ]
        return row(self._frame, grown, parts, _ROW_MM)

    def _variety(self, need: SeedNeed) -> Part:
        column, grown = self._columns["variety"], self._growth
        name = Stack([Said(need.variety, "bold", 10.5, lines=3, readable_pt=8.5), Said(need.crop)], column, grown)
        return Under(name, Badge([self._words("cautions.badge_short")], column, grown)) if need.treated else name

    def _figure(self, column: str, text: str, *, bold: bool = False) -> Stack:
        said = Said(text, "bold" if bold else "regular", 10)
        return Stack([said], self._columns[column], self._growth, to_right=True)

    def _on_hand(self, need: SeedNeed) -> Part:
        """What is on hand; where the plan does not say, a line to write it on."""
        column, grown = self._columns["hand"], self._growth
        if need.on_hand is None:
            return WritingLine(column, _WRITING_MM * grown)
        return self._figure("hand", self._words.number(need.on_hand))

    def _packets(self, need: SeedNeed) -> str:
        if not need.to_buy or need.packets is None:
            return ""
        return self._words("seeds.packets_of", n=need.packets, size=need.packet)

    def _weight(self, need: SeedNeed) -> Iterator[Said]:
        weight = grams_to_buy(need)
        if not need.to_buy or weight is None:
            return
        yield Said(measures.grams(weight, self._words), size_pt=10)
        if self._job.units == "inch":
            yield Said(measures.ounces(weight, self._words))
