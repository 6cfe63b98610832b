"""The box where a code is typed: pasted and scanned addresses, and the short text of codes that bear none."""

from dataclasses import replace
from html import unescape
from itertools import islice
from pathlib import Path

import pytest
from serve_jobs import Bench

from traysheets.base.words import words_for
from traysheets.book.codes import codes_from
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.serve.lookup import find
from traysheets.sheets.links import batch_text, tray_text

ADDRESSES = (
    "HTTP://192.0.2.5:8000/B/{code}",
    "https://records.example.org/B/{code}/",
    "https://records.example.org/2027/b/{lower}?utm=1#entries",
    "http://[2001:db8::2]:8000/B/{code}/index.html",
    "https://records.example.org/show?batch={code}&from=stick",
    "records.example.org/B/{code}",
    "/B/{code}",
    "B/{code}",
    "https://records.example.org/B/27%2D001%2D7",
)


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


@pytest.mark.parametrize("address", ADDRESSES)
def test_an_address_leads_to_its_batch(bench: Bench, address: str) -> None:
    """Paths, queries and fragments as RFC 3986 has them."""
    typed = address.format(code=bench.onion, lower=bench.onion.lower())
    answer = bench.client.get("/find", query_string={"q": f"  {typed} "})
    assert (answer.status_code, answer.location) == (303, f"/B/{bench.onion}")


@pytest.mark.parametrize("address", ["https://records.example.org/T/1", "HTTP://192.0.2.5:8000/T/1/?x=1", "t/1"])
def test_an_address_leads_to_its_tray(bench: Bench, address: str) -> None:
    answer = bench.client.get("/find", query_string={"q": address})
    assert (answer.status_code, answer.location) == (303, "/T/1")


def test_a_code_without_an_address_is_found_by_what_it_says(bench: Bench) -> None:
    """The plan has no `record_url`, so its codes carry text: that which the printed sheets would."""
    job = check(Options(plan=bench.plan), bench.site.today).job
    accounts = bench.site.accounts()
    for batch in job.batches:
        found = find(batch_text(job, batch), accounts)
        assert found.code == job.codes[batch.index]
    for tray in job.arranged.trays:
        assert find(tray_text(job, tray), accounts).tray == tray.number


def test_a_tray_that_is_not_there_is_told(bench: Bench) -> None:
    answer = bench.client.get("/find", query_string={"q": "https://records.example.org/T/77"})
    assert answer.status_code == 404
    assert "This book has no tray 77. Is the map of another plan?" in answer.text


@pytest.mark.parametrize("typed", ["https://records.example.org/", "https://", "///", "?", "#/", "T/9999999"])
def test_an_address_that_leads_nowhere_is_told(bench: Bench, typed: str) -> None:
    answer = bench.client.get("/find", query_string={"q": typed})
    assert answer.status_code == 404
    assert "Not found" in answer.text


def test_a_code_of_another_book_is_said_to_be_none_of_this_one(bench: Bench) -> None:
    code = next(islice(codes_from(2027), 98, None))
    answer = bench.client.get("/find", query_string={"q": code.replace("-", "").lower()})
    assert answer.status_code == 404
    assert words_for("en")("bench.help_unknown", code=code) in unescape(answer.text)


def test_the_address_of_an_unknown_batch_is_answered_by_its_code(bench: Bench) -> None:
    answer = bench.client.get("/find", query_string={"q": "https://records.example.org/B/27-099-5"})
    assert answer.status_code == 404
    assert "“27-099-5” is no batch code" in answer.text


@pytest.mark.parametrize(
    "typed", ["1", "tray 1", "TRAY 1", "Tray1", "tray no. 1", "Platte 1", "bandeja 1", "plaque 1", "plaque: 1"]
)
def test_the_number_of_a_tray_leads_to_it(bench: Bench, typed: str) -> None:
    """Alone, or after the word for a tray in any language."""
    assert find(typed, bench.site.accounts()).tray == (None if "no." in typed else 1)


def test_a_number_that_is_no_tray_is_looked_for_in_the_words(bench: Bench) -> None:
    accounts = bench.site.accounts()
    assert find("tray 77", accounts).help == "bench.help_tray"
    assert find("27", accounts).accounts == accounts
    assert find("27-002", accounts).accounts == (accounts[1],)


def test_the_letters_on_the_map_lead_to_the_batch(bench: Bench) -> None:
    accounts = bench.site.accounts()
    letters = [str(one.batch.told["code"]) for one in accounts]
    assert [find(typed, accounts).code for typed in letters] == bench.codes
    assert accounts[0] in find(letters[0].lower(), accounts).accounts


def test_letters_that_two_plans_have_are_shown_for_both(bench: Bench) -> None:
    accounts = bench.site.accounts()
    twice = (*accounts, replace(accounts[0], batch=replace(accounts[0].batch, code="28-001-5")))
    found = find(str(accounts[0].batch.told["code"]), twice)
    assert found.code is None
    assert {accounts[0], twice[-1]} <= set(found.accounts)


SLIPS = {"dusky ruond": 1, "duskey": 1, "litle anchor": 2, "anchro tomato": 2, "Tomatto": 2, "beetrot": 1}


@pytest.mark.parametrize("typed", SLIPS)
def test_a_slip_in_a_word_finds_what_was_meant(bench: Bench, typed: str) -> None:
    accounts = bench.site.accounts()
    assert find(typed, accounts).alike == (accounts[SLIPS[typed]],)
    page = bench.client.get("/find", query_string={"q": typed})
    assert page.status_code == 404
    assert "Is one of these meant?" in page.text
    assert f'href="/B/{bench.codes[SLIPS[typed]]}"' in page.text


@pytest.mark.parametrize("typed", ["zzzz", "dusky zzzz", "?", "q"])
def test_what_is_like_nothing_is_not_guessed(bench: Bench, typed: str) -> None:
    assert find(typed, bench.site.accounts()).alike == ()


def test_words_with_figures_among_them_are_words(bench: Bench) -> None:
    assert find("onion A1", bench.site.accounts()).accounts
