"""Entries: what was noted about a batch, and what stands of it now. Pure: no file, no clock.

What is counted, by kind:

* sown, emerged and thinned say how it stands: *so far*. The latest count is what counts.
  Sown are cells. Emerged and thinned are places with a plant: seedlings of a clump, holes of a station sowing, else
  cells; the count after thinning is what was left.
* planted out, sold and lost say what was carried off *that day*, in cells (pots, plugs, blocks) with all that grows in
  them. They add up.
* trimmed, hardened off and a remark have no number.

An entry is never changed. A correction is a further entry that names the one it stands in for; one that is a remark
strikes it out.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from traysheets.book.model import Measure


class Kind(StrEnum):
    """What an entry tells of."""

    SOWN = "sown"
    EMERGED = "emerged"
    THINNED = "thinned"
    TRIMMED = "trimmed"
    HARDENED_OFF = "hardened_off"
    PLANTED_OUT = "planted_out"
    SOLD = "sold"
    LOST = "lost"
    REMARK = "remark"

    @property
    def words(self) -> str:
        """The kind as it is said in messages: `planted out`."""
        return self.value.replace("_", " ")


NEEDS_NUMBER = frozenset({Kind.EMERGED, Kind.PLANTED_OUT, Kind.SOLD, Kind.LOST})
MAY_HAVE_NUMBER = NEEDS_NUMBER | {Kind.SOWN, Kind.THINNED}
CARRIED_OFF = (Kind.PLANTED_OUT, Kind.SOLD, Kind.LOST)
COUNTED = (Kind.EMERGED, Kind.THINNED)
"""Kinds whose number is of places with a plant."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """What somebody notes about a batch. `batch` is its code; `corrects` the number of the entry it stands in for.

    `key` is made up by whoever sends it, anew for each entry: sent twice under one key, it is stored once. `sure`: it
    is to be stored though it contradicts what was noted before; not stored itself.
    """

    batch: str
    kind: Kind
    day: date
    number: int | None = None
    who: str = ""
    remark: str = ""
    corrects: int | None = None
    key: str = ""
    sure: bool = field(default=False, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(Note):
    """A note that is stored: its number in the book, and the moment (UTC) it was written.

    `measure` is what was printed of its batch then, by which its number is measured for good.
    """

    id: int
    written_at: datetime
    measure: Measure | None = None


def in_force(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that count, by day, then in the order of writing: all but those corrected or struck out."""
    every = sorted(entries, key=lambda entry: (entry.day, entry.id))
    corrected = {entry.corrects for entry in every}
    return tuple(entry for entry in every if entry.id not in corrected and not strikes_out(entry))


def strikes_out(note: Note) -> bool:
    """Whether a note only takes another away, and says nothing further of the batch."""
    return note.corrects is not None and note.kind is Kind.REMARK


@dataclass(frozen=True, slots=True)
class SownBy:
    """So many cells were sown, in all, on a day or before it."""

    day: date
    cells: int


def sowings(entries: Iterable[Entry], cells: int) -> tuple[SownBy, ...]:
    """Every sowing in force, by day. One without a number is of all cells that were printed then; unknown, `cells`."""
    found = (entry for entry in in_force(entries) if entry.kind is Kind.SOWN)
    return tuple(SownBy(entry.day, _cells(entry, cells)) for entry in found)


def parts_sown(entries: Iterable[Entry], cells: int) -> tuple[SownBy, ...]:
    """The sowings that each brought more cells than there were before, by day."""
    parts: list[SownBy] = []
    for sown in sowings(entries, cells):
        if sown.cells > (parts[-1].cells if parts else 0):
            parts.append(sown)
    return tuple(parts)


def _cells(sown: Entry, cells: int) -> int:
    if sown.number is not None:
        return sown.number
    return sown.measure.cells if sown.measure else cells


def latest(entries: Iterable[Entry], kind: Kind, *, counted: bool = False) -> Entry | None:
    """The latest entry in force of a kind; `counted`: the latest that has a number. None when there is none."""
    found = [entry for entry in in_force(entries) if entry.kind is kind]
    return next((entry for entry in reversed(found) if not counted or entry.number is not None), None)


@dataclass(frozen=True, slots=True)
class Standing:
    """What is on hand of a batch now. None: nobody counted. No figure is below 0.

    `cells_sown` are those that were sown, `to_sow` those that the plan has beyond them; `up` the places with a plant at
    the latest count, `thinned` those left after thinning. `cells` are those still there, `plants` the plants in them:
    in full where a cell bears one, else in proportion. `over`: cells that were carried off beyond those there were; a
    number is then wrong somewhere.
    """

    cells_sown: int
    up: int | None
    thinned: int | None
    planted_out: int
    sold: int
    lost: int
    cells: int
    plants: int | None
    over: int
    to_sow: int = 0

    @property
    def gone(self) -> int:
        """The cells that were carried off, one way or another."""
        return self.planted_out + self.sold + self.lost


GROWN = frozenset(Kind) - {Kind.SOWN, Kind.REMARK}
"""Kinds that can only be noted of what was sown: where one is, sowing was not noted but done."""


def standing(cells: int, entries: Iterable[Entry], *, one_a_cell: bool, planned: int | None = None) -> Standing:
    """What is on hand of a batch of so many cells, of which the plan now has as many as `planned`, or the same.

    `one_a_cell`: each bears one plant, so a cell without is none. Where nothing tells that it was sown, nothing is on
    hand; where sowing was not noted but what comes after, all cells are taken as sown.
    """
    valid = in_force(entries)
    sown = sowings(valid, cells)
    cells_sown = sown[-1].cells if sown else cells if any(entry.kind in GROWN for entry in valid) else 0
    up, thinned = _number(valid, Kind.EMERGED), _number(valid, Kind.THINNED)
    gone = {kind: sum(entry.number or 0 for entry in valid if entry.kind is kind) for kind in CARRIED_OFF}
    plants = up if thinned is None else thinned
    there = plants if one_a_cell and plants is not None else cells_sown
    left = there - sum(gone.values())
    return Standing(
        cells_sown=cells_sown,
        up=up,
        thinned=thinned,
        planted_out=gone[Kind.PLANTED_OUT],
        sold=gone[Kind.SOLD],
        lost=gone[Kind.LOST],
        cells=max(0, left),
        plants=None if plants is None else round(plants * max(0, left) / there) if there else 0,
        over=max(0, -left),
        to_sow=max(0, (cells if planned is None else planned) - cells_sown),
    )


def _number(valid: Sequence[Entry], kind: Kind) -> int | None:
    """The latest number of a kind that says how it stands."""
    return next((entry.number for entry in reversed(valid) if entry.kind is kind and entry.number is not None), None)
