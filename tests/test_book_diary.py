"""Entries in the book's file: what was acknowledged is there, once, as it was written; and the way from older books."""

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import books
import pytest
from books import CLUMP, SINGLE, STATIONS, a_note, add, make_book

from traysheets.base.errors import BookError
from traysheets.book import rows
from traysheets.book.backup import backup
from traysheets.book.book import contents
from traysheets.book.diary import add_entry, read_histories, read_history
from traysheets.book.entries import Kind
from traysheets.book.model import Measure
from traysheets.book.schema import VERSION


@pytest.fixture
def file(tmp_path: Path) -> Path:
    book = tmp_path / "plan.book.sqlite"
    assert make_book(book) == (CLUMP, STATIONS, SINGLE)
    return book


def sound(file: Path) -> bool:
    with closing(sqlite3.connect(file)) as connection:
        return bool(connection.execute("PRAGMA integrity_check").fetchone() == ("ok",))


# ---- writing and reading


def test_what_was_noted_is_there_word_for_word(file: Path) -> None:
    stored = add(file, "emerged", 152, who="Ann", remark="two rows\nstill bare")
    assert (stored.id, stored.number, stored.who, stored.remark) == (1, 152, "Ann", "two rows\nstill bare")
    assert stored.written_at == datetime(2027, 6, 1, 12, 30, 15, tzinfo=UTC)
    assert read_history(file, CLUMP).entries == (stored,)
    assert contents(file).entries == {CLUMP: (stored,)}


def test_the_moment_is_kept_as_utc(file: Path) -> None:
    summer = timezone(timedelta(hours=2))
    stored = add_entry(file, a_note(), books.TODAY, datetime(2027, 6, 1, 1, 0, tzinfo=summer))
    assert stored.written_at == datetime(2027, 5, 31, 23, 0, tzinfo=UTC)


@pytest.mark.parametrize("typed", ["27-001-7", "270017", "27 001 7", " 27-o01-7 ", "27-OO1-7", "27-0o1-7"])
def test_a_code_may_be_typed_sloppily(file: Path, typed: str) -> None:
    assert add(file, batch=typed).batch == CLUMP
    assert read_history(file, typed).batch.code == CLUMP


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("27-001-8", "'27-001-8' is no batch code of the book; did you mean 27-001-7?"),
        ("27-004-1", "there is no batch 27-004-1 in the book; is it of another plan? The nearest is 27-003-3."),
        ("carrots", "'carrots' is no batch code of the book; the first is 27-001-7, the last 27-003-3"),
        ("\x1b[2J\u202e", "'?[2J?' is no batch code of the book; the first is 27-001-7, the last 27-003-3"),
        ("x" * 9999, f"'{'x' * 40}' is no batch code of the book; the first is 27-001-7, the last 27-003-3"),
    ],
)
def test_an_unknown_code_is_said_with_the_nearest(file: Path, typed: str, said: str) -> None:
    for ask in (lambda: read_history(file, typed), lambda: add(file, batch=typed)):
        with pytest.raises(BookError) as error:
            ask()
        assert str(error.value) == said


def test_a_growers_own_code_is_found(tmp_path: Path) -> None:
    file = tmp_path / "own.sqlite"
    make_book(file, [books.wanted("A", own="LEEK/7")])
    assert add(file, batch="leek/7").batch == "LEEK/7"


def test_the_same_entry_sent_twice_is_stored_once(file: Path) -> None:
    note = a_note("sold", 3, sure=True)
    first = add_entry(file, note, books.TODAY, books.NOW)
    again = add_entry(file, note, books.TODAY + timedelta(days=2), books.NOW + timedelta(days=2))
    assert again == first
    assert read_history(file, CLUMP).entries == (first,)


def test_the_same_entry_is_the_same_however_its_code_and_spaces_were_typed(file: Path) -> None:
    first = add(file, "sold", 3, key="k", who="Ann")
    assert add(file, "sold", 3, key="k", who=" Ann ", batch="270017") == first


@pytest.mark.parametrize("change", [{"number": 4}, {"batch": STATIONS}, {"day": "2027-03-21"}, {"remark": "x"}])
def test_another_entry_under_the_same_key_is_not_taken_for_it(file: Path, change: dict[str, Any]) -> None:
    given = {"kind": "sold", "number": 3, "key": "k"}
    add(file, **given)
    with pytest.raises(BookError) as error:
        add(file, **given | change)
    assert str(error.value) == (
        "this was stored already, as 'sold' of 2027-03-20 for 27-001-7, and says something else now;"
        " to change it, correct entry 1"
    )
    assert len(contents(file).entries) == 1


@pytest.mark.parametrize("key", ["", "k" * 101, "clé", "a\nb", "\ud800"])
def test_an_entry_without_a_proper_key_is_refused(file: Path, key: str) -> None:
    with pytest.raises(BookError) as error:
        add(file, key=key)
    assert str(error.value) == (
        "an entry needs a key of its own, so that sent twice it is stored once: 1 to 100 plain characters"
    )


def test_a_correction_leaves_what_it_corrects(file: Path) -> None:
    wrong = add(file, "sold", 3)
    right = add(file, "sold", 2, corrects=wrong.id)
    assert read_history(file, CLUMP).entries == (wrong, right)


def test_only_an_entry_of_the_batch_is_corrected_and_only_once(file: Path) -> None:
    add(file, "sold", 3)
    add(file, "sold", 2, corrects=1)
    for fields, said in (
        ({"corrects": 1}, "entry 1 was corrected already, by entry 2; correct that one"),
        ({"corrects": 77}, "27-001-7 has no entry 77 that could be corrected; its entries are 1, 2"),
        ({"corrects": 2, "batch": STATIONS}, "27-002-5 has no entry 2 that could be corrected"),
    ):
        with pytest.raises(BookError) as error:
            add(file, "sold", 1, **fields)
        assert str(error.value) == said


def test_what_is_refused_changes_nothing(file: Path) -> None:
    before = file.read_bytes()
    for note in (a_note("sold", 99), a_note(batch="27-009-9"), a_note("sold", 1, corrects=9), a_note(key="")):
        with pytest.raises(BookError):
            add_entry(file, note, books.TODAY, books.NOW)
    assert file.read_bytes() == before


def test_entries_are_never_changed_or_deleted_by_whatever_program(file: Path) -> None:
    add(file, "sold", 3)
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA recursive_triggers = ON")
        for statement in ("UPDATE entries SET number = 9", "DELETE FROM entries"):
            with pytest.raises(
                sqlite3.IntegrityError, match=r"an entry is (corrected|struck out) by a further one, never"
            ):
                connection.execute(statement)
        with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
            connection.execute("REPLACE INTO entries SELECT * FROM entries")


def test_histories_come_by_sowing_day_and_those_of_a_lot_by_its_name(file: Path) -> None:
    stored = add(file, "sold", 3, batch=STATIONS)
    every = read_histories(file)
    assert [history.batch.code for history in every] == [CLUMP, STATIONS, SINGLE]
    assert [history.entries for history in every] == [(), (stored,), ()]
    (of_lot,) = read_histories(file, "l2")
    assert (of_lot.batch.code, of_lot.entries) == (STATIONS, (stored,))
    assert read_histories(file, "no such lot") == ()


def test_printing_again_keeps_all_entries(file: Path) -> None:
    stored = add(file, "sold", 3)
    make_book(file, books.batches()[1:])
    history = read_history(file, CLUMP)
    assert (history.batch.in_plan, history.entries) == (False, (stored,))
    assert add(file, "sold", 2).id == 2, "a batch that left the plan still stands on the bench"


@pytest.mark.parametrize("call", [lambda f: read_history(f, CLUMP), read_histories, add], ids=["one", "all", "add"])
def test_a_book_that_is_not_there_is_said_and_not_made(tmp_path: Path, call: Any) -> None:
    file = tmp_path / "none.book.sqlite"
    with pytest.raises(BookError) as error:
        call(file)
    assert str(error.value) == f"there is no book {file}; printing a plan with `traysheets make` begins one"
    assert not file.exists()
    assert contents(file).entries == {}


def test_an_empty_book_holds_no_batch(tmp_path: Path) -> None:
    file = tmp_path / "empty.sqlite"
    file.touch()
    assert read_histories(file) == ()
    with pytest.raises(BookError, match="holds no batch yet"):
        add(file)
    assert file.read_bytes() == b""


# ---- injection

EVIL = [
    "'; DROP TABLE entries; --",
    '" OR ""="',
    "<script>alert(1)</script>",
    "{{ 7 * 7 }}",
    '=HYPERLINK("http://x")',
    "@SUM(A1)",
    "../../etc/passwd",
    "%00%n%s",
    "\u202eevil",
]
BROKEN = ["\ud800", "\0", "a\x07b"]


@pytest.mark.parametrize("evil", EVIL)
def test_whatever_is_typed_is_kept_as_text(file: Path, evil: str) -> None:
    stored = add(file, who=evil[:60], remark=evil)
    assert (stored.who, stored.remark) == (evil, evil)
    with pytest.raises(BookError):
        add(file, batch=evil)
    assert read_history(file, CLUMP).entries == (stored,)
    assert sound(file)


@pytest.mark.parametrize("broken", BROKEN)
def test_what_no_file_can_hold_is_refused_wherever_it_stands(file: Path, broken: str) -> None:
    for field in ("who", "remark", "batch", "key"):
        with pytest.raises(BookError, match=r"cannot be written|no batch code|needs a key"):
            add(file, **{field: broken})
    assert read_history(file, CLUMP).entries == ()


@pytest.mark.parametrize("evil", [text for text in EVIL if text.isascii()])
def test_a_key_is_text_too(file: Path, evil: str) -> None:
    assert add(file, key=evil) == add(file, key=evil, remark="slugs about")
    assert len(read_history(file, CLUMP).entries) == 1


# ---- rows


def test_the_rows_of_a_book_hold_every_entry_and_every_batch(file: Path) -> None:
    add(file, "sold", 3, who="Ann")
    add(file, "sold", 2, corrects=1)
    found = list(rows.table_rows(file))
    assert [(row["batch"], row.get("entry"), row.get("number"), row.get("counts")) for row in found] == [
        (CLUMP, 1, 3, False), (CLUMP, 2, 2, True), (STATIONS, None, None, None), (SINGLE, None, None, None),
    ]  # fmt: skip
    assert all(set(row) <= set(rows.COLUMNS) for row in found)
    whole = rows.plain(file)["batches"]
    assert isinstance(whole, list)
    assert whole[0]["printed"]["germination"] == 0.85
    assert [entry["kind"] for entry in whole[0]["entries"]] == ["sold", "sold"]


# ---- older and newer books


OLD = """
CREATE TABLE batches (
    code TEXT PRIMARY KEY, plan TEXT NOT NULL, season INTEGER NOT NULL, crop TEXT NOT NULL, variety TEXT NOT NULL,
    sow TEXT NOT NULL, lot TEXT NOT NULL, method TEXT NOT NULL, tray TEXT NOT NULL, place TEXT NOT NULL,
    cells INTEGER NOT NULL, seeds_per_cell INTEGER NOT NULL, facts TEXT NOT NULL, in_plan INTEGER NOT NULL,
    first_printed TEXT NOT NULL, last_printed TEXT NOT NULL
) WITHOUT ROWID;
PRAGMA application_id = 0x54524159;
PRAGMA user_version = 1;
"""
"""The tables of version 1, as they were: entries were not kept."""


def old_book(file: Path) -> list[tuple[Any, ...]]:
    values = ("plan.toml", 2027, "Onion", "Amber Vault", "2027-03-06", "L1", "clump", "pot-18", "", 8, 25)
    facts = '{"germination": 0.85, "emerge_from": "2027-03-13", "emerge_to": "2027-03-20", "sow": "2027-03-06"}'
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript(OLD)
        for code in ("27-001-7", "27-002-5"):
            row = (code, *values, facts, 1, "2027-03-01", "2027-03-02")
            connection.execute(f"INSERT INTO batches VALUES ({', '.join('?' * len(row))})", row)
        connection.commit()
        return connection.execute("SELECT * FROM batches ORDER BY code").fetchall()


def test_a_book_of_version_1_is_read_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "old.sqlite"
    old_book(file)
    before = file.read_bytes()
    assert [history.batch.code for history in read_histories(file)] == ["27-001-7", "27-002-5"]
    assert read_history(file, "27-001-7").entries == ()
    assert file.read_bytes() == before


def test_a_book_of_version_1_takes_entries_and_loses_nothing(tmp_path: Path) -> None:
    file = tmp_path / "old.sqlite"
    held = old_book(file)
    stored = add(file, "emerged", 152)
    assert read_history(file, CLUMP).entries == (stored,)
    with closing(sqlite3.connect(file)) as connection:
        assert connection.execute("SELECT * FROM batches ORDER BY code").fetchall() == [(*row, 0) for row in held]
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
    assert sound(file)


VERSION_2 = """
CREATE TABLE entries (
    id INTEGER PRIMARY KEY AUTOINCREMENT, batch TEXT NOT NULL REFERENCES batches (code), kind TEXT NOT NULL,
    day TEXT NOT NULL, number INTEGER, who TEXT NOT NULL, remark TEXT NOT NULL, written_at TEXT NOT NULL,
    key TEXT NOT NULL UNIQUE, corrects INTEGER UNIQUE REFERENCES entries (id)
);
CREATE INDEX entries_by_batch ON entries (batch);
CREATE TRIGGER entries_stay_as_written BEFORE UPDATE ON entries
BEGIN SELECT RAISE (ABORT, 'an entry is corrected by a further one, never changed'); END;
CREATE TRIGGER entries_stay BEFORE DELETE ON entries
BEGIN SELECT RAISE (ABORT, 'an entry is struck out by a further one, never deleted'); END;
INSERT INTO entries VALUES
    (1, '27-001-7', 'sown', '2027-03-06', NULL, 'Ann', '', '2027-03-06T10:00:00+00:00', 'a', NULL),
    (2, '27-002-5', 'emerged', '2027-03-20', 9, '', '', '2027-03-20T10:00:00+00:00', 'b', NULL),
    (3, '27-003-3', 'emerged', '2027-03-20', 9, '', '', '2027-03-20T10:00:00+00:00', 'c', NULL);
UPDATE batches SET method = 'stations', cells = 10, seeds_per_cell = 6, facts = '{"stations": 3}'
WHERE code = '27-002-5';
UPDATE batches SET method = 'stations', facts = '{facts}' WHERE code = '27-003-3';
PRAGMA user_version = 2;
"""
"""The tables of version 2, as they were: an entry did not keep by what it is measured."""


@pytest.fixture(params=["nonsense", "[]", "7", '{"stations": "three"}', '{"stations": null}'])
def second(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A book of version 2, what was printed of its last batch kept well or badly."""
    file = tmp_path / "second.sqlite"
    old_book(file)
    with closing(sqlite3.connect(file)) as connection:
        connection.execute(
            "INSERT INTO batches SELECT '27-003-3', plan, season, crop, variety, sow, lot, method, tray, place, cells,"
            " seeds_per_cell, facts, in_plan, first_printed, last_printed FROM batches WHERE code = '27-001-7'"
        )
        connection.commit()
        connection.executescript(VERSION_2.replace("{facts}", request.param))
    return file


MEASURES = {
    CLUMP: Measure(date(2027, 3, 6), "clump", "pot-18", 8, 25, None),
    STATIONS: Measure(date(2027, 3, 6), "stations", "pot-18", 10, 6, 3),
    SINGLE: Measure(date(2027, 3, 6), "stations", "pot-18", 8, 25, None),
}


def measures(file: Path) -> dict[str, Measure | None]:
    return {code: entries[0].measure for code, entries in contents(file).entries.items()}


def test_a_book_of_version_2_is_read_as_it_is(second: Path) -> None:
    before = second.read_bytes()
    assert measures(second) == MEASURES
    assert second.read_bytes() == before


def test_entries_of_version_2_keep_by_what_they_are_measured_from_the_next_writing_on(second: Path) -> None:
    stored = add(second, "emerged", 150)
    assert stored.measure == MEASURES[CLUMP]
    assert measures(second) == MEASURES
    with closing(sqlite3.connect(second, isolation_level=None)) as connection:
        connection.execute("UPDATE batches SET cells = 99")
        assert measures(second) == MEASURES
        with pytest.raises(sqlite3.IntegrityError, match="corrected by a further one, never changed"):
            connection.execute("UPDATE entries SET of_cells = 9")
    assert [entry.id for entry in read_history(second, CLUMP).entries] == [1, 4]
    assert sound(second)


def test_an_entry_keeps_what_was_printed_when_it_was_written(file: Path) -> None:
    for code, stations, cells, each in ((CLUMP, None, 8, 25), (STATIONS, 3, 10, 6), (SINGLE, None, 72, 1)):
        stored = add(file, "sown", batch=code, day="2027-03-06")
        assert stored.measure is not None
        assert (stored.measure.cells, stored.measure.seeds_per_cell, stored.measure.stations) == (cells, each, stations)
        assert read_history(file, code).entries == (stored,)
    row = next(rows.table_rows(file))
    assert (row["cells"], row["of_cells"], row["of_seeds_per_cell"]) == (8, 8, 25)


def test_a_refused_entry_leaves_an_old_book_old(tmp_path: Path) -> None:
    file = tmp_path / "old.sqlite"
    old_book(file)
    before = file.read_bytes()
    with pytest.raises(BookError):
        add(file, "emerged", -1)
    assert file.read_bytes() == before


def test_a_newer_book_takes_no_entries(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    before = file.read_bytes()
    for call in (add, read_histories, lambda f: backup(f, f.with_name("copy"))):
        with pytest.raises(BookError, match="is of a newer traysheets"):
            call(file)
    assert file.read_bytes() == before


# ---- copies


def test_a_copy_holds_all_and_replaces_what_was_there(file: Path, tmp_path: Path) -> None:
    stored = add(file, "sold", 3)
    target = tmp_path / "copy of the book.sqlite"
    target.write_bytes(b"last week's")
    assert backup(file, target) == target.stat().st_size
    assert read_history(target, CLUMP).entries == (stored,)
    assert sound(target)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copy of the book.sqlite", "plan.book.sqlite"]


def test_a_copy_is_taken_while_another_program_reads_and_one_waits_to_write(file: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        other.execute("UPDATE batches SET season = 1")
        backup(file, tmp_path / "copy")
        other.execute("ROLLBACK")
    assert read_history(tmp_path / "copy", CLUMP).batch.season == 2027


def test_a_copy_of_an_old_book_is_old(tmp_path: Path) -> None:
    file, target = tmp_path / "old.sqlite", tmp_path / "copy"
    held = old_book(file)
    backup(file, target)
    with closing(sqlite3.connect(target)) as connection:
        assert connection.execute("SELECT * FROM batches ORDER BY code").fetchall() == held
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)


def test_copies_that_cannot_be_are_said(file: Path, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(file)
    for target, said in (
        (file, f"{file} is the book itself; give the copy another name"),
        (tmp_path / "link", f"{tmp_path / 'link'} is the book itself; give the copy another name"),
        (tmp_path / "folder", f"{tmp_path / 'folder'} is a folder; give the copy a name of its own"),
        (
            tmp_path / "no" / "copy",
            f"the copy {tmp_path / 'no' / 'copy'} cannot be written: it cannot be opened; see that its folder is there"
            " and can be written; nothing was changed",
        ),
    ):
        with pytest.raises(BookError) as error:
            backup(file, target)
        assert str(error.value) == said
    with pytest.raises(BookError, match="there is no book"):
        backup(tmp_path / "none", tmp_path / "copy")
    assert not (tmp_path / "copy").exists()
    assert read_history(file, CLUMP).batch.code == CLUMP


def test_a_day_is_a_day(file: Path) -> None:
    assert add(file, Kind.TRIMMED, day="2027-04-17").day == date(2027, 4, 17)
