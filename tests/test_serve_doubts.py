"""What contradicts the book is asked about before it is stored, and stored once where its writer is sure."""

import re
from pathlib import Path

import pytest
from serve_jobs import FIRST, Bench, fields
from werkzeug.test import TestResponse

KEY = re.compile(r"[0-9a-f]{32}")


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def sure(answer: TestResponse) -> dict[str, str]:
    """The fields of the form beside the doubts, with its button pressed."""
    return fields(answer.text, "sure") | {"sure": "1"}


def test_what_contradicts_the_book_is_asked_about(bench: Bench) -> None:
    bench.note("sold", 6)
    answer = bench.note("lost", 5, remark="slugs", who="Ana")
    # RFC 9110, 15.5.10: Conflict, which whoever sent it may resolve and send again.
    assert answer.status_code == 409
    assert "Is that right? It is not saved yet." in answer.text
    assert "Lost on Tue 16 Mar 2027: 5 cells, but 2 on hand." in answer.text
    assert bench.entries() == [("sold", 6, "", "")]
    form = fields(answer.text)
    assert (form["number"], form["who"]) == ("5", "Ana")
    assert ">slugs</textarea>" in answer.text
    assert 'value="lost" required checked' in answer.text


def test_what_was_not_noted_as_sown_is_taken_as_sown_by_the_plan(tmp_path: Path) -> None:
    bench = Bench(tmp_path, sown=False)
    assert "Not noted as sown: 8 cells." in bench.client.get(f"/B/{bench.onion}").text
    said = "before the sowing day Sat 6 Mar 2027; if it was sown earlier, note that first."
    assert said in bench.note("emerged", 31, day="2027-03-05").text
    assert bench.note("emerged", 31).status_code == 303


def test_who_is_sure_has_it_stored_once(bench: Bench) -> None:
    bench.note("sold", 6)
    answer = bench.note("lost", 5, remark="slugs")
    form = sure(answer)
    assert form["key"] == fields(answer.text)["key"]
    stored = [bench.client.post(f"/B/{bench.onion}/entries", data=form) for _ in range(2)]
    assert [one.status_code for one in stored] == [303, 303]
    assert bench.entries() == [("sold", 6, "", ""), ("lost", 5, "", "slugs")]


def test_what_is_changed_is_looked_at_anew(bench: Bench) -> None:
    bench.note("sold", 6)
    changed = fields(bench.note("lost", 5).text) | {"kind": "lost", "number": "4"}
    answer = bench.client.post(f"/B/{bench.onion}/entries", data=changed)
    assert answer.status_code == 409
    assert "Lost on Tue 16 Mar 2027: 4 cells, but 2 on hand." in answer.text
    assert bench.client.post(f"/B/{bench.onion}/entries", data=changed | {"number": "2"}).status_code == 303


def test_a_correction_is_asked_about_too(bench: Bench) -> None:
    bench.note("sold", 6)
    bench.note("lost", 2)
    path = f"/B/{bench.onion}/entries/{FIRST}"
    answer = bench.client.post(path, data=bench.form(path) | {"kind": "sold", "number": "8"})
    assert answer.status_code == 409
    assert f'action="{path}"' in answer.text
    assert bench.client.post(path, data=sure(answer)).status_code == 303


def test_the_doubts_have_the_focus_and_a_name_without_any_script(bench: Bench) -> None:
    bench.note("sold", 6)
    page = bench.note("lost", 5).text
    found = re.search(r'<section class="doubts"[^>]*>', page)
    assert found
    assert all(part in found[0] for part in ('role="alert"', 'tabindex="-1"', "autofocus", "aria-labelledby"))
    assert page.count("autofocus") == 1


def test_who_is_sure_of_nonsense_is_refused_all_the_same(bench: Bench) -> None:
    assert bench.note("sold", "many", sure="1").status_code == 400
    assert bench.entries() == []


# ---- days


def test_tomorrow_is_asked_about_as_the_computer_may_keep_another_time(bench: Bench) -> None:
    answer = bench.note("sold", 1, day="2027-03-17")
    assert answer.status_code == 409
    said = "The day is tomorrow, Wed 17 Mar 2027; an entry is of what was done, and today is Tue 16 Mar 2027."
    assert said in answer.text
    assert bench.entries() == []
    assert bench.client.post(f"/B/{bench.onion}/entries", data=sure(answer)).status_code == 303


@pytest.mark.parametrize("day", ["2027-03-18", "2100-01-01", "9999-12-31"])
def test_a_day_that_no_clock_can_mean_is_refused(bench: Bench, day: str) -> None:
    answer = bench.note("sold", 1, day=day, sure="1")
    assert answer.status_code == 400
    assert "is still to come; an entry is of what was done, and today is Tue 16 Mar 2027." in answer.text
    assert fields(answer.text)["day"] == day
    assert bench.entries() == []


# ---- keys


def test_keys_are_ours(bench: Bench) -> None:
    assert KEY.fullmatch(bench.form(f"/B/{bench.onion}")["key"])


@pytest.mark.parametrize("key", ["../<script>", "", "A" * 32, "0" * 31, "0" * 33, "0" * 32 + "\n", "٣" * 32])
def test_a_key_of_another_form_is_replaced_and_never_stored(bench: Bench, key: str) -> None:
    answer = bench.note("sold", 1, key=key)
    assert answer.status_code == 400
    assert "it has a new one now" in answer.text
    again = fields(answer.text) | {"kind": "sold"}
    assert KEY.fullmatch(again["key"])
    assert again["number"] == "1"
    assert bench.client.post(f"/B/{bench.onion}/entries", data=again).status_code == 303
    assert [entry.key for one in bench.site.accounts() for entry in one.entries][-1:] != [key]
    assert len(bench.entries()) == 1


def test_striking_out_needs_a_key_of_ours_too(bench: Bench) -> None:
    bench.note("sold", 1)
    path = f"/B/{bench.onion}/entries/{FIRST}"
    answer = bench.client.post(path, data=bench.form(path) | {"strike": "1", "key": "../<script>"})
    assert answer.status_code == 400
    assert len(bench.entries()) == 1
