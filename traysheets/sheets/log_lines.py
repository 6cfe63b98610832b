"""What a record sheet has lines for: the life of a batch in order, and what is planned or expected of each step.

Only what can come up: nothing is thinned where one seed goes into a hole, nothing trimmed that is no allium. How the
lines are drawn is `log_table.py`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import cycle, groupby

from traysheets.base.words import Words
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets.steps import Step, Task, days, is_thinned, steps


class Noted(StrEnum):
    """What is noted of a batch, in the order of its life. The values are keys of the words of the sheets."""

    SOWN = "sown"
    FIRST_UP = "first_up"
    COUNT = "count"
    THINNED = "thinned"
    TRIMMED = "trimmed"
    HARDENED_OFF = "hardened_off"
    PLANTED_OUT = "planted_out"
    SOLD = "sold"
    LOST = "lost"
    REMARKS = "remarks"


@dataclass(frozen=True, slots=True)
class Group:
    """Lines for one thing: what is planned or expected of it, and what its numbers are of: `cells`, `of 60 holes`."""

    noted: Noted
    lines: int
    planned: tuple[str, ...] = ()
    number_of: str = ""


TASKS: dict[Noted, Task] = {
    Noted.SOWN: Task.SOW,
    Noted.FIRST_UP: Task.EMERGE,
    Noted.THINNED: Task.THIN,
    Noted.TRIMMED: Task.TRIM,
    Noted.HARDENED_OFF: Task.HARDEN_OFF,
    Noted.PLANTED_OUT: Task.PLANT_OUT,
}
"""The work that is noted."""

_IN_CELLS = (Noted.SOWN, Noted.PLANTED_OUT, Noted.SOLD, Noted.LOST)
"""What is noted in whole cells, whatever grows in them, as in the book."""

_MOST: dict[Noted, int] = {Noted.COUNT: 5, Noted.PLANTED_OUT: 2, Noted.SOLD: 4, Noted.LOST: 5}
"""How many lines there are at most for what comes up again and again; remarks take what is left."""

_TURNS = (Noted.COUNT, Noted.LOST, Noted.REMARKS, Noted.SOLD, Noted.COUNT, Noted.PLANTED_OUT)
"""Who is given a further line, in turn."""


def groups(batch: Batch, words: Words) -> tuple[Group, ...]:
    """The lines that every record sheet of the batch has: one for each thing, and a second one to count again."""
    known = {step.task: step for step in steps(batch)}
    return tuple(
        _counted(batch, words)
        if noted is Noted.COUNT
        else Group(noted, 1, tuple(_planned(noted, known, batch, words)), _number_of(noted, batch, words))
        for noted in Noted
        if _comes_up(noted, batch)
    )


def again(shown: Iterable[Group], number: int) -> tuple[Group, ...]:
    """A line more for what comes up again and again, as a further page has; the last so many where not all go on it."""
    found = [replace(group, lines=1) for group in shown if group.noted in _TURNS and group.noted not in TASKS]
    return tuple(found[len(found) - min(number, len(found)) :])


def lines(shown: Iterable[Group]) -> int:
    """How many lines there are in all."""
    return sum(group.lines for group in shown)


def grown(shown: Sequence[Group], number: int) -> tuple[Group, ...]:
    """The groups, remarks among them, with further lines up to that number in all; none is taken away."""
    counts = {group.noted: group.lines for group in shown}
    for noted in cycle([noted for noted in _TURNS if noted in counts]):
        if sum(counts.values()) >= number:
            break
        if counts[noted] < _MOST.get(noted, number):
            counts[noted] += 1
    return tuple(replace(group, lines=counts[group.noted]) for group in shown)


def parted(shown: Iterable[Group], number: int) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
    """The first so many lines, and the rest; a group that is cut says the same in both."""
    single = [replace(group, lines=1) for group in shown for _ in range(group.lines)]
    return _joined(single[:number]), _joined(single[number:])


def _joined(single: Iterable[Group]) -> tuple[Group, ...]:
    return tuple(replace(group, lines=len(list(same))) for group, same in groupby(single))


def _comes_up(noted: Noted, batch: Batch) -> bool:
    if noted is Noted.THINNED:
        return is_thinned(batch)
    return noted is not Noted.TRIMMED or batch.trim is not None


def _planned(noted: Noted, known: dict[Task, Step], batch: Batch, words: Words) -> Iterator[str]:
    """The days of a step that has any, and how it is done."""
    step = known.get(TASKS[noted]) if noted in TASKS else None
    if step:
        yield days(step, words)
    if noted is Noted.THINNED:
        yield (words("aftercare.thin_stations", n=batch.stations) if batch.stations else words("aftercare.thin_single"))


def _number_of(noted: Noted, batch: Batch, words: Words) -> str:
    """What a number is of: cells, or where the batch is thinned its places for a plant; empty where none is needed."""
    if noted in _IN_CELLS:
        return words("logs.number_cells")
    return words(f"logs.number_{_places(batch)}") if noted is Noted.THINNED else ""


def _places(batch: Batch) -> str:
    """What the places for a plant are called where no clump is left together: holes, else cells."""
    return "holes" if batch.stations else "cells"


def _counted(batch: Batch, words: Words) -> Group:
    """What to expect of a count: seedlings of a clump, else holes or cells with a plant in them."""
    if batch.sowing.method is Method.CLUMP:
        expected, called, whole = "seedlings", "seeds", batch.seeds_total
    else:
        expected = called = _places(batch)
        whole = batch.cells * (batch.stations or 1)
    sure = words.percent(batch.sowing.confidence)
    about = words(f"logs.{expected}", n=round(batch.plants_expected))
    low = words("logs.low", n=batch.plants_low, chance=sure)
    return Group(Noted.COUNT, 2, (about, low), words(f"logs.of_{called}", n=whole))
