"""By what the entries of a batch are measured: what was printed when they were written, whatever the plan says now.

A plan is edited and printed again after its batches were sown; what was noted stays as true as it was.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from traysheets.book.entries import Entry, Kind, Note, Standing, in_force, parts_sown, standing
from traysheets.book.model import Kept, Measure

COUNTS_BY = (Kind.SOWN, Kind.EMERGED, Kind.THINNED)
"""What tells how a batch was sown, the plainest first."""


@dataclass(frozen=True, slots=True)
class Places:
    """What a batch can hold: its cells, the places for a plant in all, and what such a place is called."""

    cells: int
    places: int
    called: str


def places_in(measure: Measure, cells: int) -> Places:
    """The places for a plant in so many cells."""
    return Places(cells, cells * measure.places_per_cell, measure.called)


def places_of(batch: Kept) -> Places:
    """What a batch can hold as it was printed last."""
    return places_in(batch.measure, batch.identity.cells)


def most_places(batch: Kept, entries: Iterable[Entry]) -> Places:
    """The most that a batch can hold: as it was printed last, or when it was sown."""
    noted = measure_of(batch, entries)
    then, now = places_in(noted, noted.cells), places_of(batch)
    return Places(max(then.cells, now.cells), max(then.places, now.places), then.called)


def measure_of(batch: Kept, entries: Iterable[Entry]) -> Measure:
    """What a batch is measured by: as printed when it was noted as sown, else counted; before that, as printed last."""
    valid = in_force(entries)
    for kind in COUNTS_BY:
        noted = [entry.measure for entry in valid if entry.kind is kind and entry.measure]
        if noted:
            return noted[-1]
    return batch.measure


def standing_of(batch: Kept, entries: Iterable[Entry]) -> Standing:
    """What is on hand of a batch now, and what the plan still has to be sown of it."""
    entries = tuple(entries)
    measure = measure_of(batch, entries)
    planned = batch.identity.cells if batch.in_plan else 0
    return standing(measure.cells, entries, one_a_cell=measure.method == "single", planned=planned)


def measure_for(note: Note, batch: Kept, entries: Iterable[Entry]) -> Measure:
    """By what a note is to be measured for good: a sowing by what is printed now, a correction as what it corrects."""
    entries = tuple(entries)
    corrected = next((entry.measure for entry in entries if entry.id == note.corrects), None)
    if corrected:
        return corrected
    return batch.measure if note.kind is Kind.SOWN else measure_of(batch, entries)


@dataclass(frozen=True, slots=True)
class Counted:
    """What a count was of: the cells sown until its day, and how many days later than planned the last of them were."""

    cells: int
    days_later: int


def counted_in(batch: Kept, entries: Iterable[Entry], count: Entry) -> Counted:
    """What a count of seedlings was of. Where all sowing is noted for later days, or none is, all of it."""
    entries = tuple(entries)
    every = parts_sown(entries, measure_of(batch, entries).cells)
    parts = tuple(part for part in every if part.day <= count.day) or every
    if not parts:
        return Counted(standing_of(batch, entries).cells_sown, 0)
    return Counted(parts[-1].cells, (parts[-1].day - batch.identity.sow).days)
