"""Nothing on the pages for phones stands in anybody's way, and nothing is asked of other hosts.

Every page is held against WCAG 2.2 A and AA by axe-core, and the way to an entry is gone with the keyboard alone.
"""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser_jobs import Served, look, opened
from playwright.sync_api import Browser, Page, expect
from serve_jobs import FIRST

LEAST_TARGET_PX = 48


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


LOOKS = [("phone", "light", "en"), ("phone", "dark", "de"), ("desktop", "light", "fr"), ("desktop", "dark", "pt")]


@pytest.mark.parametrize(("size", "scheme", "language"), LOOKS)
def test_nothing_stands_in_the_way_of_anybody(
    served: Served, browser: Browser, size: str, scheme: str, language: str
) -> None:
    page = opened(browser, size)
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    code = served.site.accounts()[0].batch.code
    page.goto(f"{served.address}/language?to={language}&next=/B/{code}")
    name = f"{size}-{scheme}-{language}"
    hold(page, f"{name}-signed-out")
    page.locator("summary").click()
    hold(page, f"{name}-languages")
    page.goto(f"{served.address}/sign-in?next=/B/{code}")
    hold(page, f"{name}-sign-in")
    page.locator("#passphrase").fill(served.phrase)
    page.locator("button.save").click()
    for kind, number in (("emerged", 90), ("emerged", 20)):
        page.locator(f"#kind-{kind}").click()
        hold(page, f"{name}-form")
        page.locator("#number").fill(str(number))
        with page.expect_navigation():  # what says that the last one is saved is still to be seen
            page.locator("#note button.save").click()
        expect(page.locator(".saved, .doubts")).to_be_visible()
        hold(page, f"{name}-{number}")
    for path in ("/", "/today", "/T/1", "/find?q=onion", "/B/27-001-X", f"/B/{code}/entries/{FIRST}", "/nope"):
        page.goto(served.address + path)
        hold(page, f"{name}-{path.strip('/').replace('/', '-').replace('?', '-') or 'index'}")


def hold(page: Page, name: str) -> None:
    """Hold a page against WCAG 2.2 A and AA as axe-core does, and against thumbs and the width of the screen."""
    look(page, name)
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
