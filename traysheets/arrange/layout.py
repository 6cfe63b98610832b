"""Lays out one group of batches: pinned cells, whole trays, shared rests, and the runs in each tray.

The order of the rules: pinned cells stay; what is free in a pinned tray goes first to the batches pinned there, those
with least left first; then batches fill whole trays; only their rests share.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from traysheets.arrange.groups import Group
from traysheets.arrange.share import Sharer
from traysheets.arrange.sharing import Task
from traysheets.plan.model import Pin
from traysheets.reckon.model import Batch

Stretch = tuple[int, int, int]
"""Index of a batch, first cell, how many cells."""


@dataclass(slots=True)
class PinnedTray:
    """A tray with pinned cells being filled: `taken` are the cells each batch gets in it beside its pinned ones."""

    number: int
    pins: list[tuple[Pin, Batch]]
    cells: int
    taken: dict[int, int] = field(default_factory=dict)

    @property
    def free(self) -> int:
        """Cells not given to any batch yet."""
        return self.cells - sum(pin.cells for pin, _ in self.pins) - sum(self.taken.values())

    def give(self, batch: int, cells: int) -> None:
        """Give so many more cells to a batch."""
        if cells:
            self.taken[batch] = self.taken.get(batch, 0) + cells


def lay_out(group: Group, sharer: Sharer) -> tuple[dict[int, list[Stretch]], list[list[Stretch]]]:
    """The runs in the group's pinned trays, by tray number, and in its other trays, those of earlier batches first."""
    capacity = group.kind.cells
    pinned = [PinnedTray(number, pins, capacity) for number, pins in group.pins.items()]
    left = {batch.index: batch.cells - sum(pin.cells for pin in batch.sowing.at) for batch in group.batches}
    _stay_with_pins(pinned, left)
    room = sum(tray.free for tray in pinned)
    fresh = max(0, -(-(sum(left.values()) - room) // capacity))
    others = _fill_whole(left, capacity, fresh)
    others += _share_rests(left, pinned, [capacity] * (fresh - len(others)), sharer)
    others.sort(key=sorted)
    return (
        {tray.number: _stretches(tray, sharer) for tray in pinned},
        [_in_a_row(sorted(taken.items())) for taken in others if taken],
    )


def _stay_with_pins(pinned: Iterable[PinnedTray], left: dict[int, int]) -> None:
    """Give the free cells of pinned trays to the batches pinned there, those with least left first. Changes both."""
    for tray in pinned:
        for batch in sorted({batch.index for _, batch in tray.pins}, key=lambda batch: (left[batch], batch)):
            cells = min(left[batch], tray.free)
            tray.give(batch, cells)
            left[batch] -= cells


def _fill_whole(left: dict[int, int], capacity: int, fresh: int) -> list[dict[int, int]]:
    """Whole trays of one batch, in plan order, as long as there are fresh ones. Changes what is left."""
    whole: list[dict[int, int]] = []
    for batch, cells in left.items():
        count = min(cells // capacity, fresh - len(whole))
        whole += [{batch: capacity} for _ in range(count)]
        left[batch] -= count * capacity
    return whole


def _share_rests(
    left: Mapping[int, int], pinned: Iterable[PinnedTray], fresh: list[int], sharer: Sharer
) -> list[dict[int, int]]:
    """Put the rests into the free cells of pinned trays (changing them) and into fresh trays, which are given back."""
    rests = {batch: cells for batch, cells in left.items() if cells}
    if not rests:
        return []
    roomy = [tray for tray in pinned if tray.free]
    names = list(rests)
    task = Task(tuple(rests.values()), (*(tray.free for tray in roomy), *fresh), len(fresh))
    filling = sharer.share(task)
    for tray, taken in zip(roomy, filling, strict=False):
        for rest, cells in taken.items():
            tray.give(names[rest], cells)
    return [{names[rest]: cells for rest, cells in taken.items()} for taken in filling[len(roomy) :]]


def _in_a_row(taken: Iterable[tuple[int, int]], first: int = 0) -> list[Stretch]:
    """Batches with their cells, one after another from the first cell on."""
    row: list[Stretch] = []
    for batch, cells in taken:
        row.append((batch, first, cells))
        first += cells
    return row


@dataclass(slots=True)
class _Gap:
    """A stretch of free cells in a pinned tray, and the batches that stand right before and after it."""

    first: int
    cells: int
    before: int | None
    after: int | None
    row: list[tuple[int, int]] = field(default_factory=list)

    @property
    def neighbours(self) -> set[int]:
        """The batches right before and after."""
        return {batch for batch in (self.before, self.after) if batch is not None}

    def take(self, batch: int, cells: int) -> None:
        """Put so many cells of a batch in the gap, beside its own where they adjoin."""
        self.row.append((batch, cells))
        self.cells -= cells

    def stretches(self) -> list[Stretch]:
        """The batch of the cells before first, that of the cells after at the very end, others in plan order."""
        own = self.after if self.after != self.before else None
        row = sorted(self.row, key=lambda taken: (taken[0] == own, taken[0] != self.before, taken[0]))
        last = row.pop() if row and row[-1][0] == own else None
        found = _in_a_row(row, self.first)
        if last:
            end = self.first + sum(cells for _, cells in self.row) + self.cells
            found.append((last[0], end - last[1], last[1]))
        return found


def _stretches(tray: PinnedTray, sharer: Sharer) -> list[Stretch]:
    """The runs in a pinned tray: cells beside the batch's own pins first, the others in few stretches."""
    gaps = _gaps(tray)
    taken = dict(sorted(tray.taken.items()))
    for gap in gaps:
        for batch in sorted(gap.neighbours & taken.keys(), key=lambda batch: (taken[batch], batch)):
            cells = min(taken[batch], gap.cells)
            if cells:
                gap.take(batch, cells)
                taken[batch] -= cells
    _spread(gaps, {batch: cells for batch, cells in taken.items() if cells}, sharer)
    pieces = [(batch.index, pin.first, pin.cells) for pin, batch in tray.pins]
    return _joined(pieces + [stretch for gap in gaps for stretch in gap.stretches()])


def _gaps(tray: PinnedTray) -> list[_Gap]:
    """The stretches of free cells between the pins."""
    gaps: list[_Gap] = []
    end, before = 0, None
    for pin, batch in tray.pins:
        if pin.first > end:
            gaps.append(_Gap(end, pin.first - end, before, batch.index))
        end, before = pin.last + 1, batch.index
    if end < tray.cells:
        gaps.append(_Gap(end, tray.cells - end, before, None))
    return gaps


def _spread(gaps: Iterable[_Gap], taken: Mapping[int, int], sharer: Sharer) -> None:
    """Put the batches' cells into the gaps, in as few stretches as can be."""
    if not taken:
        return
    roomy = [gap for gap in gaps if gap.cells]
    batches = list(taken)
    filling = sharer.share(Task(tuple(taken.values()), tuple(gap.cells for gap in roomy)))
    for gap, put in zip(roomy, filling, strict=True):
        for rest, cells in put.items():
            gap.take(batches[rest], cells)


def _joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """In reading order, stretches of one batch that touch made one."""
    row: list[Stretch] = []
    for batch, first, cells in sorted(stretches, key=lambda stretch: stretch[1]):
        if row and row[-1][0] == batch and row[-1][1] + row[-1][2] == first:
            _, first, before = row.pop()
            cells += before
        row.append((batch, first, cells))
    return row
