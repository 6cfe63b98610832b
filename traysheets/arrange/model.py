"""What arranging gives: the trays of the plan, and which batch stands in which cell."""

from dataclasses import dataclass
from datetime import date

from traysheets.base.notices import Notice
from traysheets.trade.trays import Tray


@dataclass(frozen=True, slots=True)
class Run:
    """Cells of one batch in one tray, consecutive in reading order: `cells` of them from position `first`, from 0."""

    tray: int
    batch: int
    first: int
    cells: int

    @property
    def last(self) -> int:
        """Position of the last cell."""
        return self.first + self.cells - 1


@dataclass(frozen=True, slots=True)
class ArrangedTray:
    """One tray of the plan: its number, kind, day and place, and its runs in reading order."""

    number: int
    kind: Tray
    sow: date
    place: str
    runs: tuple[Run, ...]

    @property
    def spare(self) -> int:
        """How many cells stay empty."""
        return self.kind.cells - sum(run.cells for run in self.runs)

    @property
    def batches(self) -> tuple[int, ...]:
        """Indexes of the batches in the tray, each once, in reading order."""
        return tuple(dict.fromkeys(run.batch for run in self.runs))

    def cell_batches(self) -> list[int | None]:
        """For each cell in reading order the index of its batch, or None."""
        cells: list[int | None] = [None] * self.kind.cells
        for run in self.runs:
            cells[run.first : run.first + run.cells] = [run.batch] * run.cells
        return cells


@dataclass(frozen=True, slots=True)
class Trays:
    """All trays of the plan in the order of their numbers; `runs` of a batch index, in tray order."""

    trays: tuple[ArrangedTray, ...]
    runs: dict[int, tuple[Run, ...]]
    notices: tuple[Notice, ...] = ()
