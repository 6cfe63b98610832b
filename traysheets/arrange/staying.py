"""Whether a batch can be kept in given cells: what the plan would say if they were pinned, without pinning them."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from traysheets.arrange.groups import company
from traysheets.plan.model import Pin
from traysheets.reckon.model import Batch

Pinned: TypeAlias = Mapping[int, Sequence[tuple[Pin, Batch]]]
"""By tray number, the pins in that tray, each with its batch."""


def pinned(batches: Iterable[Batch]) -> Pinned:
    """All pins of these batches."""
    found: defaultdict[int, list[tuple[Pin, Batch]]] = defaultdict(list)
    for batch in batches:
        for pin in batch.sowing.at:
            found[pin.tray].append((pin, batch))
    return found


def can_stay(batch: Batch, pins: Sequence[Pin], others: Pinned) -> bool:
    """Whether a batch would stand in the cells of these pins and in no others, if its sowing had them.

    A sowing that repeats cannot have pins. Each pin must be of cells that the batch's kind of tray has.
    """
    if batch.successions > 1 or sum(pin.cells for pin in pins) != batch.cells:
        return False
    return not any(_in_the_way(batch, pin, *other) for pin in pins for other in others.get(pin.tray, ()))


def _in_the_way(batch: Batch, pin: Pin, kept: Pin, other: Batch) -> bool:
    """Whether cells kept for another sowing in the same tray forbid a pin: the same ones, or of a tray not shared."""
    if other.index == batch.index:
        return False
    return company(other) != company(batch) or (kept.first <= pin.last and pin.first <= kept.last)
