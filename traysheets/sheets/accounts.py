"""Accounts: that every cell, every seed and every stick of the plan is there once, before a file is written.

First the sums: what stands in the trays is what was reckoned. Then the pages themselves, as they come: the cells that
are drawn on the maps and the sticks that are placed on their sheets are counted, and are those that should be there.
How cells and sticks are drawn is not asked: they are known by the names of their stamps.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any
from weakref import WeakKeyDictionary

from traysheets.arrange.model import ArrangedTray
from traysheets.base.errors import Problem, SheetError
from traysheets.page.hatches import HATCHES
from traysheets.page.marks import Page, Place, Stamp, Text
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.stick_places import places

_PLAIN = "plain"
"""Cells too small for letters: they show a hatch, and so are counted together."""
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
    """Counts the sticks that are placed: a stick's stamp has the name of its batch code."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._codes = frozenset(job.codes[batch.index] for batch in job.batches)
        self._placed: Counter[str] = Counter()

    def take(self, page: Page) -> None:
        """Count one page."""
        names = (mark.stamp.name for mark in page.marks if isinstance(mark, Place))
        self._placed.update(name for name in names if name in self._codes)

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
    """Counts the cells that are drawn of each tray on the first of its pages, which goes by the tray's name.

    Pots that share a page are counted together: their names stand beside them.
    """

    def __init__(self, job: Job) -> None:
        self._job = job
        self._trays = {job.words("maps.tray", number=tray.number): tray for tray in job.trays}
        self._names = {code: code for code in (batch.sowing.code for batch in job.batches)}
        self._names |= dict.fromkeys(HATCHES, _PLAIN) | {"empty": "empty"}
        self._counted: WeakKeyDictionary[Stamp, Counter[str]] = WeakKeyDictionary()

    def take(self, page: Page) -> None:
        """Count one page, and compare it with the tray or the pots it shows."""
        said = [page.title] if page.title in self._trays else [it.text for it in page.marks if isinstance(it, Text)]
        trays = [self._trays.pop(name) for name in said if name in self._trays]
        if not trays:
            return
        drawn: Counter[str] = Counter()
        corners = []
        for mark in page.marks:
            if isinstance(mark, Place) and (cells := self._cells(mark.stamp)):
                drawn.update(cells)
                corners.append((mark.x_mm, mark.y_mm))
        _hold(len(set(corners)) == len(corners), f"two cells of {page.title} are drawn at one and the same place")
        self._compare(trays, drawn, page.title)

    def close(self) -> None:
        """Raise for a tray without a page."""
        _hold(not self._trays, f"there is no map of {', '.join(self._trays)}")

    def _cells(self, stamp: Stamp) -> Counter[str]:
        """The cells that a stamp shows: itself, or the row of cells that it is."""
        if stamp not in self._counted:
            row = [mark.stamp.name for mark in stamp.marks if isinstance(mark, Place)] if " × " in stamp.name else []
            names = row or [stamp.name]
            self._counted[stamp] = Counter(self._names[name] for name in names if name in self._names)
        return self._counted[stamp]

    def _compare(self, trays: Sequence[ArrangedTray], drawn: Counter[str], title: str) -> None:
        wanted: Counter[str] = Counter({"empty": sum(tray.spare for tray in trays)})
        for run in (run for tray in trays for run in tray.runs):
            code = self._job.batch(run.batch).sowing.code
            wanted[code if code in drawn else _PLAIN] += run.cells
        for name in wanted.keys() | drawn.keys():
            _hold(drawn[name] == wanted[name], f"{title} shows {drawn[name]} cells of '{name}', not {wanted[name]}")


def _hold(holds: bool, what: str) -> None:
    if not holds:
        raise SheetError(f"{what}; {_FAULT}")
