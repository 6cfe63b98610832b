"""What an entry may say: every complaint about a note before it is written, as sentences."""

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from traysheets.base.errors import BookError, Problem
from traysheets.book.entries import MAY_HAVE_NUMBER, NEEDS_NUMBER, Entry, Kind, Note, strikes_out
from traysheets.book.measures import Places, most_places, places_of
from traysheets.book.model import CLUSTER, Kept

LONGEST_WHO = 60
LONGEST_REMARK = 2000
LONGEST_KEY = 100

_AHEAD = timedelta(days=1)
"""A phone's day may be one ahead of the computer's, where its clock or its time zone differs."""

_EARLY = timedelta(weeks=13)
_BEYOND_READING = 10**15


def tidied(note: Note) -> Note:
    """The note without white space around its texts, line breaks written one way, whatever a browser sends."""
    remark = note.remark.replace("\r\n", "\n").replace("\r", "\n").strip()
    return replace(note, who=note.who.strip(), remark=remark)


def check_key(key: str) -> None:
    """Raises BookError for the key of an entry that is none."""
    if not (0 < len(key) <= LONGEST_KEY and key.isascii() and key.isprintable()):
        raise BookError(
            "an entry needs a key of its own, so that sent twice it is stored once:"
            f" 1 to {LONGEST_KEY} plain characters"
        )


def check(note: Note, batch: Kept, today: date, entries: Iterable[Entry] = ()) -> None:
    """Raises BookError with everything that is wrong about a note on a batch, each in a sentence.

    `entries` are those that the batch has: they tell what was printed of it when it was sown.
    """
    problems = [*_day(note, batch, today), *_number(note, batch, most_places(batch, entries)), *_texts(note)]
    if problems:
        raise BookError(Problem(problem) for problem in problems)


def _day(note: Note, batch: Kept, today: date) -> Iterator[str]:
    first = earliest_day(batch)
    if note.day > today + _AHEAD:
        yield f"the day {note.day} is still to come; today is {today}"
    elif note.day < first:
        yield (
            f"the day {note.day} is before the season of {batch.code}, which was to be sown {batch.identity.sow};"
            f" days from {first} on can be noted"
        )


def earliest_day(batch: Kept) -> date:
    """The first day that may be noted: some weeks before the sowing day, for what was sown early."""
    return batch.identity.sow - _EARLY


def _number(note: Note, batch: Kept, places: Places) -> Iterator[str]:
    kind, number = note.kind, note.number
    if number is None:
        if kind in NEEDS_NUMBER and not strikes_out(note):
            yield f"'{kind.words}' needs a number: how many {counted(kind, batch)}"
    elif kind not in MAY_HAVE_NUMBER:
        yield f"'{kind.words}' takes no number; write {number} into the remark"
    elif isinstance(number, bool) or not isinstance(number, int):
        yield f"the number must be a whole one, not {number!r}"
    elif number < 0:
        yield f"the number is {number}; it must be 0 or more"
    elif number > (most := most_counted(kind, places)):
        yield f"the number {_shown(number)} is too large: {batch.code} has {_has(kind, places)}; at most {most:,} are taken"


def _shown(number: int) -> str:
    return f"{number:,}" if number < _BEYOND_READING else "written"


def counted(kind: Kind, batch: Kept) -> str:
    """What a number of this kind counts in this batch: `cells`, `holes with a plant`, `seedlings`."""
    if kind not in (Kind.EMERGED, Kind.THINNED):
        return "cells"
    called = places_of(batch).called
    return "seedlings" if called == "seeds" else f"{called} with a plant"


def most_counted(kind: Kind, places: Places) -> int:
    """The largest number that can be meant: the places of a batch, a few times its seeds for seedlings of a clump."""
    if kind not in (Kind.EMERGED, Kind.THINNED):
        return places.cells
    return places.places * (CLUSTER if places.called == "seeds" else 1)


def _has(kind: Kind, places: Places) -> str:
    number, called = (places.places, places.called) if kind in (Kind.EMERGED, Kind.THINNED) else (places.cells, "cells")
    return f"{number:,} {called.removesuffix('s') if number == 1 else called}"


def _texts(note: Note) -> Iterator[str]:
    for called, text, most in (("name", note.who, LONGEST_WHO), ("remark", note.remark, LONGEST_REMARK)):
        if len(text) > most:
            yield f"the {called} has {len(text):,} characters; at most {most:,} are kept"
        if found := _unwritable(text, "\n" if called == "remark" else ""):
            yield f"the {called} has a character that cannot be written, U+{ord(found):04X}; leave it out"
    if note.kind is Kind.REMARK and not note.remark.strip() and not strikes_out(note):
        yield "a remark needs words"


def _unwritable(text: str, allowed: str) -> str | None:
    """The first control character, or half of a surrogate pair, that no page and no file can hold."""
    return next((c for c in text if c not in allowed and unicodedata.category(c) in ("Cc", "Cs")), None)
