"""By what the entries of a batch are measured: what was printed when they were written, whatever the plan says now.

A plan is edited and printed again after its batches were sown; what was noted stays as true as it was.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from traysheets.book.entries import Entry, Kind, Note, Standing, in_force, standing
from traysheets.book.model import Kept, Measure

_TELLING = (Kind.SOWN, Kind.EMERGED, Kind.THINNED)
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


def measure_of(batch: Kept, entries: Iterable[Entry]) -> Measure:
    """What a batch is measured by: as printed when it was noted as sown, else counted; before that, as printed last."""
    valid = in_force(entries)
    for kind in _TELLING:
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
