"""No words of ours are ever cut: all sheets on all papers in all languages, and the guide in every two of them.

The plans' own names are Cyrillic, so that an ellipsis after any other letter or figure tells that words or a batch code
gave way. Names may be cut where they are long; words never, however long the names beside them.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import permutations
from pathlib import Path

import guide_jobs
import language_jobs
import pytest

from traysheets.arrange.arrange import arrange
from traysheets.base.words import languages, words_for
from traysheets.page.lettering import ELLIPSIS
from traysheets.page.marks import Page, Text
from traysheets.pipeline.outputs import SHEETS
from traysheets.plan.read import read_plan
from traysheets.reckon.reckon import reckon
from traysheets.sheets.job import Job
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS
from traysheets.trade.stocks import built_in_stocks
from traysheets.trade.trays import built_in_trays

NAME = "Зимний широколистный Щ"
"""Wide, and about as long as names of varieties get."""

PAGES = [sheet for sheet in SHEETS if sheet != "sticks"]
"""The sheets whose paper may be chosen."""


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cut")


def cut(pages: Iterable[Page]) -> set[str]:
    """The texts that end in an ellipsis after something else than a letter of a name."""
    said = {text.text for page in pages for text in guide_jobs.texts(page) if ELLIPSIS in text.text}
    return {text for text in said if not re.search(rf"[\u0400-\u04ff] ?{ELLIPSIS}$", text)}


def on(made: Job, paper: str) -> Job:
    return replace(made, choices=replace(made.choices, paper=PAPERS[paper]))


def long_named(folder: Path, language: str, units: str) -> Job:
    """The sample with names, lots and places that are long."""
    made = language_jobs.job(folder, words_for(language), units=units)
    batches = tuple(
        replace(
            batch,
            sowing=replace(
                batch.sowing, variety=f"{NAME} {batch.sowing.code}", crop_name=NAME, lot=NAME * 2, place=NAME * 2
            ),
        )
        for batch in made.reckoned.batches
    )
    plan = replace(made.plan, title=NAME * 3, grower=NAME * 2)
    reckoned = replace(made.reckoned, plan=plan, batches=batches)
    return replace(made, reckoned=reckoned)


def in_all_trays(folder: Path, language: str, units: str) -> Job:
    """A sowing in every kind of tray there is, the cells of which are numbered in the hundreds in some."""
    rows = [
        f'[[sowing]]\ncrop = "{crop}"\nvariety = "Янтарь"\nsow = 2027-03-06\ntray = "{tray}"\ncells = 1\n{how}'
        for tray in built_in_trays()
        for crop, how in (("Onion", "seeds_per_cell = 112"), ("Lettuce", 'cover = "0 mm"'))
    ]
    file = folder / f"trays-{language}.toml"
    file.write_text("\n".join(('[plan]\ntitle = "Весна"\nseason = 2027', *rows)), encoding="utf-8")
    plan = replace(read_plan(file), units=units)
    reckoned = reckon(plan)
    codes = {batch.index: f"27-{batch.index + 1:03}-K" for batch in reckoned.batches}
    made = language_jobs.job(folder, words_for(language), units=units)
    return replace(made, reckoned=reckoned, arranged=arrange(reckoned), codes=codes, noted={})


def everywhere(made: Job, sheets: Iterable[str] = PAGES) -> Iterator[tuple[str, str, set[str]]]:
    for paper in PAPERS:
        for sheet in sheets:
            if found := cut(SHEETS[sheet].pages(on(made, paper))):
                yield sheet, paper, found


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("language", languages())
def test_no_words_are_cut(language: str, units: str, folder: Path) -> None:
    assert list(everywhere(language_jobs.job(folder, words_for(language), units=units))) == []


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("language", languages())
def test_no_words_are_cut_beside_long_names(language: str, units: str, folder: Path) -> None:
    assert list(everywhere(long_named(folder, language, units))) == []


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("language", languages())
def test_no_words_are_cut_whatever_the_tray(language: str, units: str, folder: Path) -> None:
    assert list(everywhere(in_all_trays(folder, language, units), ["maps", "templates", "logs", "overview"])) == []


@pytest.mark.parametrize(("language", "other"), list(permutations(languages(), 2)))
def test_no_words_of_two_languages_are_cut_in_the_guide(language: str, other: str, folder: Path) -> None:
    for paper, units in (("a5", "metric"), ("a5", "inch"), ("a4", "inch")):
        made = language_jobs.job(folder, words_for(language), words_for(other), units=units)
        assert cut(SHEETS["guide"].pages(on(made, paper))) == set()


@pytest.mark.parametrize("language", languages())
def test_no_words_are_cut_at_full_size(language: str, folder: Path) -> None:
    made = long_named(folder, language, "inch")
    assert list(everywhere(replace(made, choices=replace(made.choices, scale="1:1")), ["maps"])) == []


@pytest.mark.parametrize("stock", built_in_stocks())
@pytest.mark.parametrize("language", languages())
def test_no_words_are_cut_on_sticks(language: str, stock: str, folder: Path) -> None:
    assert cut(SHEETS["sticks"].pages(language_jobs.job(folder, words_for(language), stock=stock))) == set()


@pytest.mark.parametrize("language", languages())
def test_no_words_of_the_printer_page_are_cut(language: str) -> None:
    for paper in PAPERS.values():
        for units in ("metric", "inch"):
            assert cut(printer_pages(paper, words_for(language), units)) == set()


def test_cut_words_are_seen() -> None:
    page = Page(100, 100, tuple(Text(0, i, text) for i, text in enumerate(("Alvéol…", "Зимн…", "27-00…", "Cells"))))
    assert cut([page]) == {"Alvéol…", "27-00…"}
