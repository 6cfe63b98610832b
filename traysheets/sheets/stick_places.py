"""How many sticks a batch gets and where each of them goes: one a run, one a cell, or a number in all."""

from collections.abc import Iterable, Iterator
from itertools import islice, repeat

from traysheets.arrange.model import Run
from traysheets.page.lettering import width_mm
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.phrases import cells


def stick_count(job: Job) -> int:
    """How many sticks the chosen batches take in all."""
    return sum(sticks_of(job, batch) for batch in job.batches)


def sticks_of(job: Job, batch: Batch) -> int:
    """How many sticks a batch takes."""
    sticks, runs = batch.sowing.sticks, job.runs(batch)
    if isinstance(sticks, int):
        return sticks
    return sum(run.cells for run in runs) if sticks == "cell" else len(runs)


def places(job: Job, batch: Batch) -> Iterator[str]:
    """Where each stick of a batch goes, in tray and cell order: `tray 3, A1–B2`, `tray 3, A1`.

    Sticks given as a number in all have a place only when the batch stands in one run.
    """
    sticks, runs = batch.sowing.sticks, job.runs(batch)
    if isinstance(sticks, int):
        yield from repeat(_run_place(job, batch, runs[0]) if len(runs) == 1 else "", sticks)
    elif sticks == "cell":
        yield from (
            _place(job, run, batch.tray.cell_name(cell)) for run in runs for cell in range(run.first, run.last + 1)
        )
    else:
        yield from (_run_place(job, batch, run) for run in runs)


def widest_place(job: Job, batch: Batch) -> str:
    """The widest of the places of the batch's sticks; empty when they have none."""
    sticks, runs = batch.sowing.sticks, job.runs(batch)
    said: Iterable[str] = islice(places(job, batch), len(runs) if sticks == "run" else 1)
    if sticks == "cell":
        ends = ((run, cell) for run in runs for cell in _row_ends(run, batch.tray.columns))
        said = (_place(job, run, batch.tray.cell_name(cell)) for run, cell in ends)
    return max(said, key=lambda text: width_mm(text, "regular", 1), default="")


def _row_ends(run: Run, columns: int) -> Iterator[int]:
    """The last cell of a run in every row: all figures are of one width, so none of its row has a wider name."""
    for row in range(run.first // columns, run.last // columns + 1):
        yield min((row + 1) * columns - 1, run.last)


def _run_place(job: Job, batch: Batch, run: Run) -> str:
    return _place(job, run, cells(batch.tray, run))


def _place(job: Job, run: Run, where: str) -> str:
    """A place in words: a pot that is a tray of its own needs no cell."""
    if job.batch(run.batch).tray.cells == 1:
        return job.words("lists.trays", n=1, numbers=str(run.tray))
    return job.words("sticks.place", tray=str(run.tray), cells=where)
