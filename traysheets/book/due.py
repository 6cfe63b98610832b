"""What is still to be done to a batch, by the days that were printed for it and by what was noted since. Pure.

Days follow what really happened: once it is noted as sown, later steps are as long after that day as was printed; of a
batch sown in parts a step lasts from the first part to the last. Before that, sowing is what is due, and what would be
due after it waits. A planting out that waits for more than the plants, such as the last frost, never comes earlier.

A step is done when it was noted, or a later one of the whole batch was, since the last part was sown; what was carried
off in part says nothing of the rest. Looking for seedlings is done when they were counted on its last day or after it,
planting out when nothing is left. A batch of which nothing is left has nothing more to be done.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from typing import Any, TypeAlias

from traysheets.book.entries import Entry, Kind, SownBy, Standing, in_force, parts_sown
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

    `last` is None for a step of one day, or from a day on: of those only sowing is ever late. `kind` is what to note
    when it is done. `late_days`: how many days ago its last day was, where it is late.
    """

    step: str
    kind: Kind
    first: date
    last: date | None
    what: str
    details: str
    state: State
    late_days: int = 0

    @property
    def is_due(self) -> bool:
        """Whether it should be done today."""
        return self.state in (State.NOW, State.LATE)

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
    life = _Life(batch, in_force(entries), stands, today)
    return tuple(life.due(printed) for printed in _printed(batch.told) if printed[0] in STEPS)


@dataclass(frozen=True, slots=True)
class _Life:
    """A batch with its entries in force, on a day."""

    batch: Kept
    valid: tuple[Entry, ...]
    stands: Standing
    today: date

    def due(self, printed: _Printed) -> Due:
        step, first, last, what, details = printed
        if step != "sow":
            first, last = self._days(step, first, last)
        state = self._sowing(first) if step == "sow" else self._state(step, first, last)
        late = (self.today - (last or first)).days if state is State.LATE else 0
        return Due(step, STEPS[step], first, last, what, details, state, late)

    def _sowing(self, day: date) -> State:
        if not self.stands.to_sow:
            return State.DONE
        if self.today == day:
            return State.NOW
        return State.LATE if self.today > day else State.COMING

    def _state(self, step: str, first: date, last: date | None) -> State:
        stands = self.stands
        nothing_there = not stands.cells_sown or bool(stands.gone and not stands.cells)
        if not stands.to_sow if nothing_there else self._noted(step, last):
            return State.DONE
        if self.today < first:
            return State.COMING
        if nothing_there:
            return State.WAITING
        return State.LATE if last is not None and self.today > last else State.NOW

    def _noted(self, step: str, last: date | None) -> bool:
        """Whether a step of all that was sown is noted as done, or a later one is."""
        if step == "plant_out":
            return False
        parts = self._parts
        since = [entry for entry in self.valid if not parts or entry.day >= parts[-1].day]
        later = _OF_ALL[_OF_ALL.index(STEPS[step]) + 1 :]
        if any(entry.kind in later for entry in since):
            return True
        own = [entry for entry in since if entry.kind is STEPS[step]]
        if step == "emerge" and last is not None:
            return any(entry.day >= last for entry in own)
        return bool(own)

    @property
    def _parts(self) -> tuple[SownBy, ...]:
        return parts_sown(self.valid, self.batch.identity.cells)

    def _days(self, step: str, first: date, last: date | None) -> tuple[date, date | None]:
        """The days of a later step by the days that were really sown on."""
        parts = self._parts
        if not parts:
            return first, last
        planned = self.batch.identity.sow
        early, late = parts[0].day - planned, parts[-1].day - planned
        if step in _READY:
            early, late = self._ready_later(early), self._ready_later(late)
        return first + early, last + late if last else None

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
