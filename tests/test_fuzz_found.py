"""What fuzzing found, each as a small case of its own."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from fuzz import seeds
from fuzz.seeds import run

from traysheets.base.errors import PlanError
from traysheets.plan.read import plan_from_toml


def test_a_day_with_marks_that_turn_text_round_is_quoted_without_them() -> None:
    with pytest.raises(PlanError) as error:
        plan_from_toml(seeds.PLAN.replace("2027-W09", "20\u206627-W09"), "plan")
    told = "'20?27-W09' is not a day; write it as 2027-03-06 (year, month, day), or a week as 2027-W09"
    assert str(error.value) == f"plan:50: sow: {told}"


@pytest.mark.parametrize(
    ("name", "character"), [("a\x00", "0000"), ("\x07", "0007"), ("\ud800", "D800"), ("\x9b2J", "009B")]
)
@pytest.mark.parametrize("command", ["new", "check", "convert", "verify", "serve"])
def test_a_file_name_that_holds_no_letters(command: str, name: str, character: str) -> None:
    status, out, err = run(command, name)
    assert (status, out) == (2, "")
    assert err.endswith(f"there is a character in this name that is no letter (U+{character}); rename it\n")


def test_words_that_steer_a_terminal_are_not_sent_back_to_it() -> None:
    for words in (
        ["\x1b[2J"],
        ["--\x1b[2J"],
        ["list", "\x1b[2J"],
        ["check", "a", "\x1b[2J"],
        ["check", "a", "--on", "\x1b[2J"],
    ):
        status, out, err = run(*words)
        assert (status, out) == (2, "")
        assert "\x1b" not in err


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("batches", "cells", "<script>"),
        ("batches", "seeds_per_cell", "many"),
        ("batches", "sow", b"2027-03-06"),
        ("batches", "sow", "0001-01-01"),
        ("batches", "sow", "9999-12-31"),
        ("batches", "method", "<script>"),
        ("batches", "variety", b"x"),
        ("entries", "number", "many"),
        ("entries", "remark", b"\xff"),
    ],
)
def test_a_book_with_values_of_another_kind_is_damaged(tmp_path: Path, table: str, column: str, value: object) -> None:
    """SQLite keeps text in a column of whole numbers, and bytes in any."""
    file = tmp_path / "book.sqlite"
    file.write_bytes(seeds.book())
    with closing(sqlite3.connect(file, isolation_level=None)) as opened:
        opened.execute("DROP TRIGGER entries_stay_as_written")
        opened.execute(f"UPDATE {table} SET {column} = ?", (value,))
    status, out, err = run("book", "show", str(file))
    assert (status, out) == (1, "")
    assert "it is damaged; take a copy of it" in err


def test_a_batch_whose_lot_is_no_text_does_not_keep_others_from_being_shown(tmp_path: Path) -> None:
    """A damaged book may hold nothing in a column that must have something."""
    file = tmp_path / "book.sqlite"
    file.write_bytes(seeds.book())
    one, *others = seeds.codes()
    with closing(sqlite3.connect(file, isolation_level=None)) as opened:
        opened.execute("UPDATE batches SET lot = 'HV-1' WHERE code = ?", (one,))
        opened.execute("PRAGMA ignore_check_constraints = ON")
        opened.execute("PRAGMA writable_schema = ON")
        opened.execute("UPDATE sqlite_schema SET sql = replace(sql, 'lot TEXT NOT NULL', 'lot TEXT')")
    with closing(sqlite3.connect(file, isolation_level=None)) as opened:
        opened.execute("UPDATE batches SET lot = NULL WHERE code <> ?", (one,))
    status, out, err = run("book", "show", str(file), one)
    assert (status, err) == (0, "")
    assert "HV-1" in out
    status, out, err = run("book", "show", str(file), others[0])
    assert (status, out) == (1, "")
    assert "it is damaged; take a copy of it" in err


def test_a_code_that_is_no_text_is_none_that_may_have_been_meant(tmp_path: Path) -> None:
    file = tmp_path / "book.sqlite"
    file.write_bytes(seeds.book())
    with closing(sqlite3.connect(file, isolation_level=None)) as opened:
        opened.execute("UPDATE batches SET code = ? WHERE code = ?", (b"27", seeds.codes()[0]))
    status, out, err = run("book", "show", str(file), "27-0")
    assert (status, out) == (1, "")
    assert "'27-0' is no batch code of the book; " in err


def test_a_book_whose_tables_sqlite_can_make_nothing_of(tmp_path: Path) -> None:
    """SQLite may then say that memory is out."""
    file, book = tmp_path / "book.sqlite", seeds.book()
    start = book.index(b"ATE INDEX entries_by_batch")
    file.write_bytes(book[:start] + b"\xff" * 64 + book[start + 64 :])
    status, out, err = run("book", "show", str(file))
    assert (status, out) == (1, "")
    assert "it is damaged; take a copy of it" in err or "as a damaged one may; take a copy of it" in err


@pytest.mark.parametrize(
    "facts",
    [
        "[" * 5000,
        '{"days_to_raise": 1e400}',
        '{"days_to_raise": "x"}',
        '{"sow": 1}',
        '{"plant_out": "0001-01-01", "days_to_raise": 30}',
        '{"germination": "85 %", "plants_expected": []}',
        '{"steps": [{"step": "sow"}]}',
        '{"steps": [[]]}',
        '{"steps": {}}',
        '{"runs": [{"tray": 1, "first": "?", "last": "A1"}], "code": 3}',
        '{"lead": {}, "stands": 1, "crop": []}',
    ],
)
def test_printed_facts_that_cannot_be_meant_count_as_not_kept(tmp_path: Path, facts: str) -> None:
    file = tmp_path / "plan.book.sqlite"
    file.write_bytes(seeds.book())
    with closing(sqlite3.connect(file, isolation_level=None)) as opened:
        opened.execute("UPDATE batches SET facts = ?", (facts,))
    for words in (["show", str(file)], ["show", str(file), seeds.codes()[0]], ["export", str(file), "--json"]):
        status, out, err = run("book", *words)
        assert (status, err) == (0, "")
        assert seeds.codes()[0] in out


def test_a_device_without_end_is_no_sheet() -> None:
    told = "/dev/zero is a device, which may have no end; name a file\n"
    assert run("verify", "/dev/zero") == (1, "", told)


@pytest.mark.parametrize("words", [["show", "/dev/zero"], ["note", "/dev/null", "27-001-7", "remark"]])
def test_a_device_is_no_book(words: list[str]) -> None:
    """SQLite takes it for an empty database, and what is written there is lost."""
    status, out, err = run("book", *words)
    assert (status, out) == (1, "")
    assert "it is a device, which keeps nothing" in err
