"""A book that others write to or hold, that is damaged, gone or on a full disk: nothing that was typed is lost."""

import sqlite3
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest
from serve_jobs import NOON, Bench, fields

from traysheets.base.errors import BookError
from traysheets.book import opening
from traysheets.book.entries import Kind, Note
from traysheets.bookkeeping import note
from traysheets.serve import writing
from traysheets.serve.site import Shelf


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def test_what_another_program_writes_is_seen_at_once(bench: Bench) -> None:
    bench.client.get(f"/B/{bench.onion}")
    seen = Note(batch=bench.onion, kind=Kind.REMARK, day=NOON.date(), remark="moss on top", key="k")
    note(bench.book, seen, NOON.date(), NOON)
    assert "moss on top" in bench.client.get(f"/B/{bench.onion}").text


def test_two_servers_on_one_book_lose_nothing(tmp_path: Path) -> None:
    first = Bench(tmp_path)
    second = Bench(tmp_path)

    def sell(bench: Bench) -> None:
        for _ in range(4):
            assert bench.note("sold", 1).status_code == 303

    threads = [threading.Thread(target=sell, args=(bench,)) for bench in (first, second)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(first.entries()) == 8
    assert "On hand: 0 of 8 cells" in second.client.get(f"/B/{second.onion}").text


def test_a_corrupt_book_is_told_and_left_as_it_is(bench: Bench) -> None:
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "3"}
    code = bench.onion
    bench.book.write_bytes(b"not a book at all" * 100)
    for answer in (bench.client.get("/"), bench.client.post(f"/B/{code}/entries", data=form)):
        # RFC 9110, 15.6.4, and 10.2.3 for when to try again.
        assert answer.status_code == 503
        assert answer.headers["Retry-After"] == "10"
        assert "is not a book, or is damaged" in answer.text
        assert str(bench.folder) not in answer.text
    assert 'name="number" value="3"' in answer.text
    assert bench.book.read_bytes() == b"not a book at all" * 100


def test_a_book_that_another_program_holds_keeps_what_was_typed(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    for wait in ("WAIT_SECONDS", "READ_WAIT_SECONDS"):
        monkeypatch.setattr(opening, wait, 0.05)
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "31", "remark": "left side"}
    with closing(sqlite3.connect(bench.book, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        answer = bench.client.post(f"/B/{bench.onion}/entries", data=form)
        other.execute("ROLLBACK")
    assert answer.status_code == 503
    assert "it is being written to by another program; try again" in answer.text
    again = fields(answer.text)
    assert (again["number"], again["key"]) == ("31", form["key"])
    assert bench.client.post(f"/B/{bench.onion}/entries", data=form).status_code == 303
    assert bench.entries() == [("emerged", 31, "", "left side")]


def test_phones_wait_for_a_book_that_is_held_all_at_once_not_one_after_the_other(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "READ_WAIT_SECONDS", 0.5)
    shelf, told = Shelf(bench.book), []

    def look() -> None:
        begun = time.monotonic()
        with pytest.raises(BookError, match="it is being written to by another program; try again"):
            shelf.accounts(NOON.date())
        told.append(time.monotonic() - begun)

    with closing(sqlite3.connect(bench.book, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        phones = [threading.Thread(target=look) for _ in range(12)]
        for phone in phones:
            phone.start()
        for phone in phones:
            phone.join()
        other.execute("ROLLBACK")
    assert len(told) == 12
    assert max(told) < 12 * 0.5, "not in turn"
    assert shelf.accounts(NOON.date())


def test_a_disk_that_is_full_keeps_what_was_typed(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    form = bench.form(f"/B/{bench.onion}") | {"kind": "remark", "remark": "x" * 1999}

    def full(*_: object) -> None:
        try:
            raise sqlite3.OperationalError("database or disk is full")
        except sqlite3.OperationalError as error:
            raise BookError(f"the book {bench.book} cannot be used: the disk is full; nothing was changed") from error

    monkeypatch.setattr(writing, "note", full)
    answer = bench.client.post(f"/B/{bench.onion}/entries", data=form)
    assert answer.status_code == 503
    assert "The book plan.book.sqlite cannot be used: the disk is full" in answer.text
    assert "x" * 1999 in answer.text


def test_a_book_that_is_not_there_yet_is_told(bench: Bench) -> None:
    bench.book.unlink()
    answer = bench.client.get("/today")
    assert answer.status_code == 503
    assert "There is no book plan.book.sqlite" in answer.text
