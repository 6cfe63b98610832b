"""Jobs laid ready in a folder, in a process of its own: `python ready.py KIND NUMBER EACH FOLDER`.

`sticks` and `maps` give the plan as a grower has it, `plan.toml`, and what its sheets say, `job.json`; `plan` only the
first. `book` gives a book of NUMBER batches with EACH entries a batch.
"""

import json
import sqlite3
import sys
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

from contents_of import maps_of, sticks_of
from jobs import plan_text

from traysheets.book.diary import add_entry
from traysheets.book.entries import Kind, Note
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

PRINTED = date(2027, 1, 15)
SEEN = date(2027, 3, 20)


def sticks(number: int, each: int, plan: Path) -> None:
    """So many batches with so many sticks each."""
    plan.write_text(plan_text(number, sticks=each), encoding="utf-8")
    _lay_down(sticks_of(plan, each), plan)


def maps(number: int, each: int, plan: Path) -> None:
    """So many trays of 200 cells with so many batches each, all full: on ten days, or one where that leaves gaps."""
    days = 1 if number % 10 else 10
    plan.write_text(plan_text(number * each, cells=200 // each, tray="cell-200", days=days), encoding="utf-8")
    _lay_down(maps_of(plan), plan)


def plan(number: int, each: int, plan: Path) -> None:
    """A plan of so many sowings with so many sticks each."""
    plan.write_text(plan_text(number, sticks=each), encoding="utf-8")


def book(number: int, each: int, plan: Path) -> None:
    """A book of so many batches, with as many entries each: written once for the first batch, then copied in SQL."""
    plan.write_text(plan_text(number, cells=2), encoding="utf-8")
    file = plan.with_name("plan.book.sqlite")
    make(Options(plan, only=("seeds",), book=file), today=PRINTED)
    with closing(sqlite3.connect(file)) as connection:
        codes = [code for (code,) in connection.execute("SELECT code FROM batches ORDER BY code")]
    for count in range(each):
        note = Note(
            batch=codes[0], kind=Kind.REMARK, day=SEEN, who="A", remark=f"seen {count}", key=f"key-of-{count:012}"
        )
        add_entry(file, note, SEEN, datetime(2027, 3, 20, 12, tzinfo=UTC))
    _copy_entries(file, codes)


def _copy_entries(file: Path, codes: list[str]) -> None:
    """The entries of the first batch for all others too."""
    with closing(sqlite3.connect(file)) as connection, connection:
        columns = [column for _, column, *_ in connection.execute("PRAGMA table_info(entries)") if column != "id"]
        values = [{"batch": "?", "key": "key || '-' || ?"}.get(column, column) for column in columns]
        copy = f"INSERT INTO entries ({', '.join(columns)}) SELECT {', '.join(values)} FROM entries WHERE batch = ?"
        connection.executemany(copy, ((code, number, codes[0]) for number, code in enumerate(codes[1:], 1)))


def _lay_down(job: dict[str, object], plan: Path) -> None:
    plan.with_name("job.json").write_text(json.dumps(job), encoding="utf-8")


if __name__ == "__main__":
    kind, number, each, folder = sys.argv[1:]
    {"sticks": sticks, "maps": maps, "plan": plan, "book": book}[kind](
        int(number), int(each), Path(folder) / "plan.toml"
    )
