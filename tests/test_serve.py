"""The pages of the book, from a browser's side: what they show, what a form writes, what is said when it cannot."""

from collections.abc import Callable
from pathlib import Path

import pytest
from serve_jobs import FIRST, PLAN, Bench


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def test_the_index_leads_to_every_batch_and_tray(bench: Bench) -> None:
    page = bench.client.get("/").text
    assert len(bench.codes) == 3
    assert all(f'href="/B/{code}"' in page for code in bench.codes)
    assert all(f'href="/T/{number}"' in page for number in (1, 2))


def test_a_batch_says_what_it_is_and_what_is_due(bench: Bench) -> None:
    page = bench.client.get(f"/B/{bench.onion}").text
    assert "<h1><bdi>Amber &lt;b&gt;Vault&lt;/b&gt;</bdi></h1>" in page
    assert "On hand: 8 of 8 cells." in page
    assert "Look for seedlings" in page
    assert 'class="picture"' in page
    assert "Sown" in page


def test_treated_seed_is_cautioned_of_first(bench: Bench) -> None:
    page = bench.client.get(f"/B/{bench.codes[1]}").text
    assert page.index('class="caution"') < page.index("<h2>How it stands</h2>")


def test_two_taps_and_a_number_write_an_entry(bench: Bench) -> None:
    answer = bench.note("emerged", 152)
    # RFC 9110, 15.4.4: See Other, so that a reload does not send the form again.
    assert answer.status_code == 303
    page = bench.client.get(answer.location).text
    assert "<b>Saved.</b> Came up: 152, Tue 16 Mar 2027." in page
    assert bench.entries() == [("emerged", 152, "", "")]


@pytest.mark.parametrize(
    ("day", "count", "said"),
    [
        ("2027-03-16", 152, "152 of 160 expected"),
        ("2027-03-10", 10, "10 of 160 expected so far; more may still come."),
        ("2027-03-16", 90, "Low: 90 of 160 expected, fewer than chance alone brings (less than one in a million)."),
    ],
)
def test_a_count_is_set_against_expectation(bench: Bench, day: str, count: int, said: str) -> None:
    answer = bench.note("emerged", count, day=day)
    assert said in bench.client.get(answer.location).text


def test_what_the_count_says_comes_with_counts_alone(bench: Bench) -> None:
    said = "152 of 160 expected"
    assert said in bench.client.get(bench.note("emerged", 152, day="2027-03-16").location).text
    assert said not in bench.client.get(bench.note("sold", 2, day="2027-03-16").location).text
    assert said in bench.client.get(f"/B/{bench.onion}").text


def test_who_would_sow_more_again_than_at_first_is_told_to_look_for_the_reason(bench: Bench) -> None:
    hint = "Far fewer came up than should: look first whether lot, soil and age of the seed are right."
    page = bench.client.get(bench.note("emerged", 20).location).text
    assert page.index(hint) < page.index("sow 59 cells (1,475 seeds) more")
    bench.note("emerged", 140)
    assert hint not in bench.client.get(f"/B/{bench.onion}").text


def test_work_of_today_is_grouped_and_late_work_says_how_late(bench: Bench) -> None:
    page = bench.client.get("/today").text
    order = ["<h2>Late</h2>", "2 days late", "<h2>In the next days</h2>", "Thin"]
    assert sorted(order, key=page.index) == order


def test_what_was_not_noted_as_sown_is_late_to_sow(tmp_path: Path) -> None:
    page = Bench(tmp_path, sown=False).client.get("/today").text
    assert page.index("10 days late") < page.index("3 days late")


def test_the_same_form_sent_twice_is_stored_once(bench: Bench) -> None:
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "31"}
    first, second = (bench.client.post(f"/B/{bench.onion}/entries", data=form) for _ in range(2))
    assert first.location == second.location
    assert len(bench.entries()) == 1


def test_another_entry_under_a_used_key_is_asked_about_and_then_stored(bench: Bench) -> None:
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "31"}
    bench.client.post(f"/B/{bench.onion}/entries", data=form)
    clash = bench.client.post(f"/B/{bench.onion}/entries", data=form | {"number": "32"})
    assert clash.status_code == 409
    assert "This was stored already" in clash.text
    assert 'value="32"' in clash.text
    again = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "32"}
    assert bench.client.post(f"/B/{bench.onion}/entries", data=again).status_code == 303
    assert len(bench.entries()) == 2


def test_everything_wrong_is_said_at_once_and_nothing_typed_is_lost(bench: Bench) -> None:
    answer = bench.note("", "many", remark="dry on the <left>", day="soon")
    assert answer.status_code == 400
    for said in ("Say what you saw", "must be a whole one", "the day must be written", "dry on the &lt;left&gt;"):
        assert said.casefold() in answer.text.casefold()
    assert 'value="many"' in answer.text
    assert bench.entries() == []


def test_what_the_book_refuses_is_said_in_its_words(bench: Bench) -> None:
    answer = bench.note("sold", 99)
    assert answer.status_code == 400
    assert "The number is too large" in answer.text


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("12", 12), (" 7 ", 7), ("0", 0), ("1,000", None), ("1 200", None), ("999999999999", None), ("3.5", None)],
)
def test_numbers_as_people_type_them(bench: Bench, typed: str, meant: int | None) -> None:
    answer = bench.note("emerged", typed)
    assert answer.status_code in ((303,) if meant is not None else (400, 409))
    assert [entry[1] for entry in bench.entries()] == ([meant] if meant is not None else [])


def test_an_entry_is_corrected_by_a_further_one(bench: Bench) -> None:
    bench.note("emerged", 120)
    path = f"/B/{bench.onion}/entries/{FIRST}"
    form = bench.form(path)
    assert form["number"] == "120"
    answer = bench.client.post(path, data=form | {"kind": "emerged", "number": "152"})
    page = bench.client.get(answer.location).text
    assert "<s>Came up: 120</s>" in page
    assert "Corrected: Came up: 152." in page
    assert [entry[1] for entry in bench.entries()] == [120, 152]


def test_an_entry_is_struck_out(bench: Bench) -> None:
    bench.note("sold", 2)
    path = f"/B/{bench.onion}/entries/{FIRST}"
    answer = bench.client.post(path, data=bench.form(path) | {"strike": "1"})
    page = bench.client.get(answer.location).text
    assert "Struck out." in page
    assert "On hand: 8 of 8 cells." in page
    assert bench.client.post(path, data=bench.form(path) | {"kind": "sold", "number": "1"}).status_code == 409


def test_who_wrote_last_need_not_type_it_again(bench: Bench) -> None:
    bench.note("emerged", 3, who="Ana")
    assert bench.form(f"/B/{bench.onion}")["who"] == "Ana"


READINGS: tuple[Callable[[str], str], ...] = (
    lambda code: code.replace("-", ""),
    lambda code: code.replace("-", " "),
    lambda code: code.replace("0", "o").replace("1", "l"),
)


@pytest.mark.parametrize("write", READINGS)
def test_codes_are_read_however_they_are_written(bench: Bench, write: Callable[[str], str]) -> None:
    typed = write(bench.onion)
    for path in (f"/B/{typed}", f"/find?q={typed}"):
        answer = bench.client.get(path)
        assert (answer.status_code, answer.location) == (303, f"/B/{bench.onion}")
    answer = bench.client.get(f"/b/{bench.onion.lower()}", follow_redirects=True)
    assert answer.request.path == f"/B/{bench.onion}"


def test_a_wrong_code_is_answered_with_the_right_one(bench: Bench) -> None:
    wrong = bench.onion[:-1] + ("X" if bench.onion[-1] != "X" else "Y")
    for path in (f"/B/{wrong}", f"/find?q={wrong}"):
        answer = bench.client.get(path)
        assert answer.status_code == 404
        assert "its last character does not fit" in answer.text
        assert f'href="/B/{bench.onion}"' in answer.text


def test_words_find_batches(bench: Bench) -> None:
    assert f'href="/B/{bench.codes[1]}"' in bench.client.get("/find?q=dusky").text
    assert f'href="/B/{bench.onion}"' not in bench.client.get("/find?q=dusky").text
    assert bench.client.get("/find?q=nothing+such").status_code == 404


def test_today_lists_what_is_due_and_what_was_done_leaves_it(bench: Bench) -> None:
    line = f'href="/B/{bench.onion}?kind=emerged#note"'
    assert line in bench.client.get("/today").text
    bench.note("thinned", 100)
    assert line not in bench.client.get("/today").text


def test_a_link_of_today_has_its_kind_picked(bench: Bench) -> None:
    page = bench.client.get(f"/B/{bench.onion}?kind=emerged").text
    assert 'value="emerged" required checked' in page


@pytest.mark.parametrize("book_alone", [False, True])
def test_a_tray_shows_its_batches(tmp_path: Path, book_alone: bool) -> None:
    bench = Bench(tmp_path, book_alone=book_alone)
    page = bench.client.get("/T/1").text
    assert all(f'href="/B/{code}"' in page for code in bench.codes[:2])
    assert f'href="/B/{bench.codes[2]}"' not in page
    assert 'class="picture"' in page
    assert bench.client.get("/T/99").status_code == 404


def test_a_book_without_its_plan_shows_what_was_printed(tmp_path: Path) -> None:
    page = Bench(tmp_path, book_alone=True).client.get(f"/B/{Bench(tmp_path).onion}").text
    assert "8 rows" not in page
    assert "The tray from above, 3 rows of 6 cells" in page
    assert "A1 to B2." in page
    assert "<dt>Seed lot</dt> <dd><bdi>A1</bdi></dd>" in page


def test_a_plan_that_was_edited_since_does_not_show_other_cells_than_the_sticks(tmp_path: Path) -> None:
    bench = Bench(tmp_path, plan_text=PLAN.replace("cells = 8", "cells = 7"))
    page = bench.client.get(f"/B/{bench.onion}").text
    assert "Not to scale" in page
    assert "A1 to B2." in page


def test_an_edit_of_the_plan_is_seen_while_it_is_served(bench: Bench) -> None:
    assert "Not to scale" not in bench.client.get(f"/B/{bench.onion}").text
    bench.plan.write_text(PLAN.replace("cells = 8", "cells = 16"), encoding="utf-8")
    assert "Not to scale" in bench.client.get(f"/B/{bench.onion}").text
    bench.plan.write_text("[plan", encoding="utf-8")
    assert bench.client.get(f"/B/{bench.onion}").status_code == 200
