"""What the book keeps of a batch and what is asked of it, as plain values; and what tells one batch from another."""

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from traysheets.book.told import told_in


@dataclass(frozen=True, slots=True)
class Identity:
    """What tells one batch from another. The sowing day is always part of it: another day, another batch."""

    crop: str
    variety: str
    sow: date
    lot: str
    method: str
    tray: str
    place: str
    cells: int
    seeds_per_cell: int

    @property
    def plant(self) -> tuple[str, str]:
        """Crop and variety, however their letters are written."""
        return self.crop.casefold(), self.variety.casefold()

    @property
    def same_seed(self) -> tuple[object, ...]:
        """Variety, day, lot and method: what stays when amounts or trays are edited."""
        return self.plant, self.sow, self.lot, self.method

    @property
    def same_packet(self) -> tuple[object, ...] | None:
        """Crop, lot and day: what stays when the spelling of a variety is mended. None without a lot."""
        return (self.crop.casefold(), self.lot, self.sow) if self.lot else None

    @property
    def same_work(self) -> tuple[object, ...]:
        """Crop, day and method: what stays when a variety without a lot is put right."""
        return self.crop.casefold(), self.sow, self.method

    @property
    def same_day(self) -> tuple[object, ...]:
        """Variety and day: what stays when the lot or the method is edited too."""
        return self.plant, self.sow


@dataclass(frozen=True, slots=True)
class Measure:
    """What the numbers noted of a batch are measured by: its cells and what was sown in each, and how it was planned.

    `stations` are the holes of a cell of a station sowing; None for other methods, and where they were not kept.
    """

    sow: date
    method: str
    tray: str
    cells: int
    seeds_per_cell: int
    stations: int | None = None

    @property
    def places_per_cell(self) -> int:
        """Places for a plant in a cell: seeds of a clump, holes of a station sowing, else the cell itself."""
        if self.method == "single":
            return 1
        return self.seeds_per_cell if self.method == "clump" else self.stations or self.seeds_per_cell

    @property
    def seeds_per_place(self) -> int:
        """Seeds in each such place, where that many were sown."""
        return 1 if self.method == "clump" else max(1, self.seeds_per_cell // self.places_per_cell)

    @property
    def called(self) -> str:
        """What such places are called."""
        return {"clump": "seeds", "stations": "holes"}.get(self.method, "cells")


@dataclass(frozen=True, slots=True)
class Wanted:
    """A batch of the plan that needs a code. `own_code` is the grower's own; `line` is where the plan has its sowing.

    `facts` is everything printed about it, as JSON, kept for the day when the plan has changed or is gone.
    """

    identity: Identity
    line: int
    own_code: str | None = None
    repeated: bool = False
    facts: str = "{}"


@dataclass(frozen=True, slots=True)
class Printed:
    """A batch that was printed under a code. `in_plan`: it was still in the plan when that was last printed.

    `position`: at which place it then stood, among batches of which some may be the same in everything.
    """

    code: str
    identity: Identity
    plan: str
    in_plan: bool
    facts: str = "{}"
    position: int = field(default=0, kw_only=True)


@dataclass(frozen=True)
class Kept(Printed):
    """All that the book keeps of a printed batch: also its season, and the days it was printed first and last."""

    season: int = 0
    first_printed: date = date.min
    last_printed: date = date.min

    @cached_property
    def told(self) -> dict[str, Any]:
        """What was printed about it, as plain values; empty when that cannot be read."""
        return told_in(self.facts)

    @cached_property
    def measure(self) -> Measure:
        """What its numbers are measured by, as it was printed last."""
        one = self.identity
        holes = self.told.get("stations") if one.method == "stations" else None
        return Measure(one.sow, one.method, one.tray, one.cells, one.seeds_per_cell, holes)

    @property
    def seedlings_per_seed(self) -> int:
        """Seedlings that one seed may bring: several of a crop whose seeds are clusters, or where that was not kept."""
        return CLUSTER if self.told.get("cluster", True) else 1


CLUSTER = 5
"""Seedlings that one seed may bring: beet and chard seeds are clusters of a few (common practice, no source)."""
