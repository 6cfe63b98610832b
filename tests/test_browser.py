"""From the stick to the entry in a real browser: the code on paper is scanned, its address opened, a count is noted."""

import pytest
from browser_jobs import SIZES, Served, look, opened, pick, signed_in
from playwright.sync_api import Browser, Page, expect
from serve_jobs import SOWN

from traysheets.book.entries import Entry


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_the_stick_to_the_entry(served: Served, browser: Browser, size: str, script: bool) -> None:
    code = served.site.accounts()[0].batch.code
    scanned = next(text for text in served.sticks() if text.endswith(code))
    page = opened(browser, size, script=script)
    page.goto(scanned)
    expect(page.get_by_role("heading", level=1)).to_have_text("Amber <b>Vault</b>")
    expect(page.locator("form.entry")).to_have_count(0)
    page.get_by_role("link", name="Sign in to note").click()
    page.get_by_label("Pass phrase").fill(served.phrase)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Amber <b>Vault</b>")
    expect(page.locator("#kind-emerged")).to_be_in_viewport()
    pick(page, "emerged")
    expect(page.locator(".hint.for-emerged")).to_be_visible()
    expect(page.locator(".hint.for-sold")).to_be_hidden()
    page.get_by_label("How many").fill("152")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Came up: 152")
    expect(page.get_by_role("status")).to_contain_text("In line: 152 of 160 expected")
    look(page, f"saved-{size}")
    assert [entry.number for entry in written(served)] == [152]


def written(served: Served) -> list[Entry]:
    """The entries of the first batch beside its sowing."""
    return [entry for entry in served.site.accounts()[0].entries if not entry.key.startswith(SOWN)]


def save(page: Page, kind: str, number: int, button: str = "Save") -> None:
    """Pick a kind, write a number, and save it."""
    pick(page, kind)
    page.get_by_label("How many").fill(str(number))
    page.get_by_role("button", name=button, exact=True).click()


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_doubt_is_seen_at_once_and_left_by_either_way(served: Served, browser: Browser, script: bool) -> None:
    page = signed_in(browser, served, script=script)
    save(page, "sold", 6)
    expect(page.get_by_role("status")).to_contain_text("Sold: 6")
    save(page, "lost", 5)
    doubts = page.get_by_role("alert", name="Is that right? It is not saved yet.")
    expect(doubts).to_be_focused()
    expect(doubts).to_be_in_viewport()
    expect(doubts).to_contain_text("Lost on Tue 16 Mar 2027: 5 cells, but 2 on hand.")
    expect(page.get_by_label("How many")).to_have_value("5")
    doubts.get_by_role("link", name="Change it").click()
    expect(page.get_by_label("How many")).to_be_in_viewport()
    page.get_by_label("How many").fill("4")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(doubts).to_contain_text("4 cells, but 2 on hand.")
    doubts.get_by_role("button", name="Save it all the same").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Lost: 4")
    assert [entry.number for entry in written(served)] == [6, 4]


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_what_was_typed_survives_signing_in(served: Served, browser: Browser, script: bool) -> None:
    page = signed_in(browser, served, script=script)
    pick(page, "sold")
    page.get_by_label("How many").fill("2")
    page.get_by_role("textbox", name="Remark").fill("to the market")
    page.context.clear_cookies()
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("What you wrote is still here")
    page.get_by_label("Pass phrase").fill(served.phrase)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Sold: 2")
    assert [(entry.number, entry.remark) for entry in written(served)] == [(2, "to the market")]


def test_whoever_is_signed_out_midway_is_asked_for_the_pass_phrase_in_sight(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.clear_cookies()
    save(page, "sold", 2)
    expect(page.get_by_role("alert")).to_contain_text("writing needs the pass phrase")
    expect(page.get_by_role("alert")).to_be_in_viewport()
    expect(page.get_by_label("Pass phrase")).to_be_focused()
    expect(page.get_by_label("Pass phrase")).to_be_in_viewport()
    look(page, "asked")
    page.keyboard.type(served.phrase)
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Saved. Sold: 2")


def test_the_number_is_in_sight_once_a_kind_is_tapped(served: Served, browser: Browser) -> None:
    code = served.site.accounts()[0].batch.code
    page = signed_in(browser, served)
    page.goto(f"{served.address}/B/{code}")
    pick(page, "emerged")
    expect(page.locator("#number")).to_be_focused()
    expect(page.locator("#number")).to_be_in_viewport(ratio=1)
    expect(page.locator(".hint.for-emerged")).to_be_in_viewport(ratio=1)
    look(page, "picked")


def test_another_language_on_a_refusal_keeps_what_was_typed(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    save(page, "sold", 99)
    page.locator("summary").click()
    look(page, "languages-refused")
    page.get_by_role("button", name="Deutsch").click()
    expect(page.locator("html")).to_have_attribute("lang", "de")
    expect(page.locator("#problems")).to_contain_text("zu groß")
    expect(page.locator("#number")).to_have_value("99")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_language_is_chosen_and_stays(served: Served, browser: Browser, script: bool) -> None:
    page = signed_in(browser, served, script=script)
    page.locator("summary").click()
    look(page, f"languages-{script}")
    page.get_by_role("link", name="Português").click()
    expect(page.locator("html")).to_have_attribute("lang", "pt")
    expect(page.get_by_role("heading", name="Anotar algo")).to_be_visible()
    page.goto(f"{served.address}/today")
    expect(page.get_by_role("heading", level=1)).to_have_text("Hoje")


def test_the_browser_asks_for_its_language(served: Served, browser: Browser) -> None:
    context = browser.new_context(locale="fr-CA")
    page = context.new_page()
    page.goto(served.address)
    expect(page.locator("html")).to_have_attribute("lang", "fr")


def test_an_entry_made_out_of_reach_is_kept_and_stored_once(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    pick(page, "emerged")
    page.get_by_label("How many").fill("77")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved: the book cannot be reached")
    expect(page.get_by_role("alert")).to_contain_text("Came up · 77")
    look(page, "out-of-reach")
    page.get_by_role("button", name="Send again").click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved")
    assert written(served) == []
    page.context.set_offline(False)
    page.goto(f"{served.address}/today")
    expect(page.get_by_role("alert")).to_contain_text("on this phone only")
    page.get_by_role("button", name="Send again").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Came up: 77")
    expect(page.get_by_role("alert")).to_have_count(0)
    assert [entry.number for entry in written(served)] == [77]


def test_an_answer_that_was_lost_does_not_double_the_entry(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)

    def lose(route: object) -> None:
        route.fetch(max_redirects=0)  # type: ignore[attr-defined]
        route.abort()  # type: ignore[attr-defined]

    page.route("**/entries", lose)
    pick(page, "sold")
    page.get_by_label("How many").fill("2")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved")
    page.unroute("**/entries")
    page.get_by_role("button", name="Send again").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Sold: 2")
    assert len(written(served)) == 1


def test_a_kept_entry_survives_a_session_that_ended(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    pick(page, "lost")
    page.get_by_label("How many").fill("1")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Lost · 1")
    page.context.set_offline(False)
    page.context.clear_cookies()
    page.reload()
    page.get_by_role("button", name="Send again").click()
    expect(page.get_by_role("alert").first).to_contain_text("on this phone only")
    page.get_by_label("Pass phrase").fill(served.phrase)
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Lost: 1")
    assert len(written(served)) == 1


def test_an_entry_is_corrected_and_struck_out(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    pick(page, "emerged")
    page.get_by_label("How many").fill("15")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Correct Came up: 15").click()
    page.get_by_label("How many").fill("150")
    look(page, "correct")
    page.get_by_role("button", name="Save instead").click()
    expect(page.get_by_role("status")).to_contain_text("Came up: 150")
    page.get_by_role("link", name="Correct Came up: 150").click()
    page.get_by_role("button", name="Strike it out").click()
    expect(page.locator("#entries")).to_contain_text("Struck out.")
