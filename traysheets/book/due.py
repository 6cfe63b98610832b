"""What is still to be done to a batch, by the days that were printed for it and by what was noted since. Pure.

A step counts as done when it was noted, or a later one was; planting out when nothing is left; looking for seedlings
when they were counted on its last day or after it. Of a batch of which nothing is left all is done.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from traysheets.book.entries import Entry, Kind, Standing, in_force
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


class State(StrEnum):
    """How a step stands today."""

    DONE = "done"
    LATE = "late"
    NOW = "now"
    COMING = "coming"


@dataclass(frozen=True, slots=True)
class Due:
    """A step of a batch. `what` and `details` are words in the language it was printed in.

    `last` is None for a step of one day, or from a day on: that is never late. `kind` is what to note when it is done.
    """

    step: str
    kind: Kind
    first: date
    last: date | None
    what: str
    details: str
    state: State

    @property
    def is_due(self) -> bool:
        """Whether it should be done today."""
        return self.state in (State.NOW, State.LATE)


def steps_of(batch: Kept, entries: Iterable[Entry], stands: Standing, today: date) -> tuple[Due, ...]:
    """The steps of a batch in the order they were printed, each with how it stands today."""
    valid = in_force(entries)
    return tuple(
        Due(step, STEPS[step], first, last, what, details, _state(step, first, last, valid, stands, today))
        for step, first, last, what, details in _printed(batch.told)
        if step in STEPS
    )


def _state(step: str, first: date, last: date | None, valid: Sequence[Entry], stands: Standing, today: date) -> State:
    if _done(step, last, valid, stands):
        return State.DONE
    if today < first:
        return State.COMING
    return State.LATE if last is not None and today > last else State.NOW


def _done(step: str, last: date | None, valid: Sequence[Entry], stands: Standing) -> bool:
    if stands.gone and not stands.cells:
        return True
    if step == "plant_out":
        return False
    noted = {entry.kind for entry in valid}
    order = [*STEPS.values(), Kind.SOLD]
    at = order.index(STEPS[step])
    if noted & set(order[at + 1 :]):
        return True
    own = [entry for entry in valid if entry.kind is STEPS[step]]
    if step == "emerge" and last is not None:
        return any(entry.day >= last for entry in own)
    return bool(own)


def _printed(told: dict[str, Any]) -> Iterator[tuple[str, date, date | None, str, str]]:
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
