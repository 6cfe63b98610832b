"""Whatever is sent, no fault of the server (status 500) comes back, nothing is injected and the book stays whole."""

import re
import sqlite3
import tempfile
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from serve_jobs import Bench

PATHS = (
    "/",
    "/find",
    "/today",
    "/B/{}",
    "/b/{}",
    "/B/{}/entries",
    "/B/{}/entries/1",
    "/B/{}/index.html",
    "/T/{}",
    "/t/1",
)
PATHS += ("/sign-in", "/sign-out", "/language", "/static/{}", "/{}")
FIELDS = ("kind", "number", "day", "who", "remark", "key", "token", "strike", "passphrase", "next", "q", "saved")
FIELDS += ("sure", "to")
EVIL = (
    "<script>alert(1)</script>",
    "\"'><img src=x onerror=alert(1)>",
    "'; DROP TABLE entries; --",
    "../../../../etc/passwd",
    "x\r\nSet-Cookie: evil=1",
    "{{ 7 * 7 }}",
    "=HYPERLINK(\"http://evil.example\")",
    "\x00",
    "\ud800",
    "9" * 5000,
    "-1",
    "٣",
    "1e9",
    "2027-02-30",
    "27-001-7",
)  # fmt: skip
TEXTS = st.one_of(st.sampled_from(EVIL), st.text(max_size=60))
FORMS = st.dictionaries(st.sampled_from(FIELDS), TEXTS, max_size=8)
LENIENT = settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))


class Tags(HTMLParser):
    """The names of all tags and attributes of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes.update(name for name, _ in attrs)


def plain(text: str) -> str:
    """Text as a browser could send it at all."""
    return text.encode("utf-8", "replace").decode()


@pytest.fixture(scope="module")
def benches() -> list[Bench]:
    """On this computer, and on the network."""
    return [Bench(Path(tempfile.mkdtemp()), network=network, closed=network) for network in (False, True)]


@LENIENT
@given(
    path=st.sampled_from(PATHS),
    part=TEXTS,
    form=FORMS,
    method=st.sampled_from(["GET", "POST", "HEAD", "PUT", "OPTIONS"]),
    told=st.dictionaries(st.sampled_from(["Origin", "Accept-Language", "Sec-Fetch-Site", "Cookie"]), TEXTS, max_size=2),
)
def test_no_request_is_a_fault(
    benches: list[Bench], path: str, part: str, form: dict[str, str], method: str, told: dict[str, str]
) -> None:
    form = {name: plain(text) for name, text in form.items()}
    headers = {name: re.sub(r"[^\x20-\x7e]", "?", text) for name, text in told.items()}
    for bench in benches:
        bench.seconds += 100
        where = path.replace("{}", plain(part).replace("/", "%2F").replace("?", "%3F").replace("#", "%23"))
        sent = {"query_string": form} if method in ("GET", "HEAD") else {"data": form}
        answer = bench.client.open(where, method=method, headers=headers, **sent)
        assert answer.status_code < 500, (answer.status_code, where)
        assert "evil" not in answer.headers.get("Set-Cookie", "")
        if answer.location:
            assert re.match(r"(http://localhost)?/[^/\\]|(http://localhost)?/$", answer.location), answer.location


@LENIENT
@given(form=FORMS, code=st.sampled_from(["27-001-7", "27-002-5", "nope"]), on=st.integers(-1, 9))
def test_no_form_with_a_right_token_is_a_fault(benches: list[Bench], form: dict[str, str], code: str, on: int) -> None:
    bench = benches[0]
    token = bench.form(f"/B/{bench.onion}")["token"]
    form = {name: plain(text) for name, text in form.items()} | {"token": token}
    path = f"/B/{code}/entries" if on < 0 else f"/B/{code}/entries/{on}"
    for _ in range(2):
        assert bench.client.post(path, data=form).status_code in (303, 400, 404, 409)


@pytest.mark.parametrize("field", ["who", "remark", "number", "day", "kind", "key", "q"])
@pytest.mark.parametrize("text", EVIL[:7])
def test_what_is_typed_is_text_wherever_it_is_shown(tmp_path: Path, field: str, text: str) -> None:
    bench = Bench(tmp_path)
    known = Tags(bench.client.get(f"/B/{bench.onion}").text)
    form = {"kind": "remark", "remark": "dry"} | {field: text}
    answer = bench.note(**form)  # type: ignore[arg-type]
    found = bench.client.get("/find", query_string={"q": text})
    pages = [
        *([answer.text] if answer.status_code != 303 else []),
        found.text,
        bench.client.get(f"/B/{bench.onion}").text,
    ]
    for page in pages:
        tags = Tags(page)
        assert not tags.attributes & {"onerror", "onload", "style"}
        assert tags.tags - known.tags <= {"s", "br"}
        assert page.count("<script") == 2
    with sqlite3.connect(bench.book) as book:
        assert book.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert book.execute("SELECT count(*) FROM batches").fetchone() == (3,)
    book.close()


@pytest.mark.parametrize(
    "body", [b"", b"\xff\xfe", b"a" * 1000, b"--x\r\nContent-Disposition: form-data\r\n\r\n", b"&&&==="]
)
@pytest.mark.parametrize(
    "content_type", ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain", "é"]
)
def test_broken_bodies_are_refused(benches: list[Bench], body: bytes, content_type: str) -> None:
    bench = benches[0]
    answer = bench.client.post(f"/B/{bench.onion}/entries", data=body, content_type=content_type)
    assert answer.status_code in (400, 403, 413, 415)


@pytest.mark.parametrize(
    "cookie", ["traysheets=", "traysheets=x.y.z", "traysheets=eyJvcGVuZWQiOjF9.x.y", "=", ";;;", "é"]
)
def test_broken_cookies_open_nothing(benches: list[Bench], cookie: str) -> None:
    answer = benches[1].another().get("/today", headers={"Cookie": cookie})
    assert answer.status_code == 303
