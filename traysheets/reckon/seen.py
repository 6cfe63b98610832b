"""What counts of seedlings say: whether a batch comes up as expected, how its seed lot germinates, what to sow again.

A count is of places: seeds of a clump, holes of a station sowing, else cells, and how many of them show a plant.
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from statistics import NormalDist
from typing import TypeAlias

from traysheets.reckon.binomial import at_least, most_reached
from traysheets.reckon.rounding import percent
from traysheets.reckon.stand import Stand

RANGE = 0.95
"""How much of what chance does lies inside the ranges given here, half of the rest beyond either end."""

NOTABLE = 0.05
"""A share of places filled that is nearer than this to the expected one is in line, however many were counted: the
germination it was expected by is a sample itself (judgement, no source)."""

_HALVINGS = 60
_END = 1e-12
"""Where the search for a germination ends, short of 0 and 1, at which the sums have no value."""
_PLACES = 9


class Line(StrEnum):
    """How a count stands to what was expected."""

    EARLY = "early"
    IN_LINE = "in line"
    LOW = "low"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class Verdict:
    """A count of `up` in so many places against the number `expected`, the mean of the binomial.

    Numbers from `low` to `high` come by chance in `RANGE` of all cases. `chance` is that of a count so low, or so high,
    or beyond.
    """

    line: Line
    up: int
    places: int
    expected: float
    low: int
    high: int
    chance: float


def verdict(up: int, places: int, filled: float, *, complete: bool = True) -> Verdict:
    """A count in `places` (1 or more) set against the chance that a place is filled.

    In line: inside the range, or nearer than `NOTABLE`. Not `complete`: counted while more are still to come, which few
    cannot speak against. More than the places, as when a hand was heavy, count as all of them.
    """
    counted = min(up, places)
    expected = places * filled
    beyond = (1 - RANGE) / 2
    low, high = range_of(places, filled, beyond)
    # So few come up is so many stay down: the tail itself, not 1 less the other tail, which loses the small ones.
    at_most = at_least(places, 1 - filled, places - counted) if filled < 1 else float(counted == places)
    above = counted > expected
    chance = at_least(places, filled, counted) if above else at_most
    inside = low <= up <= high or abs(up / places - filled) < NOTABLE
    line = _line(above, inside, complete)
    return Verdict(line, up, places, expected, low, high, chance)


def _line(above: bool, inside: bool, complete: bool) -> Line:
    if above and not inside:
        return Line.HIGH
    if not complete:
        return Line.EARLY
    return Line.IN_LINE if inside else Line.LOW


def range_of(places: int, filled: float, beyond: float) -> tuple[int, int]:
    """The least and the largest count that are not beyond: less, and more, have a chance of at most `beyond` each."""
    low = most_reached(places, filled, 1 - beyond)
    high = places - (most_reached(places, 1 - filled, 1 - beyond) if filled < 1 else 0)
    return low, high


# ---- the germination of a lot

LotKey: TypeAlias = tuple[str, str, str]
"""What tells a lot: crop, variety, and what stands on the packet."""


def lot_key(crop: str, variety: str, lot: str) -> LotKey:
    """The key of a lot, however its letters are written."""
    return crop.casefold(), variety.casefold(), lot.casefold()


@dataclass(frozen=True, slots=True)
class Count:
    """A finished count of one batch, sown on a day: of `places` sown with `seeds` each, `up` show a plant."""

    places: int
    seeds: int
    up: int
    sown: date = date.min

    @property
    def germination(self) -> float:
        """The share g of seeds that came up: 1 - (1 - g)^n is the share of places filled, solved for g."""
        return float(1 - (1 - self.counted / self.places) ** (1 / self.seeds))

    @property
    def counted(self) -> int:
        """The places filled: no more than there are, as when a hand was heavy or seeds are clusters."""
        return min(self.up, self.places)


@dataclass(frozen=True, slots=True)
class Seen:
    """The germination that a lot has shown, with its interval (95 %), over so many batches of so many seeds in all."""

    germination: float
    low: float
    high: float
    batches: int
    seeds: int

    @property
    def origin(self) -> str:
        """Where the figure comes from: `82 % seen in 3 batches, 75 to 87 %`."""
        return f"{self.words}, {percent(round(self.low, 2)).removesuffix(' %')} to {percent(round(self.high, 2))}"

    @property
    def words(self) -> str:
        """The figure in words: `82 % seen in 3 batches`."""
        batches = "1 batch" if self.batches == 1 else f"{self.batches} batches"
        return f"{percent(round(self.germination, 2))} seen in {batches}"


def seen(counts: Sequence[Count]) -> Seen | None:
    """The germination of a lot pooled over its batches; None where no place was counted.

    The likeliest g, where the slope of the likelihood of all counts is 0; with one seed a place that is up / seeds.
    The interval is Wilson's score interval (E. B. Wilson, 1927, Journal of the American Statistical Association 22,
    209-212), which asks at which g a count as far off would just be chance; here with the binomial of each batch at its
    own 1 - (1 - g)^n. With one seed a place it is Wilson's own. It takes the batches to be alike but for chance.
    """
    counts = [count for count in counts if count.places > 0]
    if not counts:
        return None
    deviations = NormalDist().inv_cdf((1 + RANGE) / 2)
    pooled = _pooled(counts)
    likeliest = pooled[0].germination if len(pooled) == 1 else _falls_to(0.0, pooled, 0.0, 1.0)
    return Seen(
        germination=likeliest,
        low=_falls_to(deviations, pooled, 0.0, likeliest),
        high=_falls_to(-deviations, pooled, likeliest, 1.0),
        batches=len(counts),
        seeds=sum(count.places * count.seeds for count in counts),
    )


def _pooled(counts: Sequence[Count]) -> list[Count]:
    """The counts added up by the seeds of a place: with the same number in each, they are counts of one binomial."""
    sums: defaultdict[int, list[int]] = defaultdict(lambda: [0, 0])
    for count in counts:
        sums[count.seeds][0] += count.places
        sums[count.seeds][1] += count.counted
    return [Count(places, seeds, up) for seeds, (places, up) in sums.items()]


def _falls_to(deviations: float, counts: Sequence[Count], low: float, high: float) -> float:
    """The g between two others where the falling score comes to so many deviations; an end where it never does."""
    low, high = max(low, _END), min(high, 1 - _END)
    for _ in range(_HALVINGS):
        half = (low + high) / 2
        low, high = (half, high) if _score(counts, half) > deviations else (low, half)
    return round((low + high) / 2, _PLACES)


def _score(counts: Sequence[Count], g: float) -> float:
    """The slope of the log likelihood at g over its standard deviation: how far off, in deviations, all counts are.

    With p = 1 - (1 - g)^n a place: sum of (up - places p) p' / (p (1 - p)), over the root of the sum of
    places p'^2 / (p (1 - p)), p' = n (1 - g)^(n - 1).
    """
    slope = information = 0.0
    for count in counts:
        empty = (1 - g) ** count.seeds
        filled = -math.expm1(count.seeds * math.log1p(-g))
        rise = count.seeds * empty / (1 - g)
        weight = rise / (filled * empty)
        slope += (count.places * empty - (count.places - count.counted)) * weight
        information += count.places * rise * weight
    return slope / math.sqrt(information)


# ---- sowing again


@dataclass(frozen=True, slots=True)
class Again:
    """What to sow now. `cells` and `seeds` are None when no number of them would do: the seed is dead.

    `days_short`: how much more time it takes than there is; 0 in time, None where no day of planting out is known.
    """

    missing: int
    cells: int | None
    seeds: int | None
    days_short: int | None


def sow_again(
    wanted: int,
    up: int,
    stand: Stand,
    seeds_per_cell: int,
    confidence: float,
    days_needed: int | None,
    days_left: int | None,
) -> Again | None:
    """What to sow again to reach the wanted plants, of which `up` are there; None when none is missing.

    `stand` is a cell's at the germination that the lot has shown. The cells are the fewest that bring the missing
    plants with the confidence. `days_needed` from sowing until planting out, `days_left` until its last day.
    """
    missing = wanted - up
    if missing <= 0:
        return None
    short = None if days_needed is None or days_left is None else max(0, days_needed - days_left)
    if stand.chance <= 0:
        return Again(missing, None, None, short)
    cells = stand.cells_for(missing, confidence)
    return Again(missing, cells, cells * seeds_per_cell, short)
