"""Which batches may share trays, and which tray numbers their pins claim. Complains of pins that cannot be kept."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from traysheets.base.errors import PlanError, Problem
from traysheets.plan.model import Pin
from traysheets.reckon.model import Batch, Reckoned
from traysheets.trade.trays import Tray


@dataclass(frozen=True, slots=True)
class Group:
    """Batches, in plan order, that stand in trays of one kind, sown on one day and kept in one place."""

    kind: Tray
    sow: date
    place: str
    batches: tuple[Batch, ...]

    @property
    def pins(self) -> dict[int, list[tuple[Pin, Batch]]]:
        """By tray number, in order of the numbers, the pins of the group in reading order."""
        pins = sorted(
            ((pin, batch) for batch in self.batches for pin in batch.sowing.at),
            key=lambda pinned: (pinned[0].tray, pinned[0].first),
        )
        by_tray: dict[int, list[tuple[Pin, Batch]]] = {}
        for pin, batch in pins:
            by_tray.setdefault(pin.tray, []).append((pin, batch))
        return by_tray


Company: TypeAlias = tuple[Tray, date, str, int | None]


def company(batch: Batch) -> Company:
    """What is the same of batches that may share trays: kind, day and place; nothing, where one has its own trays."""
    return batch.tray, batch.sow, batch.sowing.place, batch.index if batch.sowing.own_trays else None


def groups(batches: Iterable[Batch]) -> list[Group]:
    """The groups, in order of their sowing day, then of their first batch in the plan."""
    found: dict[Company, list[Batch]] = {}
    for batch in batches:
        found.setdefault(company(batch), []).append(batch)
    parted = [Group(kind, sow, place, tuple(members)) for (kind, sow, place, _), members in found.items()]
    return sorted(parted, key=lambda group: (group.sow, group.batches[0].index))


def check_pins(reckoned: Reckoned, parted: Iterable[Group]) -> None:
    """Raise PlanError for every sowing that pins more cells than it takes, or a tray that belongs to others."""
    file = reckoned.plan.file
    wrong = _too_many_pinned(reckoned.batches, file) + _trays_of_others(parted, file)
    if wrong:
        raise PlanError(sorted(wrong, key=lambda problem: problem.line or 0))


def _too_many_pinned(batches: Iterable[Batch], file: str) -> list[Problem]:
    wrong: dict[int, Problem] = {}
    for batch in batches:
        pinned = sum(pin.cells for pin in batch.sowing.at)
        if pinned > batch.cells:
            text = (
                f"'at' keeps {pinned} cells for {batch.sowing.variety}, but the sowing takes only {batch.cells}; "
                "keep fewer, or sow more"
            )
            wrong.setdefault(batch.sowing.line, Problem(text, file, batch.sowing.line))
    return list(wrong.values())


def _trays_of_others(parted: Iterable[Group], file: str) -> list[Problem]:
    """One problem for every sowing that pins a tray which an earlier one, of another group, has pinned."""
    claims: dict[int, list[tuple[Batch, Group]]] = {}
    for group in parted:
        for batch in group.batches:
            for pin in batch.sowing.at:
                claims.setdefault(pin.tray, []).append((batch, group))
    wrong: dict[tuple[int, int], Problem] = {}
    for tray, claimed in sorted(claims.items()):
        claimed.sort(key=lambda claim: claim[0].index)
        owner, owning = claimed[0]
        for batch, group in claimed:
            if group is not owning:
                text = _claimed_twice(tray, owner, batch)
                wrong.setdefault((tray, batch.sowing.line), Problem(text, file, batch.sowing.line))
    return list(wrong.values())


def _claimed_twice(tray: int, owner: Batch, batch: Batch) -> str:
    if owner.sowing is batch.sowing:
        return (
            f"'at' keeps cells in tray {tray} for every repeat of {batch.sowing.variety}, but repeats are sown on "
            "different days and share no tray; leave 'at' out, or write each repeat as a sowing of its own"
        )
    return (
        f"'at' names tray {tray}, which line {owner.sowing.line} ({owner.sowing.variety}) has already; "
        f"they {_apart(owner, batch)}; give one of them another tray number"
    )


def _apart(owner: Batch, batch: Batch) -> str:
    """Why two batches cannot share a tray."""
    if owner.tray != batch.tray:
        return f"stand in different kinds of tray ({owner.tray.name} and {batch.tray.name})"
    if owner.sow != batch.sow:
        return f"are sown on different days ({owner.sow} and {batch.sow})"
    if owner.sowing.place != batch.sowing.place:
        return f"stand in different places ('{owner.sowing.place}' and '{batch.sowing.place}')"
    return "share no tray, since 'own_trays' is set"
