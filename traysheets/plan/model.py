"""The plan as a value: what the grower asked for, defaults filled in, names looked up, lengths in millimetres.

Nothing here reckons. A sowing that is repeated is still one `Sowing`; `reckon` makes a batch of each succession.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from traysheets.base.notices import Notice
from traysheets.trade.crops import Crop
from traysheets.trade.stocks import Stock
from traysheets.trade.trays import Tray


class Method(StrEnum):
    """How a cell is sown."""

    SINGLE = "single"
    CLUMP = "clump"
    STATIONS = "stations"


class Wanted(StrEnum):
    """In what a sowing's amount is given."""

    CELLS = "cells"
    TRAYS = "trays"
    PLANTS = "plants"
    SEEDS = "seeds"


@dataclass(frozen=True, slots=True)
class Amount:
    """How much of a sowing is wanted: so many cells or trays, plants to reach, or seeds to use up."""

    wanted: Wanted
    number: int


@dataclass(frozen=True, slots=True)
class Pin:
    """Cells kept for a sowing: in tray `tray` of the plan, positions `first` to `last` in reading order, from 0."""

    tray: int
    first: int
    last: int

    @property
    def cells(self) -> int:
        """How many cells are pinned."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Repeat:
    """Successions: `times` sowings in all, `every_days` apart."""

    every_days: int
    times: int


@dataclass(frozen=True, slots=True)
class Sowing:
    """One `[[sowing]]` of the plan. Exactly one of `sow`, `plant_out`, `weeks_before_frost` is set.

    `crop_name` is the crop as the grower wrote it. `stations` is set for that method only (1 to 9).
    `germination` is a fraction; `germination_seen` asks for what the book has seen of the lot.
    `sticks` is "run", "cell", or a number in all. `line` is the sowing's first line in the plan file.
    """

    line: int
    crop: Crop
    crop_name: str
    variety: str
    method: Method
    amount: Amount
    tray: Tray
    sow: date | None = None
    plant_out: date | None = None
    weeks_before_frost: int | None = None
    stations: int | None = None
    seeds_per_station: int | None = None
    seeds_per_cell: int | None = None
    lot: str | None = None
    germination: float | None = None
    germination_seen: bool = False
    soil_temp_c: float | None = None
    cover_mm: float | None = None
    repeat: Repeat | None = None
    on_hand: int | None = None
    packet: int | None = None
    treated: bool = False
    code: str = ""
    batch: str | None = None
    sticks: str | int = "run"
    at: tuple[Pin, ...] = ()
    own_trays: bool = False
    place: str = ""
    notes: str = ""
    confidence: float = 0.9
    spare: float = 0.0


@dataclass(frozen=True, slots=True)
class Bench:
    """A bench or a rack of shelves, each `length_mm` x `depth_mm`; `file` and `line` say where it is written."""

    name: str
    length_mm: float
    depth_mm: float
    shelves: int
    line: int
    file: str | None = None


@dataclass(frozen=True, slots=True)
class Pace:
    """Seconds of work a cell, by method; None where the usual pace is to be taken. `helpers` share a sowing day."""

    single_s: float | None = None
    clump_s: float | None = None
    stations_s: float | None = None
    helpers: int = 1


@dataclass(frozen=True, slots=True)
class PrinterTruth:
    """What a ruler said of the printer's check page: scale as measured / meant, and shifts, across and down."""

    scale_across: float = 1.0
    scale_down: float = 1.0
    shift_right_mm: float = 0.0
    shift_down_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan file. `file` is its name for messages; `trays` and `stocks` hold built-in and the grower's own."""

    file: str
    title: str
    season: int
    sowings: tuple[Sowing, ...]
    trays: dict[str, Tray]
    stocks: dict[str, Stock]
    grower: str = ""
    last_frost: date | None = None
    record_url: str | None = None
    units: str = "metric"
    languages: tuple[str, ...] = ("en",)
    place: str = ""
    stock: str | None = None
    paper: str | None = None
    compare: Tray | None = None
    benches: tuple[Bench, ...] = ()
    pace: Pace = Pace()
    printer: PrinterTruth = PrinterTruth()
    fonts: tuple[str, ...] = ()
    notices: tuple[Notice, ...] = ()
