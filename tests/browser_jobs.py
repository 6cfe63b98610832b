"""A real browser and a real server for tests: Chromium driven by Playwright, and a plan printed to lead there."""

import os
import shutil
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Browser, Page, expect, sync_playwright
from serve_jobs import PHRASE, PLAN, secrets, sow

from traysheets.bench_site import site_of
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.serve.access import Access
from traysheets.serve.app import create_app
from traysheets.serve.running import Server
from traysheets.serve.site import Site

NEEDED = "TRAYSHEETS_NEEDS_CHROMIUM"
"""Set where Chromium must be there: its lack is then a failure."""
PICTURES = "TRAYSHEETS_PICTURES"
"""Names a folder for pictures of the pages."""
NAMES = ("chromium", "chromium-browser", "google-chrome")
SIZES = {"phone": (360, 740), "desktop": (1280, 800)}
NOW = datetime(2027, 3, 16, 12, tzinfo=UTC)


@contextmanager
def chromium() -> Iterator[Browser]:
    """The browser; without it the test is skipped, or fails where it is needed."""
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        reason = "Chromium is not installed: apt-get install chromium"
        assert not os.environ.get(NEEDED), reason
        pytest.skip(reason)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found)
        yield browser
        browser.close()


@dataclass
class Served:
    """A plan that was printed and is served; `address` is where."""

    address: str
    folder: Path
    site: Site
    server: Server
    thread: threading.Thread
    phrase: str = PHRASE

    def sticks(self) -> list[str]:
        """What the QR codes on the printed sticks say, read from the pages as pictures."""
        document = pypdfium2.PdfDocument(self.folder / "plan" / "sticks.pdf")
        pages = [page.render(scale=300 / 72).to_pil() for page in document]
        document.close()
        return [code.text for page in pages for code in zxingcpp.read_barcodes(page)]

    def stop(self) -> None:
        """Stop answering, as when a phone is out of reach of the bench."""
        self.server.stop()
        self.thread.join(timeout=10)


def free_port() -> int:
    """A port that nobody has just now."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def start(folder: Path) -> Served:
    """Print the plan with sticks that lead to a free port of this machine, and serve it there.

    It asks for the pass phrase to write, as on a network; no other machine reaches it all the same.
    """
    port = free_port()
    plan = folder / "plan.toml"
    url = f'record_url = "HTTP://127.0.0.1:{port}/B/{{batch}}"\nseason'
    plan.write_text(PLAN.replace("season", url, 1), encoding="utf-8")
    options = Options(plan=plan, only=("sticks", "records"))
    make(options, today=date(2027, 3, 1))
    sow(options.book_file)
    site = site_of(plan, None, None, lambda: NOW, lambda: 1000.0)
    server = Server(create_app(site, Access(secrets(), network=True)), "127.0.0.1", port)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    return Served(f"http://127.0.0.1:{port}", plan.parent, site, server, thread)


def opened(browser: Browser, size: str = "phone", *, script: bool = True) -> Page:
    """A page of a browser that was never there before; whatever its console complains of is a failure."""
    width, height = SIZES[size]
    touch = size == "phone"
    context = browser.new_context(
        viewport={"width": width, "height": height}, has_touch=touch, java_script_enabled=script
    )
    context.set_default_timeout(30_000)
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(f"script: {error}"))
    return page


def pick(page: Page, kind: str) -> None:
    """Tap a kind of entry."""
    page.locator(f"#kind-{kind}").click()


def look(page: Page, name: str) -> None:
    """A picture of the whole page, to be looked at by whoever asks for pictures: nothing is proved by taking one."""
    if folder := os.environ.get(PICTURES):
        page.screenshot(path=Path(folder, f"{name}.png"), full_page=True, timeout=60_000)


def signed_in(browser: Browser, served: Served, size: str = "phone", *, script: bool = True) -> Page:
    """A page of the first batch, signed in."""
    page = opened(browser, size, script=script)
    page.goto(f"{served.address}/sign-in?next=/B/{served.site.accounts()[0].batch.code}")
    page.get_by_label("Pass phrase").fill(served.phrase)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Note something")).to_be_visible()
    return page
