"""What reckoning gives: one `Batch` a sowing and succession, every figure with how it came about."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Generic, TypeVar

from traysheets.base.notices import Notice
from traysheets.plan.model import Plan, Sowing
from traysheets.trade.trays import Tray

T = TypeVar("T")


class Source(StrEnum):
    """How a figure came about. The values are keys of the words of the sheets."""

    PLAN = "plan"
    TESTED = "tested"
    SEEN = "seen"
    LEGAL_MINIMUM = "legal_minimum"
    STATE_MINIMUM = "state_minimum"
    GENERAL_MINIMUM = "general_minimum"
    OWN_MINIMUM = "own_minimum"
    CROP_TABLE = "crop_table"
    EMERGENCE_TABLE = "emergence_table"
    LAST_FROST = "last_frost"
    COMMON_PRACTICE = "common_practice"
    RECKONED = "reckoned"


@dataclass(frozen=True, slots=True)
class Figure(Generic[T]):
    """A value and how it came about; `origin` is the trade table's own word on it, for those who ask further."""

    value: T
    source: Source
    origin: str = ""


@dataclass(frozen=True, slots=True)
class Emergence:
    """When seedlings are to be looked for, from the `first` day to the `last`.

    `days` from sowing, to a tenth, are what the table gives at `soil_c`; the crop's own middle when the plan is silent.
    """

    first: date
    last: date
    source: Source
    origin: str = ""
    days: float = 0.0
    soil_c: Figure[float] | None = None


@dataclass(frozen=True, slots=True)
class Batch:
    """The plants of one sowing on one day. `index` counts batches in plan order from 0; `succession` from 1.

    `seeds_per_cell` are all seeds of a cell, whatever the method. `seeds_total` are sown, `seeds_spare` set aside
    beside them, and `seeds_left` of an amount in seeds did not fill a cell. `seed_grams` and `packets` are of all that
    is set out for the sowing: total and spare.
    `plants_expected` is the mean of the binomial; `plants_low` is reached with the sowing's confidence.
    `stand_chance` is the chance that every station of a cell (or a single cell) has a seedling; None for clumps.
    Seconds are of work for the whole batch.
    """

    index: int
    sowing: Sowing
    succession: int
    successions: int
    sow: date
    cells: int
    seeds_per_cell: Figure[int]
    stations: int | None
    seeds_per_station: Figure[int] | None
    seeds_total: int
    seeds_spare: int
    seeds_left: int
    seed_grams: Figure[float] | None
    packets: int | None
    germination: Figure[float]
    plants_expected: float
    plants_low: int
    stand_chance: float | None
    cover_mm: Figure[float] | None
    emergence: Emergence | None
    thin: date | None
    trim: date | None
    harden_off: date | None
    plant_out: Figure[date] | None
    plant_out_last: date | None
    mix_litres: float
    seconds: float

    @property
    def tray(self) -> Tray:
        """The kind of tray the batch stands in."""
        return self.sowing.tray

    @property
    def germination_assumed(self) -> bool:
        """Whether the germination is a minimum for the crop, not what a test or the book says of the lot."""
        return self.germination.source not in (Source.PLAN, Source.TESTED, Source.SEEN)


@dataclass(frozen=True, slots=True)
class SeedNeed:
    """Seed of one variety and lot over the whole plan, spare too, against what is on hand and what a packet holds.

    `crop` is as the grower wrote it. `to_buy` leaves out sowings that use up a number of seeds: those are on hand.
    """

    crop: str
    variety: str
    lot: str | None
    seeds: int
    on_hand: int | None
    to_buy: int
    packet: int | None
    packets: int | None
    grams: float | None
    batches: tuple[int, ...]
    treated: bool


@dataclass(frozen=True, slots=True)
class Reckoned:
    """The whole plan reckoned. Totals over trays are reckoned after arranging, from `Trays`."""

    plan: Plan
    batches: tuple[Batch, ...]
    seed_needs: tuple[SeedNeed, ...]
    notices: tuple[Notice, ...]
