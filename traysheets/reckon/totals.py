"""The whole plan in a few numbers, and beside it the same plants sown one a cell."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from traysheets.plan.model import Method, Pace, Plan
from traysheets.reckon.bench import area_m2
from traysheets.reckon.minutes import seconds_a_cell
from traysheets.reckon.mix import cubic_feet
from traysheets.reckon.model import Batch
from traysheets.trade.trays import Tray


@dataclass(frozen=True, slots=True)
class Totals:
    """The plan in all. `seeds` are sown, `seeds_spare` set aside; `seed_grams` is the weight of both.

    `unweighed` batches are of crops whose seed no table weighs: `seed_grams` leaves them out, and is None if no
    batch can be weighed. Minutes are of one pair of hands.
    """

    trays: int
    cells: int
    seeds: int
    seeds_spare: int
    seed_grams: float | None
    unweighed: int
    mix_litres: float
    bench_m2: float
    minutes: float

    @property
    def mix_cubic_feet(self) -> float:
        """The mix as bags are sold."""
        return cubic_feet(self.mix_litres)


@dataclass(frozen=True, slots=True)
class Comparison:
    """The same plants one a cell in `tray`: trays, cells, square metres of tray, minutes of one pair of hands."""

    tray: Tray
    trays: int
    cells: int
    bench_m2: float
    minutes: float


def totals(batches: Sequence[Batch], kinds: Iterable[Tray]) -> Totals:
    """Sums over the batches, and over the kinds of the trays they were arranged in, one for each tray."""
    areas = [area_m2(kind) for kind in kinds]
    grams = [batch.seed_grams.value for batch in batches if batch.seed_grams is not None]
    return Totals(
        trays=len(areas),
        cells=sum(batch.cells for batch in batches),
        seeds=sum(batch.seeds_total for batch in batches),
        seeds_spare=sum(batch.seeds_spare for batch in batches),
        seed_grams=sum(grams) if grams else None,
        unweighed=len(batches) - len(grams),
        mix_litres=sum(batch.mix_litres for batch in batches),
        bench_m2=sum(areas),
        minutes=sum(batch.seconds for batch in batches) / 60,
    )


def cells_one_a_cell(batch: Batch) -> int:
    """Cells that bring the same plants when none shares one: each station, and each seed of a clump, gets its own.

    The chances stay what they were, so the stand is the same binomial: the same plants on the mean, and the same
    number reached with the same confidence.
    """
    if batch.sowing.method is Method.CLUMP:
        return batch.cells * batch.seeds_per_cell.value
    return batch.cells * (batch.stations or 1)


def trays_one_a_cell(batches: Iterable[Batch], tray: Tray) -> int:
    """Trays that takes, shared inside a sowing day and place as the plan's own are."""
    shared: dict[object, int] = {}
    for batch in batches:
        key = (batch.sow, batch.sowing.place, batch.index if batch.sowing.own_trays else None)
        shared[key] = shared.get(key, 0) + cells_one_a_cell(batch)
    return sum(-(-cells // tray.cells) for cells in shared.values())


def compare(batches: Sequence[Batch], tray: Tray, pace: Pace) -> Comparison:
    """The same plants one a cell in this tray."""
    cells = sum(map(cells_one_a_cell, batches))
    trays = trays_one_a_cell(batches, tray)
    seconds = cells * seconds_a_cell(Method.SINGLE, None, pace)
    return Comparison(tray, trays, cells, trays * area_m2(tray), seconds / 60)


def plan_comparison(plan: Plan, batches: Sequence[Batch]) -> Comparison | None:
    """These batches of a plan beside what it says it is to be compared with; None when it says nothing."""
    return compare(batches, plan.compare, plan.pace) if plan.compare else None
