"""Trays: how many cells, how large, and where each stands."""

import math
import re
from dataclasses import dataclass
from functools import cache

from traysheets.base.cells import cell_name, row_number
from traysheets.trade.tables import SLACK_MM, pair, read_table

# Plugs and pots narrow downwards; 0.55 of the top is the usual base (common practice, no source: it gives the middle
# of the built-in trays' own volumes).
USUAL_TAPER = 0.55


@dataclass(frozen=True, slots=True)
class Tray:
    """One kind of tray seen from above, its long side across: columns run along the length, rows down the width.

    `outer_mm`, `cell_mm` and `pitch_mm` are (along the length, along the width). The grid of cells stands in the
    middle of the tray. `volume_ml` is of one cell. `shape` is "square" (or rectangular) or "round". `family` is that of
    the built-in table: "pot", "soil block", or the region whose benches a tray is made for.
    """

    name: str
    title: str
    rows: int
    columns: int
    outer_mm: tuple[float, float]
    cell_mm: tuple[float, float]
    pitch_mm: tuple[float, float]
    depth_mm: float
    volume_ml: float
    shape: str = "square"
    origin: str = ""
    volume_origin: str = ""
    built_in: bool = True
    family: str = ""

    @property
    def cells(self) -> int:
        """How many cells the tray has."""
        return self.rows * self.columns

    def position(self, cell: int) -> tuple[int, int]:
        """Row and column, from 0, of the `cell`-th cell in reading order."""
        return divmod(cell, self.columns)

    def cell_name(self, cell: int) -> str:
        """The name of a cell given in reading order from 0: `A1` is the marked corner."""
        return cell_name(*self.position(cell))

    def cell_number(self, name: str) -> int:
        """The reading-order number, from 0, of the cell called `name`. Raises ValueError when there is none such."""
        found = re.fullmatch(r"([A-Z]{1,3})([1-9][0-9]{0,3})", name.strip().upper())
        if not found:
            raise ValueError(f"'{name}' is not a cell; cells are named by row letter and column number, like A1")
        row, column = row_number(found[1]), int(found[2]) - 1
        if row >= self.rows or column >= self.columns:
            last = self.cell_name(self.cells - 1)
            raise ValueError(f"there is no cell {found[0]} in {self.name}: its cells run from A1 to {last}")
        return row * self.columns + column

    def centre_mm(self, cell: int) -> tuple[float, float]:
        """Centre of a cell from the tray's outer corner at A1: (along the length, along the width)."""
        row, column = self.position(cell)
        across = self.outer_mm[0] / 2 + (column - (self.columns - 1) / 2) * self.pitch_mm[0]
        down = self.outer_mm[1] / 2 + (row - (self.rows - 1) / 2) * self.pitch_mm[1]
        return across, down

    @property
    def top_area_mm2(self) -> float:
        """Area of a cell's top."""
        return top_area_mm2(self.cell_mm, self.shape)


def top_area_mm2(cell_mm: tuple[float, float], shape: str) -> float:
    """Area of a cell's top: a circle (or ellipse), pi/4 of the rectangle round it, or the rectangle itself."""
    area = cell_mm[0] * cell_mm[1]
    return area * math.pi / 4 if shape == "round" else area


def usual_volume_ml(cell_mm: tuple[float, float], depth_mm: float, shape: str) -> float:
    """Volume of a cell whose maker gives none: a frustum with a base of USUAL_TAPER the top, full to the brim.

    Frustum: depth x (top + base + sqrt(top x base)) / 3, with base = top x taper squared.
    """
    top = top_area_mm2(cell_mm, shape)
    return depth_mm * top * (1 + USUAL_TAPER + USUAL_TAPER**2) / 3 / 1000


@cache
def _table() -> dict[str, Tray]:
    return {row["name"]: _tray(row) for row in read_table("trays")}


def _tray(row: dict[str, str]) -> Tray:
    return Tray(
        name=row["name"],
        title=row["title"],
        rows=int(row["rows"]),
        columns=int(row["columns"]),
        outer_mm=pair(row, "outer_length_mm", "outer_width_mm"),
        cell_mm=pair(row, "cell_length_mm", "cell_width_mm"),
        pitch_mm=pair(row, "pitch_length_mm", "pitch_width_mm"),
        depth_mm=float(row["depth_mm"]),
        volume_ml=float(row["volume_ml"]),
        shape=row["shape"],
        origin=row["origin"],
        volume_origin=row["volume_origin"],
        family=row["family"],
    )


def built_in_trays() -> dict[str, Tray]:
    """The trays of `data/trays.csv` by name, in its order."""
    return dict(_table())


def misfits(tray: Tray) -> tuple[str, ...]:
    """What cannot be right about a tray's sizes, a sentence each; empty when all cells fit, side by side, inside."""
    sides = (("along", "columns", "long", tray.columns, 0), ("across", "rows", "wide", tray.rows, 1))
    found = [text for side in sides for text in _side_misfits(tray, *side)]
    if tray.shape == "round" and abs(tray.cell_mm[0] - tray.cell_mm[1]) > SLACK_MM:
        found.append(f"a round cell has one width, not {tray.cell_mm[0]:g} mm and {tray.cell_mm[1]:g} mm")
    return tuple(found)


def _side_misfits(tray: Tray, way: str, lines: str, size: str, count: int, side: int) -> list[str]:
    """What does not fit along one side: cells wider than their pitch, a grid larger than the tray."""
    cell, pitch, outer = tray.cell_mm[side], tray.pitch_mm[side], tray.outer_mm[side]
    found = []
    if count > 1 and cell > pitch + SLACK_MM:
        found.append(
            f"cells of {cell:g} mm every {pitch:g} mm {way} the tray would overlap: the pitch is at least a cell"
        )
    taken = (count - 1) * pitch + cell
    if taken > outer + SLACK_MM:
        grid = f"{count} {lines} of {cell:g} mm cells every {pitch:g} mm take" if count > 1 else "its cell takes"
        found.append(f"{grid} {taken:g} mm, but the tray is {outer:g} mm {size}")
    return found
