"""Proves that a layout holds before anybody sees it: nothing lost, nothing doubled, nothing where it may not stand.

It reads only what was asked for and what came out, and knows nothing of how the layout was made.
"""

from traysheets.arrange.model import ArrangedTray, Trays
from traysheets.reckon.model import Batch, Reckoned


class LayoutError(AssertionError):
    """A layout that does not hold: a fault of ours, never of the plan."""


def prove(reckoned: Reckoned, arranged: Trays) -> None:
    """Raise LayoutError when the layout loses, doubles or misplaces a cell, or takes more trays than it must."""
    numbers = [tray.number for tray in arranged.trays]
    _hold(numbers == sorted(set(numbers)), "tray numbers are doubled or out of order")
    for tray in arranged.trays:
        _prove_tray(tray, reckoned.batches)
    _prove_runs(reckoned, arranged)
    _prove_pins(reckoned, arranged)
    _prove_count(reckoned, arranged)


def _hold(holds: bool, what: str) -> None:
    if not holds:
        raise LayoutError(f"the layout does not hold: {what}")


def _prove_tray(tray: ArrangedTray, batches: tuple[Batch, ...]) -> None:
    """Runs stand one after another inside the tray, and their batches belong in it."""
    end = 0
    for run in tray.runs:
        _hold(run.tray == tray.number, f"a run of tray {run.tray} stands in tray {tray.number}")
        _hold(run.first >= end and run.cells > 0, f"a cell of tray {tray.number} is owned twice")
        end = run.first + run.cells
    _hold(bool(tray.runs) and end <= tray.kind.cells, f"tray {tray.number} is empty or a run leaves it")
    for index in tray.batches:
        batch = batches[index]
        fits = (batch.tray, batch.sow, batch.sowing.place) == (tray.kind, tray.sow, tray.place)
        _hold(fits, f"batch {index} does not belong in tray {tray.number}")
        _hold(not batch.sowing.own_trays or len(tray.batches) == 1, f"batch {index} is to share no tray")


def _prove_runs(reckoned: Reckoned, arranged: Trays) -> None:
    """The runs of the batches are those of the trays, and hold every cell."""
    in_trays = {run for tray in arranged.trays for run in tray.runs}
    _hold(arranged.runs.keys() == {batch.index for batch in reckoned.batches}, "a batch has no runs")
    of_batches = [run for runs in arranged.runs.values() for run in runs]
    _hold(len(of_batches) == len(in_trays) and set(of_batches) == in_trays, "batches and trays tell of different runs")
    for batch in reckoned.batches:
        runs = arranged.runs[batch.index]
        _hold(all(run.batch == batch.index for run in runs), f"batch {batch.index} has a run of another")
        _hold(sum(run.cells for run in runs) == batch.cells, f"batch {batch.index} has cells lost or doubled")


def _prove_pins(reckoned: Reckoned, arranged: Trays) -> None:
    """Every pinned cell belongs to the batch it is kept for."""
    for batch in reckoned.batches:
        for pin in batch.sowing.at:
            kept = any(
                run.tray == pin.tray and run.first <= pin.first and pin.last <= run.last
                for run in arranged.runs[batch.index]
            )
            _hold(kept, f"cells kept for batch {batch.index} in tray {pin.tray} are not its own")


def _prove_count(reckoned: Reckoned, arranged: Trays) -> None:
    """No group takes more trays than its cells fill and its pins name, whichever is more."""
    cells: dict[object, int] = {}
    least: dict[object, int] = {}
    pinned: dict[object, set[int]] = {}
    for batch in reckoned.batches:
        group = _group(batch)
        cells[group] = cells.get(group, 0) + batch.cells
        least[group] = -(-cells[group] // batch.tray.cells)
        pinned.setdefault(group, set()).update(pin.tray for pin in batch.sowing.at)
    trays: dict[object, int] = {}
    for tray in arranged.trays:
        group = _group(reckoned.batches[tray.runs[0].batch])
        trays[group] = trays.get(group, 0) + 1
    for group, count in trays.items():
        _hold(count == max(least[group], len(pinned[group])), "a group takes more trays than it must")


def _group(batch: Batch) -> object:
    return batch.tray, batch.sow, batch.sowing.place, batch.index if batch.sowing.own_trays else None
