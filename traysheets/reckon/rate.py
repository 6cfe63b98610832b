"""The sowing rate: the germination to reckon with, and how many seeds go in a cell when the plan does not say."""

from dataclasses import dataclass
from functools import cache

from traysheets.plan.model import Method, Sowing
from traysheets.reckon.model import Figure, Source
from traysheets.reckon.rounding import down, middle, nearest
from traysheets.reckon.seen import Seen
from traysheets.reckon.stand import Stand, fewest_seeds, stand
from traysheets.trade.crops import GENERAL_MINIMUM, Crop, Minimum
from traysheets.trade.trays import Tray, built_in_trays

MOST_SEEDS_PER_STATION = 4

# A cell with less than half the top of a 3-inch pot is a plug, planted whole: there the crop's number for plugs caps
# the one scaled from the pot (judgement, no source).
PLUG_PART = 0.5

# For crops whose usual numbers no table knows (common practice, no source).
USUAL_STATIONS = 3
USUAL_CLUMP = 3

_MINIMUM_SOURCE = {
    Minimum.FEDERAL: Source.LEGAL_MINIMUM,
    Minimum.STATE: Source.STATE_MINIMUM,
    Minimum.GROWER: Source.OWN_MINIMUM,
}


@dataclass(frozen=True, slots=True)
class Rate:
    """What goes in a cell. `stations` and `seeds_per_station` are None but for station sowing."""

    germination: Figure[float]
    seeds_per_cell: Figure[int]
    stations: int | None
    seeds_per_station: Figure[int] | None
    stand: Stand


def germination(sowing: Sowing, shown: Seen | None = None) -> Figure[float]:
    """The plan's own figure; what the lot has `shown`, where the plan asks for that; else the minimum.

    That is the grower's own for the crop, the legal one, or the general one.
    """
    if sowing.germination is not None:
        return Figure(sowing.germination, Source.TESTED)
    if sowing.germination_seen and shown is not None:
        return Figure(shown.germination, Source.SEEN, shown.origin)
    minimum = sowing.crop.germination_minimum
    if minimum is None:
        return Figure(GENERAL_MINIMUM.value, Source.GENERAL_MINIMUM, GENERAL_MINIMUM.origin)
    return Figure(minimum.value, _MINIMUM_SOURCE[sowing.crop.minimum_of], minimum.origin)


@cache
def pot_3in_area_mm2() -> float:
    """Area of the top of a 3-inch pot, the measure of the crops' usual numbers: 73 x 73 mm in the tray table."""
    return built_in_trays()["pot-3in"].top_area_mm2


def pots_3in(tray: Tray) -> float:
    """The top of a cell as parts of the top of a 3-inch pot."""
    return tray.top_area_mm2 / pot_3in_area_mm2()


def clump_seeds(crop: Crop, tray: Tray) -> Figure[int]:
    """Seeds of a clump: the middle of the crop's range for a 3-inch pot, scaled by the area of the cell's top.

    In a plug no more than the crop bears in a plug. A crop known for plugs only takes the middle of that
    range whatever the cell: its clump is planted whole, and grows no larger in a larger pot.
    """
    pot, plug = crop.clump_seeds_3in, crop.clump_seeds_cell
    if pot is None:
        return Figure(USUAL_CLUMP, Source.COMMON_PRACTICE) if plug is None else _middle_of(plug.value, plug.origin)
    seeds = max(1, nearest(middle(pot.value) * pots_3in(tray)))
    origin = f"{pot.value[0]} to {pot.value[1]} in a 3 in pot, by the area of the cell's top ({pot.origin})"
    if plug is not None and pots_3in(tray) < PLUG_PART and seeds > plug.value[1]:
        return Figure(plug.value[1], Source.CROP_TABLE, f"at most {plug.value[1]} in a plug ({plug.origin})")
    return Figure(seeds, Source.CROP_TABLE, origin)


def _middle_of(span: tuple[int, int], origin: str) -> Figure[int]:
    return Figure(nearest(middle(span)), Source.CROP_TABLE, f"{span[0]} to {span[1]} in a clump ({origin})")


def station_seeds(chance: float, confidence: float) -> Figure[int]:
    """The fewest seeds, 1 to 4, that fill a station with this confidence; 4 when none does."""
    return Figure(fewest_seeds(chance, confidence, 1, MOST_SEEDS_PER_STATION), Source.RECKONED)


def single_seeds(crop: Crop, chance: float, confidence: float) -> Figure[int]:
    """The fewest seeds that fill a single cell with this confidence, inside the crop's usual range if it has one."""
    if crop.seeds_single is None:
        return station_seeds(chance, confidence)
    least, most = crop.seeds_single.value
    origin = f"{least} to {most} in a single cell ({crop.seeds_single.origin})"
    return Figure(fewest_seeds(chance, confidence, least, most), Source.RECKONED, origin)


def rate(sowing: Sowing, shown: Seen | None = None) -> Rate:
    """The sowing rate of a sowing: the plan's own numbers, and the reckoned ones where it is silent.

    `shown` is what its lot has shown in earlier batches.
    """
    chance = germination(sowing, shown)
    if sowing.method is Method.STATIONS:
        return _station_rate(sowing, chance)
    seeds = _given(sowing.seeds_per_cell)
    if seeds is None and sowing.method is Method.CLUMP:
        seeds = clump_seeds(sowing.crop, sowing.tray)
    if seeds is None:
        seeds = single_seeds(sowing.crop, chance.value, sowing.confidence)
    return Rate(chance, seeds, None, None, stand(sowing.method, chance.value, seeds.value, 1))


def _station_rate(sowing: Sowing, chance: Figure[float]) -> Rate:
    usual = sowing.crop.stations
    stations = sowing.stations or (usual.value if usual else USUAL_STATIONS)
    seeds = _given(sowing.seeds_per_station) or station_seeds(chance.value, sowing.confidence)
    in_cell = Figure(stations * seeds.value, Source.RECKONED, f"{stations} stations x {seeds.value} seeds")
    return Rate(chance, in_cell, stations, seeds, stand(sowing.method, chance.value, seeds.value, stations))


def _given(number: int | None) -> Figure[int] | None:
    return None if number is None else Figure(number, Source.PLAN)


def crowding(crop: Crop, tray: Tray) -> int:
    """The most seeds that are usual in a cell of this tray, by the crop's ranges and the area of the cell's top.

    Crops without a number for a 3-inch pot are taken as 30 in one, the most that is common for alliums; a crop
    known for plugs only may always have that many.
    """
    most_3in = crop.clump_seeds_3in.value[1] if crop.clump_seeds_3in else 30
    in_plug = crop.clump_seeds_cell.value[1] if crop.clump_seeds_cell else 1
    return max(1, in_plug, down(most_3in * pots_3in(tray)))
