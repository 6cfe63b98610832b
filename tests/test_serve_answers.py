"""What the pages answer to an entry, and what they ask first, in whatever language; nothing typed is lost."""

import re
from pathlib import Path

import pytest
from serve_jobs import FIRST, PHRASE, PLAN, Bench, fields

PLACED = PLAN.replace("treated = true", 'treated = true\nplace = "Bench 2"')


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


@pytest.fixture
def network(tmp_path: Path) -> Bench:
    bench = Bench(tmp_path, network=True)
    bench.sign_in()
    return bench


def saved(bench: Bench, answer: object) -> str:
    """The sentence that says what was stored."""
    page = bench.client.get(answer.location).text  # type: ignore[attr-defined]
    found = re.search(r'<div class="saved" role="status"><p>(.*?)</p>', page)
    assert found, "nothing is said to be saved"
    return re.sub("<.*?>", "", found[1])


def test_what_was_struck_out_is_said(bench: Bench) -> None:
    bench.note("emerged", 24)
    path = f"/B/{bench.onion}/entries/{FIRST}"
    answer = bench.client.post(path, data=bench.form(path) | {"strike": "1"})
    assert saved(bench, answer) == "Saved. Struck out: Came up: 24, Tue 16 Mar 2027."


def test_a_sowing_in_parts_says_how_far_it_has_come(tmp_path: Path) -> None:
    bench = Bench(tmp_path, sown=False)
    tomato = bench.codes[2]
    assert "with those sown before" in bench.client.get(f"/B/{tomato}").text
    for number, said in ((4, "4 sown in all, 26 still to sow."), (14, "14 sown in all, 16 still to sow.")):
        answer = bench.note("sown", number, tomato)
        assert saved(bench, answer) == f"Saved. Sown: {number}, Tue 16 Mar 2027. {said}"
    assert saved(bench, bench.note("sown", 30, tomato)).endswith("30 sown in all.")


def test_the_safe_way_out_of_a_doubt_is_the_prominent_one(bench: Bench) -> None:
    bench.note("sold", 6)
    page = bench.note("lost", 5).text
    doubts = page[page.index('class="doubts"') : page.index('id="note"')]
    assert re.findall(r'class="([\w -]*)"[^>]*>([^<]+)</(?:a|button)>', doubts) == [
        ("button save", "Change it"),
        ("all-the-same", "Save it all the same"),
    ]


def test_a_number_with_a_kind_that_takes_none_is_asked_about(bench: Bench) -> None:
    answer = bench.note("remark", 12, remark="dry")
    assert answer.status_code == 400
    assert "takes no number" in answer.text
    assert bench.entries() == []


def test_each_line_of_today_says_where_it_stands(tmp_path: Path) -> None:
    bench = Bench(tmp_path, plan_text=PLACED, print_text=PLACED)
    page = bench.client.get("/today").text
    assert re.findall(r'class="details where">(.*?)</span>', page)[:2] == [
        "Tray 1: A1 to B2",
        "Tray 2: A1 to A6 · Bench 2",
    ]


def test_every_step_past_its_day_is_marked_late(bench: Bench) -> None:
    page = bench.client.get("/today").text
    late, _, now = page.partition("<h2>Today</h2>")
    for one in bench.site.accounts():
        for step in one.steps:
            if step.state == "late":
                words = "1 day late" if step.late_days == 1 else f"{step.late_days} days late"
                assert words in late
    assert "late</b>" not in now


def test_what_follows_a_sowing_that_is_late_is_not_coming(tmp_path: Path) -> None:
    page = Bench(tmp_path, sown=False).client.get("/today").text
    late, _, rest = page.partition("</section>")
    assert late.count("<strong>Sow</strong>") == 3
    assert "Look for seedlings" not in rest
    assert "<h2>In the next days</h2>" not in rest


# ---- another language, on the answer to a form


def speak(bench: Bench, page: str, path: str, language: str = "de") -> object:
    """Tap a language on a page that answers a form."""
    menu = re.search(r'<details class="tongues">.*?</details>', page, re.DOTALL)
    assert menu, "the page offers no language"
    filled = dict(re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)">', menu[0]))
    assert f'<button name="speak" value="{language}"' in menu[0]
    return bench.client.post(path, data=filled | {"speak": language})


def test_a_refusal_is_shown_in_another_language_with_what_was_typed(bench: Bench) -> None:
    path = f"/B/{bench.onion}/entries"
    page = bench.note("sold", 99, remark="to the market").text
    answer = speak(bench, page, path)
    assert answer.status_code == 400  # type: ignore[attr-defined]
    text = answer.text  # type: ignore[attr-defined]
    assert '<html lang="de"' in text
    assert "zu groß" in text
    assert fields(text)["number"] == "99"
    assert ">to the market</textarea>" in text
    assert '<html lang="de"' in bench.client.get("/").text


def test_changing_the_language_stores_nothing(bench: Bench) -> None:
    path = f"/B/{bench.onion}/entries"
    bench.note("sold", 6)
    page = bench.note("lost", 5).text
    before = bench.entries()
    answer = speak(bench, page, path, "fr")
    assert '<html lang="fr"' in answer.text  # type: ignore[attr-defined]
    assert bench.entries() == before
    fine = bench.form(f"/B/{bench.onion}") | {"kind": "sold", "number": "1", "speak": "pt"}
    assert bench.client.post(path, data=fine).status_code == 200
    assert bench.entries() == before


def test_whoever_is_asked_for_the_pass_phrase_may_choose_the_language(network: Bench) -> None:
    path = f"/B/{network.onion}/entries"
    form = network.form(f"/B/{network.onion}") | {"kind": "sold", "number": "2"}
    network.client.delete_cookie("traysheets")
    asked = network.client.post(path, data=form)
    assert asked.status_code == 403
    answer = speak(network, asked.text, path)
    assert '<html lang="de"' in answer.text  # type: ignore[attr-defined]
    filled = fields(answer.text) | {"kind": "sold", "passphrase": PHRASE}  # type: ignore[attr-defined]
    assert network.client.post(path, data=filled).status_code == 303
    assert [entry[:2] for entry in network.entries()] == [("sold", 2)]


def test_the_pass_phrase_stands_first_in_its_form_and_has_the_focus(network: Bench) -> None:
    form = network.form(f"/B/{network.onion}") | {"kind": "sold", "number": "2"}
    network.client.delete_cookie("traysheets")
    page = network.client.post(f"/B/{network.onion}/entries", data=form).text
    assert "writing needs the pass phrase. Type it here, then save." in page
    assert re.findall(r'<(?:input|div)[^>]*id="([\w-]*)"[^>]* autofocus', page) == ["passphrase"]
    assert page.index('id="passphrase"') < page.index('type="radio"')


def test_a_wrong_pass_phrase_may_be_told_in_another_language(network: Bench) -> None:
    page = network.sign_in("wrong phrase", next="/B/27-001-7").text
    links = re.findall(r'<a href="(/language\?to=de[^"]*)"', page)
    assert links == ["/language?to=de&amp;next=/sign-in%3Fnext%3D%252FB%252F27-001-7"]
    onward = network.client.get(links[0].replace("&amp;", "&")).location
    assert onward == "/sign-in?next=%2FB%2F27-001-7"


@pytest.mark.parametrize("headers", [{"Sec-Fetch-Site": "cross-site"}, {"Origin": "http://other.example"}])
def test_what_came_from_another_site_is_not_offered_again(bench: Bench, headers: dict[str, str]) -> None:
    form = bench.form(f"/B/{bench.onion}") | {"kind": "sold", "number": "2"}
    page = bench.client.post(f"/B/{bench.onion}/entries", data=form, headers=headers)
    assert page.status_code == 403
    assert 'name="speak"' not in page.text
    assert "/language?to=de&amp;next=/" in page.text
