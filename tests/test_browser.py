"""From the stick to the entry in a real browser: the code on paper is scanned, its address opened, a count is noted.

Accessibility is checked by axe-core against WCAG 2.2 A and AA, and the way is gone with the keyboard alone as well.
"""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser_jobs import SIZES, Served, chromium, start
from playwright.sync_api import Browser, Page, expect
from serve_jobs import FIRST, SOWN

from traysheets.book.entries import Entry

LEAST_TARGET_PX = 48


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def served(tmp_path: Path, browser: Browser) -> Iterator[Served]:
    made = start(tmp_path)
    yield made
    made.stop()


def opened(browser: Browser, size: str = "phone", *, script: bool = True) -> Page:
    """A page of a browser that was never there before; whatever its console complains of is a failure."""
    width, height = SIZES[size]
    touch = size == "phone"
    context = browser.new_context(
        viewport={"width": width, "height": height}, has_touch=touch, java_script_enabled=script
    )
    context.set_default_timeout(10_000)
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(f"script: {error}"))
    return page


def pick(page: Page, kind: str) -> None:
    """Tap a kind of entry."""
    page.locator(f"#kind-{kind}").click()


def look(page: Page, folder: Path, name: str) -> None:
    """A picture of the whole page, to be looked at."""
    page.screenshot(path=folder / f"{name}.png", full_page=True)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_the_stick_to_the_entry(served: Served, browser: Browser, tmp_path: Path, size: str, script: bool) -> None:
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
    look(page, tmp_path, f"saved-{size}")
    assert [entry.number for entry in written(served)] == [152]


def written(served: Served) -> list[Entry]:
    """The entries of the first batch beside its sowing."""
    return [entry for entry in served.site.accounts()[0].entries if not entry.key.startswith(SOWN)]


def test_with_the_keyboard_alone(served: Served, browser: Browser) -> None:
    code = served.site.accounts()[0].batch.code
    page = opened(browser, "desktop")
    page.goto(served.address)
    tab_to(page, "input", "q")
    page.keyboard.type(code.replace("-", "").lower())
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Amber <b>Vault</b>")
    tab_to(page, "a", "sign-in-to-note")
    page.keyboard.press("Enter")
    expect(page.locator("#passphrase")).to_be_focused()
    page.keyboard.type(served.phrase)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Note something")).to_be_visible()
    tab_to(page, "input", "kind-sown")
    page.keyboard.press("ArrowRight")
    expect(page.locator("#kind-emerged")).to_be_checked()
    page.keyboard.press("Tab")
    page.keyboard.type("31")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Saved. Came up: 31")


def tab_to(page: Page, tag: str, name: str) -> None:
    """Go on with the tab key until that field has the focus; each stop on the way must be seen to have it."""
    page.keyboard.press("Tab")
    for _ in range(40):
        focus = page.evaluate(
            """() => {
                const one = document.activeElement;
                const seen = one.type === "radio" ? one.nextElementSibling : one;
                return [one.tagName.toLowerCase(), one.id, parseFloat(getComputedStyle(seen).outlineWidth)];
            }"""
        )
        assert focus[2] >= 2, f"no focus is seen on {focus}"
        if focus[:2] == [tag, name]:
            return
        page.keyboard.press("Tab")
    pytest.fail(f"the tab key never came to {name}")


def signed_in(browser: Browser, served: Served, size: str = "phone", *, script: bool = True) -> Page:
    """A page of the first batch, signed in."""
    page = opened(browser, size, script=script)
    page.goto(f"{served.address}/sign-in?next=/B/{served.site.accounts()[0].batch.code}")
    page.get_by_label("Pass phrase").fill(served.phrase)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Note something")).to_be_visible()
    return page


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


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_language_is_chosen_and_stays(served: Served, browser: Browser, tmp_path: Path, script: bool) -> None:
    page = signed_in(browser, served, script=script)
    page.locator("summary").click()
    look(page, tmp_path, f"languages-{script}")
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


def test_an_entry_made_out_of_reach_is_kept_and_stored_once(served: Served, browser: Browser, tmp_path: Path) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    pick(page, "emerged")
    page.get_by_label("How many").fill("77")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved: the book cannot be reached")
    expect(page.get_by_role("alert")).to_contain_text("Came up · 77")
    look(page, tmp_path, "out-of-reach")
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


def test_an_entry_is_corrected_and_struck_out(served: Served, browser: Browser, tmp_path: Path) -> None:
    page = signed_in(browser, served)
    pick(page, "emerged")
    page.get_by_label("How many").fill("15")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Correct Came up: 15").click()
    page.get_by_label("How many").fill("150")
    look(page, tmp_path, "correct")
    page.get_by_role("button", name="Save instead").click()
    expect(page.get_by_role("status")).to_contain_text("Came up: 150")
    page.get_by_role("link", name="Correct Came up: 150").click()
    page.get_by_role("button", name="Strike it out").click()
    expect(page.locator("#entries")).to_contain_text("Struck out.")


LOOKS = [("phone", "light", "en"), ("phone", "dark", "de"), ("desktop", "light", "fr"), ("desktop", "dark", "pt")]


@pytest.mark.parametrize(("size", "scheme", "language"), LOOKS)
def test_nothing_stands_in_the_way_of_anybody(
    served: Served, browser: Browser, tmp_path: Path, size: str, scheme: str, language: str
) -> None:
    page = opened(browser, size)
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    code = served.site.accounts()[0].batch.code
    page.goto(f"{served.address}/language?to={language}&next=/B/{code}")
    name = f"{size}-{scheme}-{language}"
    hold(page, tmp_path, f"{name}-signed-out")
    page.locator("summary").click()
    hold(page, tmp_path, f"{name}-languages")
    page.goto(f"{served.address}/sign-in?next=/B/{code}")
    hold(page, tmp_path, f"{name}-sign-in")
    page.locator("#passphrase").fill(served.phrase)
    page.locator("button.save").click()
    for kind, number in (("emerged", 90), ("emerged", 20)):
        page.locator(f"#kind-{kind}").click()
        hold(page, tmp_path, f"{name}-form")
        page.locator("#number").fill(str(number))
        page.locator("#note button.save").click()
        expect(page.locator(".saved, .doubts")).to_be_visible()
        hold(page, tmp_path, f"{name}-{number}")
    for path in ("/", "/today", "/T/1", "/find?q=onion", "/B/27-001-X", f"/B/{code}/entries/{FIRST}", "/nope"):
        page.goto(served.address + path)
        hold(page, tmp_path, f"{name}-{path.strip('/').replace('/', '-').replace('?', '-') or 'index'}")


def hold(page: Page, folder: Path, name: str) -> None:
    """Hold a page against WCAG 2.2 A and AA as axe-core does, and against thumbs and the width of the screen."""
    look(page, folder, name)
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]})
    wrong = [
        (one["id"], one["impact"], [node["html"] for node in one["nodes"]][:3]) for one in found.response["violations"]
    ]
    assert wrong == [], f"{name}: {json.dumps(wrong, indent=1)}"
    assert small_targets(page) == [], name
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"{name} is wider than the screen"


def test_the_checkers_see_what_is_wrong(browser: Browser) -> None:
    page = opened(browser)
    page.set_content("<p style='color:#aaa'>pale<input><a href='/'>x</a></p>")
    found = {one["id"] for one in Axe().run(page).response["violations"]}
    assert {"color-contrast", "label", "document-title"} <= found
    assert len(small_targets(page)) == 2


def small_targets(page: Page) -> list[str]:
    """What can be touched and is lower than a thumb needs; links in a line of text are as high as the line."""
    return list(
        page.evaluate(
            """least => [...document.querySelectorAll("a, button, summary, input:not([type=hidden]), textarea")]
                .filter(one => one.offsetParent && !one.matches(".skip, figcaption a"))
                .filter(one => one.getBoundingClientRect().height < least)
                .map(one => one.outerHTML.slice(0, 120))""",
            LEAST_TARGET_PX,
        )
    )


def test_nothing_is_asked_of_other_hosts(served: Served, browser: Browser) -> None:
    page = opened(browser)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for path in ("/", "/today", "/T/1", f"/B/{served.site.accounts()[0].batch.code}"):
        page.goto(served.address + path, wait_until="networkidle")
    assert asked
    assert all(url.startswith((served.address, "data:")) for url in asked)
