"""Cautions stand where the work is, in the same words: treated seed wherever seed is handled, all else by the work.

What is cautioned of is common practice, no source; but that treated seed is neither food nor feed is what its label has
to say in the USA (7 CFR 201.31a, from memory).
"""

import re
from collections.abc import Iterable

import pytest
from list_jobs import job
from plans import BEET, CELL_72, ONION, SATURDAY, TOMATO, sowing

from traysheets.base.words import Words, languages, words_for
from traysheets.page.marks import Page
from traysheets.page.reach import text_boxes
from traysheets.pipeline.outputs import SHEETS
from traysheets.plan.model import Repeat
from traysheets.sheets import cautions
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.records import record_pages
from traysheets.sheets.steps import Task

TREATED = sowing(ONION, cells=8, seeds_per_cell=25, variety="Dressed", treated=True, soil_temp_c=20.0)
PLAIN = sowing(BEET, "stations", cells=4, seeds_per_station=2, variety="Dusky", soil_temp_c=15.0, code="DU")

HANDLED = ("maps", "guide", "seeds", "logs")
"""Sheets in hand while seed is: they bear the mark and say what to do. A stick has room for the mark alone."""

in_every_language = pytest.mark.parametrize("language", languages())


def said(pages: Iterable[Page]) -> str:
    """All that pages say, lines put together again."""
    return " ".join(" ".join(text for text, _ in text_boxes(page.marks)) for page in pages)


def has(text: str, part: str) -> bool:
    """Whether a text says this, however its lines are broken."""
    return re.sub(r"\s", "", part).lower() in re.sub(r"\s", "", text).lower()


def signs(words: Words) -> tuple[str, ...]:
    return tuple(words(f"cautions.{key}") for key in ("sign", "sign_short", "badge", "badge_short"))


@in_every_language
@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
@pytest.mark.parametrize("name", HANDLED)
def test_treated_seed_is_marked_and_cautioned_wherever_it_is_handled(name: str, paper: str, language: str) -> None:
    made = job(TREATED, PLAIN, language=language, paper=paper)
    shown = said(SHEETS[name].pages(made))
    assert any(has(shown, sign) for sign in signs(made.words))
    assert has(shown, made.words("cautions.treated_how"))
    assert has(shown, made.words("cautions.follow"))


@in_every_language
def test_treated_seed_is_marked_on_its_sticks(language: str) -> None:
    made = job(TREATED, PLAIN, language=language)
    assert has(said(SHEETS["sticks"].pages(made)), made.words("cautions.sign"))


@in_every_language
@pytest.mark.parametrize("name", [*HANDLED, "sticks"])
def test_other_seed_is_not(name: str, language: str) -> None:
    made = job(PLAIN, language=language)
    shown = said(SHEETS[name].pages(made))
    assert not any(has(shown, sign) for sign in signs(made.words))
    assert not has(shown, made.words("cautions.treated_how"))


def test_the_sheets_of_one_batch_are_not_taken_for_those_of_another() -> None:
    """Of two batches on a day the one is treated: its own pages say so, and no other's."""
    made = job(TREATED, PLAIN)
    sheets = {page.title: said([page]) for page in SHEETS["logs"].pages(made)}
    assert has(sheets["27-001-K Dressed"], "treated seed: wear gloves")
    assert not has(sheets["27-002-9 Dusky"], "treated")


@in_every_language
def test_the_records_of_treated_seed_and_its_trays_say_so(language: str) -> None:
    made = job(TREATED, sowing(TOMATO, "single", cells=6, tray=CELL_72, variety="Ember", code="EM"), language=language)
    pages = {page.path: page for page in record_pages(made)}
    (caution,) = pages["B/27-001-K"].cautions
    assert caution.heading == made.words("cautions.treated")
    assert has(caution.text, made.words("cautions.treated_how"))
    assert caution.text.endswith(made.words("cautions.follow"))
    assert [path for path, page in pages.items() if page.cautions] == ["B/27-001-K", "T/1"]


# ---- what is met in which work


def test_each_work_has_its_hazards() -> None:
    assert cautions.met({Task.THIN}) == (Hazard.KNIVES, Hazard.WATER)
    assert cautions.met({Task.TRIM}) == (Hazard.KNIVES, Hazard.WATER)
    assert cautions.met({Task.EMERGE}) == (Hazard.WATER,)
    assert cautions.met({Task.HARDEN_OFF}) == (Hazard.LIFTING, Hazard.WATER)
    assert cautions.met({Task.PLANT_OUT}) == (Hazard.MIX, Hazard.LIFTING, Hazard.WATER)
    assert cautions.met(()) == ()


def test_sowing_treated_seed_comes_first() -> None:
    made = job(TREATED)
    assert cautions.met({Task.SOW}, made.batches) == (Hazard.TREATED, Hazard.MIX, Hazard.LIFTING, Hazard.WATER)


@in_every_language
def test_the_aftercare_list_cautions_of_the_work_it_holds(language: str) -> None:
    made = job(PLAIN, language=language)
    shown = said(SHEETS["aftercare"].pages(made))
    for hazard in (Hazard.MIX, Hazard.KNIVES, Hazard.LIFTING, Hazard.WATER):
        assert has(shown, cautions.line(hazard, made.words))
    assert has(shown, made.words("cautions.follow"))


def test_a_list_without_knives_does_not_warn_of_them() -> None:
    shown = said(SHEETS["aftercare"].pages(job(sowing(TOMATO, "single", cells=6, seeds_per_cell=1, tray=CELL_72))))
    assert not has(shown, "Knives")
    assert has(shown, "heat mats")


@in_every_language
@pytest.mark.parametrize("name", ["guide", "seeds", "logs"])
def test_every_day_is_cautioned_of_potting_mix(name: str, language: str) -> None:
    """A sowing on each of three days: three first pages, lists and record sheets."""
    made = job(sowing(ONION, cells=2, seeds_per_cell=25, repeat=Repeat(14, 3), sow=SATURDAY), language=language)
    pages = SHEETS[name].pages(made)
    assert len([page for page in pages if has(said([page]), made.words("cautions.mix_how"))]) == 3


@in_every_language
def test_the_guide_cautions_of_all_that_is_met_in_sowing(language: str) -> None:
    made = job(TREATED, language=language)
    first = next(iter(SHEETS["guide"].pages(made)))
    for hazard in cautions.met({Task.SOW}, made.batches):
        assert has(said([first]), cautions.advice(hazard, made.words))


# ---- the words


@in_every_language
def test_a_caution_says_what_and_how_in_a_line(language: str) -> None:
    words = words_for(language)
    for hazard in Hazard:
        line = cautions.line(hazard, words)
        assert line.startswith(cautions.title(hazard, words))
        assert line.endswith(".")
        assert cautions.advice(hazard, words)[0].isupper()


def test_the_line_in_english() -> None:
    words = words_for("en")
    assert cautions.line(Hazard.TREATED, words) == (
        "Treated seed: wear gloves, never food or feed, keep from children, wash hands after."
    )
    assert cautions.advice(Hazard.KNIVES, words) == "Cut away from yourself, close them after use."
    assert words("cautions.follow") == "Follow the packet, the safety sheet and local rules."
