"""Crops: how each is usually sown and grown on, each figure with where it comes from."""

from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Fact(Generic[T]):
    """A figure of the trade and its origin: `found: ...`, `from memory`, or `computed`."""

    value: T
    origin: str


@dataclass(frozen=True, slots=True)
class EmergencePoint:
    """Days from sowing to emergence at one soil temperature; `days` is None where nothing came up or was tested."""

    temp_c: float
    days: float | None
    state: str


@dataclass(frozen=True, slots=True)
class Crop:
    """A crop under its table name, with the other names it is written under.

    Ranges are (least, most). None where the tables are silent. `usual_method` is "single", "clump" or "stations".
    `clump_seeds_3in` is for a 3-inch pot sown as one clump, `clump_seeds_cell` for a small plug.
    `light` says that the seed wants light to germinate; `surface` that it is not covered at all.
    `cluster` marks seeds that are fruits holding several (beet, chard). `compete` marks crops whose plants
    shade each other out when sown in clumps or stations; `tap_root` those whose roots must not be split apart;
    `trim` alliums that are cut back when long in the pot. `seed_mm` is the usual (length, width) of one seed.
    """

    name: str
    aliases: tuple[str, ...]
    family: str
    usual_method: str
    multi_sow: bool
    germination_minimum: Fact[float] | None
    seeds_per_gram: Fact[float] | None
    clump_seeds_3in: Fact[tuple[int, int]] | None
    clump_seeds_cell: Fact[tuple[int, int]] | None
    stations: Fact[int] | None
    seeds_per_station: Fact[tuple[int, int]] | None
    seeds_single: Fact[tuple[int, int]] | None
    cover_mm: Fact[tuple[float, float]] | None
    soil_c: Fact[tuple[float, float]] | None
    weeks_to_transplant: Fact[tuple[int, int]] | None
    emergence: Fact[tuple[EmergencePoint, ...]] | None
    light: bool = False
    surface: bool = False
    cluster: bool = False
    compete: bool = False
    tap_root: bool = False
    trim: bool = False
    seed_mm: Fact[tuple[float, float]] | None = None
    at_planting: str = ""
    notes: str = ""
    origin: str = ""
