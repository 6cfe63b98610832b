"""Writing entries into the book and reading them from it. Several programs may do so at once.

A transaction is as short as one entry. Why the file is kept as it is, and how long anybody waits, stands in
`opening.py`.
"""

import sqlite3
from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from datetime import UTC, date, datetime
from pathlib import Path

from traysheets.base.errors import BookError, DoubtfulEntry, nearest
from traysheets.book.book import Contents, History, contents_in, kept
from traysheets.book.checks import check, check_key, tidied
from traysheets.book.codes import read_typed
from traysheets.book.doubts import doubts
from traysheets.book.entries import Entry, Note
from traysheets.book.measures import measure_for
from traysheets.book.model import Kept, Measure
from traysheets.book.opening import reading, writing
from traysheets.book.said import said
from traysheets.book.stored import COLUMNS, by_batch, entries_in


def add_entry(file: Path, note: Note, today: date, now: datetime) -> Entry:
    """Write a note into the book and give back what is stored, once it is on the disk.

    A note that was stored before, under the same key, is given back as it is. `now` is aware of its time zone.
    Raises BookError with all that is wrong, or when the book cannot be written, and DoubtfulEntry when the note
    contradicts what was noted before and is not `sure`; nothing is then changed. All is judged in the one transaction.
    """
    note = tidied(note)
    check_key(note.key)
    if not file.exists():
        raise BookError(_no_book(file))
    with writing(file) as connection:
        batch = _batch(connection, note.batch, file)
        note = replace(note, batch=batch.code)
        if stored := _stored(connection, note):
            return stored
        entries = entries_in(connection, "WHERE batch = ?", batch.code)
        check(note, batch, today, entries)
        _check_correction(note, entries)
        if not note.sure and (found := doubts(note, batch, entries, today)):
            raise DoubtfulEntry(found)
        return _insert(connection, note, measure_for(note, batch, entries), now)


def read_histories(file: Path, lot: str | None = None) -> tuple[History, ...]:
    """Every batch of the book, or those of a lot, with its entries, by sowing day, then code. Raises BookError."""
    if not file.exists():
        raise BookError(_no_book(file))
    with reading(file) as connection:
        held = contents_in(connection) if lot is None else _contents_of_lot(connection, lot)
    return held.histories


def read_history(file: Path, code: str) -> History:
    """One batch with its entries; the code may be typed sloppily.

    Raises BookError, for a code that is not there with the nearest one.
    """
    if not file.exists():
        raise BookError(_no_book(file))
    with reading(file) as connection:
        batch = _batch(connection, code, file)
        return History(batch, entries_in(connection, "WHERE batch = ?", batch.code))


# ---- finding


def _no_book(file: Path) -> str:
    return f"there is no book {file}; printing a plan with `traysheets make` begins one"


def _batch(connection: sqlite3.Connection, typed: str, file: Path) -> Kept:
    """The batch of a code as it was typed: the code itself, or what can only be meant."""
    typed = typed.encode(errors="replace").decode()
    for code in dict.fromkeys((typed.strip(), typed.strip().upper(), read_typed(typed))):
        if code and (found := kept(connection, "WHERE code = ?", code)):
            return found[0]
    raise BookError(_unknown(connection, typed, file))


def _unknown(connection: sqlite3.Connection, typed: str, file: Path) -> str:
    codes = [
        code for (code,) in connection.execute("SELECT code FROM batches WHERE typeof(code) = 'text' ORDER BY code")
    ]
    if not codes:
        return f"the book {file} holds no batch yet"
    shown = "".join(c if c.isprintable() else "?" for c in typed[:40])
    meant = read_typed(typed)
    near = nearest(meant or typed.strip().upper()[:40], codes)
    if meant:
        return (
            f"there is no batch {meant} in the book; is it of another plan?{f' The nearest is {near}.' if near else ''}"
        )
    hint = f"did you mean {near}?" if near else f"the first is {codes[0]}, the last {codes[-1]}"
    return f"'{shown}' is no batch code of the book; {hint}"


def _contents_of_lot(connection: sqlite3.Connection, lot: str) -> Contents:
    """The batches of a lot, however its letters are written, and their entries."""
    spellings = [text for (text,) in connection.execute("SELECT DISTINCT lot FROM batches WHERE typeof(lot) = 'text'")]
    spellings = [text for text in spellings if text.casefold() == lot.casefold()]
    of_lot = f"WHERE lot IN ({', '.join('?' * len(spellings))})"
    entries = entries_in(connection, f"WHERE batch IN (SELECT code FROM batches {of_lot})", *spellings)
    return Contents(kept(connection, of_lot, *spellings), by_batch(entries))


# ---- writing


def _stored(connection: sqlite3.Connection, note: Note) -> Entry | None:
    """What is stored under the key of a note. Raises BookError when that is another note."""
    found = entries_in(connection, "WHERE key = ?", note.key)
    if not found:
        return None
    (entry,) = found
    if any(getattr(entry, field.name) != getattr(note, field.name) for field in fields(note) if field.compare):
        what = {"kind": entry.kind, "day": entry.day, "batch": entry.batch}
        raise BookError(said("entry.stored_already", **what, id=str(entry.id)))
    return entry


def _check_correction(note: Note, entries: Iterable[Entry]) -> None:
    """Raises BookError when the entry to be corrected is none of this batch, or was corrected already."""
    if note.corrects is None:
        return
    of_batch = {entry.id: entry for entry in entries}
    if note.corrects not in of_batch:
        raise BookError(f"{note.batch} has no entry {note.corrects} that could be corrected{_numbers(of_batch)}")
    for entry in of_batch.values():
        if entry.corrects == note.corrects:
            raise BookError(said("entry.corrected_already", entry=str(note.corrects), by=str(entry.id)))


def _numbers(entries: Mapping[int, Entry]) -> str:
    return f"; its entries are {', '.join(map(str, entries))}" if 0 < len(entries) <= 20 else ""


def _insert(connection: sqlite3.Connection, note: Note, measure: Measure, now: datetime) -> Entry:
    written_at = now.astimezone(UTC).replace(microsecond=0)
    values = (
        note.batch, note.kind.value, note.day.isoformat(), note.number, note.who, note.remark,
        written_at.isoformat(), note.key, note.corrects, measure.sow.isoformat(), measure.method, measure.tray,
        measure.cells, measure.seeds_per_cell, measure.stations,
    )  # fmt: skip
    marks = ", ".join("?" * len(values))
    columns = COLUMNS.removeprefix("id, ")
    connection.execute(f"INSERT INTO entries ({columns}) VALUES ({marks})", values)
    (entry,) = entries_in(connection, "WHERE key = ?", note.key)
    return entry
