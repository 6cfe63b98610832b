"""What is still to be done to a batch, by the days that were printed for it and by what was noted since. Pure.

Days follow what really happened: once it is noted as sown, sowing has the days it was done on, and later steps are as
long after as was printed. Before that, sowing is what is due, and what comes after it waits once the sowing is late. A
planting out that waits for more than the plants, such as the last frost, never comes earlier.

A step is done when it was noted, or a later one of the whole batch was; what was carried off in part says nothing of
the rest. Looking for seedlings is done when they were counted on its last day or after it, planting out when nothing is
left. A batch of which nothing is left has nothing more to be done.

Of a batch sown in parts each step is that of the first part it is still to be done to, and tells how many cells are
due; seedlings alone are looked for from the first part to the last. A note is of those parts that were due by then, or
within `GRACE`, as a step is often done to all at once; what was planted out is of the parts sown first.

A step is late after its last day. One that has a first day only is late when `GRACE` is over, hardening off when
planting out begins; the days it is late count from its first day, which is the one printed.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import Any, TypeAlias

from traysheets.book.entries import Entry, Kind, Standing, in_force, parts_sown
from traysheets.book.model import Kept

STEPS: Mapping[str, Kind] = {
    "sow": Kind.SOWN,
    "emerge": Kind.EMERGED,
    "thin": Kind.THINNED,
    "trim": Kind.TRIMMED,
    "harden_off": Kind.HARDENED_OFF,
    "plant_out": Kind.PLANTED_OUT,
}
"""The steps of a batch by their printed names, in the order of its life, and the kind of entry that tells of each."""

GRACE = timedelta(days=7)
"""How long after its day a step may be done without being late: seedlings do not grow by the day (judgement)."""

_ENGLISH = {"emerge": "look for seedlings"}
_DAYS: tuple[tuple[str, str, str], ...] = (
    ("sow", "sow", "sow"),
    ("emerge", "emerge_from", "emerge_to"),
    ("thin", "thin", "thin"),
    ("trim", "trim", "trim"),
    ("harden_off", "harden_off", "harden_off"),
    ("plant_out", "plant_out", "plant_out_last"),
)
_READY = frozenset({"harden_off", "plant_out"})
"""Steps that go by when plants are ready to go out."""
_OF_ALL = (Kind.EMERGED, Kind.THINNED, Kind.TRIMMED, Kind.HARDENED_OFF)
"""Kinds that are noted of the whole batch, in the order of its life."""


class State(StrEnum):
    """How a step stands today."""

    DONE = "done"
    LATE = "late"
    NOW = "now"
    COMING = "coming"
    WAITING = "after sowing"


@dataclass(frozen=True, slots=True)
class Due:
    """A step of a batch. `what` and `details` are words in the language it was printed in.

    `last` is None for a step of one day, or from a day on. `kind` is what to note when it is done. `late_days`: how
    many days ago its last day was, or its only one, where it is late. `cells`: how many of those sown it is for, where
    it is not for all of them. The days of a step that waits are those of a sowing in time, and are not to be shown.
    """

    step: str
    kind: Kind
    first: date
    last: date | None
    what: str
    details: str
    state: State
    late_days: int = 0
    cells: int | None = None

    @property
    def is_due(self) -> bool:
        """Whether it should be done today."""
        return self.state in (State.NOW, State.LATE)

    @property
    def has_days(self) -> bool:
        """Whether its days can be told."""
        return self.state is not State.WAITING

    @property
    def stands(self) -> str:
        """How it stands, in words: `late by 12 days`."""
        if self.state is State.LATE:
            return f"late by {self.late_days:,} day{'' if self.late_days == 1 else 's'}"
        return self.state.value


_Printed: TypeAlias = tuple[str, date, date | None, str, str]
"""A step as printed: its name, first and last day, and words."""


def steps_of(batch: Kept, entries: Iterable[Entry], stands: Standing, today: date) -> tuple[Due, ...]:
    """The steps of a batch in the order they were printed, each with how it stands today.

    None of a batch that left the plan before it was sown.
    """
    if not (stands.cells_sown or batch.in_plan):
        return ()
    printed = [one for one in _printed(batch.told) if one[0] in STEPS]
    first = {step: day for step, day, *_ in printed}
    life = _Life(batch, in_force(entries), stands, today, _days_to_go_out(first))
    return tuple(map(life.due, printed))


def _days_to_go_out(first: Mapping[str, date]) -> timedelta:
    """How long plants harden off before planting out begins; `GRACE` where that is not printed."""
    if "harden_off" not in first or "plant_out" not in first:
        return GRACE
    return max(first["plant_out"] - first["harden_off"] - timedelta(days=1), timedelta(0))


@dataclass(frozen=True, slots=True)
class _Part:
    """A step of one part of a batch: its days, what is sown up to that part, and the day that was sown on, if noted."""

    first: date
    last: date | None
    cells: int
    sown: date = date.min


@dataclass(frozen=True, slots=True)
class _Life:
    """A batch with its entries in force, on a day."""

    batch: Kept
    valid: tuple[Entry, ...]
    stands: Standing
    today: date
    hardening: timedelta

    def due(self, printed: _Printed) -> Due:
        step, first, last, what, details = printed
        due = Due(step, STEPS[step], first, last, what, details, State.DONE)
        due = self._sowing(due) if step == "sow" else self._later(due)
        if due.state is State.LATE:
            due = replace(due, late_days=(self.today - (due.last or due.first)).days)
        return due

    def _sowing(self, due: Due) -> Due:
        if self.stands.to_sow:
            if self.today == due.first:
                return replace(due, state=State.NOW)
            return replace(due, state=State.LATE if self.today > due.first else State.COMING)
        days = [part.day for part in parts_sown(self.valid, self.batch.identity.cells)]
        return replace(due, first=days[0], last=days[-1] if len(days) > 1 else None) if days else due

    def _later(self, due: Due) -> Due:
        """A step after the sowing: of the first part that it is still to be done to, or done."""
        stands, parts = self.stands, self._parts(due.step, due.first, due.last)
        if not stands.cells_sown or (stands.gone and not stands.cells):
            return replace(due, state=self._unsown(due.first))
        left = [part for part in parts if not self._done(due.step, part, earliest=part is parts[0])]
        if not left:
            return replace(due, first=parts[-1].first, last=parts[-1].last)
        part = left[0]
        due = replace(due, first=part.first, last=part.last, state=self._state(due.step, part))
        return replace(due, cells=self._cells(due.step, parts, left)) if len(parts) > 1 else due

    def _unsown(self, first: date) -> State:
        """How a step stands of what is not there: all gone, or still to be sown."""
        if not self.stands.to_sow:
            return State.DONE
        return State.COMING if self.today <= self.batch.identity.sow and self.today < first else State.WAITING

    def _state(self, step: str, part: _Part) -> State:
        if self.today < part.first:
            return State.COMING
        return State.LATE if self.today > self._until(step, part) else State.NOW

    def _until(self, step: str, part: _Part) -> date:
        """The last day on which a step is in time."""
        if part.last is not None:
            return part.last
        return part.first + (self.hardening if step == "harden_off" else GRACE)

    def _done(self, step: str, part: _Part, *, earliest: bool) -> bool:
        """Whether a step is noted as done to a part, or a later one is."""
        if step == "plant_out":
            return self.stands.gone >= part.cells
        since = [entry for entry in self.valid if entry.day >= part.sown]
        if not earliest:
            since = [entry for entry in since if entry.day >= part.first - GRACE]
        later = _OF_ALL[_OF_ALL.index(STEPS[step]) + 1 :]
        if any(entry.kind in later for entry in since):
            return True
        own = [entry for entry in since if entry.kind is STEPS[step]]
        if step == "emerge" and part.last is not None:
            return any(entry.day >= part.last for entry in own)
        return bool(own)

    def _cells(self, step: str, parts: tuple[_Part, ...], left: list[_Part]) -> int | None:
        """How many cells a step is for: those of the parts that are due, or of the next one; None for all there are."""
        at = parts.index(left[0])
        before = self.stands.gone if step == "plant_out" else parts[at - 1].cells if at else 0
        due = [part.cells for part in left if part.first <= self.today]
        cells = (due or [left[0].cells])[-1] - before
        return None if cells == parts[-1].cells else cells

    def _parts(self, step: str, first: date, last: date | None) -> tuple[_Part, ...]:
        """A step of every part by the day that was really sown on; of what is not noted as sown, as printed."""
        parts = []
        for sown in parts_sown(self.valid, self.batch.identity.cells):
            shift = sown.day - self.batch.identity.sow
            shift = self._ready_later(shift) if step in _READY else shift
            parts.append(_Part(first + shift, last + shift if last else None, sown.cells, sown.day))
        if not parts:
            return (_Part(first, last, self.stands.cells_sown),)
        if step == "emerge":
            return (replace(parts[-1], first=parts[0].first),)
        return tuple(parts)

    def _ready_later(self, shift: timedelta) -> timedelta:
        """How much later plants go out that were sown so much later than planned.

        By as much where their days alone decide; else when they are old enough, which may be in time all the same.
        """
        out, days = self.batch.told.get("plant_out"), self.batch.told.get("days_to_raise")
        if not out or days is None:
            return shift
        spare = date.fromisoformat(out) - (self.batch.identity.sow + timedelta(days=days))
        return max(timedelta(0), shift - spare) if spare > timedelta(0) else shift


def _printed(told: dict[str, Any]) -> Iterator[_Printed]:
    """The printed steps; of a batch printed before they were kept whole, from its single days."""
    if isinstance(told.get("steps"), list):
        for step in told["steps"]:
            last = step.get("last")
            yield (
                step["step"],
                date.fromisoformat(step["first"]),
                date.fromisoformat(last) if last else None,
                step.get("what", ""),
                step.get("details", ""),
            )
        return
    for step, first, last in _DAYS:
        if told.get(first):
            until = told.get(last) if last != first else None
            what = _ENGLISH.get(step, step.replace("_", " ")).capitalize()
            yield step, date.fromisoformat(told[first]), date.fromisoformat(until) if until else None, what, ""
