"""What about an entry contradicts the others of its batch: more sold than there was, seedlings before the sowing. Pure.

All entries in force are gone through by day, then in the order of writing, once with the new one and once without it:
what contradicts only with it are the doubts. A correction is so judged in place of what it corrects. Each may be true
all the same, as when something was not noted; whoever is sure has it stored.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeAlias

from traysheets.base.errors import Problem
from traysheets.book.entries import CARRIED_OFF, COUNTED, GROWN, Entry, Kind, Note, SownBy, in_force, latest, sowings
from traysheets.book.measures import measure_for, measure_of, places_in, standing_of
from traysheets.book.model import Kept, Measure
from traysheets.book.said import said

_Doubt: TypeAlias = tuple[int, str]
"""An entry, and what is doubtful of it as the key of its words."""

_PLANTS = frozenset({*COUNTED, Kind.PLANTED_OUT})
"""Kinds that there must be plants for."""


def doubts(note: Note, batch: Kept, entries: Sequence[Entry], today: date) -> tuple[Problem, ...]:
    """Each contradiction that a note would bring, as a sentence without a stop; first a day that is still to come.

    Where the computer keeps the time of another place, that day may have begun at the bench. Two entries that a
    correction makes doubtful in the same words are asked about once.
    """
    known = dict(_contradictions(batch, entries))
    with_it = _contradictions(batch, [*entries, _as_entry(note, batch, entries)])
    ahead = (said("doubts.tomorrow", day=note.day, today=today),) if note.day > today else ()
    return (*ahead, *dict.fromkeys(problem for doubt, problem in with_it if doubt not in known))


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

    @property
    def seedlings_each(self) -> int:
        """Seedlings that a place may bring: more than one only where seeds are counted, and are clusters."""
        return self.batch.seedlings_per_seed if self.measure.called == "seeds" else 1


def _contradictions(batch: Kept, entries: Sequence[Entry]) -> Iterator[tuple[_Doubt, Problem]]:
    valid, measure = in_force(entries), measure_of(batch, entries)
    sown = sowings(valid, measure.cells)
    for at, entry in enumerate(valid):
        place = _Place(entry, valid[:at], sown, batch, measure)
        for check in (_not_sown, _same_day, _sown_again, _over, _too_many, _fell, _fewer_than_left):
            if problem := check(place):
                yield (entry.id, problem.key), problem


def _not_sown(place: _Place) -> Problem | None:
    """Something of a batch before it was sown; said of the first alone, the rest follows from it.

    Where no sowing is noted, a batch that comes up is taken as sown when the plan says: few note what they do by the
    plan. Anything else of it may as well be meant for another batch.
    """
    entry = place.entry
    if entry.kind not in GROWN or place.sown_before or any(one.kind in GROWN for one in place.earlier):
        return None
    if place.sown:
        return said("doubts.before_sowing", what=entry.kind, day=entry.day, sown=place.sown[0].day)
    if entry.day < place.measure.sow:
        return said("doubts.unsown", what=entry.kind, day=entry.day, sown=place.measure.sow)
    return None if entry.kind is Kind.EMERGED else said("doubts.not_noted", what=entry.kind, day=entry.day)


def _same_day(place: _Place) -> Problem | None:
    """Plants on the very day of the sowing: one of both days is wrong."""
    entry = place.entry
    if entry.kind not in _PLANTS or entry.number == 0 or any(one.kind in GROWN for one in place.earlier):
        return None
    sown = place.sown[0].day if place.sown else place.measure.sow if entry.kind is Kind.EMERGED else None
    return said("doubts.same_day", what=entry.kind, day=entry.day) if entry.day == sown else None


def _sown_again(place: _Place) -> Problem | None:
    """The same cells sown twice, or fewer in all than before."""
    before = sowings(place.earlier, place.measure.cells)
    if place.entry.kind is not Kind.SOWN or not before:
        return None
    (now,), last = sowings([place.entry], place.measure.cells), before[-1]
    if now.cells > last.cells:
        return None
    if now.cells == last.cells >= place.measure.cells:
        return said("doubts.sown_already", n=last.cells, day=last.day)
    if last.cells + now.cells <= place.measure.cells:
        more = {"more": now.cells, "sum": last.cells + now.cells}
        return said("doubts.sown_in_all", n=last.cells, day=last.day, **more)
    return said("doubts.sown_fewer", n=last.cells, day=last.day, number=now.cells)


def _over(place: _Place) -> Problem | None:
    """More carried off than was on hand that day."""
    entry, number = place.entry, place.entry.number
    if entry.kind not in CARRIED_OFF or not number:
        return None
    before = standing_of(place.batch, place.earlier)
    short = standing_of(place.batch, [*place.earlier, entry]).over - before.over
    if short <= 0:
        return None
    return said("doubts.over", what=entry.kind, n=number, day=entry.day, have=max(0, number - short))


def _too_many(place: _Place) -> Problem | None:
    """More than what was sown until then can bring."""
    entry, measure = place.entry, place.measure
    if entry.kind not in COUNTED or entry.number is None:
        return None
    places = places_in(measure, place.sown_before[-1].cells if place.sown_before else measure.cells)
    most = places.places * place.seedlings_each
    if entry.number <= most:
        return None
    told = {"n": entry.number, "day": entry.day, "places": places.places}
    if place.seedlings_each > 1:
        return said("doubts.many_clusters", **told, most=most)
    return said(f"doubts.many_{places.called}", **told)


def _fell(place: _Place) -> Problem | None:
    """A count that is less than the one before, by more than the cells that were carried off since held."""
    entry, number = place.entry, place.entry.number
    before = latest(place.earlier, entry.kind, counted=True)
    if entry.kind not in COUNTED or number is None or before is None or before.number is None:
        return None
    gone = sum(one.number or 0 for one in place.earlier if one.kind in CARRIED_OFF and one.day >= before.day)
    held = gone * place.measure.places_per_cell * place.seedlings_each
    if before.number - number <= held:
        return None
    told = {"number": number, "day": entry.day, "before": before.number, "earlier": before.day}
    return said("doubts.fell_more", **told, held=held) if gone else said("doubts.fell", **told)


def _fewer_than_left(place: _Place) -> Problem | None:
    """Fewer that came up in all than were left after thinning."""
    entry, thinned = place.entry, latest(place.earlier, Kind.THINNED, counted=True)
    if entry.kind is not Kind.EMERGED or entry.number is None or thinned is None or thinned.number is None:
        return None
    if entry.number >= thinned.number or any(one.kind in CARRIED_OFF and one.number for one in place.earlier):
        return None
    told = {"number": entry.number, "day": entry.day, "before": thinned.number, "earlier": thinned.day}
    return said("doubts.fewer_than_left", **told)
