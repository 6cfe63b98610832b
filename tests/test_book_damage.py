"""A damaged book: who reads or copies all of it refuses it, who meets the damage is told, and nothing is made worse."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from books import CLUMP, add, make_book

from traysheets.base.errors import BookError
from traysheets.book import opening
from traysheets.book.backup import backup
from traysheets.book.book import contents
from traysheets.book.diary import read_history
from traysheets.book.opening import check_whole


def spoiled(file: Path, at: int, length: int) -> bytes:
    content = bytearray(file.read_bytes())
    content[at : at + length] = b"\xa5" * length
    file.write_bytes(content)
    return bytes(content)


def damaged_at(file: Path, page: int) -> bytes:
    for number in range(40):
        add(file, remark="x" * 500, key=f"k{number}")
    return spoiled(file, page * 4096 + (100 if page == 0 else 0), 600)


@pytest.mark.parametrize("page", range(8))
def test_a_damaged_book_is_not_copied_and_not_printed_into(file: Path, page: int) -> None:
    before = damaged_at(file, page)
    for call in (check_whole, make_book, lambda f: backup(f, f.with_name("copy"))):
        with pytest.raises(BookError, match=r"it is (damaged; take a copy of it|not a book, or is damaged)"):
            call(file)
    assert file.read_bytes() == before
    assert not file.with_name("copy").exists()


def said(call: Callable[[], object]) -> str:
    """What came back, or what was said instead."""
    try:
        return str(call())
    except BookError as error:
        return "damaged" if "damaged; take a copy" in str(error) or "not a book, or is damaged" in str(error) else "?"


@pytest.mark.parametrize("page", range(8))
def test_what_is_read_of_a_damaged_book_is_right_or_said_to_be_damaged(file: Path, page: int) -> None:
    damaged_at(file, page)
    assert said(lambda: len(contents(file).entries[CLUMP])) in ("40", "damaged")
    assert said(lambda: len(read_history(file, CLUMP).entries)) in ("40", "damaged")
    assert said(lambda: add(file, key="more").number) in ("None", "damaged")
    assert b"\xa5" * 600 in file.read_bytes(), "what is damaged is left to be looked at"


def test_a_book_that_was_cut_off_is_damaged(file: Path) -> None:
    for number in range(40):
        add(file, remark="x" * 500, key=f"k{number}")
    content = file.read_bytes()[:-4096]
    file.write_bytes(content)
    for call in (add, contents, lambda f: read_history(f, CLUMP), lambda f: backup(f, f.with_name("copy"))):
        with pytest.raises(BookError, match="it is damaged; take a copy of it, and a backup if you have one"):
            call(file)
    assert file.read_bytes() == content


@pytest.mark.parametrize(
    "spoil",
    [
        "UPDATE batches SET sow = 'sometime'",
        "UPDATE batches SET facts = x'00ff', sow = x'ff'",
        "UPDATE entries SET day = '2027-02-30'",
        "UPDATE entries SET kind = 'eaten'",
        "UPDATE entries SET who = CAST(x'ff' AS TEXT)",
        "UPDATE entries SET written_at = 7",
        "DROP TABLE entries",
    ],
)
def test_values_that_none_of_ours_could_be_are_damage(file: Path, spoil: str) -> None:
    add(file)
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("DROP TRIGGER entries_stay_as_written")
        other.execute(spoil)
    for call in (contents, lambda f: read_history(f, CLUMP), add):
        with pytest.raises(BookError, match="it is damaged; take a copy of it, and a backup if you have one"):
            call(file)


def test_opening_takes_no_longer_for_a_larger_book(file: Path) -> None:
    """What is asked of SQLite on opening reads the header and the tables' names alone: no check over all pages."""
    asked: list[str] = []
    with opening.as_it_is(file) as connection:
        connection.set_trace_callback(asked.append)
        opening._refuse_unfit(connection, file)
    assert asked
    assert all(text.startswith(("PRAGMA application_id", "PRAGMA user_version", "PRAGMA page_")) or
               "sqlite_schema" in text for text in asked)  # fmt: skip


@pytest.mark.parametrize("content", [b"x", b"not a book at all, but some other file" * 99])
def test_another_file_is_refused_and_left(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "letter.txt"
    file.write_bytes(content)
    for call in (add, contents, lambda f: backup(f, f.with_name("copy"))):
        with pytest.raises(BookError, match="it is not a book, or is damaged"):
            call(file)
    assert file.read_bytes() == content
