"""Opening the book's file: for reading without making or changing anything, for writing in one transaction.

Whatever SQLite or the disk says comes out as a BookError that tells the grower what is wrong.

The book is one file with a rollback journal, not a write-ahead log. It can so be copied to a stick or opened from a
folder on the network, and nothing stands beside it while nobody writes: of a log's three files, who copies the one that
has the name loses what was noted last. What a log would give, readers beside a writer, is had here too but for the
moment of writing: a writer makes up its entry with the book open to readers, and shuts them out only while it puts it
on the disk. Whoever finds the book shut waits, readers for at most `READ_WAIT_SECONDS`, writers for `WAIT_SECONDS`, and
is then told to try again. With synchronous = EXTRA what was written survives a power cut as far as the disk keeps what
it said it kept; a log would need as many syncs for that.

Opening looks at the header, the version and the tables alone, so that it takes as long for a large book as for a small
one; a page found to be damaged later is said then. `check_whole` reads every page: before a book is served, exported,
or printed into.
"""

import os
import random
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from traysheets.base.errors import BookError
from traysheets.book.schema import VERSION, migrate, tables_of, version_of

WAIT_SECONDS = 10.0
"""How long a writer waits for another program that holds the book."""
READ_WAIT_SECONDS = 5.0
"""How long a reader waits: somebody stands before a screen meanwhile."""

_PAUSE_SECONDS = (0.001, 0.01)
_LEAST_BYTES = 512
DAMAGED = "it is damaged; take a copy of it, and a backup if you have one"
_TOO_MUCH = (
    "it asks for more memory than there is, as a damaged one may; take a copy of it, and a backup if you have one"
)
_EMPTY = "it is empty, and no book; put a backup in its place, or remove it if nothing was printed with it"
_REASONS = (
    ("locked", "it is being written to by another program; try again"),
    ("readonly", "it cannot be written; see who owns it and its folder"),
    ("unable to open", "it cannot be opened; see that its folder is there and can be written"),
    ("not a database", "it is not a book, or is damaged"),
    ("malformed", DAMAGED),
    ("decode", DAMAGED),
    ("full", "the disk is full"),
    ("disk I/O", "the disk cannot be read or written"),
)


@contextmanager
def as_it_is(file: Path) -> Iterator[sqlite3.Connection]:
    """The book, of whatever version, to read from: all that is read is of one moment. Raises BookError."""
    with told(f"the book {file} cannot be used"), closing(_restored(file)) as connection:
        _refuse_unfit(connection, file)
        connection.execute("BEGIN")
        yield connection


@contextmanager
def reading(file: Path) -> Iterator[sqlite3.Connection]:
    """The book, of today's version, to read from. Raises BookError.

    A book of an older version, or an empty file, is read as a copy that is brought up to date in memory.
    """
    with as_it_is(file) as connection:
        if version_of(connection) == VERSION:
            yield connection
            return
        with closing(sqlite3.connect(":memory:", isolation_level=None)) as copy:
            connection.backup(copy)
            migrate(copy)
            yield copy


def check_whole(file: Path) -> None:
    """Raises BookError when any page of a book is damaged. Reads all of it; a book that is not there is none."""
    if file.exists():
        with as_it_is(file) as connection:
            require_whole(connection)


def require_whole(connection: sqlite3.Connection) -> None:
    """Raises ValueError when any page of an open book is damaged, or an index does not fit its table."""
    (found,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    if found != "ok":
        raise ValueError(DAMAGED)


@contextmanager
def writing(file: Path) -> Iterator[sqlite3.Connection]:
    """The book, of today's version and held alone, to write in; made when it is not there.

    What was written is on the disk when this ends, or nothing of it when anything failed. Raises BookError.
    Synchronous EXTRA: it is still there after a power cut the moment this has ended.
    """
    with told(f"the book {file} cannot be used"), _new_or_old(file) as connection:
        opened = file.stat()
        connection.execute("PRAGMA synchronous = EXTRA")
        with _transaction(connection):
            if not (file.exists() and os.path.samestat(opened, file.stat())):
                raise ValueError("it was removed or replaced meanwhile; run this again")
            _refuse_unfit(connection, file)
            migrate(connection)
            yield connection


def _connect(file: Path, mode: str) -> sqlite3.Connection:
    """Open a book; transactions are begun and ended here, so the module must not begin its own.

    SQLite takes a file of a few bytes for an empty database, and would write over it: that is refused here.
    """
    if file.is_dir():
        raise ValueError("it is a folder")
    if file.exists() and not file.is_file():
        raise ValueError("it is a device, which keeps nothing")
    if file.exists():
        _refuse_too_short(file.stat())
    uri, wait = f"{file.absolute().as_uri()}?mode={mode}", WAIT_SECONDS if mode == "rwc" else READ_WAIT_SECONDS
    connection = sqlite3.connect(uri, uri=True, timeout=wait, isolation_level=None)
    connection.execute("PRAGMA trusted_schema = OFF")
    return connection


def _refuse_too_short(about: os.stat_result) -> None:
    """Raises ValueError for a file that is too short for a book, and so for an empty one.

    An empty file was a book once, of which a disk or a copy kept nothing, or never any: codes given anew would be those
    of sticks that stand in pots. Only one made while others would wait may be that of a run about to write into it.
    """
    if about.st_size == 0 and time.time() - about.st_mtime > WAIT_SECONDS:
        raise ValueError(_EMPTY)
    if 0 < about.st_size < _LEAST_BYTES:
        raise ValueError("it is not a book, or is damaged")


def _restored(file: Path) -> sqlite3.Connection:
    """Open a book to read from, as it was before any run that was killed while it wrote.

    Such a run leaves a journal from which SQLite puts the file back; it needs to write for that, and for nothing else.
    """
    connection = _connect(file, "ro")
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema")
    except sqlite3.Error as error:
        connection.close()
        if error.sqlite_errorcode != sqlite3.SQLITE_READONLY_ROLLBACK:
            raise
        connection = _connect(file, "rw")
        connection.execute("PRAGMA query_only = ON")
    return connection


def _refuse_unfit(connection: sqlite3.Connection, file: Path) -> None:
    """Refuse a database that is of another program, of a newer version, or damaged."""
    version = version_of(connection)
    if version > VERSION:
        raise BookError(f"the book {file} is of a newer traysheets (its tables are version {version}); use that")
    if version and not (_is_all_there(connection, file) and tables_of(version) <= _tables(connection)):
        raise ValueError(DAMAGED)


def _is_all_there(connection: sqlite3.Connection, file: Path) -> bool:
    """Whether the file is as long as its header says."""
    (pages,) = connection.execute("PRAGMA page_count").fetchone()
    (page_bytes,) = connection.execute("PRAGMA page_size").fetchone()
    return file.stat().st_size >= int(pages) * int(page_bytes)


def _tables(connection: sqlite3.Connection) -> set[str]:
    return {name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}


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
    _begin(connection)
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _begin(connection: sqlite3.Connection) -> None:
    """Begin to write as soon as nobody else does; what is left of the time to wait is for putting it on the disk.

    SQLite's own waiting tries ten times a second after a while, and then loses against who writes one entry after the
    other; trying often, at odd moments, everybody has a turn.
    """
    last = time.monotonic() + WAIT_SECONDS
    connection.execute("PRAGMA busy_timeout = 0")
    while not _begun(connection, last):
        time.sleep(random.uniform(*_PAUSE_SECONDS))
    connection.execute(f"PRAGMA busy_timeout = {max(0, round((last - time.monotonic()) * 1000))}")


def _begun(connection: sqlite3.Connection, last: float) -> bool:
    """Whether the book is held alone now. Raises sqlite3.OperationalError when it is not by the last moment."""
    try:
        connection.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() >= last:
            raise
        return False
    return True


@contextmanager
def told(failed: str) -> Iterator[None]:
    """Turn what SQLite or the disk says into a sentence of what `failed`, as a BookError."""
    try:
        yield
    except (sqlite3.Error, ValueError, OSError, MemoryError) as error:
        raise BookError(f"{failed}: {_reason(error)}; nothing was changed") from error


def _reason(error: Exception) -> str:
    if isinstance(error, MemoryError):
        return _TOO_MUCH
    return next((reason for word, reason in _REASONS if word in str(error)), str(error))
