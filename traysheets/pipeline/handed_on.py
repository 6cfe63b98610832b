"""Cells that the plan gives to a batch while another, noted as sown, stands in them by the book.

The plan hands cells on as soon as a sowing leaves it, shrinks or moves; the plants stay where they were printed.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from traysheets.arrange.model import ArrangedTray
from traysheets.base.notices import Notice
from traysheets.book.book import Contents
from traysheets.book.measures import standing_of
from traysheets.book.model import Kept
from traysheets.plan.advised import named
from traysheets.plan.pins import pin_text
from traysheets.sheets.job import Job

MOST_TOLD = 5
"""Pairs of batches told of one by one; the rest are counted."""


@dataclass(frozen=True, slots=True)
class _Printed:
    """Cells of a tray of the plan that were printed for a batch, by position from 0, and whose each is now."""

    tray: ArrangedTray
    first: int
    owners: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class _Standing:
    """A batch that stands in `cells` cells, of those that were printed for it. `index`: in the plan; None, gone."""

    batch: Kept
    index: int | None
    cells: int
    printed: tuple[_Printed, ...]

    def others(self) -> Iterable[int]:
        """Batches that the plan gives its cells to, where so many are given away that it stands in some of them."""
        owners = Counter(owner for part in self.printed for owner in part.owners if owner is not None)
        still = 0 if self.index is None else owners.pop(self.index, 0)
        return owners if self.cells > still else ()


def handed_on_notices(job: Job, held: Contents, plan: str) -> Iterator[Notice]:
    """A notice for every pair of a batch of the plan and one of the book that stands in cells planned for the first."""
    pairs = [(other, standing) for standing in _standing(job, held, plan) for other in standing.others()]
    pairs.sort(key=lambda pair: (pair[0], pair[1].batch.code))
    for other, standing in pairs[:MOST_TOLD]:
        yield Notice(_text(job, other, standing), job.batch(other).sowing.line, passing=True)
    if more := max(0, len(pairs) - MOST_TOLD):
        text = "of batches: one is planned for cells where the other stands by the book"
        yield Notice(f"{more:,} more {'pair' if more == 1 else 'pairs'} {text}", passing=True)


def _standing(job: Job, held: Contents, plan: str) -> Iterator[_Standing]:
    """The batches printed from this plan, for its season, of which something is on hand.

    What stood in trays of earlier seasons has left them, whether or not somebody noted it.
    """
    if not held.entries:
        return
    trays = {tray.number: (tray, tray.cell_batches()) for tray in job.arranged.trays}
    index = {code: at for at, code in job.codes.items()}
    for batch in held.batches:
        if (batch.plan, batch.season) != (plan, job.plan.season) or batch.code not in held.entries:
            continue
        stands = standing_of(batch, held.entries[batch.code])
        if stands.cells:
            # Of one plant a cell, cells without any are not on hand, but their places are not free either.
            occupied = stands.cells_sown - stands.gone
            yield _Standing(batch, index.get(batch.code), occupied, tuple(_printed(batch, trays)))


def _printed(batch: Kept, trays: dict[int, tuple[ArrangedTray, list[int | None]]]) -> Iterator[_Printed]:
    """The cells that were printed for a batch, as far as the plan has that tray, of that kind, still."""
    for run in batch.told.get("runs") or ():
        tray, owners = trays.get(run["tray"], (None, []))
        if tray is None or tray.kind.name != batch.identity.tray:
            continue
        try:
            first, last = (tray.kind.cell_number(run[end]) for end in ("first", "last"))
        except ValueError:  # the tray was given other cells since
            continue
        yield _Printed(tray, first, tuple(owners[first : last + 1]))


def _text(job: Job, other: int, standing: _Standing) -> str:
    shared = sum(part.owners.count(other) for part in standing.printed)
    cells = min(shared, standing.cells)
    # Where some were carried off already, nobody knows which.
    all_stand = standing.cells >= sum(len(part.owners) for part in standing.printed)
    number = f"{'' if all_stand else 'up to '}{cells:,} {'cell' if cells == 1 else 'cells'}"
    name = f"{job.codes[other]} '{job.batch(other).sowing.variety}'"
    of = f"{standing.batch.code} '{standing.batch.identity.variety}' {'stands' if cells == 1 else 'stand'}"
    remedies = ", or ".join(_remedies(job, other, standing))
    return f"{name} is planned for {_where(standing, other)}, where {number} of {of} by the book; {remedies}"


def _where(standing: _Standing, other: int) -> str:
    """The cells of a standing batch that are planned for another, stretch by stretch."""
    return ", ".join(
        f"tray {pin_text(part.tray.number, *map(part.tray.kind.cell_name, ends))}"
        for part in standing.printed
        for ends in _stretches(part, other)
    )


def _stretches(part: _Printed, other: int) -> Iterator[tuple[int, int]]:
    """First and last position of every run of another batch, as far as it lies in the cells printed for this one."""
    end = part.first + len(part.owners) - 1
    for run in part.tray.runs:
        if run.batch == other and run.first <= end and run.last >= part.first:
            yield max(run.first, part.first), min(run.last, end)


def _remedies(job: Job, other: int, standing: _Standing) -> Iterator[str]:
    """What the grower can do: only what the plan takes, as a sowing that repeats takes no `at`."""
    if standing.index is None:
        yield "keep that sowing in the plan until its cells are empty"
    elif (now := job.batch(standing.index)).successions == 1 or now.cells < standing.cells:
        yield f"keep them for that sowing, in line {now.sowing.line}, until they are empty"
    yield "note what became of it"
    if job.batch(other).successions == 1:
        yield f"give this one other cells with {named('at', job.plan.file)}"
