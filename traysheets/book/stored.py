"""Entries as the tables hold them, read from an open book. Nothing is written here."""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any

from traysheets.base.limits import FIRST_SEASON, LAST_SEASON
from traysheets.book.entries import Entry, Kind
from traysheets.book.model import Measure
from traysheets.book.opening import DAMAGED

COLUMNS = (
    "id, batch, kind, day, number, who, remark, written_at, key, corrects,"
    " of_sow, of_method, of_tray, of_cells, of_seeds_per_cell, of_stations"
)


@contextmanager
def unspoilt() -> Iterator[None]:
    """Say of a stored value that none of ours would be, such as a day that is no day, that the book is damaged."""
    try:
        yield
    except (ValueError, TypeError) as error:
        raise ValueError(DAMAGED) from error


def require(kind: type, *values: object) -> None:
    """Raises TypeError for a value of another kind: SQLite keeps text in a column of numbers, and bytes in any."""
    for value in values:
        if type(value) is not kind:
            raise TypeError(f"{kind.__name__} expected")


def stored_day(text: str) -> date:
    """The day of a row. Raises ValueError for one that no plan can have, which the days around it would run out of."""
    day = date.fromisoformat(text)
    if not FIRST_SEASON <= day.year <= LAST_SEASON:
        raise ValueError(f"{day} is no day of a sowing")
    return day


def entries_in(connection: sqlite3.Connection, where: str = "", *values: object) -> tuple[Entry, ...]:
    """The entries that meet a condition, in the order they were written.

    Raises ValueError when one is damaged.
    """
    with unspoilt():
        return tuple(map(_entry, connection.execute(f"SELECT {COLUMNS} FROM entries {where} ORDER BY id", values)))


def _entry(row: tuple[Any, ...]) -> Entry:
    entry, batch, kind, day, number, who, remark, written_at, key, corrects, sow, *of = row
    require(str, batch, who, remark, key)
    require(int, *(value for value in (number, corrects) if value is not None))
    return Entry(
        id=entry,
        batch=batch,
        kind=Kind(kind),
        day=stored_day(day),
        number=number,
        who=who,
        remark=remark,
        written_at=datetime.fromisoformat(written_at),
        key=key,
        corrects=corrects,
        measure=Measure(stored_day(sow), *of) if sow else None,
    )


def by_batch(entries: Iterable[Entry]) -> dict[str, tuple[Entry, ...]]:
    """Entries by the code of their batch."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        found.setdefault(entry.batch, []).append(entry)
    return {code: tuple(entries) for code, entries in found.items()}
