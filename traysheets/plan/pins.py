"""Pins: cells of numbered trays that a sowing keeps for itself. Read here, and checked against each other."""

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from traysheets.base.errors import Problem
from traysheets.base.limits import MOST_TRAYS
from traysheets.plan.filling import Answers
from traysheets.plan.model import Pin
from traysheets.plan.texts import shown
from traysheets.trade.trays import Tray

_PIN = re.compile(r"(\d{1,9})\s*:\s*([A-Za-z]+\d+)(?:\s*[-–]\s*([A-Za-z]+\d+))?")


def parse_pin(text: str, tray: Tray) -> Pin:
    """The pin written as `3: A1-B2` or `3: C4`. Raises ValueError when it is not one, or not of this tray."""
    found = _PIN.fullmatch(text)
    if not found:
        raise ValueError(f'{shown(text)} is not a tray number and cells; write it as "3: A1-B2" or "3: C4"')
    number = int(found[1])
    if not 1 <= number <= MOST_TRAYS:
        raise ValueError(f"{shown(text)}: trays are numbered from 1 to {MOST_TRAYS:,}")
    first = tray.cell_number(found[2])
    last = tray.cell_number(found[3]) if found[3] else first
    if last < first:
        raise ValueError(f"{shown(text)}: {found[2].upper()} comes after {found[3].upper()} in reading order")
    return Pin(number, first, last)


def pin_text(number: int, first: str, last: str) -> str:
    """A pin as it is written in a plan, given the number of its tray and the names of its ends: `3: A1-B2`, `3: C4`."""
    return f"{number}: {first if first == last else f'{first}-{last}'}"


@dataclass(frozen=True, slots=True)
class Claim:
    """The pins of one sowing, and what it may differ in from others that keep cells of the same tray."""

    answers: Answers
    tray: Tray
    pins: tuple[Pin, ...]
    place: str

    @property
    def line(self) -> int:
        """The line of the sowing."""
        return self.answers.table.line

    def difference(self, first: "Claim") -> str:
        """Why this sowing cannot share a tray with another; nothing when it can, or when only reckoning can tell."""
        mine, its, where = self.answers.get, first.answers.get, f"in line {first.line}"
        if first is self:
            return ""
        if first.tray.name != self.tray.name:
            return f"is a {first.tray.name} {where}, and this sowing takes {self.tray.name}"
        if first.place != self.place:
            return f"stands at {_named(first.place)} {where}, and this sowing at {_named(self.place)}"
        if its("sow") and mine("sow") and its("sow") != mine("sow"):
            return f"is sown {its('sow')} {where}, and this sowing {mine('sow')}"
        if its("own_trays") or mine("own_trays"):
            return f"is kept {where} already, and own_trays says that it is not shared"
        return ""


@dataclass(frozen=True, slots=True)
class _Pinned:
    """One pin of a claim, with its place in the list."""

    claim: Claim
    pin: Pin
    place: int

    def problem(self, text: str) -> Problem:
        return self.claim.answers.problem(text, "at", self.place)

    def cells_are(self) -> str:
        tray = self.claim.tray
        first, last = tray.cell_name(self.pin.first), tray.cell_name(self.pin.last)
        of_tray = f"of tray {self.pin.tray}"
        return f"cell {first} {of_tray} is" if first == last else f"cells {first} to {last} {of_tray} are"


def clashes(claims: Iterable[Claim]) -> Iterable[Problem]:
    """What cannot be at once among all pins of a plan: trays of two kinds, days or places, and cells kept twice."""
    by_tray: dict[int, list[_Pinned]] = defaultdict(list)
    for claim in claims:
        for place, pin in enumerate(claim.pins):
            by_tray[pin.tray].append(_Pinned(claim, pin, place))
    for number, pins in by_tray.items():
        friends = []
        for pinned in pins:
            if difference := pinned.claim.difference(pins[0].claim):
                yield pinned.problem(f"tray {number} {difference}; choose another tray number")
            else:
                friends.append(pinned)
        yield from _overlaps(friends)


def _named(place: str) -> str:
    return shown(place) if place else "no named place"


def _overlaps(pins: list[_Pinned]) -> Iterable[Problem]:
    """Pins of one tray that keep a cell which another keeps; told at the later one of the plan."""
    order = {id(pinned): index for index, pinned in enumerate(pins)}
    furthest: _Pinned | None = None
    for pinned in sorted(pins, key=lambda pinned: pinned.pin.first):
        if furthest and pinned.pin.first <= furthest.pin.last:
            earlier, later = sorted((furthest, pinned), key=lambda either: order[id(either)])
            whose = "by this sowing" if earlier.claim is later.claim else f"in line {earlier.claim.line}"
            yield later.problem(f"{earlier.cells_are()} kept {whose} already; choose others")
        if furthest is None or pinned.pin.last > furthest.pin.last:
            furthest = pinned
