"""The book on the command line: tables and sentences for a terminal, notes as they are typed, copies and exports.

What the entries amount to is reckoned in `bookkeeping.py`; here it is put into words and files.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

from traysheets.base.errors import BookError, FileError, Problem
from traysheets.book import rows
from traysheets.book.backup import backup as _backup
from traysheets.book.entries import Entry, Kind, Note, in_force, strikes_out
from traysheets.bookkeeping import Account, account, accounts, book_beside, note
from traysheets.export.files import write_one
from traysheets.export.tables import csv_bytes, json_bytes
from traysheets.reckon.seen import Line, Verdict

KINDS: tuple[str, ...] = tuple(kind.value.replace("_", "-") for kind in Kind)
"""The kinds of entries as they are typed."""

_PLAN_ENDINGS = frozenset({".toml", ".csv"})
_CERTAIN = 0.05


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
    headings = ("batch", "what", "sown", "on hand", "came up", "due")
    return (Sheet("", lines, headings if every else (), tuple(map(_row, every)), numbers=(3,)),)


def batch(book: Path, code: str, today: date) -> tuple[Sheet, ...]:
    """One batch: what it is, what is on hand, what is to be done, and every entry. Raises BookError."""
    found = account(book_meant(book), code, today)
    steps = tuple((step.what, _days(step.first, step.last), step.state.value) for step in found.steps)
    entries = tuple(_entry_rows(found.entries))
    return (
        Sheet(_title(found), tuple(_lines(found))),
        Sheet("To do", headings=("what", "when", "state"), rows=steps),
        Sheet("Entries", headings=("entry", "day", "what", "number", "who", "remark"), rows=entries, numbers=(0, 3)),
    )


def _row(one: Account) -> tuple[str, ...]:
    identity = one.batch.identity
    due = ", ".join(f"{step.what.lower()} ({step.state})" for step in one.due)
    came_up = _in_short(one.count) if one.count else "-"
    return (
        one.batch.code,
        f"{identity.variety}, {one.batch.told.get('crop') or identity.crop}",
        identity.sow.isoformat(),
        f"{one.standing.cells:,}",
        came_up,
        due or "-",
    )


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
    yield on_hand(one)
    if one.count:
        yield f"Came up: {verdict_words(one.count)}"
    if words := again_words(one):
        yield words
    if not kept.in_plan:
        yield f"{kept.plan} no longer has it."


def on_hand(one: Account) -> str:
    """What is there now and where the rest went: `On hand: 14 of 18 cells, 310 plants; planted out 4.`."""
    stands = one.standing
    plants = f", {_number(stands.plants, 'plant')}" if stands.plants is not None else ""
    gone = (("planted out", stands.planted_out), ("sold", stands.sold), ("lost", stands.lost))
    went = "".join(f"; {what} {number:,}" for what, number in gone if number)
    over = f" That is {stands.over:,} more than there were: correct an entry." if stands.over else ""
    return f"On hand: {stands.cells:,} of {_number(stands.cells_sown, 'cell')}{plants}{went}.{over}"


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


# ---- in words


def verdict_words(count: Verdict) -> str:
    """A count against expectation: `low: 31 of 70 expected, one in a thousand by chance`."""
    said = f"{count.up:,} of {round(count.expected):,} expected"
    if count.line is Line.EARLY:
        return f"{said} so far; more may still come"
    if count.line is Line.IN_LINE:
        return f"in line: {said}, {count.low:,} to {count.high:,} come by chance"
    return f"{count.line}: {said}, {odds(count.chance)} by chance"


def _in_short(count: Verdict) -> str:
    return f"{count.up:,} of {round(count.expected):,}, {'so far' if count.line is Line.EARLY else count.line}"


def odds(chance: float) -> str:
    """A small chance in words, rounded to one figure that counts: `one in 40`, `one in a thousand`."""
    if chance < 1e-6:
        return "less than one in a million"
    if chance > _CERTAIN:
        return f"{chance:.0%}".replace("%", " %")
    times = float(f"{1 / chance:.1g}")
    named = {1000: "a thousand", 1_000_000: "a million"}
    return f"one in {named.get(round(times), f'{times:,.0f}')}"


def again_words(one: Account) -> str:
    """What to sow again, in a sentence; empty where nothing is missing."""
    again = one.again
    if again is None:
        return ""
    missing = f"{_number(again.missing, 'plant')} {'is' if again.missing == 1 else 'are'} missing"
    if again.cells is None or again.seeds is None:
        return f"{missing}; of this seed none came up, so sow another lot."
    more = f"{_number(again.cells, 'cell')} ({_number(again.seeds, 'seed')})"
    if again.days_short:
        return f"{missing}; to sow {more} more is {_number(again.days_short, 'day')} too late for planting out in time."
    return f"{missing}: sow {more} more{'; there is still time' if again.days_short == 0 else ''}."


def _number(count: int, what: str) -> str:
    return f"{count:,} {what if count == 1 else f'{what}s'}"


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
    told = [verdict_words(found.count), again_words(found)] if found.count and entry.kind is Kind.EMERGED else []
    return what, *(line for line in told if line), on_hand(found)


def typed_note(code: str, kind: str, day: date, **other: Any) -> Note:
    """A note with its kind as one of `KINDS`; `other` are further fields of `Note`."""
    return Note(batch=code, kind=Kind(kind.replace("-", "_")), day=day, **other)


def exported(book: Path, *, as_json: bool) -> bytes:
    """The whole book as CSV, a row an entry, or as JSON. Raises BookError."""
    file = book_meant(book)
    return json_bytes(rows.plain(file)) if as_json else csv_bytes(rows.COLUMNS, rows.table_rows(file))


def write_export(book: Path, target: Path, *, as_json: bool, force: bool) -> None:
    """Write the whole book as CSV or JSON. Raises BookError, or FileError where the target is there already."""
    content = exported(book, as_json=as_json)
    _may_write(book, target, force)
    write_one(target, partial(_put, content))


def _put(content: bytes, file: BinaryIO) -> None:
    file.write(content)


def backup(book: Path, target: Path, *, force: bool) -> int:
    """Copy a book while it is in use, and give the size of the copy in bytes. Raises BookError or FileError."""
    _may_write(book, target, force)
    return _backup(book_meant(book), target)


def _may_write(book: Path, target: Path, force: bool) -> None:
    if target.exists() and book_meant(book).exists() and target.samefile(book_meant(book)):
        raise BookError(f"{target} is the book itself; give another name")
    if target.exists() and not force:
        raise FileError(Problem("is there already; choose another name, or replace it with --force", str(target)))
