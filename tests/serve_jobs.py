"""A plan printed once, its book, and the application that serves it, for tests; the day is 16 March 2027.

All its batches are noted as sown, on the days they were to be, with the entries 1 to 3.
"""

import re
import tempfile
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from jinja2 import StrictUndefined
from werkzeug.test import TestResponse

from traysheets.bench_site import site_of
from traysheets.book.diary import add_entry, read_histories
from traysheets.book.entries import Kind, Note
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.serve.access import Access
from traysheets.serve.app import create_app
from traysheets.serve.notes import new_key
from traysheets.serve.passphrase import Secrets

PLAN = """
[plan]
title = "Bench <test>"
grower = "Millbrook Lane Growers"
season = 2027

[[sowing]]
crop = "Onion"
variety = "Amber <b>Vault</b>"
method = "clump"
seeds_per_cell = 25
cells = 8
tray = "pot-18"
sow = 2027-03-06
lot = "A1"
germination = "80 %"
soil_temp = "18 C"

[[sowing]]
crop = "Beetroot"
variety = "Dusky Round"
method = "stations"
stations = 3
seeds_per_station = 2
cells = 6
tray = "pot-18"
sow = 2027-03-06
treated = true

[[sowing]]
crop = "Tomato"
variety = "Little Anchor"
tray = "cell-72"
cells = 30
sow = 2027-03-13
"""
NOON = datetime(2027, 3, 16, 12, tzinfo=UTC)
PHRASE = "three wet thumbs"
PHONE = "192.0.2.7"


@cache
def secrets() -> Secrets:
    """Hashed once: that takes long on purpose."""
    return Secrets().closing(PHRASE)


@cache
def printed(*, text: str = PLAN, sown: bool = True) -> bytes:
    """The book after printing the plan, as bytes."""
    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "plan.toml"
        plan.write_text(text, encoding="utf-8")
        options = Options(plan=plan, only=("records",))
        make(options, today=date(2027, 3, 1))
        if sown:
            sow(options.book_file)
        return options.book_file.read_bytes()


def sow(book: Path) -> None:
    """Note that every batch was sown on its day."""
    for history in read_histories(book):
        code, day = history.batch.code, history.batch.identity.sow
        add_entry(book, Note(batch=code, kind=Kind.SOWN, day=day, key=f"{SOWN} {code}"), NOON.date(), NOON)


SOWN = "sown"
FIRST = 4
"""The number of the first entry that a test writes."""


@dataclass
class Bench:
    """A server under test, a phone's browser, and a clock that is set by hand."""

    folder: Path
    network: bool = False
    closed: bool = False
    book_alone: bool = False
    sown: bool = True
    plan_text: str = PLAN
    print_text: str = PLAN
    seconds: float = 1000.0
    client: FlaskClient = field(init=False)

    def __post_init__(self) -> None:
        self.plan, self.book = self.folder / "plan.toml", self.folder / "plan.book.sqlite"
        self.plan.write_text(self.plan_text, encoding="utf-8")
        self.book.write_bytes(printed(text=self.print_text, sown=self.sown))
        given = self.book if self.book_alone else self.plan
        site = site_of(given, None, None, lambda: NOON, lambda: self.seconds)
        names = ("bench.example",) if self.network else ()
        self.access = Access(secrets() if self.network else Secrets(), self.network, self.closed, names)
        self.site, self.app = site, create_app(site, self.access)
        self.app.jinja_env.undefined = StrictUndefined
        self.client = self.another()

    def another(self, address: str | None = None) -> FlaskClient:
        """A browser with no cookies yet."""
        client = self.app.test_client()
        client.environ_base["REMOTE_ADDR"] = address or (PHONE if self.network else "127.0.0.1")
        return client

    @property
    def codes(self) -> list[str]:
        """The batch codes by sowing day: onion, beetroot, tomato."""
        return [account.batch.code for account in self.site.accounts()]

    @property
    def onion(self) -> str:
        return next(one.batch.code for one in self.site.accounts() if one.batch.identity.lot == "A1")

    def form(self, path: str, client: FlaskClient | None = None) -> dict[str, str]:
        """The hidden fields and the day of the form on a page, as a browser would send them.

        Where there is no form before signing in, those that one would have that was open since.
        """
        page = (client or self.client).get(path).text
        if 'class="entry"' in page:
            return fields(page)
        token = re.search(r'data-token="([^"]+)"', page)
        return {"token": token[1] if token else "", "key": new_key(), "day": NOON.date().isoformat()}

    def note(self, kind: str, number: object = "", code: str | None = None, **other: str) -> TestResponse:
        """Fill in the form of a batch and send it."""
        code = code or self.onion
        filled = self.form(f"/B/{code}") | {"kind": kind, "number": str(number)} | other
        return self.client.post(f"/B/{code}/entries", data=filled)

    def sign_in(self, phrase: str = PHRASE, client: FlaskClient | None = None, **other: str) -> TestResponse:
        """Sign in with a pass phrase."""
        client = client or self.client
        form = self.form("/sign-in", client) | {"passphrase": phrase} | other
        return client.post("/sign-in", data=form)

    def entries(self) -> list[tuple[Any, ...]]:
        """What the book holds beside the sowings, whatever the server remembers."""
        found = [entry for one in replace(self.site).accounts() for entry in one.entries]
        return [(one.kind.value, one.number, one.who, one.remark) for one in found if not one.key.startswith(SOWN)]


def fields(page: str, name: str = "entry") -> dict[str, str]:
    """The fields of the first form of a class, by default that posts to a batch or signs in, with their values."""
    form = re.search(rf'<form class="{name}".*?</form>', page, re.DOTALL)
    assert form, "the page has no form"
    found = {}
    for tag in re.findall(r"<input[^>]*>", form[0]):
        named, value = re.search(r'name="([^"]*)"', tag), re.search(r'value="([^"]*)"', tag)
        if named and 'type="radio"' not in tag:
            found[named[1]] = value[1] if value else ""
    return found
