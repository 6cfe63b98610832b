"""Seed by weight and by packet, and the seed of the whole plan against what is on hand."""

from collections.abc import Iterable
from datetime import date
from itertools import groupby

from traysheets.plan.model import Wanted
from traysheets.reckon.model import Batch, Figure, SeedNeed, Source
from traysheets.trade.crops import Crop

Lot = tuple[str, str, str | None]


def weight_grams(seeds: int, crop: Crop) -> Figure[float] | None:
    """Weight of so many seeds: seeds / seeds per gram. None when no table has the crop. Clusters count as seeds."""
    rate = crop.seeds_per_gram
    return Figure(seeds / rate.value, Source.CROP_TABLE, rate.origin) if rate else None


def packets_for(seeds: int, packet: int | None) -> int | None:
    """Packets to open, or to buy, for so many seeds; None when it is not said what a packet holds."""
    return -(-seeds // packet) if packet else None


def lot_of(batch: Batch) -> Lot:
    """What seed a batch is sown from: the same crop, variety and lot are the same tin."""
    sowing = batch.sowing
    return sowing.crop.name, sowing.variety, sowing.lot


def by_lot(batches: Iterable[Batch]) -> list[list[Batch]]:
    """The batches of each tin, tins in the order in which the plan first names them."""
    batches = list(batches)
    order = {lot: place for place, lot in enumerate(dict.fromkeys(map(lot_of, batches)))}
    ordered = sorted(batches, key=lambda batch: order[lot_of(batch)])
    return [list(group) for _, group in groupby(ordered, key=lot_of)]


def set_out(batch: Batch) -> int:
    """Seeds set out for a batch: what is sown and what is spare."""
    return batch.seeds_total + batch.seeds_spare


def in_tin(batches: Iterable[Batch]) -> int | None:
    """Seeds on hand of one lot. Of several numbers the largest: the others may be what was thought to be left."""
    return max((batch.sowing.on_hand for batch in batches if batch.sowing.on_hand is not None), default=None)


def is_in_packets(on_hand: int | None, packet: int | None) -> bool:
    """Whether seed on hand may be in whole packets; an opened one, or a tin, holds any other number."""
    return on_hand is None or packet is None or on_hand % packet == 0


def left_in_tin(batches: Iterable[Batch], day: date) -> int | None:
    """Seeds that are on hand of one lot on the morning of a day, after the sowings of earlier days; 0 when all went."""
    own = list(batches)
    on_hand = in_tin(own)
    return None if on_hand is None else max(0, on_hand - sum(set_out(batch) for batch in own if batch.sow < day))


def seed_need(batches: list[Batch]) -> SeedNeed:
    """The seed of one tin over the plan. What is not known to be on hand has to be bought, but for seed to use up."""
    first = batches[0].sowing
    seeds = sum(map(set_out, batches))
    on_hand = in_tin(batches)
    bought = sum(set_out(batch) for batch in batches if batch.sowing.amount.wanted is not Wanted.SEEDS)
    to_buy = bought if on_hand is None else max(0, seeds - on_hand)
    packet = next((batch.sowing.packet for batch in batches if batch.sowing.packet), None)
    grams = weight_grams(seeds, first.crop)
    return SeedNeed(
        crop=first.crop_name,
        variety=first.variety,
        lot=first.lot,
        seeds=seeds,
        on_hand=on_hand,
        to_buy=to_buy,
        packet=packet,
        packets=packets_for(to_buy, packet),
        grams=grams.value if grams else None,
        batches=tuple(batch.index for batch in batches),
        treated=any(batch.sowing.treated for batch in batches),
    )


def seed_needs(batches: Iterable[Batch]) -> tuple[SeedNeed, ...]:
    """The seed of every variety and lot of the plan, in the plan's order."""
    return tuple(map(seed_need, by_lot(batches)))
