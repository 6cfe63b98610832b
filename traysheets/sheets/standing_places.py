"""Where a batch stands, in few words: trays it fills by their numbers, others with the cells."""

from collections.abc import Iterable, Iterator

from traysheets.arrange.model import Run
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job

MOST_PLACES = 4
"""How many places a row of a list says each on a line of its own."""


def places(job: Job, batch: Batch) -> tuple[str, ...]:
    """Where a batch stands, in tray order: `tray 3: A1–B2`, `trays 4–6: full`."""
    runs, kind = job.arranged.runs.get(batch.index, ()), batch.tray
    found = []
    for whole, numbers in _together(runs, kind.cells):
        if whole:
            key = "lists.full_tray" if len(numbers) == 1 else "lists.full_trays"
            found.append(job.words(key, first=str(numbers[0]), last=str(numbers[-1])))
        else:
            cells = ", ".join(_cells(run, batch) for run in runs if run.tray == numbers[0])
            found.append(job.words("lists.in_tray", tray=str(numbers[0]), cells=cells))
    return tuple(found)


def trays(job: Job, batches: Iterable[Batch]) -> str:
    """The numbers of all trays that batches stand in, `1–4, 7`."""
    return spans({run.tray for batch in batches for run in job.arranged.runs.get(batch.index, ())})


def spans(numbers: Iterable[int]) -> str:
    """Numbers of trays in their order, consecutive ones together: `1–4, 7`."""
    return ", ".join(_span(part) for part in _consecutive(sorted(numbers)))


def _cells(run: Run, batch: Batch) -> str:
    first, last = batch.tray.cell_name(run.first), batch.tray.cell_name(run.last)
    return first if first == last else f"{first}–{last}"


def _span(numbers: list[int]) -> str:
    return str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"


def _together(runs: Iterable[Run], cells: int) -> Iterator[tuple[bool, list[int]]]:
    """Trays in their order: those filled and with consecutive numbers together, each other one alone."""
    in_tray: dict[int, int] = {}
    for run in runs:
        in_tray[run.tray] = in_tray.get(run.tray, 0) + run.cells
    full: list[int] = []
    for tray, taken in in_tray.items():
        if taken == cells and (not full or tray == full[-1] + 1):
            full.append(tray)
            continue
        if full:
            yield True, full
        full = [tray] if taken == cells else []
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
