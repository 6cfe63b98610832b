"""The book: an SQLite file that keeps every batch ever printed, under its code. The only room that knows SQLite.

Reading never makes or changes a file. What is entered is entered in one transaction, on the disk when it returns.
"""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path

from traysheets.base.errors import BookError
from traysheets.book.allot import Allotment, allot
from traysheets.book.model import Identity, Printed, Wanted
from traysheets.book.schema import VERSION, migrate, version_of

WAIT_SECONDS = 20.0
"""How long to wait for another run that holds the book."""
_LEAST_BYTES = 512


def allotted(file: Path, wanted: Sequence[Wanted], season: int, plan: str) -> Allotment:
    """The codes that printing would give. A book that is not there yet counts as empty; nothing is written.

    Raises BookError when the book cannot be read, PlanError for a code of the grower's own that is taken.
    """
    if not file.exists():
        return allot((), wanted, season, plan)
    with _told(file), closing(_connect(file, "ro")) as connection:
        return allot(_printed(connection, file), wanted, season, plan)


def enter(
    file: Path, wanted: Sequence[Wanted], season: int, plan: str, codes: Sequence[str], printed: Iterable[int], on: date
) -> None:
    """Enter the batches at the positions `printed`, under codes that were allotted before; all or none.

    Batches of this plan that are no longer in it are marked so. Raises BookError when the book cannot be written, or
    when another run entered something meanwhile that changes the codes.
    """
    with _told(file), _new_or_old(file) as connection, _transaction(connection):
        _refuse_newer(connection, file)
        migrate(connection)
        again = allot(_printed(connection, file), wanted, season, plan)
        if again.codes != tuple(codes):
            raise BookError(f"another run has just entered batches in {file}, so codes would differ; run this again")
        _retire(connection, plan, codes)
        for at in printed:
            _write(connection, codes[at], plan, season, wanted[at], on)


def _connect(file: Path, mode: str) -> sqlite3.Connection:
    """Open a book; transactions are begun and ended here, so the module must not begin its own.

    SQLite takes a file of a few bytes for an empty database, and would write over it: that is refused here.
    """
    if file.is_dir():
        raise ValueError("it is a folder")
    if file.exists() and 0 < file.stat().st_size < _LEAST_BYTES:
        raise ValueError("it is not a book, or is damaged")
    uri = f"{file.absolute().as_uri()}?mode={mode}"
    connection = sqlite3.connect(uri, uri=True, timeout=WAIT_SECONDS, isolation_level=None)
    connection.execute("PRAGMA synchronous = EXTRA")
    connection.execute("PRAGMA trusted_schema = OFF")
    return connection


@contextmanager
def _new_or_old(file: Path) -> Iterator[sqlite3.Connection]:
    """Open a book to write in, made when it is not there; an empty file is not left behind when that fails."""
    was_there = file.exists()
    try:
        with closing(_connect(file, "rwc")) as connection:
            yield connection
    except BaseException:
        if not was_there and file.exists() and file.stat().st_size == 0:
            file.unlink()
        raise


@contextmanager
def _transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """Hold the book alone from the start; undo everything when anything fails."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


@contextmanager
def _told(file: Path) -> Iterator[None]:
    """Turn what SQLite says into a sentence about the book."""
    try:
        yield
    except (sqlite3.Error, ValueError, OSError) as error:
        raise BookError(f"the book {file} cannot be used: {_reason(error)}; nothing was changed") from error


_REASONS = (
    ("locked", "another run has held it for too long; wait for that to end"),
    ("readonly", "it cannot be written; see who owns it and its folder"),
    ("unable to open", "it cannot be opened; see that its folder is there and can be written"),
    ("not a database", "it is not a book, or is damaged"),
    ("malformed", "it is damaged; take a copy of it, and a backup if you have one"),
    ("full", "the disk is full"),
)


def _reason(error: Exception) -> str:
    return next((reason for word, reason in _REASONS if word in str(error)), str(error))


def _refuse_newer(connection: sqlite3.Connection, file: Path) -> None:
    version = version_of(connection)
    if version > VERSION:
        raise BookError(f"the book {file} is of a newer traysheets (its tables are version {version}); use that")


_COLUMNS = "crop, variety, sow, lot, method, tray, place, cells, seeds_per_cell"


def _printed(connection: sqlite3.Connection, file: Path) -> list[Printed]:
    """Every batch of the book, in the order of first printing, then of the codes."""
    _refuse_newer(connection, file)
    if version_of(connection) == 0:
        return []
    rows = connection.execute(
        f"SELECT code, plan, in_plan, facts, {_COLUMNS} FROM batches ORDER BY first_printed, code"
    )
    return [
        Printed(code, Identity(crop, variety, date.fromisoformat(sow), *rest), plan, bool(in_plan), facts)
        for code, plan, in_plan, facts, crop, variety, sow, *rest in rows
    ]


def _retire(connection: sqlite3.Connection, plan: str, codes: Iterable[str]) -> None:
    """Mark the batches of this plan that are in it no more."""
    connection.execute("UPDATE batches SET in_plan = 0 WHERE plan = ?", (plan,))
    connection.executemany("UPDATE batches SET in_plan = 1 WHERE code = ?", ((code,) for code in codes))


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
