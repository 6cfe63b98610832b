"""What a volunteer must know of a batch, as plain values: the lesson that a page of the guide teaches in pictures.

Two batches with the same lesson have the same pictures. How it is said in words is `guide_sayings.py`.
"""

from dataclasses import dataclass
from enum import StrEnum

from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets.pictures.seeds import SeedKind, seed_kind
from traysheets.trade.trays import Tray

_POT_FROM_MM = 62.0
_TRAY_FROM_MM = 150.0
"""Shorter side of the cell from which a cell is called a pot, and an open tray (judgement, no source)."""

_FINE_BELOW_MM = 1.2
"""Length of a seed below which a can's rose would wash it away (judgement, no source)."""


class Vessel(StrEnum):
    """What is filled and sown. The values are parts of keys of the words of the sheets."""

    POT = "pot"
    CELL = "cell"
    BLOCK = "block"
    TRAY = "tray"


class Covering(StrEnum):
    """How seed is covered: mix over it, its hole closed, not at all, or as the packet says."""

    OVER = "over"
    HOLES = "holes"
    BARE = "bare"
    PACKET = "packet"


@dataclass(frozen=True, slots=True)
class Lesson:
    """How a batch is sown. `holes` is 0 where seed is scattered; `gap_mm` is from the rim down to the filled
    mix. `alone`: the tray is one cell.
    """

    method: Method
    seeds_in_cell: int
    holes: int
    vessel: Vessel
    cell_mm: tuple[float, float]
    round: bool
    depth_mm: float
    seed: SeedKind
    covering: Covering
    cover_mm: float | None
    gap_mm: float
    fine: bool
    treated: bool
    stick_in_every_cell: bool
    alone: bool

    @property
    def in_hole(self) -> int:
        """Seeds in each hole; all of the cell where it is scattered."""
        return self.seeds_in_cell // (self.holes or 1)

    @property
    def side_mm(self) -> float:
        """The shorter side of the cell."""
        return min(self.cell_mm)


def lesson(batch: Batch) -> Lesson:
    """The lesson of a batch."""
    sowing, tray = batch.sowing, batch.tray
    holes = batch.stations or (1 if sowing.method is Method.SINGLE else 0)
    cover = batch.cover_mm.value if batch.cover_mm else None
    covering = _covering(cover, holes)
    seed = seed_kind(sowing.crop)
    kind = vessel(tray)
    return Lesson(
        method=sowing.method,
        seeds_in_cell=batch.seeds_per_cell.value,
        holes=holes,
        vessel=kind,
        cell_mm=tray.cell_mm,
        round=tray.shape == "round",
        depth_mm=tray.depth_mm,
        seed=seed,
        covering=covering,
        cover_mm=cover,
        gap_mm=0.0 if kind is Vessel.BLOCK else fill_gap_mm(tray, cover if covering is Covering.OVER else 0.0),
        fine=seed.length_mm < _FINE_BELOW_MM or covering is Covering.BARE,
        treated=sowing.treated,
        stick_in_every_cell=sowing.sticks == "cell",
        alone=tray.cells == 1,
    )


def vessel(tray: Tray) -> Vessel:
    """What a cell of the tray is called."""
    if tray.family == "soil block":
        return Vessel.BLOCK
    side = min(tray.cell_mm)
    return Vessel.TRAY if side >= _TRAY_FROM_MM else Vessel.POT if side >= _POT_FROM_MM else Vessel.CELL


def fill_gap_mm(tray: Tray, cover_mm: float | None) -> float:
    """How far below the rim to fill, in whole mm: room for water, and for the cover where it is laid over the seed.

    For water an eighth of the depth, 3 to 8 mm (common practice, no source). Never more than half of the depth.
    """
    water = min(max(tray.depth_mm / 8, 3.0), 8.0)
    return float(round(min(max(water, (cover_mm or 0.0) + 2.0), tray.depth_mm / 2)))


def _covering(cover_mm: float | None, holes: int) -> Covering:
    if cover_mm is None:
        return Covering.PACKET
    if cover_mm == 0:
        return Covering.BARE
    return Covering.HOLES if holes else Covering.OVER
