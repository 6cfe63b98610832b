"""Requests, books and disks that are out of the way: each is answered, and tells nothing it should not."""

import errno
import os
from dataclasses import replace
from pathlib import Path

import pytest
from serve_jobs import PHRASE, Bench
from werkzeug.test import EnvironBuilder, run_wsgi_app

from traysheets.base.errors import BookError, FileError
from traysheets.book.diary import read_histories
from traysheets.book.model import Kept
from traysheets.serve.passphrase import Secrets, keep_secrets, secrets_file
from traysheets.serve.site import Shelf
from traysheets.serve.throttle import Attempts, Rates
from traysheets.serve.trays import runs_of, tray_plan


@pytest.fixture
def shared(tmp_path: Path) -> Bench:
    return Bench(tmp_path, network=True)


def test_it_is_not_for_search_engines(shared: Bench) -> None:
    assert shared.client.get("/robots.txt").text == "User-agent: *\nDisallow: /\n"


def test_a_host_that_is_no_host_is_not_answered_to(shared: Bench) -> None:
    with shared.app.test_request_context("/"):
        assert not shared.access.answers_to("[::1")


def test_signing_in_and_out_from_a_page_of_another_session_does_nothing(shared: Bench) -> None:
    old = shared.sign_in(token="of another session")
    assert old.status_code == 403
    assert shared.client.post("/sign-out", data={"token": "of another session"}).status_code == 403
    assert shared.sign_in().status_code == 303


def test_a_book_that_is_a_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be read: Is a directory"):
        Shelf(tmp_path).accounts(Bench(tmp_path).site.today)


def test_the_longest_unseen_of_very_many_addresses_are_forgotten() -> None:
    rates, attempts = Rates(a_second=1, burst=1), Attempts()
    for number in range(5000):
        assert rates.wait(str(number), 0.0) == 0.0
        attempts.failed(str(number), 0.0)
    assert (rates.wait("0", 0.0), rates.wait("4999", 0.0)) == (0.0, 1.0)


def test_no_phrase_opens_what_has_none_and_a_very_long_one_opens_nothing() -> None:
    assert not Secrets().opens(PHRASE)
    assert not Secrets().closing(PHRASE).opens(PHRASE * 100)


def test_a_pass_phrase_that_cannot_be_kept_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = tmp_path / "plan.book.sqlite"
    keep_secrets(book, Secrets("before", "x" * 64))
    kept = secrets_file(book).read_bytes()

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"cannot be kept in .*: No space left on device"):
        keep_secrets(book, Secrets("after", "x" * 64))
    assert list(tmp_path.iterdir()) == [secrets_file(book)]
    assert secrets_file(book).read_bytes() == kept


@pytest.fixture
def onion(tmp_path: Path) -> Kept:
    return read_histories(Bench(tmp_path).book)[0].batch


def test_a_batch_that_left_its_tray_is_shown_where_it_was_printed(onion: Kept) -> None:
    number = runs_of(onion)[0]["tray"]
    plan = tray_plan(number, [], onion)
    assert plan is not None
    assert {cell.code for cell in plan.cells if cell.picked} == {onion.code}


@pytest.mark.parametrize("facts", ["{}", '{"runs": [3, {"tray": "one"}]}', '{"runs": "A1"}'])
def test_of_a_book_that_tells_no_places_no_tray_is_drawn(onion: Kept, facts: str) -> None:
    without = replace(onion, facts=facts)
    assert list(runs_of(without)) == []
    assert tray_plan(1, [without]) is None


def test_a_tray_whose_sides_were_not_printed_is_not_drawn(onion: Kept) -> None:
    facts = '{"runs": [{"tray": 1, "first": "A1", "last": "A2"}], "tray_kind": {"rows": 0, "columns": 6}}'
    assert tray_plan(1, [replace(onion, facts=facts)]) is None


def test_a_request_that_names_no_host_is_refused(shared: Bench) -> None:
    """RFC 9112, 3.2."""
    asked = EnvironBuilder(path="/").get_environ()
    del asked["HTTP_HOST"]
    _, status, _ = run_wsgi_app(shared.app, asked)
    assert status == "400 BAD REQUEST"
