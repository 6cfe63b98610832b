"""What is to be done to the plants after sowing, piece by piece, in words.

It is the content of the aftercare list and of the calendar; how they are set out is `aftercare.py`.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from traysheets.plan.model import Method
from traysheets.reckon.model import Batch, Source
from traysheets.sheets import phrases
from traysheets.sheets.job import Job
from traysheets.sheets.standing_places import places
from traysheets.sheets.steps import Step, Task, steps, thins_undated

_ORDER = tuple(Task)


@dataclass(frozen=True, slots=True)
class Chore:
    """A piece of work on one batch: what it is called, how it is done, and where the batch stands, all in words."""

    batch: Batch
    step: Step
    what: str
    how: tuple[str, ...]
    where: tuple[str, ...]


def chores(job: Job) -> list[Chore]:
    """All work after sowing on the chosen batches, by its first day; within a day by kind of work, then by tray."""
    found = [chore for batch in job.batches for chore in _chores_of(job, batch)]
    return sorted(
        found, key=lambda chore: (chore.step.first, _ORDER.index(chore.step.task), _first_tray(job, chore.batch))
    )


def _chores_of(job: Job, batch: Batch) -> Iterator[Chore]:
    where = places(job, batch)
    for step in steps(batch):
        if step.task is not Task.SOW:
            yield Chore(batch, step, job.words(f"steps.{step.task}"), tuple(_how(job, batch, step)), where)


def undated_chores(job: Job) -> list[Chore]:
    """Thinning of batches of which nobody can say when: from its sowing on, when the seedlings show that it is time."""
    found = (batch for batch in job.batches if thins_undated(batch))
    return [_undated(job, batch) for batch in sorted(found, key=lambda batch: _first_tray(job, batch))]


def _undated(job: Job, batch: Batch) -> Chore:
    step = Step(Task.THIN, batch.sow)
    how = (*_how(job, batch, step), job.words("steps.true_leaves"))
    return Chore(batch, step, job.words(f"steps.{step.task}"), how, places(job, batch))


def _first_tray(job: Job, batch: Batch) -> tuple[int, int]:
    runs = job.runs(batch)
    return (runs[0].tray, runs[0].first) if runs else (job.last_tray_number + 1, batch.index)


def _how(job: Job, batch: Batch, step: Step) -> Iterator[str]:
    """The particulars of a piece of work, the most useful first."""
    words = job.words
    until = (
        ""
        if step.last is None or step.last == step.first
        else words("aftercare.until", day=words.day_of_year(step.last))
    )
    match step.task:
        case Task.EMERGE:
            yield _seedlings(job, batch)
        case Task.THIN:
            yield (
                words("aftercare.thin_stations", n=batch.stations) if batch.stations else words("aftercare.thin_single")
            )
        case Task.TRIM:
            yield words("aftercare.trim")
        case Task.HARDEN_OFF:
            yield words("aftercare.harden_off")
        case Task.PLANT_OUT:  # pragma: no branch - sowing is no chore
            yield words("aftercare.together") if _together(batch) else ""
            yield _not_in_frost(job, batch)
    yield until
    if step.task is Task.EMERGE:
        yield phrases.soil_assumed(batch, words, job.units)


def _seedlings(job: Job, batch: Batch) -> str:
    """How many seedlings are likely: of all seeds in a clump, else of all holes or cells."""
    expected = round(batch.plants_expected)
    if batch.sowing.method is Method.CLUMP:
        return job.words("aftercare.seedlings_clump", n=expected, all=batch.seeds_total)
    key = "aftercare.seedlings_stations" if batch.stations else "aftercare.seedlings_single"
    return job.words(key, n=expected, all=batch.cells * (batch.stations or 1))


def _not_in_frost(job: Job, batch: Batch) -> str:
    """That planting out waits for the last frost, where it does."""
    out = batch.plant_out
    return job.words(f"source.{out.source}") if out is not None and out.source is Source.LAST_FROST else ""


def _together(batch: Batch) -> bool:
    """Whether the plants of a cell go out as they stand, in one piece."""
    return batch.sowing.method is Method.CLUMP or (batch.stations or 1) > 1
