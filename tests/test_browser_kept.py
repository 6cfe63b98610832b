"""Nothing that was typed on a phone is lost, and nothing is stored twice, whatever becomes of the network.

Each test breaks it otherwise: the phone is out of reach, the server is gone, its answer is lost on the way, the phone
can store nothing.
"""

import threading

import pytest
from browser_jobs import Served, look, opened, pick, signed_in
from playwright.sync_api import Browser, Locator, Page, Route, expect
from serve_jobs import PHRASE, SOWN, secrets

from traysheets.serve.access import Access
from traysheets.serve.app import create_app
from traysheets.serve.running import Server

ENTRIES = "**/entries"


def save(page: Page, kind: str, number: int) -> None:
    """Pick a kind, write a number, and save it."""
    pick(page, kind)
    page.locator("#number").fill(str(number))
    page.locator("#note button.save").click()


def kept(page: Page) -> Locator:
    """The entries that stand on the page as kept on this phone."""
    return page.locator(".kept li")


def written(served: Served) -> list[tuple[str, int | None, str]]:
    """What the book holds of the first batch beside its sowing."""
    entries = served.site.accounts()[0].entries
    return [(one.kind.value, one.number, one.remark) for one in entries if not one.key.startswith(SOWN)]


def send_all(page: Page, number: int) -> None:
    """Send each kept entry again, the first first."""
    for left in range(number, 0, -1):
        expect(kept(page)).to_have_count(left)
        page.get_by_role("button", name="Send again").first.click()
        expect(page.get_by_role("status")).to_contain_text("Saved.")
    expect(kept(page)).to_have_count(0)


def test_several_entries_out_of_reach_are_all_kept_and_sent(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    save(page, "sold", 2)
    expect(kept(page)).to_have_text(["27-001-7 · Sold · 2 · Tue 16 Mar 2027Send againThrow away"])
    expect(page.locator(".kept > p")).to_be_in_viewport(ratio=1)
    expect(page.locator("#number")).to_have_value("")
    save(page, "lost", 3)
    expect(kept(page)).to_have_count(2)
    expect(kept(page).last).to_contain_text("Lost · 3")
    look(page, "two-kept")
    page.context.set_offline(False)
    send_all(page, 2)
    assert written(served) == [("sold", 2, ""), ("lost", 3, "")]


def test_a_number_does_not_travel_with_what_takes_none(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    pick(page, "sold")
    page.locator("#number").fill("2")
    pick(page, "remark")
    expect(page.locator("#number")).to_be_disabled()
    expect(page.locator("#number")).to_have_value("")
    expect(page.locator("#remark")).to_be_focused()
    page.keyboard.type("damp corner")
    page.locator("#note button.save").click()
    expect(kept(page)).to_contain_text("Remark · Tue 16 Mar 2027 · damp corner")
    pick(page, "sold")
    expect(page.locator("#number")).to_be_enabled()
    expect(page.locator("#number")).to_have_value("")
    page.context.set_offline(False)
    send_all(page, 1)
    assert written(served) == [("remark", None, "damp corner")]


def test_a_tap_by_mistake_does_not_lose_the_number(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    pick(page, "sold")
    page.locator("#number").fill("2")
    pick(page, "trimmed")
    pick(page, "sold")
    expect(page.locator("#number")).to_have_value("2")


def test_a_server_that_is_gone_and_comes_back(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    served.stop()
    save(page, "emerged", 12)
    expect(page.get_by_role("alert")).to_contain_text("Not saved: the book cannot be reached")
    save(page, "lost", 1)
    expect(kept(page)).to_have_count(2)
    port = int(served.address.rpartition(":")[2])
    served.server = Server(create_app(served.site, Access(secrets(), network=True)), "127.0.0.1", port)
    served.thread = threading.Thread(target=served.server.run, daemon=True)
    served.thread.start()
    page.reload()
    expect(kept(page)).to_have_count(2)
    send_all(page, 2)
    assert written(served) == [("emerged", 12, ""), ("lost", 1, "")]


def lose(route: Route) -> None:
    """Let the server do what it is asked, and lose its answer."""
    route.fetch(max_redirects=0)
    route.abort()


def test_what_is_typed_after_a_lost_answer_is_another_entry(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.route(ENTRIES, lose)
    save(page, "emerged", 30)
    expect(kept(page)).to_have_count(1)
    page.unroute(ENTRIES)
    assert written(served) == [("emerged", 30, "")]
    save(page, "lost", 4)
    expect(page.get_by_role("status")).to_contain_text("Saved. Lost: 4")
    send_all(page, 1)
    assert written(served) == [("emerged", 30, ""), ("lost", 4, "")]


def test_a_doubtful_entry_is_kept_once_and_with_its_yes(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    save(page, "sold", 8)
    expect(page.get_by_role("status")).to_contain_text("Saved.")
    save(page, "lost", 5)
    page.get_by_role("heading", name="Is that right?").wait_for()
    expect(kept(page)).to_have_count(0)
    page.context.set_offline(True)
    page.get_by_role("button", name="Save it all the same").click()
    expect(kept(page)).to_contain_text("Lost · 5")
    expect(page.locator(".doubts")).to_have_count(0)
    expect(page.locator("#number")).to_have_value("")
    page.context.set_offline(False)
    send_all(page, 1)
    assert written(served) == [("sold", 8, ""), ("lost", 5, "")]


def test_a_kept_entry_that_is_refused_says_why_and_is_mended(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    save(page, "sold", 99)
    page.context.set_offline(False)
    page.get_by_role("button", name="Send again").click()
    expect(page.locator("#problems")).to_contain_text("The number is too large")
    expect(page.locator("#problems")).to_be_in_viewport()
    expect(kept(page)).to_contain_text("It is in the form below")
    look(page, "refused")
    page.goto(f"{served.address}/today")
    expect(kept(page)).to_contain_text("Sold · 99")
    page.get_by_role("button", name="Send again").click()
    page.locator("#number").fill("999")
    page.locator("#note button.save").click()
    expect(page.locator("#problems")).to_contain_text("The number is too large")
    expect(kept(page)).to_contain_text("Sold · 999")
    page.locator("#number").fill("3")
    page.locator("#note button.save").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Sold: 3")
    expect(kept(page)).to_have_count(0)
    assert written(served) == [("sold", 3, "")]


def test_sending_again_does_not_lose_what_is_being_typed(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    save(page, "sold", 2)
    expect(kept(page)).to_have_count(1)
    page.context.set_offline(False)
    pick(page, "lost")
    page.locator("#number").fill("1")
    page.get_by_role("button", name="Send again").click()
    expect(page.get_by_role("alert")).to_have_text("Saved.")
    expect(page.locator("#number")).to_have_value("1")
    page.locator("#note button.save").click()
    expect(page.get_by_role("status")).to_contain_text("Saved. Lost: 1")
    assert written(served) == [("sold", 2, ""), ("lost", 1, "")]


def test_a_kept_entry_is_thrown_away(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.context.set_offline(True)
    save(page, "sold", 1)
    page.get_by_role("button", name="Throw away").click()
    expect(kept(page)).to_have_count(0)
    page.context.set_offline(False)
    page.reload()
    expect(page.locator(".kept")).to_have_count(0)
    assert written(served) == []


def test_an_entry_that_was_refused_and_left_is_not_kept(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    save(page, "sold", 99)
    expect(page.locator("#problems")).to_contain_text("too large")
    page.wait_for_load_state()  # Words are there before the script has run; who leaves so soon has it kept.
    page.goto(f"{served.address}/today")
    expect(page.locator(".kept")).to_have_count(0)


def test_a_refusal_that_never_arrives_keeps_the_entry(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    asked: list[str] = []

    def once(route: Route) -> None:
        asked.append(route.request.url)
        route.continue_() if len(asked) == 1 else route.abort()

    page.route(ENTRIES, once)
    save(page, "sold", 99)
    page.wait_for_event("requestfailed")
    page.unroute(ENTRIES)
    page.goto(f"{served.address}/today")
    expect(kept(page)).to_contain_text("Sold · 99")


def test_a_phone_that_can_store_nothing_keeps_them_while_the_page_is_open(served: Served, browser: Browser) -> None:
    page = opened(browser)
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); }")
    page.goto(f"{served.address}/sign-in?next=/B/27-001-7")
    page.get_by_label("Pass phrase").fill(PHRASE)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Note something")).to_be_visible()
    page.context.set_offline(True)
    save(page, "sold", 2)
    expect(page.get_by_role("alert")).to_contain_text("this phone cannot keep entries")
    save(page, "lost", 1)
    expect(kept(page)).to_have_count(2)
    page.context.set_offline(False)
    page.get_by_role("button", name="Send again").first.click()
    expect(page.get_by_role("alert")).to_contain_text("Saved. These entries are on this phone only")
    send_all(page, 1)
    assert written(served) == [("sold", 2, ""), ("lost", 1, "")]


def test_a_network_that_answers_itself_has_stored_nothing(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.route(ENTRIES, lambda route: route.fulfill(status=200, body="Sign in to this network"))
    save(page, "sold", 2)
    page.get_by_text("Sign in to this network").wait_for()
    page.unroute(ENTRIES)
    page.goto(f"{served.address}/today")
    send_all(page, 1)
    assert written(served) == [("sold", 2, "")]


def test_a_slow_save_says_so_at_once_and_what_became_of_it(served: Served, browser: Browser) -> None:
    page = signed_in(browser, served)
    page.clock.install()
    held: list[Route] = []
    page.route(ENTRIES, lambda route: held.append(route))
    save(page, "sold", 2)
    button = page.locator("#note button.save")
    expect(button).to_have_text("Saving…")
    expect(page.locator("#heard")).to_have_text("Saving…")
    look(page, "saving")
    button.click()
    page.clock.fast_forward(16_000)
    expect(page.get_by_role("alert")).to_contain_text("No answer came in time")
    expect(button).to_have_text("Save")
    expect(page.locator("#heard")).to_have_text("")
    assert len(held) == 1
    page.unroute(ENTRIES)
    send_all(page, 1)
    assert written(served) == [("sold", 2, "")]


DAYS = {"en": "Mon 1 Mar 2027", "de": "Mo., 1. März 2027", "fr": "lun. 1er mars 2027", "pt": "seg., 1º mar. 2027"}


@pytest.mark.parametrize("language", DAYS)
def test_kept_entries_show_their_day_as_the_page_does(served: Served, browser: Browser, language: str) -> None:
    page = signed_in(browser, served)
    page.goto(f"{served.address}/language?to={language}&next=/B/27-001-7")
    page.context.set_offline(True)
    page.locator("#day").fill("2027-03-01")
    save(page, "sold", 2)
    expect(kept(page)).to_contain_text(DAYS[language])
