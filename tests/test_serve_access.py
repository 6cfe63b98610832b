"""Who may read and write, and what a server on a network owes: sessions, tokens, the pass phrase, limits, headers.

HTTP as RFC 9110 has it, cookies as RFC 6265.
"""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from serve_jobs import FIRST, PHRASE, Bench, fields

from traysheets.serve.access import own_path
from traysheets.serve.passphrase import Secrets
from traysheets.serve.throttle import Attempts, Rates


@pytest.fixture
def shared(tmp_path: Path) -> Bench:
    """On the network, open for reading."""
    return Bench(tmp_path, network=True)


@pytest.fixture
def closed(tmp_path: Path) -> Bench:
    """On the network, closed."""
    return Bench(tmp_path, network=True, closed=True)


def test_writing_on_the_network_needs_the_pass_phrase(shared: Bench) -> None:
    refused = shared.note("emerged", 31)
    assert refused.status_code == 403
    assert "writing needs the pass phrase" in refused.text
    assert shared.entries() == []
    assert shared.sign_in().status_code == 303
    assert shared.note("emerged", 31).status_code == 303


def test_the_pass_phrase_may_come_with_the_entry(shared: Bench) -> None:
    refused = shared.note("emerged", 31)
    again = fields(refused.text) | {"kind": "emerged", "passphrase": PHRASE}
    assert again["number"] == "31"
    assert shared.client.post(f"/B/{shared.onion}/entries", data=again).status_code == 303
    assert shared.entries() == [("emerged", 31, "", "")]
    assert 'name="passphrase"' not in shared.client.get(f"/B/{shared.onion}").text


def test_nothing_can_be_typed_that_signing_in_would_lose(shared: Bench) -> None:
    page = shared.client.get(f"/B/{shared.onion}?kind=sold").text
    assert 'class="entry"' not in page
    way = re.search(r'href="(/sign-in\?next=[^"]+)">Sign in to note<', page)
    assert way
    onward = shared.sign_in(next=shared.form(way[1])["next"]).location
    assert onward == f"/B/{shared.onion}?kind=sold#note"
    assert 'value="sold" required checked' in shared.client.get(onward).text
    assert "Sign in to note" not in shared.client.get(onward).text


def test_what_was_typed_before_a_session_ended_is_stored_once_after_signing_in(shared: Bench) -> None:
    shared.sign_in()
    typed = shared.form(f"/B/{shared.onion}") | {"kind": "sold", "number": "2", "remark": "market"}
    shared.client.delete_cookie("traysheets")
    refused = shared.client.post(f"/B/{shared.onion}/entries", data=typed)
    assert refused.status_code == 403
    again = fields(refused.text) | {"kind": "sold", "remark": "market", "passphrase": PHRASE}
    assert (again["number"], again["key"]) == ("2", typed["key"])
    assert shared.client.post(f"/B/{shared.onion}/entries", data=again).status_code == 303
    again["token"] = shared.form(f"/B/{shared.onion}")["token"]
    assert shared.client.post(f"/B/{shared.onion}/entries", data=again).status_code == 303
    assert shared.entries() == [("sold", 2, "", "market")]


def test_a_pass_phrase_of_other_letters_that_look_the_same_opens(shared: Bench) -> None:
    assert Secrets().closing("größe und mühe").opens("gro\u0308ße und mu\u0308he ")


def test_a_closed_book_tells_nothing(closed: Bench) -> None:
    for path in ("/", "/today", "/T/1", f"/B/{closed.onion}", "/find?q=onion", f"/B/{closed.onion}/entries/{FIRST}"):
        answer = closed.client.get(path)
        assert answer.status_code == 303
        assert answer.location.startswith("/sign-in?next=")
    answer = closed.client.post(f"/B/{closed.onion}/entries", data={"kind": "sown", "remark": "kept"})
    assert answer.status_code == 403
    assert "kept" in answer.text
    assert "Vault" not in answer.text
    assert closed.sign_in(next="/T/1").location == "/T/1"
    assert closed.client.get("/T/1").status_code == 200


def test_a_closed_book_does_not_tell_which_codes_it_has(closed: Bench) -> None:
    answers = [closed.client.post(f"/B/{code}/entries", data={}) for code in (closed.onion, "27-999-0")]
    assert answers[0].status_code == answers[1].status_code == 403


@pytest.mark.parametrize("token", ["", "x", None])
def test_a_form_without_the_token_of_the_session_writes_nothing(tmp_path: Path, token: str | None) -> None:
    bench = Bench(tmp_path)
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "3"}
    form = {name: value for name, value in form.items() if name != "token"} | (
        {} if token is None else {"token": token}
    )
    answer = bench.client.post(f"/B/{bench.onion}/entries", data=form)
    assert answer.status_code == 403
    assert 'name="number"' in answer.text
    assert bench.entries() == []


FOREIGN = (
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Origin": "http://evil.example"},
    {"Origin": "http://localhost:8001"},
    {"Origin": "http://localhost.evil.example"},
    {"Origin": "null"},
    {"Origin": ""},
)
"""RFC 6454, 7: where a form comes from, `null` for what may not be told; Fetch Metadata: how far that is from us."""


@pytest.mark.parametrize("sent", FOREIGN)
def test_a_form_from_another_site_writes_nothing_though_its_token_is_right(
    tmp_path: Path, sent: dict[str, str]
) -> None:
    bench = Bench(tmp_path)
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "3"}
    answer = bench.client.post(f"/B/{bench.onion}/entries", data=form, headers=sent)
    assert answer.status_code == 403
    assert "This came from another site" in answer.text
    assert "Nothing was saved" in answer.text
    assert bench.entries() == []


OWN = (
    {},
    {"Origin": "http://localhost"},
    {"Origin": "HTTP://LocalHost"},
    {"Sec-Fetch-Site": "same-origin", "Origin": "http://localhost"},
    {"Sec-Fetch-Site": "none"},
)


@pytest.mark.parametrize("sent", OWN)
def test_a_form_of_ours_writes_and_so_does_a_phone_too_old_to_say(tmp_path: Path, sent: dict[str, str]) -> None:
    bench = Bench(tmp_path)
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "3"}
    assert bench.client.post(f"/B/{bench.onion}/entries", data=form, headers=sent).status_code == 303


def test_a_form_of_another_session_writes_nothing(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    form = bench.form(f"/B/{bench.onion}") | {"kind": "emerged", "number": "3"}
    assert bench.another().post(f"/B/{bench.onion}/entries", data=form).status_code == 403
    assert bench.entries() == []


def test_nobody_signs_in_from_another_site(shared: Bench) -> None:
    form = shared.form("/sign-in") | {"passphrase": PHRASE}
    answer = shared.client.post("/sign-in", data=form, headers={"Origin": "http://evil.example"})
    assert answer.status_code == 403
    assert "This came from another site" in answer.text


def test_a_link_from_another_site_opens_a_page(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    sent = {"Sec-Fetch-Site": "cross-site"}
    assert bench.client.get(f"/B/{bench.onion}", headers=sent).status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "192.0.2.9", "127.0.0.1.evil.example", "[::", "a b"])
def test_alone_on_this_computer_no_other_name_is_answered_to(tmp_path: Path, host: str) -> None:
    # RFC 9110, 15.5.20: Misdirected Request. Another site's name may be made to lead here (DNS rebinding).
    assert Bench(tmp_path).client.get("/", headers={"Host": host}).status_code in (400, 421)


@pytest.mark.parametrize("host", ["localhost:8000", "127.0.0.1", "[::1]:8000"])
def test_its_own_names_are(tmp_path: Path, host: str) -> None:
    assert Bench(tmp_path).client.get("/", headers={"Host": host}).status_code == 200


def test_on_the_network_it_answers_to_addresses_and_names_given(shared: Bench) -> None:
    answers = [
        shared.client.get("/", headers={"Host": host}) for host in ("192.0.2.1:8000", "Bench.Example", "x.example")
    ]
    assert [answer.status_code for answer in answers] == [200, 200, 421]


def test_the_session_cookie_is_out_of_reach_of_scripts_and_sites(shared: Bench) -> None:
    cookie = shared.sign_in().headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert PHRASE not in cookie


def test_a_session_ends_with_its_pass_phrase_and_when_signed_out(shared: Bench) -> None:
    shared.sign_in()
    form = re.search(r'action="/sign-out".*?value="([^"]+)"', shared.client.get("/").text, re.DOTALL)
    assert form
    assert shared.client.post("/sign-out", data={"token": form[1]}).status_code == 303
    assert shared.note("emerged", 3).status_code == 403
    shared.sign_in()
    changed = replace(shared.access, secrets=Secrets().closing("another phrase"))
    shared.app.extensions["access"] = changed
    assert changed.mark != shared.access.mark
    assert shared.note("emerged", 3).status_code == 403


def test_wrong_pass_phrases_are_slowed(shared: Bench) -> None:
    statuses = [shared.sign_in("wrong wrong").status_code for _ in range(4)]
    assert statuses == [403, 403, 403, 429]
    answer = shared.sign_in()
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) >= 1
    assert "wait 1 second, then try again" in answer.text
    shared.seconds += int(answer.headers["Retry-After"])
    assert shared.sign_in("wrong wrong").status_code == 403
    assert "wait 2 seconds, then try again" in shared.sign_in().text
    shared.seconds += 2
    assert shared.sign_in().status_code == 303


def test_wrong_pass_phrases_with_an_entry_are_slowed_too(shared: Bench) -> None:
    answers = [shared.note("emerged", 3, passphrase="wrong wrong") for _ in range(4)]
    assert [answer.status_code for answer in answers] == [403, 403, 403, 429]
    assert int(answers[-1].headers["Retry-After"]) >= 1


def test_each_wrong_one_doubles_the_wait_and_others_are_hardly_held_up() -> None:
    attempts, now = Attempts(), 0.0
    waits = []
    for _ in range(16):
        waits.append(attempts.wait("a", now))
        now += waits[-1]
        attempts.failed("a", now)
    assert waits[:3] == [0, 0, 0]
    assert waits[3:13] == [2.0**n for n in range(10)][: len(waits[3:13])]
    assert max(waits) == Attempts.OWN_LONGEST
    assert attempts.wait("b", now) == 0
    for number in range(100):
        attempts.failed(f"phone {number}", now)
    assert 0 < attempts.wait("b", now) <= Attempts.ALL_LONGEST
    assert attempts.wait("a", now + Attempts.FORGOTTEN_AFTER + 1) == 0


def test_rates_let_bursts_through_and_hold_floods() -> None:
    rates = Rates(a_second=2, burst=10)
    waits = [rates.wait("a", 0.0) for _ in range(11)]
    assert waits == [0.0] * 10 + [0.5]
    assert rates.wait("b", 0.0) == 0
    assert rates.wait("a", 0.5) == 0
    assert rates.wait("a", 0.5) > 0


def test_a_flood_is_answered_with_429(shared: Bench) -> None:
    answers = [shared.client.post("/B/x/entries") for _ in range(61)]
    assert [answer.status_code for answer in answers[-2:]] == [404, 429]
    assert answers[-1].headers["Retry-After"] == "1"


@pytest.mark.parametrize("path", ["/", "/nope", "/static/style.css", "/B/27-999-X", "/sign-in"])
def test_every_answer_tells_browsers_what_to_refuse(tmp_path: Path, path: str) -> None:
    headers = Bench(tmp_path).client.get(path).headers
    assert "default-src 'self'" in headers["Content-Security-Policy"]
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cache-Control"] == ("no-cache" if "static" in path else "no-store")


def test_nothing_comes_from_outside_and_nothing_is_inline(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    for path in ("/", "/today", "/T/1", "/sign-in", *(f"/B/{code}" for code in bench.codes)):
        page = bench.client.get(path).text
        assert not re.search(r'(?:src|href|action)="(?:https?:)?//', page)
        assert not re.search(r"<style|<script>|<[^>]+ (?:style|on\w+)=", page)


def test_static_files_are_asked_for_again_by_their_tag(tmp_path: Path) -> None:
    client = Bench(tmp_path).client
    first = client.get("/static/keep.js")
    # RFC 9110, 13.1.2 and 15.4.5.
    again = client.get("/static/keep.js", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert client.get("/static/../app.py").status_code == 404


@pytest.mark.parametrize("path", ["/", "/today", "/T/1", "/static/style.css"])
def test_head_is_get_without_content(tmp_path: Path, path: str) -> None:
    # RFC 9110, 9.3.2.
    bench = Bench(tmp_path)
    got, head = bench.client.get(path), bench.client.head(path)
    assert (head.status_code, head.data, head.content_type) == (got.status_code, b"", got.content_type)


def test_a_method_that_is_not_allowed_is_told_which_are(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    answer = bench.client.delete(f"/B/{bench.onion}")
    # RFC 9110, 15.5.6 and 10.2.1.
    assert answer.status_code == 405
    assert set(answer.headers["Allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}
    assert bench.client.get(f"/B/{bench.onion}/entries").status_code == 405


def test_a_form_that_is_too_large_is_refused(tmp_path: Path) -> None:
    answer = Bench(tmp_path).note("remark", remark="x" * 70_000)
    # RFC 9110, 15.5.14.
    assert answer.status_code == 413


@pytest.mark.parametrize(
    "path",
    ["//evil.example", "https://evil.example", "/\\evil.example", "javascript:alert(1)", "", "/a\r\nX: y", "/ x", "/ü"],
)
def test_signing_in_leads_to_our_own_pages_only(shared: Bench, path: str) -> None:
    assert own_path(path) == "/"
    assert shared.sign_in(next=path).location == "/"


def test_a_path_of_our_own_is_gone_on_to() -> None:
    assert own_path("/B/27-001-7?kind=emerged") == "/B/27-001-7?kind=emerged"
