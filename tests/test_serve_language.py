"""The pages speak the reader's language, all of it: none of their words stands anywhere but in the language files.

Shown with a language made up for it, English in Greek letters: what is left in Latin letters is no word of the pages.
"""

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from language_jobs import greek
from serve_jobs import FIRST, NOON, PLAN, Bench

import traysheets.serve
from traysheets.base.words import languages, words_for
from traysheets.serve import tongue
from traysheets.serve.speech import Speech, speech_for

PACKAGE = Path(traysheets.serve.__file__).parent
TEMPLATES = sorted((PACKAGE / "templates").glob("*.html"))
SAID_BY = frozenset({"aria-label", "aria-description", "title", "alt", "placeholder", "label"})
"""Attributes that are read out or shown."""


class Texts(HTMLParser):
    """The texts of a page that are in its own language: not names, codes, or what is marked as of another one."""

    VOID = frozenset({"meta", "link", "input", "br"})

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self._open: list[bool] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        apart = tag in ("bdi", "code", "script", "style", "title", "svg") or ("lang" in given and tag != "html")
        self.found += [str(value) for name, value in attrs if name in SAID_BY and not any(self._open)]
        if tag == "div" and "data-words" in given:
            self.found += json.loads(given["data-words"] or "{}").values()
        if tag not in self.VOID:
            self._open.append(apart)

    def handle_endtag(self, tag: str) -> None:
        if tag not in self.VOID:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        if not any(self._open):
            self.found.append(data)


# ---- which language is spoken


@pytest.mark.parametrize(
    ("asked", "spoken"),
    [
        ("", "en"),
        ("de", "de"),
        ("pt-BR,pt;q=0.9,en;q=0.5", "pt"),
        ("fi, fr;q=0.3", "fr"),
        ("fi", "en"),
        ("*", "en"),
        ("de;q=0, es", "es"),
        ("\x00;;;,,q=", "en"),
    ],
)
def test_the_browser_asks_for_its_language(tmp_path: Path, asked: str, spoken: str) -> None:
    """RFC 9110, 12.5.4."""
    answer = Bench(tmp_path).client.get("/today", headers={"Accept-Language": asked} if asked else {})
    assert f'<html lang="{spoken}" dir="ltr">' in answer.text
    assert answer.headers["Content-Language"] == spoken
    assert "Accept-Language" in answer.headers["Vary"]


@pytest.mark.parametrize("book_alone", [False, True])
def test_who_asks_for_none_is_spoken_to_as_the_sheets_are(tmp_path: Path, book_alone: bool) -> None:
    text = PLAN.replace("season", 'language = "fr"\nseason')
    assert '<html lang="fr"' in Bench(tmp_path, plan_text=text).client.get("/").text
    alone = Bench(tmp_path, plan_text=text, print_text=text, book_alone=book_alone)
    assert '<html lang="fr"' in alone.client.get("/").text


def test_a_choice_is_remembered_and_leads_back(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    way = re.search(r'href="(/language\?to=es&amp;next=[^"]+)"', bench.client.get("/find?q=onion&x=1").text)
    assert way
    answer = bench.client.get(way[1].replace("&amp;", "&"))
    assert (answer.status_code, answer.location) == (303, "/find?q=onion&x=1")
    assert all(part in answer.headers["Set-Cookie"] for part in ("HttpOnly", "SameSite=Lax", "Max-Age=31536000"))
    page = bench.client.get("/today", headers={"Accept-Language": "de"}).text
    assert '<html lang="es"' in page
    assert 'lang="es" hreflang="es" dir="ltr" aria-current="true">Español<' in page


@pytest.mark.parametrize("query", ["to=xx", "", "to=../en&next=//evil.example", "to=de&next=https://evil.example"])
def test_a_choice_leads_nowhere_else(tmp_path: Path, query: str) -> None:
    answer = Bench(tmp_path).client.get(f"/language?{query}")
    assert (answer.status_code, answer.location) == (303, "/")
    assert ("Set-Cookie" in answer.headers) == ("to=de" in query)


def test_a_closed_book_may_be_asked_for_its_language(tmp_path: Path) -> None:
    bench = Bench(tmp_path, network=True, closed=True)
    assert bench.client.get("/language?to=de&next=/sign-in").status_code == 303
    assert "Kennwort" in bench.client.get("/sign-in").text


@pytest.mark.parametrize("language", languages())
def test_an_entry_goes_the_whole_way_in_every_language(tmp_path: Path, language: str) -> None:
    bench, say = Bench(tmp_path), speech_for(language)
    bench.client.set_cookie(tongue.COOKIE, language)
    saved = bench.client.get(bench.note("emerged", 152).location).text
    what = say("records.noted_number", what=say("records.noted_emerged"), n=152)
    assert say("bench.saved_what", what=what, day=NOON.date()) in saved
    count = bench.site.accounts()[0].count
    assert count
    assert say("bench.count_in_line", up=152, expected=160, low=count.low, high=count.high) in saved
    bench.note("sold", 7)
    doubted = bench.note("lost", 5)
    assert doubted.status_code == 409
    assert say("bench.save_all_the_same") in doubted.text
    assert say("bench.doubt") in doubted.text


def test_what_the_plan_says_is_drawn_in_the_language_of_the_page(tmp_path: Path) -> None:
    bench, german = Bench(tmp_path), words_for("de")
    page = bench.client.get(f"/B/{bench.onion}", headers={"Accept-Language": "de"}).text
    assert german("records.emerge_clump", n=160, seeds=200) in page
    assert german("records.numbers") in page
    assert "seeds" not in page.partition("<main")[2]


def test_of_a_book_alone_what_was_printed_is_marked_as_of_its_language(tmp_path: Path) -> None:
    bench = Bench(tmp_path, book_alone=True)
    page = bench.client.get(f"/B/{bench.onion}", headers={"Accept-Language": "de"}).text
    assert re.search(r'<bdi lang="en">\s*25 seeds, scattered, in each of 8 cells\s*</bdi>', page)
    assert "Auflaufen prüfen" in page


# ---- no word stands elsewhere


def literal_words(template: str) -> list[str]:
    """What a reader would see of a template that comes from no language file."""
    bare = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", template, flags=re.DOTALL)
    return [text.strip() for text in Texts(bare).found if re.search(r"[^\W\d_]", text)]


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: str(path.stem))
def test_no_template_holds_a_word(template: Path) -> None:
    assert literal_words(template.read_text(encoding="utf-8")) == []


def test_the_check_sees_words() -> None:
    wrong = '<p>{{ x }} late</p><a title="{{ y }} here" href="/x">{% if a %}Go{% endif %}</a><input placeholder="Name">'
    assert literal_words(wrong) == ["late", "here", "Go", "Name"]


def test_the_script_holds_no_word() -> None:
    code = re.sub(r"(?m)//.*$", "", (PACKAGE / "static" / "keep.js").read_text(encoding="utf-8"))
    texts = [next(filter(None, found)) for found in re.findall(r'"([^"\n]*)"|`([^`]*)`', code) if any(found)]
    said = [text for text in texts if re.search(r"[a-z]{2,} [a-z]{2,}|^[A-Z][a-z]+", text)]
    assert said == ["use strict"]


@pytest.fixture
def in_greek(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    monkeypatch.setattr(tongue, "speech_for", lambda _: Speech(greek()))
    return Bench(tmp_path, network=True, book_alone=True)


def pages(bench: Bench) -> Iterator[tuple[str, str]]:
    """Every page in every state, by what it is."""
    client, batch = bench.client, f"/B/{bench.onion}"
    for path in ("/", "/today", "/T/1", batch, f"/B/{bench.codes[1]}", "/sign-in", "/nope", "/find?q=zzz", "/T/9"):
        yield path, client.get(path).text
    yield "signed out", bench.note("sold", 1).text
    yield "wrong pass phrase", bench.sign_in("wrong wrong").text
    bench.sign_in()
    for kind, number in (
        ("emerged", 90),
        ("sold", 5),
        ("lost", 5),
        ("remark", 5),
        ("sold", "many"),
        ("", ""),
        ("sold", ""),
    ):
        answer = bench.note(kind, number)
        yield f"{kind} {number}", client.get(answer.location).text if answer.location else answer.text
    yield "tomorrow", bench.note("sold", 1, day="2027-03-17").text
    yield "some day", bench.note("sold", 1, day="2027-04-17").text
    yield "long ago", bench.note("sold", 1, day="2020-03-17").text
    yield "too much", bench.note("sold", 10**12, remark="x" * 3000, who="\x01" * 70).text
    yield "no key", bench.note("sold", 1, key="x").text
    for path in ("/", "/today", batch, f"{batch}/entries/{FIRST}", "/find?q=onion", "/find?q=27-001-X", "/find?q=T/9"):
        yield f"signed in, {path}", client.get(path).text
    yield "foreign", client.post(f"{batch}/entries", headers={"Origin": "http://evil.example"}).text
    yield "method", client.delete(batch).text
    yield "no token", client.post(f"{batch}/entries", data={"kind": "sold"}).text
    yield "large", bench.note("remark", remark="x" * 70_000).text
    bench.book.unlink()
    yield "no book", client.get("/").text


def test_every_word_of_every_page_comes_from_the_language_file(in_greek: Bench) -> None:
    names = re.compile(
        r"\b(AB|DR|LA|[A-C]\d+|Amber|Vault|Dusky|Round|b|zzz|onion|x+|EL|[TB]/\w+|many|plan)\b|27-\d+-\w"
    )
    left = {}
    for what, page in pages(in_greek):
        assert 'lang="el"' in page, what
        found = [names.sub("", text) for text in Texts(page).found]
        if words := [text.strip() for text in found if re.search(r"[A-Za-z]{2,}", text)]:
            left[what] = words
    assert left == {}
