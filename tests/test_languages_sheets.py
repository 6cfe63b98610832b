"""All sheets and record pages in every language: each word from its file, nothing that meets, nothing over the edge.

Where words come from is shown with a language made up for it: English written in Greek letters, on a plan whose own
names are Cyrillic. What then is in Latin letters did not come from a language file.
"""

import io
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from html_reader import read_html
from language_jobs import greek, job
from pdf_letters import Letters, letters, meeting, outside

from traysheets.base.words import Words, languages, words_for
from traysheets.export.html import render
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Clip, Document, Mark, Page, Place, Text
from traysheets.page.proof import overlaps, prove
from traysheets.page.record import RecordPage
from traysheets.pipeline.outputs import SHEETS
from traysheets.reckon.totals import compare, totals
from traysheets.sheets.aftercare import aftercare_events
from traysheets.sheets.job import Job
from traysheets.sheets.printer_check import printer_pages
from traysheets.sheets.records import record_pages
from traysheets.sheets.summary import summary
from traysheets.trade.papers import PAPERS

OWN = re.compile(
    r"\b\d\d-\d{3}-[0-9A-Z]\b"  # a batch code
    r"|\b(pot|cell|block)[-‑][\d.]+(in)?\b"  # a tray as the plan calls it
    r"|\b[A-Z]{1,2}\d{1,2}\b|^[A-Z]$"  # a cell; a row of cells
    r"|^\w\w$"  # a code on the map
    r"|\bA4\b|\bshift_(right|down)\b|\bmeasured_(across|down)\b|\[printer\]"  # a paper; keys of the plan
)
"""What may stand on a sheet and is no word: it is the same in every language."""


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("languages")


def texts(marks: tuple[Mark, ...]) -> Iterator[str]:
    """Every text drawn, also inside stamps and clips."""
    for mark in marks:
        if isinstance(mark, Text):
            yield mark.text
        elif isinstance(mark, Clip):
            yield from texts(mark.marks)
        elif isinstance(mark, Place):
            yield from texts(mark.stamp.marks)


def not_from_a_file(said: Iterator[str] | list[str]) -> set[str]:
    """The texts that hold Latin letters in something else than a code or a name that is no word."""
    return {text for text in said if re.search("[A-Za-z]", OWN.sub("", text))}


# ---- every word comes from a language file


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("sheet", SHEETS)
def test_every_word_on_a_sheet_comes_from_a_language_file(sheet: str, units: str, folder: Path) -> None:
    pages = list(SHEETS[sheet].pages(job(folder, greek(), units=units)))
    said = [text for page in pages for text in (page.title, *texts(page.marks))]
    assert len(said) > 20
    assert not_from_a_file(said) == set()


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_every_word_of_the_printer_page_comes_from_a_language_file(units: str) -> None:
    said = [text for page in printer_pages(PAPERS["a4"], greek(), units) for text in texts(page.marks)]
    assert not_from_a_file(said) == set()


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_every_word_of_a_record_page_comes_from_a_language_file(units: str, folder: Path) -> None:
    for record in record_pages(job(folder, greek(), units=units)):
        assert not_from_a_file(html_texts(record)) == set()


class Said(HTMLParser):
    """What a reader of a page sees or hears: its text, piece by piece, and the attributes that are told."""

    def __init__(self) -> None:
        super().__init__()
        self.pieces: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.pieces += [value or "" for name, value in attrs if name in ("alt", "title", "aria-label", "placeholder")]

    def handle_data(self, data: str) -> None:
        self.pieces.append(data.strip())


def html_texts(record: RecordPage) -> list[str]:
    said = Said()
    said.feed(render(record))
    return said.pieces


def test_every_word_of_the_calendar_comes_from_a_language_file(folder: Path) -> None:
    events = list(aftercare_events(job(folder, greek())))
    said = [text for event in events for text in (event.title, event.where, event.kind, *event.text.split("\n"))]
    assert not_from_a_file(said) == set()


def test_every_word_of_the_summary_comes_from_a_language_file(folder: Path) -> None:
    made = job(folder, greek())
    in_all = totals(made.batches, (tray.kind for tray in made.trays))
    assert made.plan.compare
    tables = summary(made, in_all, compare(made.batches, made.plan.compare, made.plan.pace), ())
    said = [text for table in tables for row in (table.headings, *table.rows) for text in (table.title, *row)]
    assert not_from_a_file([re.sub(r"\d{4}-W\d\d", "", text) for text in said]) == set()


def test_a_word_that_comes_from_elsewhere_is_seen() -> None:
    own = ["27-001-K", "A1–B12", "Ζίμνιη", "3 pot-18", "B", "LW", "τρέι 3: C5, D6", ""]
    assert not_from_a_file([*own, "Tray 3", "10 mm"]) == {"Tray 3", "10 mm"}


# ---- every sheet in every language


def pages_of(sheet: str, made: Job) -> list[Page]:
    return list(SHEETS[sheet].pages(made))


def both(code: str) -> tuple[Words, Words]:
    """A language, with German beside it on the guide, whose words are long; English beside German."""
    return words_for(code), words_for("en" if code == "de" else "de")


def written(pages: list[Page]) -> list[Letters]:
    """The pages as another reader sees them in the finished file."""
    file = io.BytesIO()
    write_pdf(Document("Trial", iter(pages)), file)
    return list(letters(file.getvalue()))


def faults(pages: list[Page]) -> list[object]:
    """What is wrong with pages: by the marks they are made of, and by the letters in the file."""
    found: list[object] = []
    for page, seen in zip(pages, written(pages), strict=True):
        prove(page)
        found += overlaps(page)
        found += outside(seen)
        found += meeting(seen)
    return found


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("language", languages())
def test_no_texts_meet_and_none_is_cut_off(language: str, sheet: str, folder: Path) -> None:
    assert faults(pages_of(sheet, job(folder, *both(language)))) == []


@pytest.mark.parametrize("language", languages())
def test_inches_have_room_as_well(language: str, folder: Path) -> None:
    made = job(folder, *both(language), units="inch")
    for sheet in ("maps", "overview"):
        assert faults(pages_of(sheet, made)) == []


@pytest.mark.parametrize("language", languages())
def test_trays_over_several_pages_have_room(language: str, folder: Path) -> None:
    made = job(folder, words_for(language))
    assert faults(pages_of("maps", replace(made, choices=replace(made.choices, scale="1:1")))) == []


@pytest.mark.parametrize("language", languages())
def test_the_printer_page_has_room(language: str) -> None:
    for paper, units in (("a4", "metric"), ("letter", "inch"), ("a5", "metric")):
        assert faults(list(printer_pages(PAPERS[paper], words_for(language), units))) == []


@pytest.mark.parametrize("stock", ["a4-65", "letter-80", "roll-25x54", "a4-21", "stake-16x127-a4"])
@pytest.mark.parametrize("language", languages())
def test_sticks_of_all_shapes_have_room(language: str, stock: str, folder: Path) -> None:
    assert faults(pages_of("sticks", job(folder, words_for(language), stock=stock))) == []


@pytest.mark.parametrize("language", languages())
def test_record_pages_tell_their_language(language: str, folder: Path) -> None:
    for record in record_pages(job(folder, words_for(language))):
        page = read_html(render(record)).all("html")[0]
        assert (page.attributes["lang"], page.attributes["dir"]) == (language, "ltr")


@pytest.mark.parametrize("key", ["maps.tray", "sow.clump", "titles.guide"])
def test_languages_differ(key: str) -> None:
    said: Callable[[str], str] = lambda code: words_for(code)(key, n=25, number="3")  # noqa: E731
    assert len({said(code) for code in languages()}) >= len(languages()) - 1


def test_meeting_and_outside_see_what_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a page that would never be written: its own proof is left out here."""
    monkeypatch.setattr("traysheets.export.pdf.prove", lambda page, where: None)
    page = Page(100, 50, (Text(10, 20, "under"), Text(12, 20.5, "over"), Text(80, 40, "beyond")), margin_mm=0)
    seen = written([page])[0]
    assert {it.character for pair in meeting(seen) for it in pair} >= set("ndvr")
    assert outside(seen) == []
    assert "beyond".endswith("".join(it.character for it in outside(replace(seen, width_mm=88.0))))
    assert outside(replace(seen, width_mm=88.0))
