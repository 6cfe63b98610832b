"""The stand: how likely a station, a cell, and so many plants of a sowing are, and how many cells a stand takes.

With germination g and n seeds in a station (or in a single cell): station filled p = 1 - (1 - g)^n; cell of k stations
full p^k; plants over a sowing binomial, of cells x k stations at p, or of cells x n seeds at g for a clump. These are
the binomial distribution's own definitions (any textbook of probability); how many seeds to sow is settled elsewhere.
"""

import math
from dataclasses import dataclass

from traysheets.plan.model import Method
from traysheets.reckon.binomial import fewest_groups, most_reached, reaches


def station_filled(germination: float, seeds: int) -> float:
    """The chance that at least one of the seeds of a station comes up: 1 - (1 - g)^n."""
    return float(1 - (1 - germination) ** seeds)


def cell_full(filled: float, stations: int) -> float:
    """The chance that every station of a cell has a seedling: p^k."""
    return float(filled**stations)


def fewest_seeds(germination: float, confidence: float, least: int, most: int) -> int:
    """The fewest seeds, from `least` to `most`, that fill a station with this confidence; `most` when none does."""
    numbers = range(least, most)
    return next((n for n in numbers if reaches(station_filled(germination, n), confidence)), most)


@dataclass(frozen=True, slots=True)
class Stand:
    """What a cell may bring: so many `places` for a plant, each taken with the same `chance`.

    A place is a station, the middle of a single cell, or a seed of a clump.
    """

    places: int
    chance: float

    def expected(self, cells: int) -> float:
        """Plants to be expected: the mean of the binomial, cells x places x chance."""
        return cells * self.places * self.chance

    def low(self, cells: int, confidence: float) -> int:
        """The most plants that are reached with at least this confidence."""
        return most_reached(cells * self.places, self.chance, confidence)

    def cells_for(self, plants: int, confidence: float) -> int:
        """The fewest cells whose chance of so many plants or more is at least the confidence."""
        return fewest_groups(self.places, self.chance, plants, confidence)

    def rough_cells(self, plants: int) -> float:
        """Cells that bring so many plants on the mean; to see whether a number is out of all reason."""
        mean = self.expected(1)
        return plants / mean if mean else math.inf


def stand(method: Method, germination: float, seeds: int, stations: int) -> Stand:
    """The stand of a cell: `seeds` in a clump or in each of its `stations` (1 for a single cell)."""
    if method is Method.CLUMP:
        return Stand(seeds, germination)
    return Stand(stations, station_filled(germination, seeds))


def stand_chance(method: Method, places: Stand) -> float | None:
    """The chance that every station of a cell, or the single cell, has a seedling; None for a clump."""
    return None if method is Method.CLUMP else cell_full(places.chance, places.places)
