"""How many sticks a batch gets and where each of them goes: one a run, one a cell, or a number in all."""

import re
from collections.abc import Iterator
from itertools import repeat

from traysheets.arrange.model import Run
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job


def stick_count(job: Job) -> int:
    """How many sticks the chosen batches take in all."""
    return sum(_count(job, batch) for batch in job.batches)


def _count(job: Job, batch: Batch) -> int:
    sticks, runs = batch.sowing.sticks, _runs(job, batch)
    if isinstance(sticks, int):
        return sticks
    return sum(run.cells for run in runs) if sticks == "cell" else len(runs)


def _runs(job: Job, batch: Batch) -> tuple[Run, ...]:
    return job.arranged.runs.get(batch.index, ())


def places(job: Job, batch: Batch) -> Iterator[str]:
    """Where each stick of a batch goes, in tray and cell order: `tray 3, A1–B2`, `tray 3, A1`.

    Sticks given as a number in all have a place only when the batch stands in one run.
    """
    sticks, runs = batch.sowing.sticks, _runs(job, batch)
    if isinstance(sticks, int):
        yield from repeat(_run_place(job, batch, runs[0]) if len(runs) == 1 else "", sticks)
    elif sticks == "cell":
        yield from (
            _place(job, run, batch.tray.cell_name(cell)) for run in runs for cell in range(run.first, run.last + 1)
        )
    else:
        yield from (_run_place(job, batch, run) for run in runs)


def widest_place(job: Job, batch: Batch) -> str:
    """A text at least as wide as the place of any stick of the batch; empty when its sticks have none."""
    sticks, runs = batch.sowing.sticks, _runs(job, batch)
    if isinstance(sticks, int):
        return next(places(job, batch), "")
    said = (
        _place(job, run, batch.tray.cell_name(run.last)) if sticks == "cell" else _run_place(job, batch, run)
        for run in runs
    )
    return _widened(max(said, key=len, default=""))


def _widened(text: str) -> str:
    """The text with the widest letter for every capital and figure: cells of other rows are no wider."""
    return re.sub("[A-Z]", "W", text)


def _run_place(job: Job, batch: Batch, run: Run) -> str:
    first, last = batch.tray.cell_name(run.first), batch.tray.cell_name(run.last)
    return _place(job, run, first if first == last else f"{first}–{last}")


def _place(job: Job, run: Run, cells: str) -> str:
    return job.words("sticks.place", tray=str(run.tray), cells=cells)
