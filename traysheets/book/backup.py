"""A safe copy of a book while others use it: SQLite's own backup, checked, under its name only when it is whole."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from traysheets.base.disk import sync_names
from traysheets.base.errors import BookError
from traysheets.book.opening import DAMAGED, as_it_is, told


def backup(file: Path, target: Path) -> int:
    """Write a copy of a book as it is at one moment, and give back its size in bytes.

    What stands under the name of `target` is replaced. Raises BookError when the book cannot be read, the copy cannot
    be written, or what was written is not sound; `target` is then as it was.
    """
    if not file.exists():
        raise BookError(f"there is no book {file}")
    if target.is_dir():
        raise BookError(f"{target} is a folder; give the copy a name of its own")
    if target.exists() and target.samefile(file):
        raise BookError(f"{target} is the book itself; give the copy another name")
    # By way of memory, so that nobody who writes waits for a slow stick.
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as held:
        with as_it_is(file) as book:
            book.backup(held)
        _write(held, file, target)
    return target.stat().st_size


def _write(held: sqlite3.Connection, file: Path, target: Path) -> None:
    with told(f"the copy {target} cannot be written"), _whole_or_not(target) as part:
        with closing(sqlite3.connect(part, isolation_level=None)) as copy:
            copy.execute("PRAGMA synchronous = EXTRA")
            held.backup(copy)
            found = [text for (text,) in copy.execute("PRAGMA integrity_check(1)")]
        if found != ["ok"]:
            raise BookError(f"the book {file} cannot be used: {DAMAGED}; nothing was changed")


@contextmanager
def _whole_or_not(target: Path) -> Iterator[Path]:
    """A name beside the target to write under; what is there gets the target's name when all went well."""
    part = target.with_name(f".{target.name}.unfinished")
    try:
        part.unlink(missing_ok=True)
        yield part
        with part.open("rb+") as written:
            os.fsync(written.fileno())
        part.replace(target)
        sync_names(target.parent)
    finally:
        for left in (part, part.with_name(f"{part.name}-journal")):
            left.unlink(missing_ok=True)
