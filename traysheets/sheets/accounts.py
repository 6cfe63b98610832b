"""Accounts: that every cell, every seed and every stick of the plan is there once, before a file is written.

First the sums: what stands in the trays is what was reckoned. Then the pages themselves, as they come: the cells that
are drawn on the maps and the sticks that are placed on their sheets are counted, and are those that should be there.
How cells and sticks are drawn is not asked, nor what they are called: their stamps say which batch they stand for.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any
from weakref import WeakKeyDictionary

from traysheets.arrange.model import ArrangedTray
from traysheets.base.errors import Problem, SheetError
from traysheets.page.marks import Page, Place, Stamp
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.stick_places import places
from traysheets.sheets.tray_drawing import EMPTY

_FAULT = "this is a fault of the program, not of your plan; nothing was written"


def account(job: Job) -> None:
    """Raise SheetError when seeds, cells or sticks of a plan do not add up to what was reckoned."""
    in_trays: Counter[int] = Counter()
    for tray in job.arranged.trays:
        for run in tray.runs:
            in_trays[run.batch] += run.cells
    problems = [it for batch in job.batches for it in _batch_problems(job, batch, in_trays[batch.index])]
    problems += _seed_problems(job)
    if problems:
        raise SheetError(Problem(f"{problem}; {_FAULT}") for problem in problems)


def _batch_problems(job: Job, batch: Batch, cells: int) -> Iterator[str]:
    """What does not add up of a batch that has so many cells in the trays."""
    code = job.codes[batch.index]
    if cells != batch.cells:
        yield f"batch {code} has {cells} cells in the trays, and {batch.cells} were reckoned"
    seeds = cells * batch.seeds_per_cell.value
    if seeds != batch.seeds_total:
        yield f"batch {code} has {seeds} seeds in its cells, and {batch.seeds_total} were reckoned"
    if batch.sowing.sticks == "run":
        said = list(places(job, batch))
        if len(set(said)) != len(job.arranged.runs[batch.index]):
            yield f"batch {code} has sticks for {', '.join(said)}, which are not its runs, one each"


def sticks_wanted(job: Job, batch: Batch) -> int:
    """How many sticks a batch should have."""
    wanted = batch.sowing.sticks
    if isinstance(wanted, int):
        return wanted
    return batch.cells if wanted == "cell" else len(job.arranged.runs[batch.index])


def _seed_problems(job: Job) -> Iterator[str]:
    """Seed that is set out, packet by packet, against what is sown and spare."""
    for need in job.reckoned.seed_needs:
        set_out = sum(job.batch(index).seeds_total + job.batch(index).seeds_spare for index in need.batches)
        if need.seeds != set_out:
            yield f"{need.variety} takes {set_out} seeds, and the seed list has {need.seeds}"


def accounted(name: str, job: Job, pages: Iterator[Page]) -> Iterator[Page]:
    """The same pages; raises SheetError when what is counted on them is not what the plan has.

    On maps the cells of each tray are counted, on stick sheets the sticks of each batch; other sheets pass.
    """
    counts = {"maps": _Maps, "sticks": _Sticks}.get(name)
    if counts is None:
        yield from pages
        return
    count: Any = counts(job)
    for page in pages:
        count.take(page)
        yield page
    count.close()


class _Sticks:
    """Counts the sticks that are placed of each batch."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._placed: Counter[str] = Counter()

    def take(self, page: Page) -> None:
        """Count one page."""
        self._placed.update(mark.stamp.stands_for for mark in page.marks if isinstance(mark, Place))

    def close(self) -> None:
        """Compare with what should be there."""
        job = self._job
        for batch in job.batches:
            code, wanted = job.codes[batch.index], sticks_wanted(job, batch)
            _hold(
                self._placed[code] == wanted,
                f"batch {code} has {self._placed[code]} sticks on the sheets, not {wanted}",
            )


class _Maps:
    """Counts the cells that are drawn of each tray on the page that stands for it.

    Pots that share a page are counted together.
    """

    def __init__(self, job: Job) -> None:
        self._job = job
        self._trays = {str(tray.number): tray for tray in job.trays}
        self._counted: WeakKeyDictionary[Stamp, Counter[str]] = WeakKeyDictionary()

    def take(self, page: Page) -> None:
        """Count one page, and compare it with the tray or the pots it shows."""
        if not page.stands_for:
            return
        drawn: Counter[str] = Counter()
        corners = []
        for mark in page.marks:
            if isinstance(mark, Place) and (cells := self._cells(mark.stamp)):
                drawn.update(cells)
                corners.append((mark.x_mm, mark.y_mm))
        _hold(len(set(corners)) == len(corners), f"two cells of {page.title} are drawn at one and the same place")
        self._compare([self._taken(number) for number in page.stands_for], drawn, page.title)

    def close(self) -> None:
        """Raise for a tray without a page."""
        _hold(not self._trays, f"there is no map of {', '.join(f'Tray {number}' for number in self._trays)}")

    def _taken(self, number: str) -> ArrangedTray:
        """The tray of that number, of which no other page may be left to come."""
        _hold(number in self._trays, f"there is more than one map of Tray {number}")
        return self._trays.pop(number)

    def _cells(self, stamp: Stamp) -> Counter[str]:
        """The cells that a stamp shows: itself, or those that are placed in it."""
        if stamp not in self._counted:
            inside = (self._cells(mark.stamp) for mark in stamp.marks if isinstance(mark, Place))
            self._counted[stamp] = Counter((stamp.stands_for,)) if stamp.stands_for else sum(inside, Counter())
        return self._counted[stamp]

    def _compare(self, trays: Sequence[ArrangedTray], drawn: Counter[str], title: str) -> None:
        wanted: Counter[str] = Counter({EMPTY: sum(tray.spare for tray in trays)})
        for run in (run for tray in trays for run in tray.runs):
            wanted[self._job.codes[run.batch]] += run.cells
        for whose in wanted | drawn:
            _hold(
                drawn[whose] == wanted[whose], f"{title} shows {drawn[whose]} cells of '{whose}', not {wanted[whose]}"
            )


def _hold(holds: bool, what: str) -> None:
    if not holds:
        raise SheetError(f"{what}; {_FAULT}")
