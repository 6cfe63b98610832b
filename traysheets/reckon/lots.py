"""What lots have shown in earlier batches, held against the figures of the plan."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import TypeAlias

from traysheets.base.notices import Notice
from traysheets.plan.model import Plan, Sowing
from traysheets.reckon.days import sowing_day
from traysheets.reckon.model import Batch, Source
from traysheets.reckon.rounding import percent
from traysheets.reckon.seen import NOTABLE, Count, LotKey, Seen, lot_key, seen

Counts: TypeAlias = Mapping[LotKey, Sequence[Count]]
"""The finished counts of every lot."""

NOTHING_COUNTED: Counts = MappingProxyType({})

# An interval wider than this says little yet (judgement, no source).
WIDE = 0.2

_ASSUMED = {
    Source.LEGAL_MINIMUM: "the legal minimum",
    Source.STATE_MINIMUM: "a state's legal minimum",
    Source.GENERAL_MINIMUM: "the general minimum",
    Source.OWN_MINIMUM: "your own figure for the crop",
}


def shown_by(sowing: Sowing, plan: Plan, counts: Counts) -> Seen | None:
    """What the lot of a sowing has shown before; None where it names none, or nothing was counted of it.

    Only batches sown before it are asked, never the sowing itself: what came up of it must not change, when its plan is
    printed again, what was sown.
    """
    day = sowing_day(sowing, plan.last_frost)
    if not sowing.lot or day is None:
        return None
    of_lot = counts.get(lot_key(sowing.crop.name, sowing.variety, sowing.lot), ())
    return seen([count for count in of_lot if count.sown < day])


def lot_notices(batches: Sequence[Batch], plan: Plan, counts: Counts) -> Iterator[Notice]:
    """What is to be said of lots, once for each however often it is sown with the same figure."""
    told = set()
    for batch in batches:
        sowing = batch.sowing
        text = _lot(batch, shown_by(sowing, plan, counts))
        key = sowing.crop.name, sowing.variety, sowing.lot, text
        if text and key not in told:
            told.add(key)
            yield Notice(f"{sowing.crop_name} '{sowing.variety}': {text}", sowing.line)


def _lot(batch: Batch, shown: Seen | None) -> str | None:
    lot, used = batch.sowing.lot, batch.germination
    if batch.sowing.germination_seen:
        if shown is None:
            assumed = f"{_ASSUMED[used.source]}, {percent(used.value)},"
            return f"the book has no finished count of an earlier sowing of lot {lot}; {assumed} is taken"
        if shown.high - shown.low > WIDE:
            return f"lot {lot}: {shown.origin}; few were counted, so more may come up, or fewer"
        return None
    if shown is None or not _differs(used.value, shown):
        return None
    said = f"packet says {percent(used.value)}"
    if batch.germination_assumed:
        said = f"{percent(used.value)} is assumed"
    return f'lot {lot}: {shown.words}, {said}; germination = "seen" takes what was seen'


def _differs(figure: float, shown: Seen) -> bool:
    """Whether chance alone would hardly make the difference, and it is large enough to matter."""
    return not shown.low <= figure <= shown.high and abs(figure - shown.germination) >= NOTABLE
