"""Books made by hand with few words, for tests that write entries: three batches, one of each method."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path
from typing import Any

from test_book_allot import PLAN, wanted

from traysheets.book.book import allotted, contents, enter
from traysheets.book.diary import add_entry
from traysheets.book.entries import Entry, Kind, Note
from traysheets.book.model import Identity, Kept, Wanted

SOW = date(2027, 3, 6)
PRINTED = date(2027, 3, 1)
TODAY = date(2027, 6, 1)
NOW = datetime(2027, 6, 1, 12, 30, 15, 999, tzinfo=UTC)

CLUMP, STATIONS, SINGLE = "27-001-7", "27-002-5", "27-003-3"
"""Eight pots of 25 seeds, ten pots of 3 holes with 2 seeds each, 72 cells of one seed."""

DAYS = {
    "sow": "2027-03-06",
    "emerge_from": "2027-03-13",
    "emerge_to": "2027-03-20",
    "plant_out": "2027-05-01",
    "plant_out_last": "2027-05-29",
    "confidence": 0.9,
    "days_to_raise": 56,
}
FACTS: tuple[dict[str, Any], ...] = (
    {"crop": "Onion", "germination": 0.85, "plants_low": 163},
    {"crop": "Beetroot", "germination": 0.7, "plants_low": 25, "stations": 3, "seeds_per_station": 2},
    {"crop": "Lettuce", "germination": 0.9, "plants_low": 61},
)
CHANGES: tuple[dict[str, Any], ...] = (
    {},
    {"crop": "Beet", "lot": "L2", "method": "stations", "cells": 10, "seeds_per_cell": 6},
    {"crop": "Lettuce", "lot": "L3", "method": "single", "cells": 72, "seeds_per_cell": 1, "tray": "cell-72"},
)


def batches() -> list[Wanted]:
    """The three batches, with what was printed of them."""
    names = ("Amber Vault", "Dusky Round", "Harbour Green")
    return [
        replace(wanted(name, **changes), facts=json.dumps({**DAYS, **facts}))
        for name, changes, facts in zip(names, CHANGES, FACTS, strict=True)
    ]


def make_book(file: Path, wanted: list[Wanted] | None = None) -> tuple[str, ...]:
    """Print the batches and give their codes."""
    wanted = batches() if wanted is None else wanted
    codes = allotted(contents(file), wanted, 2027, PLAN).codes
    enter(file, wanted, 2027, PLAN, codes, range(len(wanted)), PRINTED)
    return codes


def kept(at: int = 0, **changes: Any) -> Kept:
    """One of the batches as the book keeps it."""
    one = batches()[at]
    identity: Identity = replace(one.identity, **changes)
    return Kept((CLUMP, STATIONS, SINGLE)[at], identity, PLAN, True, one.facts, 2027, PRINTED, PRINTED)


_KEYS: Iterator[int] = count()


def a_note(kind: Kind | str = Kind.REMARK, number: int | None = None, day: str = "2027-03-20", **other: Any) -> Note:
    """A note on the clump, with a key of its own unless told otherwise."""
    kind = Kind(kind)
    words = "slugs about" if kind is Kind.REMARK else ""
    given: dict[str, Any] = {"batch": CLUMP, "remark": words, "key": f"key-{next(_KEYS)}"}
    return Note(kind=kind, number=number, day=date.fromisoformat(day), **given | other)


def add(file: Path, *args: Any, **other: Any) -> Entry:
    """Write a note made as `a_note` makes it, whatever is doubtful about it unless `sure` is given as False."""
    return add_entry(file, a_note(*args, **{"sure": True} | other), TODAY, NOW)


def entry(id: int, kind: Kind | str, number: int | None = None, day: str = "2027-03-20", **other: Any) -> Entry:
    """An entry as it would be read from a book."""
    given: dict[str, Any] = {"batch": CLUMP, "key": f"key-{id}", "written_at": NOW}
    return Entry(id=id, kind=Kind(kind), number=number, day=date.fromisoformat(day), **given | other)
