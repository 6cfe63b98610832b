"""What an entry may say: every complaint about a note before it is written, as sentences."""

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from traysheets.base.errors import BookError, Problem
from traysheets.base.limits import FIRST_SEASON, MOST_LETTERS_IN_KEY, MOST_LETTERS_IN_REMARK, MOST_LETTERS_IN_WHO
from traysheets.book.entries import COUNTED, MAY_HAVE_NUMBER, NEEDS_NUMBER, Entry, Kind, Note, strikes_out
from traysheets.book.measures import Places, most_places, places_of
from traysheets.book.model import CLUSTER, Kept
from traysheets.book.said import said

AHEAD = timedelta(days=1)
"""Tomorrow is asked about, not refused: where the computer's time zone is another one, it may be today at the bench."""

_EARLY = timedelta(weeks=13)
_FIRST_DAY = date(FIRST_SEASON, 1, 1)


def tidied(note: Note) -> Note:
    """The note without white space around its texts, line breaks written one way, whatever a browser sends."""
    remark = note.remark.replace("\r\n", "\n").replace("\r", "\n").strip()
    return replace(note, who=note.who.strip(), remark=remark)


def check_key(key: str) -> None:
    """Raises BookError for the key of an entry that is none."""
    if not (0 < len(key) <= MOST_LETTERS_IN_KEY and key.isascii() and key.isprintable()):
        raise BookError(
            "an entry needs a key of its own, so that sent twice it is stored once:"
            f" 1 to {MOST_LETTERS_IN_KEY} plain characters"
        )


def check(note: Note, batch: Kept, today: date, entries: Iterable[Entry] = ()) -> None:
    """Raises BookError with everything that is wrong about a note on a batch, each in a sentence.

    `entries` are those that the batch has: they tell what was printed of it when it was sown.
    """
    problems = [*_day(note, batch, today), *_number(note, batch, most_places(batch, entries)), *_texts(note)]
    if problems:
        raise BookError(problems)


def _day(note: Note, batch: Kept, today: date) -> Iterator[Problem]:
    first = earliest_day(batch)
    if note.day > today + AHEAD:
        yield said("entry.to_come", day=note.day, today=today)
    elif note.day < (_FIRST_DAY if note.kind is Kind.REMARK else first):
        yield said("entry.too_early", day=note.day, batch=batch.code, sow=batch.identity.sow, first=first)


def earliest_day(batch: Kept) -> date:
    """The first day that may be noted: some weeks before the sowing day, for what was sown early; remarks need none."""
    return batch.identity.sow - _EARLY


def _number(note: Note, batch: Kept, places: Places) -> Iterator[Problem]:
    kind, number = note.kind, note.number
    if number is None:
        if kind in NEEDS_NUMBER and not strikes_out(note):
            yield said(f"entry.needs_{_counted(kind, batch)}", kind=kind)
    elif kind not in MAY_HAVE_NUMBER:
        yield said("entry.takes_no_number", kind=kind)
    elif isinstance(number, bool) or not isinstance(number, int):
        yield said("entry.not_whole", typed=str(number))
    elif number < 0:
        yield said("entry.negative", number=number)
    elif number > (most := most_counted(kind, places)):
        called = places.called if kind in COUNTED else "cells"
        n = places.places if kind in COUNTED else places.cells
        yield said(f"entry.too_large_{called}", batch=batch.code, most=most, n=n)


def _counted(kind: Kind, batch: Kept) -> str:
    """What a number of this kind counts in this batch: `cells`, `holes_with_plant`, `seedlings`."""
    if kind not in COUNTED:
        return "cells"
    called = places_of(batch).called
    return "seedlings" if called == "seeds" else f"{called}_with_plant"


def most_counted(kind: Kind, places: Places) -> int:
    """The largest number that can be meant: the places of a batch, a few times its seeds for seedlings of a clump."""
    if kind not in COUNTED:
        return places.cells
    return places.places * (CLUSTER if places.called == "seeds" else 1)


def _texts(note: Note) -> Iterator[Problem]:
    for called, text, most in (("who", note.who, MOST_LETTERS_IN_WHO), ("remark", note.remark, MOST_LETTERS_IN_REMARK)):
        if len(text) > most:
            yield said(f"entry.long_{called}", count=len(text), most=most)
        if found := _unwritable(text, "\n" if called == "remark" else ""):
            yield said(f"entry.unwritable_{called}", point=f"U+{ord(found):04X}")
    if note.kind is Kind.REMARK and not note.remark.strip() and not strikes_out(note):
        yield said("entry.empty_remark")


def _unwritable(text: str, allowed: str) -> str | None:
    """The first control character, or half of a surrogate pair, that no page and no file can hold."""
    return next((c for c in text if c not in allowed and unicodedata.category(c) in ("Cc", "Cs")), None)
