"""What a good grower would say to a sowing: odd but possible things, as notices with the sowing's line.

Each piece of advice is a function from a batch to a sentence, or None. Nothing here changes a figure.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date

from traysheets.base.notices import Notice
from traysheets.plan.model import Method
from traysheets.reckon.binomial import reaches
from traysheets.reckon.days import would_freeze
from traysheets.reckon.emergence import soil_temperature, what_the_table_lacks
from traysheets.reckon.model import Batch, SeedNeed, Source
from traysheets.reckon.rate import MOST_SEEDS_PER_STATION, crowding
from traysheets.reckon.rounding import percent
from traysheets.reckon.stand import fewest_seeds, station_filled

# How many names a warning of the whole plan tells; those left over it counts.
_MOST_NAMED = 4

# Seedlings bear some more neighbours than is usual, not many (judgement, no source).
CROWDED_PART = 1.25

# Fewer than four in five stations or cells with a seedling is a thin stand, whatever confidence is asked for
# (judgement, no source).
THIN_STAND = 0.8

# A few degrees beside what suits a crop make it slow, no more (judgement, no source).
SOIL_MARGIN_C = 3


def _competing(batch: Batch) -> str | None:
    together = {Method.CLUMP: "clumps", Method.STATIONS: "stations"}.get(batch.sowing.method)
    if not batch.sowing.crop.compete or together is None or batch.seeds_per_cell.value == 1 or batch.stations == 1:
        return None
    return (
        f"plants of {batch.sowing.crop.name} shade each other out when sown in {together};"
        ' one a cell is usual (method = "single"), unless they are pricked out early'
    )


def _crowded(batch: Batch) -> str | None:
    usual, seeds = crowding(batch.sowing.crop, batch.tray), batch.seeds_per_cell.value
    if batch.sowing.method is Method.SINGLE or seeds <= usual * CROWDED_PART:
        return None
    long, wide = batch.tray.cell_mm
    return f"{seeds} seeds in a cell of {long:g} x {wide:g} mm are crowded; up to {usual} are usual for the crop there"


def _thin_stand(batch: Batch) -> str | None:
    """Too few seeds given, or so poor a germination that even the most seeds do not reach the confidence."""
    seeds = batch.seeds_per_station or batch.seeds_per_cell
    place = "station" if batch.seeds_per_station else "cell"
    chance, wanted = batch.germination.value, batch.sowing.confidence
    filled = station_filled(chance, seeds.value)
    if seeds.source is not Source.PLAN:
        return _never_enough(batch, filled)
    if reaches(filled, min(wanted, THIN_STAND)):
        return None
    better = fewest_seeds(chance, wanted, seeds.value, MOST_SEEDS_PER_STATION)
    remedy = f"; {better} seeds would fill {percent(station_filled(chance, better))}" if better > seeds.value else ""
    sown = "1 seed" if seeds.value == 1 else f"{seeds.value} seeds"
    empty = f"{percent(1 - filled)} of the {place}s stay empty"
    return f"with {sown} a {place}, at {percent(chance)} germination {empty}{remedy}"


def _never_enough(batch: Batch, filled: float) -> str | None:
    seeds, wanted = batch.seeds_per_station, batch.sowing.confidence
    if seeds is None or reaches(filled, wanted):
        return None
    return (
        f"at {percent(batch.germination.value)} germination even {seeds.value} seeds a station fill only"
        f" {percent(filled)} of the stations, not the {percent(wanted)} wanted"
    )


def _light_kept_out(batch: Batch) -> str | None:
    crop, cover = batch.sowing.crop, batch.sowing.cover_mm
    if not (crop.light or crop.surface) or cover is None:
        return None
    least, most = crop.cover_mm.value if crop.cover_mm else (0.0, 0.0)
    if cover <= most:
        return None
    usual = f"{least:g} to {most:g} mm" if most else "no cover"
    return f"{cover:g} mm of cover keeps light from seed that wants it to germinate; usual is {usual}"


def _soil(batch: Batch) -> str | None:
    best, soil_c = batch.sowing.crop.soil_c, batch.sowing.soil_temp_c
    if best is None or soil_c is None:
        return None
    if best.value[0] - SOIL_MARGIN_C <= soil_c <= best.value[1] + SOIL_MARGIN_C:
        return None
    word = "cold" if soil_c < best.value[0] else "warm"
    suits = f"{best.value[0]:g} to {best.value[1]:g} °C"
    return f"a soil of {soil_c:.3g} °C is {word} for {batch.sowing.crop.name}; {suits} suits it"


def _no_emergence(batch: Batch) -> str | None:
    """What the crop's row of the emergence table lacks at the soil temperature."""
    table, soil = batch.sowing.crop.emergence, soil_temperature(batch.sowing)
    if batch.emergence is not None or soil is None or table is None:
        return None
    lacks = what_the_table_lacks(table.value, soil.value)
    return f"when seedlings come up at {soil.value:.3g} °C cannot be said: {lacks}"


def _order_of_days(batch: Batch) -> str | None:
    """Sowing after planting out, or so late that the crop cannot be ready; thinning or emergence after it has left."""
    if batch.plant_out is None:
        return None
    out, last, weeks = batch.plant_out.value, batch.plant_out_last, batch.sowing.crop.weeks_to_transplant
    if out <= batch.sow:
        return f"the sowing day {batch.sow} is not before the planting-out day {out}"
    days = (out - batch.sow).days
    if weeks and batch.plant_out.source is Source.PLAN and not weeks.value[0] * 7 <= days <= weeks.value[1] * 7:
        usual = f"{weeks.value[0]} to {weeks.value[1]} weeks"
        return f"from sowing on {batch.sow} to planting out on {out} are {days / 7:.3g} weeks; the crop takes {usual}"
    if batch.thin is not None and last is not None and batch.thin > last:
        return f"the seedlings are not ready to be thinned before {batch.thin}, after planting out by {last}"
    seen = batch.emergence
    if seen is not None and seen.soil_c is not None and seen.last >= out:
        until = f"at {seen.soil_c.value:.3g} °C seedlings come up until {seen.last}"
        return f"{until}, and planting out begins on {out}; keep the soil warmer, or plant out later"
    return None


ADVICE: tuple[Callable[[Batch], str | None], ...] = (
    _competing,
    _crowded,
    _thin_stand,
    _light_kept_out,
    _soil,
    _no_emergence,
    _order_of_days,
)


def _named(batch: Batch, text: str) -> Notice:
    return Notice(f"{batch.sowing.crop_name} '{batch.sowing.variety}': {text}", batch.sowing.line)


def past_days(batches: Sequence[Batch], today: date) -> Iterator[Notice]:
    """Once for the plan: sowing days that are past, at the line of the first."""
    past = [batch for batch in batches if batch.sow < today]
    if not past:
        return
    first = min(past, key=lambda batch: batch.sow)
    days = len({batch.sow for batch in past})
    text = f"{days} sowing days are past, the first {first.sow}" if days > 1 else f"the sowing day {first.sow} is past"
    yield Notice(f"{text} (today is {today})", first.sowing.line, passing=True)


def before_last_frost(batches: Sequence[Batch], last_frost: date) -> Iterator[Notice]:
    """A notice for the successions of one sowing that the plan has planted out while frost may still kill them."""
    days = [batch.plant_out.value for batch in batches if batch.plant_out is not None]
    too_early = [day for day in days if would_freeze(batches[0].sowing, day, last_frost)]
    if too_early:
        frost = f"the last frost is reckoned with until {last_frost}, and it kills {batches[0].sowing.crop.name}"
        yield _named(batches[0], f"planting out is planned for {too_early[0]}; {frost}")


def sowing_notices(batches: Sequence[Batch], last_frost: date | None = None) -> Iterator[Notice]:
    """All advice on one sowing, given its successions: once for all of them, as they differ in nothing but days."""
    for advice in ADVICE:
        if text := advice(batches[0]):
            yield _named(batches[0], text)
    if last_frost is not None:
        yield from before_last_frost(batches, last_frost)


def _never_split(batches: Sequence[Batch]) -> Iterator[Notice]:
    """Once for each crop with roots that must not be split apart, where several of its plants share a cell."""
    told: set[str] = set()
    for batch in batches:
        sowing, name = batch.sowing, batch.sowing.crop.name
        together = batch.seeds_per_cell.value > 1 if sowing.method is Method.CLUMP else (batch.stations or 1) > 1
        if sowing.crop.tap_root and together and name not in told:
            told.add(name)
            text = f"the roots of {name} must not be split apart; plant out every cell whole, and young"
            yield Notice(text, sowing.line)


def _some(names: Iterable[str]) -> str:
    """The names in one short list: `Basil, Chives, Dill and 14 more`; one more than are told is told as well."""
    told = list(names)
    if len(told) <= _MOST_NAMED + 1:
        return ", ".join(told)
    return f"{', '.join(told[:_MOST_NAMED])} and {len(told) - _MOST_NAMED} more"


def _not_in_the_table(batches: Sequence[Batch]) -> Iterator[Notice]:
    """Once for the plan: crops that the emergence table does not have, so that no day can be given for seedlings."""
    lacking = dict.fromkeys(b.sowing.crop.name for b in batches if b.sowing.crop.emergence is None)
    if lacking:
        yield Notice(f"when seedlings come up cannot be said: the emergence table has no {_some(lacking)}")


def _soil_assumed(batches: Sequence[Batch]) -> Iterator[Notice]:
    """Once for the plan: crops whose seedlings are reckoned for a soil that nobody has measured."""
    assumed = [batch for batch in batches if batch.sowing.soil_temp_c is None]
    soils = {b.sowing.crop.name: b.emergence.soil_c.value for b in assumed if b.emergence and b.emergence.soil_c}
    unknown = dict.fromkeys(
        b.sowing.crop.name for b in assumed if b.sowing.crop.emergence and soil_temperature(b.sowing) is None
    )
    if soils:
        told = _some(f"{name} {soil_c:.3g} °C" for name, soil_c in soils.items())
        text = f"soil_temp is not given: seedlings are reckoned for the soil that suits each crop best ({told})"
        yield Notice(f"{text}; in cooler soil they come up later")
    if unknown:
        yield Notice(f"when seedlings of {_some(unknown)} come up cannot be said without soil_temp")


def _never_planted_out(batches: Sequence[Batch]) -> Iterator[Notice]:
    """Once for the plan: crops that no table, and no plan, gives the weeks of."""
    lacking = dict.fromkeys(batch.sowing.crop.name for batch in batches if batch.plant_out is None)
    if lacking:
        remedy = "a [[crop]] table may give weeks_to_transplant, or the crop it is like"
        yield Notice(f"no table gives the weeks from sowing to planting out for {_some(lacking)}; {remedy}")


def crop_notices(batches: Sequence[Batch]) -> Iterator[Notice]:
    """What is to be said of crops rather than of single sowings, once however often they are sown."""
    yield from _never_split(batches)
    yield from _soil_assumed(batches)
    yield from _not_in_the_table(batches)
    yield from _never_planted_out(batches)


def seed_notices(need: SeedNeed, batches: Sequence[Batch]) -> Iterator[Notice]:
    """What is odd about one tin of seed: several numbers on hand, or fewer seeds than the plan takes."""
    own = [batches[index] for index in need.batches]
    counts = sorted({batch.sowing.on_hand for batch in own if batch.sowing.on_hand is not None})
    of_lot = f" of lot {need.lot}" if need.lot else ""
    if len(counts) > 1:
        told = " and ".join(f"{count:,}" for count in counts)
        yield _named(own[0], f"on_hand{of_lot} is given as {told}; {counts[-1]:,} is taken, for all sowings together")
    if need.on_hand is not None and need.seeds > need.on_hand:
        short = need.seeds - need.on_hand
        packets = f", {need.packets} x {need.packet:,} seeds to buy" if need.packets and need.packet else ""
        takes = f"the plan takes {need.seeds:,} seeds{of_lot}"
        yield _named(own[0], f"{takes} and {need.on_hand:,} are on hand: {short:,} short{packets}")
