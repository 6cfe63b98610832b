"""Where a batch stands, in few words: trays it fills by their numbers, others with the cells."""

from collections.abc import Iterable, Iterator

from traysheets.arrange.model import Run
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.phrases import cells

MOST_PLACES = 4
"""How many places a row of a list says each on a line of its own."""


def places(job: Job, batch: Batch) -> tuple[str, ...]:
    """Where a batch stands, in tray order: `tray 3: A1–B2`, `trays 4–6: full`."""
    runs, kind = job.runs(batch), batch.tray
    found = []
    for full, numbers in _together(runs, kind.cells):
        if full:
            key = "lists.full_tray" if len(numbers) == 1 else "lists.full_trays"
            found.append(job.words(key, first=str(numbers[0]), last=str(numbers[-1])))
        else:
            own = ", ".join(cells(kind, run) for run in runs if run.tray == numbers[0])
            found.append(job.words("lists.in_tray", tray=str(numbers[0]), cells=own))
    return tuple(found)


def trays(job: Job, batches: Iterable[Batch]) -> str:
    """The numbers of all trays that batches stand in, `1–4, 7`."""
    return spans(_numbers(job, batches))


def in_trays(job: Job, batches: Iterable[Batch]) -> str:
    """The same with the word for them: `tray 3`, `trays 1–4, 7`."""
    numbers = _numbers(job, batches)
    return job.words("lists.trays", n=len(numbers), numbers=spans(numbers))


def _numbers(job: Job, batches: Iterable[Batch]) -> set[int]:
    return {run.tray for batch in batches for run in job.runs(batch)}


def spans(numbers: Iterable[int]) -> str:
    """Numbers of trays in their order, consecutive ones together: `1–4, 7`."""
    return ", ".join(_span(part) for part in _consecutive(sorted(numbers)))


def _span(numbers: list[int]) -> str:
    return str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"


def _together(runs: Iterable[Run], whole: int) -> Iterator[tuple[bool, list[int]]]:
    """Trays of `whole` cells, in order: those filled and with consecutive numbers together, each other one alone."""
    in_tray: dict[int, int] = {}
    for run in runs:
        in_tray[run.tray] = in_tray.get(run.tray, 0) + run.cells
    full: list[int] = []
    for tray, taken in in_tray.items():
        if taken == whole and (not full or tray == full[-1] + 1):
            full.append(tray)
            continue
        if full:
            yield True, full
        full = [tray] if taken == whole else []
        if not full:
            yield False, [tray]
    if full:
        yield True, full


def _consecutive(numbers: Iterable[int]) -> Iterator[list[int]]:
    part: list[int] = []
    for number in numbers:
        if part and number != part[-1] + 1:
            yield part
            part = []
        part.append(number)
    if part:
        yield part
