"""Where printed batches stand: their trays, and a plain plan of a tray from the book alone. Pure.

It is drawn where the plan is gone or was changed since: its cells by row and column, not to scale.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from traysheets.base.cells import cell_name, row_number
from traysheets.book.model import Kept

_MOST_SIDE = 100
"""Rows or columns of the largest tray that is drawn."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the plan: its place, the letters of its batch, and whether it is of the batch that is looked at."""

    row: int
    column: int
    name: str
    letters: str
    code: str
    picked: bool


@dataclass(frozen=True, slots=True)
class Content:
    """A batch in the plan of a tray, from its first cell to its last."""

    letters: str
    variety: str
    first: str
    last: str


@dataclass(frozen=True, slots=True)
class TrayPlan:
    """A tray from above, and what stands in it."""

    number: int
    rows: int
    columns: int
    cells: tuple[Cell, ...]
    contents: tuple[Content, ...]


def trays_of(batches: Iterable[Kept]) -> list[int]:
    """The numbers of the trays that these batches stand in."""
    return sorted({run["tray"] for batch in batches for run in runs_of(batch)})


def runs_of(batch: Kept) -> Sequence[Mapping[str, Any]]:
    """The printed runs of a batch; none where they were not kept."""
    return batch.told.get("runs") or ()


def tray_plan(number: int, batches: Sequence[Kept], picked: Kept | None = None) -> TrayPlan | None:
    """The plan of a tray with what stands in it; None when its rows and columns were not printed."""
    inside = [(batch, run) for batch in batches for run in runs_of(batch) if run["tray"] == number]
    if picked and not any(batch.code == picked.code for batch, _ in inside):
        inside = [(picked, run) for run in runs_of(picked) if run["tray"] == number]
    sides = [_sides(batch) for batch, _ in inside]
    if not sides or sides[0] is None:
        return None
    rows, columns = sides[0]
    owner = {cell: batch for batch, run in inside for cell in _cells(run, columns)}
    cells = tuple(_cell(at, columns, owner.get(at), picked) for at in range(rows * columns))
    contents = tuple(
        Content(letters_of(batch), batch.identity.variety, str(run["first"]), str(run["last"])) for batch, run in inside
    )
    return TrayPlan(number, rows, columns, cells, contents)


def letters_of(batch: Kept) -> str:
    """The letters of a batch on the map."""
    return str(batch.told.get("code") or "")


def _sides(batch: Kept) -> tuple[int, int] | None:
    kind = batch.told.get("tray_kind")
    sides = (kind.get("rows"), kind.get("columns")) if isinstance(kind, dict) else (None, None)
    rows, columns = sides
    if isinstance(rows, int) and isinstance(columns, int) and 0 < rows <= _MOST_SIDE and 0 < columns <= _MOST_SIDE:
        return rows, columns
    return None


def _cells(run: Mapping[str, Any], columns: int) -> range:
    """The cells of a run by their place in reading order."""
    first, last = (_place(str(run[end]), columns) for end in ("first", "last"))
    return range(first, last + 1)


def _place(name: str, columns: int) -> int:
    """A cell's place in reading order, from its name: B3 is the third of the second row, AA1 begins the 27th."""
    letters = name.rstrip("0123456789")
    return row_number(letters) * columns + int(name[len(letters) :]) - 1


def _cell(at: int, columns: int, batch: Kept | None, picked: Kept | None) -> Cell:
    row, column = divmod(at, columns)
    name = cell_name(row, column)
    if batch is None:
        return Cell(row, column, name, "", "", False)
    own = picked is None or batch.code == picked.code
    return Cell(row, column, name, letters_of(batch), batch.code, own)
