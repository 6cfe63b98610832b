"""Says which batch stands in which cell of which tray, and numbers the trays. The front door of the room."""

from collections.abc import Iterable, Iterator
from itertools import count

from traysheets.arrange.groups import Group, check_pins, groups
from traysheets.arrange.layout import Stretch, lay_out
from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.arrange.proof import prove
from traysheets.arrange.share import Sharer
from traysheets.base.notices import Notice
from traysheets.reckon.model import Reckoned


def arrange(reckoned: Reckoned) -> Trays:
    """The trays of the plan. The same plan gives the same trays.

    Trays are shared only by batches of one kind of tray, sowing day and place. Pinned cells stay where they are; then
    count, in this order: fewest trays, fewest batches cut over more trays than they must be, fewest pieces, runs that
    are consecutive in reading order, plan order. Batches fill whole trays first, and only their rests share. Pinned
    tray numbers belong to their group; the other trays take the lowest numbers free, groups by sowing day.
    Raises PlanError for pins that cannot be kept.
    """
    parted = groups(reckoned.batches)
    check_pins(reckoned, parted)
    trays = sorted(_numbered(parted), key=lambda tray: tray.number)
    runs: dict[int, list[Run]] = {batch.index: [] for batch in reckoned.batches}
    for tray in trays:
        for run in tray.runs:
            runs[run.batch].append(run)
    arranged = Trays(
        tuple(trays),
        {batch: tuple(its_runs) for batch, its_runs in runs.items()},
        tuple(_far_pins(reckoned, len(trays))),
    )
    prove(reckoned, arranged)
    return arranged


def _numbered(parted: Iterable[Group]) -> Iterator[ArrangedTray]:
    """The trays of every group, under their numbers."""
    parted = list(parted)
    sharer = Sharer()
    pinned_numbers = {number for group in parted for number in group.pins}
    free_numbers = (number for number in count(1) if number not in pinned_numbers)
    for group in parted:
        pinned, others = lay_out(group, sharer)
        for number, stretches in pinned.items():
            yield _tray(group, number, stretches)
        for stretches in others:
            yield _tray(group, next(free_numbers), stretches)


def _tray(group: Group, number: int, stretches: Iterable[Stretch]) -> ArrangedTray:
    runs = tuple(Run(number, batch, first, cells) for batch, first, cells in stretches)
    return ArrangedTray(number, group.kind, group.sow, group.place, runs)


def _far_pins(reckoned: Reckoned, trays: int) -> Iterator[Notice]:
    """A notice for every sowing and tray it pins whose number is higher than the plan has trays."""
    told: set[tuple[int, int]] = set()
    for batch in reckoned.batches:
        for pin in batch.sowing.at:
            if pin.tray > trays and (batch.sowing.line, pin.tray) not in told:
                told.add((batch.sowing.line, pin.tray))
                text = f"'at' names tray {pin.tray}, but the plan takes only {trays}: some lower numbers stay unused"
                yield Notice(text, batch.sowing.line)
