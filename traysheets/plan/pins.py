"""Pins: cells of numbered trays that a sowing keeps for itself. Read here, and checked against each other."""

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from traysheets.base.errors import Problem
from traysheets.plan.filling import Answers
from traysheets.plan.limits import MOST_TRAYS
from traysheets.plan.model import Pin, Sowing
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


@dataclass(frozen=True, slots=True)
class _Pinned:
    """A pin with its sowing, what was answered for it, and its place in the list."""

    pin: Pin
    sowing: Sowing
    answers: Answers
    place: int

    def problem(self, text: str) -> Problem:
        return self.answers.problem(text, "at", self.place)

    def cells_are(self) -> str:
        tray = self.sowing.tray
        first, last = tray.cell_name(self.pin.first), tray.cell_name(self.pin.last)
        return (
            f"cell {first} of tray {self.pin.tray} is"
            if first == last
            else f"cells {first} to {last} of tray {self.pin.tray} are"
        )


def clashes(sowings: Iterable[tuple[Sowing, Answers]]) -> Iterable[Problem]:
    """What cannot be at once among all pins of a plan: trays of two kinds, days or places, and cells kept twice."""
    by_tray: dict[int, list[_Pinned]] = defaultdict(list)
    for sowing, answers in sowings:
        for place, pin in enumerate(sowing.at):
            by_tray[pin.tray].append(_Pinned(pin, sowing, answers, place))
    for number, pins in by_tray.items():
        first, friends = pins[0].sowing, []
        for pinned in pins:
            if difference := _difference(first, pinned.sowing):
                yield pinned.problem(f"tray {number} {difference}; choose another tray number")
            else:
                friends.append(pinned)
        yield from _overlaps(friends)


def _difference(first: Sowing, other: Sowing) -> str:
    """In what two sowings differ that cannot share a tray; nothing when they can, or when only reckoning can tell."""
    if first is other:
        return ""
    where = f"in line {first.line}"
    if first.tray.name != other.tray.name:
        return f"is a {first.tray.name} {where}, and this sowing takes {other.tray.name}"
    if first.place != other.place:
        return f"stands at {_named(first.place)} {where}, and this sowing at {_named(other.place)}"
    if first.sow and other.sow and first.sow != other.sow:
        return f"is sown {first.sow} {where}, and this sowing {other.sow}"
    if first.own_trays or other.own_trays:
        return f"is kept {where} already, and own_trays says that it is not shared"
    return ""


def _named(place: str) -> str:
    return shown(place) if place else "no named place"


def _overlaps(pins: list[_Pinned]) -> Iterable[Problem]:
    """Pins of one tray that keep a cell which another keeps; told at the later one of the plan."""
    order = {id(pinned): index for index, pinned in enumerate(pins)}
    furthest: _Pinned | None = None
    for pinned in sorted(pins, key=lambda pinned: pinned.pin.first):
        if furthest and pinned.pin.first <= furthest.pin.last:
            earlier, later = sorted((furthest, pinned), key=lambda either: order[id(either)])
            whose = "by this sowing" if earlier.sowing is later.sowing else f"in line {earlier.sowing.line}"
            yield later.problem(f"{earlier.cells_are()} kept {whose} already; choose others")
        if furthest is None or pinned.pin.last > furthest.pin.last:
            furthest = pinned
