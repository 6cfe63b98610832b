"""The book: an SQLite file that keeps every batch ever printed, under its code.

Reading never makes or changes a file. What is entered is entered in one transaction, on the disk when it returns.
"""

import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from traysheets.base.errors import BookError
from traysheets.book.allot import Allotment, allot
from traysheets.book.changed import changed_notices
from traysheets.book.entries import Entry, sowings
from traysheets.book.model import Identity, Kept, Wanted
from traysheets.book.opening import reading, require_whole, writing
from traysheets.book.stored import by_batch, entries_in, require, stored_day, unspoilt
from traysheets.plan.model import Method


@dataclass(frozen=True, slots=True)
class History:
    """A batch and all its entries, corrected ones too, in the order they were written."""

    batch: Kept
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Contents:
    """What a book holds at one moment: batches in the order of first printing, then of the codes, and their entries.

    `entries` are by the code of the batch, in the order they were written; a batch without any is not in it.
    """

    batches: tuple[Kept, ...] = ()
    entries: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)

    @property
    def histories(self) -> tuple[History, ...]:
        """Every batch with its entries, by sowing day, then code."""
        batches = sorted(self.batches, key=lambda batch: (batch.identity.sow, batch.code))
        return tuple(History(batch, self.entries.get(batch.code, ())) for batch in batches)


def contents(file: Path) -> Contents:
    """All that a book holds; nothing of one that is not there yet. Raises BookError when it cannot be read."""
    if not file.exists():
        return Contents()
    with reading(file) as connection:
        return contents_in(connection)


def contents_in(connection: sqlite3.Connection) -> Contents:
    """All that an open book holds. Raises ValueError when some of it is damaged."""
    return Contents(kept(connection), by_batch(entries_in(connection)))


def allotted(held: Contents, wanted: Sequence[Wanted], season: int, plan: str) -> Allotment:
    """The codes that printing would give, and a word on every batch already sown that is planned otherwise now.

    Raises PlanError for a code of the grower's own that is taken.
    """
    found = allot(held.batches, wanted, season, plan, _first_sown(held.entries))
    changed = changed_notices(wanted, found.codes, held.batches, held.entries, plan)
    return replace(found, notices=(*found.notices, *changed))


def enter(
    file: Path, wanted: Sequence[Wanted], season: int, plan: str, codes: Sequence[str], printed: Iterable[int], on: date
) -> None:
    """Enter the batches at the positions `printed`, under codes that were allotted before; all or none.

    Batches of this plan that are no longer in it are marked so. Raises BookError when the book cannot be written, or
    when another run entered something meanwhile that changes the codes.
    """
    with writing(file) as connection:
        require_whole(connection)
        held = contents_in(connection)
        again = allot(held.batches, wanted, season, plan, _first_sown(held.entries))
        if again.codes != tuple(codes):
            raise BookError(f"another run has just entered batches in {file}, so codes would differ; run this again")
        for at in printed:
            _write(connection, codes[at], plan, season, wanted[at], on)
        _place(connection, plan, codes)


def _first_sown(noted: Mapping[str, Sequence[Entry]]) -> dict[str, date]:
    """The first day that each batch is noted as sown on, by its code."""
    sown = {code: sowings(entries, 0) for code, entries in noted.items()}
    return {code: days[0].day for code, days in sown.items() if days}


_COLUMNS = "crop, variety, sow, lot, method, tray, place, cells, seeds_per_cell"


def kept(connection: sqlite3.Connection, where: str = "", *values: str) -> tuple[Kept, ...]:
    """The batches of the book, or those that meet a condition, in the order of first printing, then of the codes."""
    rows = connection.execute(
        "SELECT code, plan, in_plan, position, facts, season, first_printed, last_printed,"
        f" {_COLUMNS} FROM batches {where} ORDER BY first_printed, code",
        values,
    )
    with unspoilt():
        return tuple(_kept(*row) for row in rows)


def _kept(
    code: str,
    plan: str,
    in_plan: int,
    position: int,
    facts: str,
    season: int,
    first: str,
    last: str,
    crop: str,
    variety: str,
    sow: str,
    *rest: Any,
) -> Kept:
    require(str, code, plan, facts, crop, variety, *rest[:4])
    require(int, in_plan, position, season, *rest[4:])
    Method(rest[1])
    identity = Identity(crop, variety, stored_day(sow), *rest)
    days = stored_day(first), stored_day(last)
    return Kept(code, identity, plan, bool(in_plan), facts, season, *days, position=position)


def _place(connection: sqlite3.Connection, plan: str, codes: Iterable[str]) -> None:
    """Note where the batches of this plan stand in it now, and which are in it no more."""
    connection.execute("UPDATE batches SET in_plan = 0 WHERE plan = ?", (plan,))
    connection.executemany("UPDATE batches SET in_plan = 1, position = ? WHERE code = ?", enumerate(codes))


def _write(connection: sqlite3.Connection, code: str, plan: str, season: int, wanted: Wanted, on: date) -> None:
    """Enter a batch, or bring what is kept of it up to date; the day of its first printing stays."""
    one = wanted.identity
    connection.execute(
        f"""
        INSERT INTO batches (code, plan, season, in_plan, facts, first_printed, last_printed, {_COLUMNS})
        VALUES (?, ?, ?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
        ON CONFLICT (code) DO UPDATE SET
            (plan, season, in_plan, facts, last_printed, {_COLUMNS}) =
            (excluded.plan, excluded.season, 1, excluded.facts, excluded.last_printed,
             {", ".join(f"excluded.{name}" for name in _COLUMNS.split(", "))})
        """,
        (
            code, plan, season, wanted.facts, on.isoformat(), on.isoformat(), one.crop, one.variety,
            one.sow.isoformat(), one.lot, one.method, one.tray, one.place, one.cells, one.seeds_per_cell,
        ),
    )  # fmt: skip
