"""Cups that seed is set out in: how many, and how many cells each of them is for.

Where many seeds go into a cell nobody counts them at the bench, so each such cell has a cup of its own. All other seed
goes by rows of the tray: a cup that is not empty at the end of its row tells of a wrong count at once.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from traysheets.arrange.model import Run
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch

MANY_SEEDS = 10
"""From this many seeds a cell on, a clump is counted out beforehand (judgement, no source)."""


@dataclass(frozen=True, slots=True)
class Cups:
    """`number` cups with `seeds` in each, each for `cells`."""

    number: int
    seeds: int
    cells: int


def cups(batch: Batch, runs: Iterable[Run]) -> tuple[Cups, ...]:
    """The cups of a batch, those for most cells first. Together they hold what is sown, and nothing spare."""
    in_cell = batch.seeds_per_cell.value
    if batch.sowing.method is Method.CLUMP and in_cell >= MANY_SEEDS:
        return (Cups(batch.cells, in_cell, 1),)
    columns = batch.tray.columns
    rows = Counter(cells for run in runs for cells in row_parts(run, columns))
    return tuple(Cups(number, cells * in_cell, cells) for cells, number in sorted(rows.items(), reverse=True))


def row_parts(run: Run, columns: int) -> Iterator[int]:
    """How many cells a run has in each row of the tray that it touches, in reading order."""
    first, left = run.first, run.cells
    while left:
        cells = min(left, columns - first % columns)
        yield cells
        first, left = first + cells, left - cells
