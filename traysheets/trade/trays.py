"""Trays: how many cells, how large, and where each stands."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tray:
    """One kind of tray seen from above, its long side across: columns run along the length, rows down the width.

    `outer_mm`, `cell_mm` and `pitch_mm` are (along the length, along the width). The grid of cells stands in the
    middle of the tray. `volume_ml` is of one cell. `shape` is "square" (or rectangular) or "round".
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

    @property
    def cells(self) -> int:
        """How many cells the tray has."""
        return self.rows * self.columns

    def position(self, cell: int) -> tuple[int, int]:
        """Row and column, from 0, of the `cell`-th cell in reading order."""
        return divmod(cell, self.columns)

    def cell_name(self, cell: int) -> str:
        """The name of a cell given in reading order from 0: `A1` is the marked corner."""
        row, column = self.position(cell)
        return f"{row_letters(row)}{column + 1}"

    def cell_number(self, name: str) -> int:
        """The reading-order number, from 0, of the cell called `name`. Raises ValueError when the tray has none such."""
        raise NotImplementedError

    def centre_mm(self, cell: int) -> tuple[float, float]:
        """Centre of a cell from the tray's outer corner at A1: (along the length, along the width)."""
        row, column = self.position(cell)
        across = self.outer_mm[0] / 2 + (column - (self.columns - 1) / 2) * self.pitch_mm[0]
        down = self.outer_mm[1] / 2 + (row - (self.rows - 1) / 2) * self.pitch_mm[1]
        return across, down

    @property
    def top_area_mm2(self) -> float:
        """Area of a cell's top."""
        raise NotImplementedError


def row_letters(row: int) -> str:
    """Letters of a row counted from 0: A to Z, then AA, AB, as a spreadsheet names columns."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
