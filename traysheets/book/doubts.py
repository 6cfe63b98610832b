"""What about an entry contradicts the others of its batch: more sold than there was, seedlings before the sowing. Pure.

All entries in force are gone through by day, then in the order of writing, once with the new one and once without it:
what contradicts only with it are the doubts. A correction is so judged in place of what it corrects. Each may be true
all the same, as when something was not noted; whoever is sure has it stored.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TypeAlias

from traysheets.book.entries import CARRIED_OFF, GROWN, Entry, Kind, Note, SownBy, in_force, sowings
from traysheets.book.measures import measure_for, measure_of, places_in, standing_of
from traysheets.book.model import Kept, Measure

_COUNTED = (Kind.EMERGED, Kind.THINNED)

_Doubt: TypeAlias = tuple[tuple[int, str], str]
"""An entry and what is doubtful of it, and the sentence that says so."""


def doubts(note: Note, batch: Kept, entries: Sequence[Entry]) -> tuple[str, ...]:
    """Each contradiction that a note would bring, as a sentence without a stop."""
    known = {doubt for doubt, _ in _contradictions(batch, entries)}
    with_it = _contradictions(batch, [*entries, _as_entry(note, batch, entries)])
    return tuple(dict.fromkeys(text for doubt, text in with_it if doubt not in known))


def _as_entry(note: Note, batch: Kept, entries: Sequence[Entry]) -> Entry:
    """The note as it would be stored."""
    return Entry(
        batch=note.batch,
        kind=note.kind,
        day=note.day,
        number=note.number,
        corrects=note.corrects,
        id=max((entry.id for entry in entries), default=0) + 1,
        written_at=datetime.min,
        measure=measure_for(note, batch, entries),
    )


@dataclass(frozen=True, slots=True)
class _Place:
    """An entry in force among the others of its batch: those before it, and every sowing."""

    entry: Entry
    earlier: tuple[Entry, ...]
    sown: tuple[SownBy, ...]
    batch: Kept
    measure: Measure

    @property
    def sown_before(self) -> tuple[SownBy, ...]:
        """The sowings until its day, in whatever order they were written."""
        return tuple(one for one in self.sown if one.day <= self.entry.day)


def _contradictions(batch: Kept, entries: Sequence[Entry]) -> Iterator[_Doubt]:
    valid, measure = in_force(entries), measure_of(batch, entries)
    sown = sowings(valid, measure.cells)
    for at, entry in enumerate(valid):
        place = _Place(entry, valid[:at], sown, batch, measure)
        for name, check in (("sown", _not_sown), ("over", _over), ("many", _too_many), ("fell", _fell)):
            if text := check(place):
                yield (entry.id, f"{name} {bool(sown)}"), text
        if text := _sown_again(place):
            yield (entry.id, "again"), text


def _not_sown(place: _Place) -> str | None:
    """Something of a batch that is not noted as sown until then; said of the first alone, the rest follows from it."""
    entry = place.entry
    if entry.kind not in GROWN or place.sown_before or any(one.kind in GROWN for one in place.earlier):
        return None
    seen = "seedlings were seen" if entry.kind is Kind.EMERGED else f"'{entry.kind.words}' is noted"
    if place.sown:
        return f"{seen} on {entry.day}, before the sowing on {place.sown[0].day}"
    return f"{entry.batch} is not noted as sown, but {seen} on {entry.day}; note first when it was sown"


def _sown_again(place: _Place) -> str | None:
    """The same cells sown twice, or fewer in all than before."""
    if place.entry.kind is not Kind.SOWN:
        return None
    before = sowings(place.earlier, place.measure.cells)
    if not before:
        return None
    (now,) = sowings([place.entry], place.measure.cells)
    last = before[-1]
    noted = f"{_counted(last.cells, 'cell')} {_are(last.cells)} noted as sown already, on {last.day}"
    if now.cells > last.cells:
        return None
    if now.cells < last.cells or now.cells < place.measure.cells:
        more = f"; if {now.cells:,} more were sown, write {last.cells + now.cells:,}" if now.cells else ""
        return f"{noted}, and the number is all that were sown so far, not {now.cells:,} more{more}"
    return noted


def _over(place: _Place) -> str | None:
    """More carried off than was on hand that day."""
    entry, number = place.entry, place.entry.number
    if entry.kind not in CARRIED_OFF or not number:
        return None
    over = standing_of(place.batch, [*place.earlier, entry]).over
    short = over - standing_of(place.batch, place.earlier).over
    if short <= 0:
        return None
    have = max(0, number - short)
    only = f"only {have:,} {_were(have)}" if have else "none was"
    return f"{_counted(number, 'cell')} {entry.kind.words} on {entry.day}, but {only} on hand"


def _too_many(place: _Place) -> str | None:
    """More than what was sown until then can bring."""
    entry, measure = place.entry, place.measure
    if entry.kind not in _COUNTED or entry.number is None:
        return None
    cells = place.sown_before[-1].cells if place.sown_before else measure.cells
    places = places_in(measure, cells)
    each = place.batch.seedlings_per_seed if places.called == "seeds" else 1
    if entry.number <= places.places * each:
        return None
    sown = f"{_counted(cells, 'cell')} sown" if cells else "no cell sown"
    if places.called == "cells":
        return f"{_counted(entry.number, 'cell')} with a plant on {entry.day}, but {sown}"
    called = places.called.removesuffix("s")
    what = "seedling" if called == "seed" else called
    plant = "" if called == "seed" else " with a plant"
    most = f", which bring {places.places * each:,} at most" if each > 1 else ""
    holds = f"{sown} with {_counted(places.places, called)} in all{most}" if cells else sown
    return f"{_counted(entry.number, what)}{plant} on {entry.day}, but {holds}"


def _fell(place: _Place) -> str | None:
    """A count that is less than the one before, by more than the cells that were carried off since held."""
    entry, number = place.entry, place.entry.number
    before = next((one for one in reversed(place.earlier) if one.kind is entry.kind and one.number is not None), None)
    if entry.kind not in _COUNTED or number is None or before is None or before.number is None:
        return None
    gone = sum(one.number or 0 for one in place.earlier if one.kind in CARRIED_OFF and one.day >= before.day)
    measure = place.measure
    each = place.batch.seedlings_per_seed if measure.called == "seeds" else 1
    if before.number - number <= gone * measure.places_per_cell * each:
        return None
    when = "the same day" if before.day == entry.day else f"on {before.day}"
    loss = "more fewer than the cells noted as gone held" if gone else "and nothing noted as lost in between"
    return f"{number:,} counted on {entry.day}, but {before.number:,} {when}, {loss}"


def _counted(count: int, what: str) -> str:
    return f"{count:,} {what if count == 1 else f'{what}s'}"


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _were(count: int) -> str:
    return "was" if count == 1 else "were"
