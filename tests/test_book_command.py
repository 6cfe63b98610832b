"""`traysheets book` from outside: what is shown, noted, exported and copied, and what is said when it cannot be."""

import csv
import io
import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import books
import pytest
from books import CLUMP, STATIONS, add, make_book
from test_cli import run

from traysheets.book.diary import read_history
from traysheets.book.entries import Kind
from traysheets.book_report import KINDS, batch, overview

TODAY = date.today()
"""The command asks the clock: the batches are sown today, so that today is in their season."""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    file = tmp_path / "plan.book.sqlite"
    make_book(file)
    return file


@pytest.fixture
def now(tmp_path: Path) -> Path:
    """A book of a batch that is sown today."""
    file = tmp_path / "now.book.sqlite"
    make_book(file, [books.wanted("Amber Vault", sow=TODAY)])
    return file


def lines(*words: str | Path) -> list[str]:
    result = run("book", *words)
    assert result.exit_code == 0, result.output
    return result.stdout.splitlines()


def test_the_book_stands_in_the_help() -> None:
    assert "Look up what became of every batch" in run("--help").stdout
    assert all(f"  {name} " in run("book", "--help").stdout for name in ("show", "note", "export", "backup"))


def test_all_batches_are_shown_with_what_stands_of_them(book: Path) -> None:
    add(book, "emerged", 100)
    add(book, "sold", 3)
    shown = lines("show", book)
    assert shown[0].split() == ["batch", "what", "sowing", "day", "on", "hand", "came", "up", "due"]
    row = next(line for line in shown if line.startswith(CLUMP))
    assert "Amber Vault, Onion" in row
    assert " ".join(row.split()).endswith("2027-03-06 5 of 8 cells 100 of 170, low -")
    assert len(shown) == 2 + 3


def test_a_batch_is_shown_with_its_steps_and_entries(book: Path) -> None:
    add(book, "emerged", 100, who="Ann", remark="slugs\nabout")
    add(book, "emerged", 110, corrects=1)
    add(book, "sold", 3)
    add(book, "remark", remark="", corrects=3)
    shown = lines("show", book, "270017")
    assert shown[0] == "27-001-7  Amber Vault, Onion"
    assert "On hand: 8 of 8 cells, 110 plants." in shown
    assert any(line.startswith("Low: 110 of 170 expected") for line in shown)
    assert any(line.startswith("Look for seedlings  2027-03-13 to 2027-03-20  done") for line in shown)
    entries = shown[shown.index("Entries") + 3 :]
    assert [line.split() for line in entries] == [
        ["1", "2027-03-20", "emerged", "100", "Ann", "slugs", "/", "about", "(corrected", "by", "2)"],
        ["2", "2027-03-20", "emerged", "110", "(corrects", "1)"],
        ["3", "2027-03-20", "sold", "3", "(struck", "out", "by", "4)"],
        ["4", "2027-03-20", "remark", "(strikes", "out", "3)"],
    ]


def test_what_is_due_of_a_part_says_of_how_many_cells(book: Path) -> None:
    add(book, "sown", 3, "2027-03-06")
    add(book, "sown", 8, "2027-03-27")
    today = date(2027, 5, 3)
    (every,) = overview(book, today)
    assert (
        next(row[-1] for row in every.rows if row[0] == CLUMP)
        == "look for seedlings (late by 23 days), plant out (now, 3 cells)"
    )
    steps = {step: (when, state, how) for step, when, state, how in batch(book, CLUMP, today)[1].rows}
    assert steps["Sow"] == ("2027-03-06 to 2027-03-27", "done", "")
    assert steps["Plant out"] == ("2027-05-01 to 2027-05-29", "now", "For 3 of the 8 cells sown.")


def test_what_waits_for_the_sowing_has_no_day(book: Path) -> None:
    assert batch(book, CLUMP, date(2027, 3, 7))[1].rows[-1] == ("Plant out", "", "after sowing", "")


def test_an_unsown_batch_that_left_the_plan_says_so(book: Path) -> None:
    make_book(book, books.batches()[1:])
    row = next(line for line in lines("show", book) if line.startswith(CLUMP))
    assert "left the plan" in row


def test_a_batch_whose_plan_was_edited_says_by_what_it_is_counted_and_that_it_left(book: Path) -> None:
    add(book, "sown", None, "2027-03-06")
    first, *others = books.batches()
    make_book(book, [replace(first, identity=replace(first.identity, cells=9, seeds_per_cell=30)), *others])
    counted = "Noted when 8 cells of 25 seeds were printed: counts go by these."
    assert counted in lines("show", book, CLUMP)
    left = "plan.toml no longer has it."
    assert left not in lines("show", book, CLUMP)
    make_book(book, others)
    assert {counted, left} <= set(lines("show", book, CLUMP))


def test_a_batch_without_entries_says_so(book: Path) -> None:
    assert lines("show", book, CLUMP)[-2:] == ["Entries", "nothing yet"]


def test_a_plan_stands_for_the_book_beside_it(book: Path) -> None:
    assert lines("show", book.with_name("plan.toml")) == lines("show", book)


def test_a_note_is_stored_and_said(now: Path) -> None:
    assert lines("note", now, "27 001 7", "sown") == [f"27-001-7: entry 1, sown, {TODAY}", "On hand: 8 of 8 cells."]
    said = lines("note", now, "27 001 7", "sold", "-n", "3", "--who", "Ann", "--remark", "the best")
    assert said == [f"27-001-7: entry 2, sold 3, {TODAY}", "On hand: 5 of 8 cells; 3 sold."]
    entry = read_history(now, CLUMP).entries[1]
    assert (entry.kind, entry.number, entry.day, entry.who, entry.remark) == (
        Kind.SOLD, 3, TODAY, "Ann", "the best",
    )  # fmt: skip


def test_a_note_typed_twice_is_two_notes(now: Path) -> None:
    lines("note", now, CLUMP, "sown")
    for _ in range(2):
        lines("note", now, CLUMP, "sold", "-n", "1")
    assert lines("note", now, CLUMP, "remark", "--corrects", "3") == [
        f"27-001-7: entry 4, remark, {TODAY}, strikes out entry 3", "On hand: 7 of 8 cells; 1 sold.",
    ]  # fmt: skip
    assert lines("note", now, CLUMP, "sold", "-n", "4", "--corrects", "2")[1] == "On hand: 4 of 8 cells; 4 sold."


def test_a_doubtful_note_is_stored_only_for_who_is_sure(now: Path) -> None:
    lines("note", now, CLUMP, "sown")
    before = now.read_bytes()
    words = ["note", now, CLUMP, "sown", "-n", "8"]
    result = run("book", *words)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.splitlines() == [
        "Nothing was stored: this does not fit what is noted. If it is so all the same, add --sure;",
        "if an earlier entry is wrong, put that right with --corrects and its number.",
        f"all 8 cells are noted as sown already, on {TODAY}",
    ]
    assert now.read_bytes() == before
    assert lines(*words, "--sure")[0] == f"27-001-7: entry 2, sown 8, {TODAY}"


def test_a_number_may_be_typed_as_numbers_are_shown(now: Path) -> None:
    lines("note", now, CLUMP, "sown", "--day", str(TODAY - timedelta(days=9)))
    result = run("book", "note", now, CLUMP, "emerged", "-n", "1,200")
    assert result.stderr == "the number is too large: 27-001-7 has 200 seeds; at most 1,000 are taken\n"
    assert lines("note", now, CLUMP, "emerged", "-n", "1,000")[0] == f"27-001-7: entry 2, emerged 1,000, {TODAY}"


def test_every_kind_can_be_typed() -> None:
    assert tuple(kind.value.replace("_", "-") for kind in Kind) == KINDS


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([CLUMP, "emerged"], ["'emerged' needs a number: how many seedlings"]),
        ([CLUMP, "sold", "-n", "-1", "--day", "2100-01-01"], ["is still to come", "must be 0 or more"]),
        (["27-001-8", "sold", "-n", "1"], ["did you mean 27-001-7?"]),
        ([CLUMP, "remark"], ["a remark needs words"]),
        ([CLUMP, "remark", "--remark", "\x1b[2J"], ["U+001B"]),
    ],
)
def test_a_note_that_is_wrong_is_status_1_and_said_whole(now: Path, words: list[str], said: list[str]) -> None:
    before = now.read_bytes()
    result = run("book", "note", now, *words)
    assert (result.exit_code, result.stdout) == (1, "")
    assert all(text in result.stderr for text in said)
    assert now.read_bytes() == before


@pytest.mark.parametrize(
    "words",
    [
        ["note", "b", CLUMP, "eaten"],
        ["note", "b", CLUMP, "sold", "-n", "many"],
        ["note", "b", CLUMP, "sold", "--day", "2027-02-30"],
        ["backup", "b"],
        ["burn", "b"],
    ],
    ids=" ".join,
)
def test_wrong_use_is_status_2(words: list[str]) -> None:
    assert run("book", *words).exit_code == 2


@pytest.mark.parametrize("words", [["show"], ["export"], ["backup", "-o", "copy"], ["note", CLUMP, "sold", "-n", "1"]])
def test_a_book_that_is_not_there_is_status_1(tmp_path: Path, words: list[str]) -> None:
    result = run("book", words[0], tmp_path / "none.book.sqlite", *words[1:])
    assert result.exit_code == 1
    assert "there is no book" in result.stderr
    assert list(tmp_path.iterdir()) == []


# ---- export


def table(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_the_export_is_a_table_of_entries(book: Path) -> None:
    add(book, "sold", 3, who="Ann")
    rows = table(run("book", "export", book).stdout)
    assert [(row["batch"], row["kind"], row["number"], row["counts"]) for row in rows] == [
        (CLUMP, "sold", "3", "yes"), (STATIONS, "", "", ""), ("27-003-3", "", "", ""),
    ]  # fmt: skip


@pytest.mark.parametrize("evil", ["=1+1", "+1", "-1", "@SUM(A1)", "＝1+1", "=cmd|' /C calc'!A0"])
def test_no_text_of_the_export_is_a_formula(book: Path, tmp_path: Path, evil: str) -> None:
    add(book, who=evil, remark=evil)
    target = tmp_path / "out.csv"
    lines("export", book, "-o", target)
    row = table(target.read_text(encoding="utf-8"))[0]
    assert (row["who"], row["remark"]) == ("'" + evil, "'" + evil)


def test_the_export_as_json_holds_all(book: Path, tmp_path: Path) -> None:
    add(book, "sold", 3, remark="=1")
    target = tmp_path / "out.json"
    lines("export", book, "--json", "-o", target)
    whole = json.loads(target.read_text(encoding="utf-8"))
    assert whole == json.loads(run("book", "export", book, "--json").stdout)
    first = whole["batches"][0]
    assert (first["batch"], first["printed"]["germination"], first["entries"][0]["remark"]) == (CLUMP, 0.85, "=1")


@pytest.mark.parametrize("words", [["export"], ["backup"]])
def test_a_file_that_is_there_is_replaced_only_when_told_to_and_the_book_never(
    book: Path, tmp_path: Path, words: list[str]
) -> None:
    target, before = tmp_path / "there", book.read_bytes()
    target.write_text("mine")
    result = run("book", *words, book, "-o", target)
    assert result.exit_code == 1
    assert "is there already; choose another name, or replace it with --force" in result.stderr
    assert target.read_text() == "mine"
    lines(*words, book, "-o", target, "--force")
    assert target.read_bytes() != b"mine"
    itself = run("book", *words, book, "-o", book, "--force")
    assert itself.exit_code == 1
    assert "is the book itself" in itself.stderr
    assert book.read_bytes() == before


def test_a_copy_is_a_book(book: Path, tmp_path: Path) -> None:
    stored = add(book, "sold", 3)
    target = tmp_path / "copy.sqlite"
    result = run("book", "backup", book, "-o", target)
    assert result.exit_code == 0
    assert result.stderr == f"Wrote {target}, {target.stat().st_size:,} bytes, checked.\n"
    assert read_history(target, CLUMP).entries == (stored,)
