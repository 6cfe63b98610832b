"""The book on the command line: tables and sentences for a terminal, notes as they are typed, copies and exports.

What the entries amount to is reckoned in `bookkeeping.py`; here it is put into words and files.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import Any

from traysheets.base.errors import BookError
from traysheets.base.words import words_for
from traysheets.book import rows
from traysheets.book.backup import backup as _backup
from traysheets.book.due import Due
from traysheets.book.entries import COUNTED, Entry, Kind, Note, in_force, strikes_out
from traysheets.book.numbers import read_count
from traysheets.book.opening import check_whole
from traysheets.bookkeeping import Account, account, accounts, book_beside, note
from traysheets.export.files import may_write, put, write_one
from traysheets.export.tables import csv_bytes, json_bytes
from traysheets.telling import counted, in_short, on_hand

KINDS: tuple[str, ...] = tuple(kind.value.replace("_", "-") for kind in Kind)
"""The kinds of entries as they are typed."""

_PLAN_ENDINGS = frozenset({".toml", ".csv"})
_WORDS = words_for("en")
_SO_FAR = {"early": "so far"}


@dataclass(frozen=True, slots=True)
class Sheet:
    """Lines of text and then a table, under a title; `numbers` are the columns set flush right."""

    title: str
    lines: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    numbers: tuple[int, ...] = ()


def book_meant(path: Path) -> Path:
    """The book of a path that was typed: that of a plan where it is one."""
    return book_beside(path) if path.suffix.lower() in _PLAN_ENDINGS else path


# ---- showing


def overview(book: Path, today: date) -> tuple[Sheet, ...]:
    """Every batch of a book with what is on hand and what is due. Raises BookError."""
    every = accounts(book_meant(book), today)
    lines = () if every else ("The book holds no batch yet; `traysheets make` enters what it prints.",)
    headings = ("batch", "what", "sowing day", "on hand", "came up", "due")
    return (Sheet("", lines, headings if every else (), tuple(map(_row, every))),)


def batch(book: Path, code: str, today: date) -> tuple[Sheet, ...]:
    """One batch: what it is, what is on hand, what is to be done, and every entry. Raises BookError."""
    found = account(book_meant(book), code, today)
    steps = tuple(
        (step.what, _days(step.first, step.last) if step.has_days else "", step.stands, step.details)
        for step in found.steps
    )
    entries = tuple(_entry_rows(found.entries))
    return (
        Sheet(_title(found), tuple(_lines(found))),
        Sheet("To do", headings=("what", "when", "state", "how"), rows=steps),
        Sheet("Entries", headings=("entry", "day", "what", "number", "who", "remark"), rows=entries, numbers=(0, 3)),
    )


def _row(one: Account) -> tuple[str, ...]:
    identity = one.batch.identity
    due = ", ".join(f"{step.what.lower()} ({_stands(step)})" for step in one.due)
    came_up = (
        f"{one.count.up:,} of {round(one.count.expected):,}, {_SO_FAR.get(one.count.line, one.count.line)}"
        if one.count
        else "-"
    )
    return (
        one.batch.code,
        f"{identity.variety}, {one.batch.told.get('crop') or identity.crop}",
        identity.sow.isoformat(),
        in_short(one, _WORDS),
        came_up,
        due or "-",
    )


def _stands(step: Due) -> str:
    """How a step stands, and of a part how many cells it is for: `now, 10 cells`."""
    cells = "" if step.cells is None else f", {step.cells:,} cell{'' if step.cells == 1 else 's'}"
    return step.stands + cells


def _title(one: Account) -> str:
    identity = one.batch.identity
    return f"{one.batch.code}  {identity.variety}, {one.batch.told.get('crop') or identity.crop}"


def _lines(one: Account) -> Iterator[str]:
    kept, identity = one.batch, one.batch.identity
    lead = kept.told.get("lead") or f"{identity.seeds_per_cell} seeds in each of {identity.cells:,} cells"
    lot = f"; lot {identity.lot}" if identity.lot else ""
    yield f"{lead}; sowing day {identity.sow}{lot}"
    if stands := kept.told.get("stands"):
        yield f"Tray and cells: {stands}"
    if one.measure != kept.measure:
        was = one.measure
        yield f"Noted when {was.cells:,} cells of {was.seeds_per_cell:,} seeds were printed: counts go by these."
    yield on_hand(one, _WORDS)
    yield from counted(one, _WORDS)
    if not kept.in_plan:
        yield f"{kept.plan} no longer has it."


def _entry_rows(entries: Iterable[Entry]) -> Iterator[tuple[str, ...]]:
    """Every entry in the order of writing; what became of one stands in its remark."""
    entries = tuple(entries)
    valid = {entry.id for entry in in_force(entries)}
    later = {entry.corrects: entry for entry in entries if entry.corrects}
    for entry in entries:
        told = [entry.remark.replace("\n", " / ")] if entry.remark else []
        if entry.corrects:
            told.append(f"({'strikes out' if strikes_out(entry) else 'corrects'} {entry.corrects})")
        if entry.id not in valid and entry.id in later:
            told.append(f"({'struck out' if strikes_out(later[entry.id]) else 'corrected'} by {later[entry.id].id})")
        number = "" if entry.number is None else f"{entry.number:,}"
        yield str(entry.id), entry.day.isoformat(), entry.kind.words, number, entry.who, " ".join(told)


def _days(first: date, last: date | None) -> str:
    return first.isoformat() if last in (None, first) else f"{first} to {last}"


# ---- writing


def write_note(book: Path, written: Note, today: date, now: datetime) -> tuple[str, ...]:
    """Write an entry, and say what is stored and what it tells. Raises BookError; nothing is then changed."""
    file = book_meant(book)
    entry = note(file, written, today, now)
    number = "" if entry.number is None else f" {entry.number:,}"
    what = f"{entry.batch}: entry {entry.id}, {entry.kind.words}{number}, {entry.day}"
    if entry.corrects:
        what += f", {'strikes out' if strikes_out(entry) else 'corrects'} entry {entry.corrects}"
    found = account(file, entry.batch, today)
    told = counted(found, _WORDS) if entry.kind in COUNTED else ()
    return what, *told, on_hand(found, _WORDS)


def typed_note(code: str, kind: str, day: date, **other: Any) -> Note:
    """A note with its kind as one of `KINDS`; `other` are further fields of `Note`."""
    return Note(batch=code, kind=Kind(kind.replace("-", "_")), day=day, **other)


def require_whole(book: Path) -> None:
    """Raises BookError when any page of a book is damaged; reads all of it. One that is not there yet is none."""
    check_whole(book)


def typed_number(typed: str) -> int | None:
    """A number as it was typed. Raises BookError for what is none."""
    return read_count(typed)


def exported(book: Path, *, as_json: bool) -> bytes:
    """The whole book as CSV, a row an entry, or as JSON. Raises BookError."""
    file = book_meant(book)
    check_whole(file)
    return json_bytes(rows.plain(file)) if as_json else csv_bytes(rows.COLUMNS, rows.table_rows(file))


def write_export(book: Path, target: Path, *, as_json: bool, force: bool) -> None:
    """Write the whole book as CSV or JSON. Raises BookError, or FileError where the target is there already."""
    content = exported(book, as_json=as_json)
    _refuse_taken(book, target, force)
    write_one(target, partial(put, content))


def backup(book: Path, target: Path, *, force: bool) -> int:
    """Copy a book while it is in use, and give the size of the copy in bytes. Raises BookError or FileError."""
    _refuse_taken(book, target, force)
    return _backup(book_meant(book), target)


def _refuse_taken(book: Path, target: Path, force: bool) -> None:
    if target.exists() and book_meant(book).exists() and target.samefile(book_meant(book)):
        raise BookError(f"{target} is the book itself; give another name")
    may_write([target], force)
