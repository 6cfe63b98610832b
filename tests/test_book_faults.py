"""What befalls a book: kills, several programs at once, no room, no right, damage. What was acknowledged stays."""

import json
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import books
import pytest
from books import CLUMP, SINGLE, STATIONS, a_note, add
from test_book_diary import old_book

from traysheets.base.errors import BookError
from traysheets.book import opening
from traysheets.book.backup import backup
from traysheets.book.book import contents
from traysheets.book.diary import add_entry, read_histories, read_history

TESTS = str(Path(__file__).parent)


def keys(file: Path) -> list[str]:
    return [entry.key for entries in contents(file).entries.values() for entry in entries]


def sound(file: Path) -> bool:
    with closing(sqlite3.connect(file)) as connection:
        return bool(connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)])


def python(script: str, *words: str | Path) -> "subprocess.Popen[str]":
    """A process of its own that knows the helpers of these tests."""
    begin = f"import sys; sys.path.insert(0, {TESTS!r})\n"
    return subprocess.Popen([sys.executable, "-c", begin + script, *map(str, words)], stdout=subprocess.PIPE, text=True)


# ---- killed

BURSTS = """
import json, os, random, signal, time
from pathlib import Path
from books import NOW, TODAY, a_note
from traysheets.book.diary import add_entry

file, chance = Path(sys.argv[1]), random.Random(5)

def write(burst, out):
    number = 0
    while True:
        number += 1
        entry = add_entry(file, a_note(remark="x" * 1500, key=f"{burst}-{number}"), TODAY, NOW)
        os.write(out, f"{entry.key}\\n".encode())

def read_all(inward):
    parts = []
    while part := os.read(inward, 65536):
        parts.append(part)
    return b"".join(parts).decode()

acknowledged = []
for burst in range(200):
    inward, out = os.pipe()
    child = os.fork()
    if not child:
        os.close(inward)
        write(burst, out)
    os.close(out)
    told = b"".join(os.read(inward, 1) for _ in range(chance.randrange(5) * len(f"{burst}-1\\n")))
    time.sleep(chance.random() * chance.choice((0.001, 0.02)))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    acknowledged += (told.decode() + read_all(inward)).split()
    os.close(inward)
print(json.dumps(acknowledged))
"""


def test_200_bursts_killed_at_random_moments_lose_no_acknowledged_entry(file: Path) -> None:
    run = python(BURSTS, file)
    acknowledged = json.loads(run.communicate(timeout=120)[0])
    assert run.returncode == 0
    assert len(acknowledged) > 400, "the bursts came to something"
    kept = keys(file)
    assert set(acknowledged) <= set(kept)
    assert len(kept) == len(set(kept)) <= len(acknowledged) + 200, "beyond them, one a burst that was not told in time"
    assert sound(file)
    assert add(file, "sold", 1).number == 1


# ---- at once

WRITER = """
from pathlib import Path
from books import NOW, TODAY, a_note
from traysheets.book.diary import add_entry
for number in range(100):
    entry = add_entry(Path(sys.argv[1]), a_note(key=f"{sys.argv[2]}-{number}"), TODAY, NOW)
    print(entry.key)
"""
PRINTER = """
from pathlib import Path
from books import make_book
for number in range(20):
    make_book(Path(sys.argv[1]))
    print("printed")
"""
READER = """
from pathlib import Path
from traysheets.book.diary import read_histories
before = 0
for number in range(60):
    now = sum(len(history.entries) for history in read_histories(Path(sys.argv[1])))
    assert now >= before
    before = now
    print("read")
"""


def test_two_writers_a_printing_run_a_reader_and_copies_at_once_lose_nothing(file: Path, tmp_path: Path) -> None:
    runs = [python(WRITER, file, "a"), python(WRITER, file, "b"), python(PRINTER, file), python(READER, file)]
    for number in range(5):
        backup(file, tmp_path / f"copy-{number}")
    told = [run.communicate(timeout=120)[0].split() for run in runs]
    assert [run.returncode for run in runs] == [0, 0, 0, 0], "nobody was locked out"
    assert [len(lines) for lines in told] == [100, 100, 20, 60]
    assert sorted(keys(file)) == sorted(told[0] + told[1])
    assert sound(file)
    assert all(sound(tmp_path / f"copy-{number}") for number in range(5))


SAME = """
from pathlib import Path
from books import NOW, TODAY, a_note
from traysheets.book.diary import add_entry
for number in range(30):
    print(add_entry(Path(sys.argv[1]), a_note("sold", 1, key=f"same-{number}", sure=True), TODAY, NOW).id)
"""


def test_the_same_entries_sent_by_several_at_once_are_stored_once(file: Path) -> None:
    runs = [python(SAME, file) for _ in range(3)]
    told = {run.communicate(timeout=120)[0] for run in runs}
    assert len(told) == 1, "all were told the same numbers"
    assert len(keys(file)) == 30


def test_corrections_of_one_entry_by_several_at_once_are_one(file: Path) -> None:
    wrong = add(file, "sold", 3)
    script = """
from pathlib import Path
from books import NOW, TODAY, a_note
from traysheets.base.errors import BookError
from traysheets.book.diary import add_entry
try:
    print(add_entry(Path(sys.argv[1]), a_note("sold", 2, corrects=1, sure=True), TODAY, NOW).id)
except BookError as error:
    print(error)
"""
    runs = [python(script.replace("corrects=1", f"corrects=1, key='c{number}'"), file) for number in range(3)]
    told = sorted(run.communicate(timeout=120)[0].strip() for run in runs)
    assert told == ["2", *["entry 1 was corrected already, by entry 2; correct that one"] * 2]
    assert [entry.corrects for entry in read_history(file, wrong.batch).entries] == [None, 1]


def wait_no_longer_than(monkeypatch: pytest.MonkeyPatch, seconds: float) -> None:
    for wait in ("WAIT_SECONDS", "READ_WAIT_SECONDS"):
        monkeypatch.setattr(opening, wait, seconds)


def test_a_book_held_for_too_long_is_said(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wait_no_longer_than(monkeypatch, 0.05)
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        for call in (add, contents, lambda f: backup(f, f.with_name("copy"))):
            with pytest.raises(
                BookError, match="it is being written to by another program; try again; nothing was changed"
            ):
                call(file)
        other.execute("ROLLBACK")
    assert keys(file) == []
    assert not file.with_name("copy").exists()


def test_nobody_waits_longer_than_is_stated() -> None:
    assert (opening.READ_WAIT_SECONDS, opening.WAIT_SECONDS) == (5, 10)


def test_a_writer_who_takes_long_holds_up_no_reader(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wait_no_longer_than(monkeypatch, 0)
    with opening.writing(file) as connection:
        connection.execute("UPDATE batches SET season = 1")
        assert read_history(file, CLUMP).batch.season == 2027
        assert backup(file, file.with_name("copy"))
        with pytest.raises(BookError, match="it is being written to by another program; try again"):
            add(file)
    assert read_history(file, CLUMP).batch.season == 1


def test_a_copy_onto_a_slow_disk_holds_up_no_writer(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wait_no_longer_than(monkeypatch, 0)
    sync = os.fsync
    stored = []

    def slow(descriptor: int) -> None:
        if not stored:
            stored.append(add(file))
        sync(descriptor)

    monkeypatch.setattr(os, "fsync", slow)
    backup(file, file.with_name("copy"))
    assert read_history(file, CLUMP).entries == tuple(stored)
    assert read_history(file.with_name("copy"), CLUMP).entries == ()


# ---- no room, no right


def opened(monkeypatch: pytest.MonkeyPatch, *pragmas: str, mode: str | None = None) -> None:
    """Have books opened under a hindrance from now on."""
    connect = opening._connect

    def hindered(file: Path, wanted: str) -> sqlite3.Connection:
        connection = connect(file, mode or wanted)
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")
        return connection

    monkeypatch.setattr(opening, "_connect", hindered)


def test_a_full_disk_is_said_and_loses_nothing(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stored = add(file, "sold", 3)
    with monkeypatch.context() as crowded:
        opened(crowded, "max_page_count = 1")
        written = [stored.key]
        with pytest.raises(BookError, match="the disk is full; nothing was changed"):
            written.extend(add(file, remark="x" * 2000).key for _ in range(20))
    assert keys(file) == written
    assert sound(file)
    add(file, "sold", 1)


def test_a_full_disk_in_the_middle_of_bringing_a_book_up_to_date_leaves_it_old(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "old.sqlite"
    old_book(file)
    before = file.read_bytes()
    opened(monkeypatch, "max_page_count = 1")
    with pytest.raises(BookError, match="the disk is full; nothing was changed"):
        add(file, "sold", 3)
    assert file.read_bytes() == before


def test_a_book_that_cannot_be_written_is_said_and_can_be_read(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stored = add(file, "sold", 3)
    opened(monkeypatch, mode="ro")
    with pytest.raises(BookError, match="it cannot be written; see who owns it and its folder; nothing was changed"):
        add(file, "sold", 1)
    assert read_history(file, CLUMP).entries == (stored,)


def test_a_full_disk_while_copying_leaves_the_last_copy(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = file.with_name("copy")
    target.write_bytes(b"last week's")
    connect = sqlite3.connect

    def full(database: object, *args: object, **options: object) -> sqlite3.Connection:
        connection = connect(database, *args, **options)  # type: ignore[call-overload]
        if "unfinished" in str(database):
            connection.execute("PRAGMA max_page_count = 2")
        return connection  # type: ignore[no-any-return]

    monkeypatch.setattr(sqlite3, "connect", full)
    with pytest.raises(BookError, match=r"the copy .* cannot be written: the disk is full; nothing was changed"):
        backup(file, target)
    assert target.read_bytes() == b"last week's"
    assert sorted(path.name for path in file.parent.iterdir()) == ["copy", file.name]


def test_the_book_of_another_plan_is_another_book(file: Path) -> None:
    with pytest.raises(BookError, match="is it of another plan"):
        add(file, batch="27-004-1")
    assert {CLUMP, STATIONS, SINGLE} == {history.batch.code for history in read_histories(file)}


def test_a_note_is_stored_though_the_answer_was_lost(file: Path) -> None:
    """Who hears nothing sends it again, and it is there once."""
    note = a_note("sold", 3, sure=True)
    lost = add_entry(file, note, books.TODAY, books.NOW)
    assert add_entry(file, note, books.TODAY, books.NOW) == lost
    assert keys(file) == [note.key]
