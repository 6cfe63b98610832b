"""The book as a file: what is entered is there, and whatever goes wrong leaves it as it was."""

import sqlite3
import subprocess
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from test_book_allot import PLAN, wanted

from traysheets.base.errors import BookError
from traysheets.book import book
from traysheets.book.book import allotted, enter
from traysheets.book.model import Wanted
from traysheets.book.schema import APPLICATION_ID, VERSION

TODAY = date(2027, 3, 1)
BATCHES = [wanted("A"), wanted("B"), wanted("C")]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "plan.book.sqlite"


def print_all(file: Path, batches: list[Wanted], only: list[int] | None = None) -> tuple[str, ...]:
    codes = allotted(file, batches, 2027, PLAN).codes
    enter(file, batches, 2027, PLAN, codes, range(len(batches)) if only is None else only, TODAY)
    return codes


def test_asking_makes_no_file(file: Path) -> None:
    assert allotted(file, BATCHES, 2027, PLAN).codes == ("27-001-7", "27-002-5", "27-003-3")
    assert not file.exists()


def test_what_is_entered_is_there(file: Path) -> None:
    codes = print_all(file, BATCHES)
    again = allotted(file, BATCHES[::-1], 2027, PLAN)
    assert again.codes == codes[::-1]
    assert again.printed == {0, 1, 2}


def test_only_what_is_printed_is_entered(file: Path) -> None:
    print_all(file, BATCHES, only=[2])
    again = allotted(file, BATCHES, 2027, PLAN)
    assert again.codes == ("27-001-7", "27-002-5", "27-003-3")
    assert again.printed == {2}
    assert allotted(file, [wanted("D")], 2027, PLAN).codes == ("27-001-7",)


def test_printing_again_keeps_the_first_day_and_brings_the_rest_up_to_date(file: Path) -> None:
    print_all(file, BATCHES)
    changed = [replace(BATCHES[0], identity=replace(BATCHES[0].identity, cells=12), facts='{"cells": 12}')]
    enter(file, changed, 2027, PLAN, ("27-001-7",), [0], date(2027, 4, 1))
    with sqlite3.connect(file) as connection:
        rows = connection.execute("SELECT code, cells, facts, in_plan, first_printed, last_printed FROM batches")
        assert rows.fetchall() == [
            ("27-001-7", 12, '{"cells": 12}', 1, "2027-03-01", "2027-04-01"),
            ("27-002-5", 8, "{}", 0, "2027-03-01", "2027-03-01"),
            ("27-003-3", 8, "{}", 0, "2027-03-01", "2027-03-01"),
        ]
    connection.close()


def test_a_run_that_was_overtaken_enters_nothing(file: Path) -> None:
    mine = allotted(file, [wanted("A")], 2027, PLAN).codes
    print_all(file, [wanted("B")])
    before = file.read_bytes()
    with pytest.raises(BookError, match="another run has just entered batches"):
        enter(file, [wanted("A")], 2027, PLAN, mine, [0], TODAY)
    assert file.read_bytes() == before


def test_a_failed_first_entry_leaves_no_empty_book(file: Path) -> None:
    with pytest.raises(BookError):
        enter(file, [wanted("A")], 2027, PLAN, ("27-777-X",), [0], TODAY)
    assert not file.exists()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"not a database at all" * 99, "it is not a book, or is damaged"),
        (b"x", "it is not a book, or is damaged"),
    ],
)
def test_a_file_that_is_no_book_is_refused_and_left(file: Path, content: bytes, said: str) -> None:
    file.write_bytes(content)
    with pytest.raises(BookError) as error:
        allotted(file, BATCHES, 2027, PLAN)
    assert str(error.value) == f"the book {file} cannot be used: {said}; nothing was changed"
    with pytest.raises(BookError):
        enter(file, BATCHES, 2027, PLAN, ("a", "b", "c"), [0], TODAY)
    assert file.read_bytes() == content


def test_a_database_of_another_program_is_refused(file: Path) -> None:
    with sqlite3.connect(file) as connection:
        connection.execute("CREATE TABLE batches (code)")
    connection.close()
    with pytest.raises(BookError, match="a database of another program"):
        allotted(file, BATCHES, 2027, PLAN)
    with pytest.raises(BookError, match="a database of another program"):
        enter(file, BATCHES, 2027, PLAN, ("27-001-7", "27-002-5", "27-003-3"), [0], TODAY)


def test_a_newer_book_is_refused(file: Path) -> None:
    print_all(file, BATCHES)
    with sqlite3.connect(file) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    connection.close()
    with pytest.raises(BookError, match="is of a newer traysheets"):
        allotted(file, BATCHES, 2027, PLAN)


def test_the_book_is_marked_as_ours(file: Path) -> None:
    print_all(file, BATCHES)
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
    connection.close()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be opened; see that its folder is there"):
        enter(tmp_path / "no" / "b.sqlite", BATCHES, 2027, PLAN, ("27-001-7", "27-002-5", "27-003-3"), [0], TODAY)


def test_a_folder_in_the_books_place_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be used: it is a folder"):
        allotted(tmp_path, BATCHES, 2027, PLAN)


def test_a_book_held_by_another_run_is_said(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    print_all(file, [wanted("A")])
    monkeypatch.setattr(book, "WAIT_SECONDS", 0.05)
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(BookError, match="another run has held it for too long"):
        enter(file, [wanted("A")], 2027, PLAN, ("27-001-7",), [0], TODAY)
    other.execute("ROLLBACK")
    other.close()


def test_a_full_disk_is_said_and_changes_nothing(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    print_all(file, [wanted("A")])
    before = file.read_bytes()
    connect = book._connect

    def cramped(file: Path, mode: str) -> sqlite3.Connection:
        connection = connect(file, mode)
        connection.execute("PRAGMA max_page_count = 1")
        return connection

    monkeypatch.setattr(book, "_connect", cramped)
    many = [wanted(f"V{number}" * 20) for number in range(200)]
    codes = allotted(file, many, 2027, PLAN).codes
    with pytest.raises(BookError, match="the disk is full; nothing was changed"):
        enter(file, many, 2027, PLAN, codes, range(200), TODAY)
    assert file.read_bytes() == before


def test_a_kill_in_the_middle_of_entering_leaves_the_book_as_it_was(file: Path) -> None:
    codes = print_all(file, [wanted("A")])
    code = f"""
import os, sys
from datetime import date
sys.path.insert(0, {str(Path(__file__).parent)!r})
from test_book_allot import PLAN, wanted
from traysheets.book import book
written = book._write
def killed(*args):
    written(*args)
    os._exit(9)
book._write = killed
from pathlib import Path
both = [wanted("A", cells=9), wanted("B")]
book.enter(Path({str(file)!r}), both, 2027, PLAN, ("27-001-7", "27-002-5"), [0, 1], date(2027, 4, 1))
"""
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 9
    again = allotted(file, [wanted("A"), wanted("B")], 2027, PLAN)
    assert again.codes == (*codes, "27-002-5")
    assert again.printed == {0}
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()
