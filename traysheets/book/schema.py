"""The tables of the book, and how an older book is brought up to date: one step a version, each in a transaction."""

import sqlite3

APPLICATION_ID = 0x54524159
"""Marks an SQLite file as a book: the letters TRAY."""

STEPS: tuple[tuple[str, ...], ...] = (
    (
        """
        CREATE TABLE batches (
            code TEXT PRIMARY KEY,
            plan TEXT NOT NULL,
            season INTEGER NOT NULL,
            crop TEXT NOT NULL,
            variety TEXT NOT NULL,
            sow TEXT NOT NULL,
            lot TEXT NOT NULL,
            method TEXT NOT NULL,
            tray TEXT NOT NULL,
            place TEXT NOT NULL,
            cells INTEGER NOT NULL,
            seeds_per_cell INTEGER NOT NULL,
            facts TEXT NOT NULL,
            in_plan INTEGER NOT NULL,
            first_printed TEXT NOT NULL,
            last_printed TEXT NOT NULL
        ) WITHOUT ROWID
        """,
    ),
    (
        """
        CREATE TABLE entries (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            batch TEXT NOT NULL REFERENCES batches (code),
            kind TEXT NOT NULL,
            day TEXT NOT NULL,
            number INTEGER,
            who TEXT NOT NULL,
            remark TEXT NOT NULL,
            written_at TEXT NOT NULL,
            key TEXT NOT NULL UNIQUE,
            corrects INTEGER UNIQUE REFERENCES entries (id)
        )
        """,
        "CREATE INDEX entries_by_batch ON entries (batch)",
        """
        CREATE TRIGGER entries_stay_as_written BEFORE UPDATE ON entries
        BEGIN SELECT RAISE (ABORT, 'an entry is corrected by a further one, never changed'); END
        """,
        """
        CREATE TRIGGER entries_stay BEFORE DELETE ON entries
        BEGIN SELECT RAISE (ABORT, 'an entry is struck out by a further one, never deleted'); END
        """,
    ),
    (
        "ALTER TABLE entries ADD COLUMN of_sow TEXT",
        "ALTER TABLE entries ADD COLUMN of_method TEXT",
        "ALTER TABLE entries ADD COLUMN of_tray TEXT",
        "ALTER TABLE entries ADD COLUMN of_cells INTEGER",
        "ALTER TABLE entries ADD COLUMN of_seeds_per_cell INTEGER",
        "ALTER TABLE entries ADD COLUMN of_stations INTEGER",
        "DROP TRIGGER entries_stay_as_written",
        """
        UPDATE entries SET (of_sow, of_method, of_tray, of_cells, of_seeds_per_cell, of_stations) = (
            SELECT sow, method, tray, cells, seeds_per_cell,
                CASE WHEN method = 'stations' AND json_valid(facts) THEN
                    CASE json_type(facts, '$.stations') WHEN 'integer' THEN json_extract(facts, '$.stations') END
                END
            FROM batches WHERE code = entries.batch
        )
        """,
        """
        CREATE TRIGGER entries_stay_as_written BEFORE UPDATE ON entries
        BEGIN SELECT RAISE (ABORT, 'an entry is corrected by a further one, never changed'); END
        """,
    ),
    ("ALTER TABLE batches ADD COLUMN position INTEGER NOT NULL DEFAULT 0",),
)
"""The statements of step n bring a book of version n to version n + 1.

From version 3 on an entry keeps what was printed of its batch when it was written; an older one gets what was printed
last, as nothing better is known.
"""

VERSION = len(STEPS)
_WITH_ENTRIES = 2


def version_of(connection: sqlite3.Connection) -> int:
    """The version of an open book: 0 for an empty file. Raises ValueError for a database that is no book."""
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    if application != APPLICATION_ID and (application or version or tables):
        raise ValueError("it is a database of another program")
    return int(version)


def tables_of(version: int) -> set[str]:
    """The tables that a book of a version has."""
    return {"batches", "entries"} if version >= _WITH_ENTRIES else {"batches"} if version else set()


def migrate(connection: sqlite3.Connection) -> None:
    """Bring an open book up to date, inside the transaction that the caller holds."""
    for number in range(version_of(connection), VERSION):
        for statement in STEPS[number]:
            connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {VERSION}")
