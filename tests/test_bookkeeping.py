"""The book put to use: counts against what was printed, what a lot has shown, what to sow again; and the next plan."""

import json
import sqlite3
from dataclasses import replace
from datetime import date
from pathlib import Path

import books
import pytest
from books import CLUMP, SINGLE, STATIONS, add, make_book
from scipy.stats import binom

from traysheets.base.errors import BookError, DoubtfulEntry, PlanError
from traysheets.base.words import words_for
from traysheets.book.diary import read_histories
from traysheets.book.model import Wanted
from traysheets.bookkeeping import Account, account, accounts, book_beside, counts_in, lots_seen
from traysheets.pipeline.checking import Checked, check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.reckon.model import Source
from traysheets.reckon.seen import Line, Seen, lot_key
from traysheets.telling import sow_again

COUNTED = date(2027, 3, 21)


def again_words(one: Account) -> str:
    return sow_again(one.again, one.count.up, words_for("en")) if one.again and one.count else ""


def printed(at: int, **facts: object) -> list[Wanted]:
    """The batches, one of them printed with other facts."""
    every = books.batches()
    every[at] = replace(every[at], facts=json.dumps({**json.loads(every[at].facts), **facts}))
    return every


# ---- a count against what was printed


def test_before_anybody_counted_there_is_nothing_to_say(file: Path) -> None:
    for one in accounts(file, COUNTED):
        assert (one.count, one.again) == (None, None)


@pytest.mark.parametrize(
    ("code", "places", "filled", "up"),
    [(CLUMP, 200, 0.85, 150), (STATIONS, 30, 1 - 0.3**2, 20), (SINGLE, 72, 0.9, 58)],
)
def test_a_count_is_set_against_the_places_printed(file: Path, code: str, places: int, filled: float, up: int) -> None:
    add(file, "emerged", up, batch=code)
    count = account(file, code, COUNTED).count
    assert count is not None
    assert (count.up, count.places, count.expected) == (up, places, pytest.approx(places * filled))
    assert count.chance == pytest.approx(binom.cdf(up, places, filled))
    assert count.line is Line.LOW


def test_a_count_before_the_last_day_of_emergence_is_early(file: Path) -> None:
    add(file, "emerged", 20, "2027-03-19")
    one = account(file, CLUMP, COUNTED)
    assert one.count is not None
    assert (one.count.line, one.again) == (Line.EARLY, None)


def test_cells_really_sown_are_what_is_counted_in(file: Path) -> None:
    add(file, "sown", 6, "2027-03-06")
    add(file, "emerged", 127)
    count = account(file, CLUMP, COUNTED).count
    assert count is not None
    assert (count.places, count.line) == (150, Line.IN_LINE)


def test_no_cell_sown_is_no_count(file: Path) -> None:
    add(file, "sown", 0, "2027-03-06")
    add(file, "emerged", 0)
    one = account(file, CLUMP, COUNTED)
    assert (one.count, one.standing.cells) == (None, 0)


def test_where_no_germination_was_kept_nothing_is_said(tmp_path: Path) -> None:
    file = tmp_path / "b.sqlite"
    make_book(file, [replace(one, facts="{}") for one in books.batches()])
    add(file, "emerged", 100)
    one = account(file, CLUMP, COUNTED)
    assert (one.count, one.again, one.steps, one.standing.plants) == (None, None, (), 100)


def test_all_accounts_are_those_of_each(file: Path) -> None:
    add(file, "emerged", 60)
    add(file, "emerged", 20, batch=STATIONS)
    every = accounts(file, COUNTED)
    assert every == tuple(account(file, code, COUNTED) for code in (CLUMP, STATIONS, SINGLE))


# ---- what to sow again


def test_a_poor_stand_is_made_good_with_what_the_lot_has_shown(file: Path) -> None:
    add(file, "emerged", 100)
    one = account(file, CLUMP, COUNTED)
    assert one.again is not None
    assert one.again.missing == 63
    cells = one.again.cells
    assert cells is not None
    assert binom.sf(62, cells * 25, 0.5) >= 0.9 > binom.sf(62, (cells - 1) * 25, 0.5)
    assert again_words(one) == (
        f"63 plants short of the 163 planned for: sow {cells} cells ({cells * 25} seeds) more; there is still time."
    )


def test_it_is_too_late_when_planting_out_ends_before_they_are_ready(file: Path) -> None:
    add(file, "emerged", 100)
    assert account(file, CLUMP, date(2027, 4, 3)).again == account(file, CLUMP, COUNTED).again, "56 days are left"
    one = account(file, CLUMP, date(2027, 4, 4))
    assert one.again is not None
    assert one.again.days_short == 1
    assert "more is 1 day too late for planting out in time." in again_words(one)


def test_of_dead_seed_another_lot_is_sown(file: Path) -> None:
    add(file, "emerged", 0)
    words = again_words(account(file, CLUMP, COUNTED))
    assert words == "163 plants short of the 163 planned for; of this seed none came up, so sow another lot."


def test_a_stand_in_line_needs_no_more_unless_plants_were_wanted(tmp_path: Path, file: Path) -> None:
    add(file, "emerged", 162)
    assert account(file, CLUMP, COUNTED).again is None
    wanted = tmp_path / "wanted.sqlite"
    make_book(wanted, printed(0, plants_wanted=165))
    add(wanted, "emerged", 162)
    again = account(wanted, CLUMP, COUNTED).again
    assert again is not None
    assert (again.missing, again.cells) == (3, 1)


# ---- lots, and the next plan

PLAN = """
[plan]
title = "Spring"
season = 2027

[[sowing]]
crop = "Onion"
variety = "Amber Vault"
method = "clump"
seeds_per_cell = 25
cells = 8
tray = "pot-18"
sow = 2027-03-06
lot = "HB-1"
soil_temp = "18 C"
germination = "90 %"

[[sowing]]
crop = "Onion"
variety = "Amber Vault"
method = "clump"
seeds_per_cell = 25
cells = 4
tray = "pot-18"
sow = 2027-03-13
lot = "HB-1"
soil_temp = "18 C"
germination = "90 %"
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan that was made, of which nothing was counted yet."""
    file = tmp_path / "spring.toml"
    file.write_text(PLAN, encoding="utf-8")
    make(Options(plan=file, only=("records",)), books.PRINTED)
    return file


def count(plan: Path, *ups: int, day: str = "2027-04-10") -> None:
    for code, up in zip((CLUMP, STATIONS), ups, strict=False):
        add(book_beside(plan), "emerged", up, day, batch=code)


PACKET = 'germination = "90 %"'
SEEN = 'germination = "seen"'


def next_year(plan: Path, germination: str) -> Checked:
    """The plan of the year after, of the same seed, checked with the same book."""
    following = plan.with_name("next.toml")
    following.write_text(PLAN.replace("2027", "2028").replace(PACKET, germination), encoding="utf-8")
    return check(Options(plan=following, book=book_beside(plan)), date(2028, 1, 5))


def about_lots(checked: Checked) -> list[str]:
    return [notice.text for notice in checked.notices if " lot " in notice.text]


def lot(plan: Path) -> Seen | None:
    return lots_seen(read_histories(book_beside(plan))).get(lot_key("onion", "AMBER VAULT", "hb-1"))


def test_a_lot_is_pooled_over_its_batches(plan: Path) -> None:
    assert lot(plan) is None
    count(plan, 170, 76)
    found = lot(plan)
    assert found is not None
    assert (found.words, found.seeds) == ("82 % seen in 2 batches", 300)


def test_an_early_count_shows_nothing_of_a_lot(plan: Path) -> None:
    count(plan, 20, 10, day="2027-03-08")
    assert lot(plan) is None
    assert counts_in(read_histories(book_beside(plan))) == {}


def test_a_check_opens_the_book_once_and_leaves_it(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So all that is said of it is of one moment, and a large book is read in the time it takes to read it once."""
    count(plan, 170)
    before, connect, opened = book_beside(plan).read_bytes(), sqlite3.connect, []
    monkeypatch.setattr(sqlite3, "connect", lambda *how, **more: opened.append(how) or connect(*how, **more))
    assert about_lots(next_year(plan, PACKET))
    assert len(opened) == 1
    assert book_beside(plan).read_bytes() == before


def test_check_says_where_a_lot_differs_from_the_packet_once(plan: Path) -> None:
    assert about_lots(next_year(plan, PACKET)) == []
    count(plan, 170, 76)
    assert about_lots(next_year(plan, PACKET)) == [
        "Onion 'Amber Vault': lot HB-1: 82 % seen in 2 batches, packet says 90 %;"
        ' germination = "seen" takes what was seen'
    ]


def test_check_says_nothing_of_a_lot_that_does_as_its_packet_says(plan: Path) -> None:
    count(plan, 175, 88)
    assert about_lots(next_year(plan, PACKET)) == []


def test_check_says_where_a_figure_was_only_assumed(plan: Path) -> None:
    count(plan, 180, 88)
    (said,) = about_lots(next_year(plan, ""))
    assert said.endswith('lot HB-1: 89 % seen in 2 batches, 70 % is assumed; germination = "seen" takes what was seen')


def test_a_plan_that_asks_is_reckoned_with_what_was_seen(plan: Path) -> None:
    count(plan, 170, 76)
    checked = next_year(plan, SEEN)
    for batch in checked.job.batches:
        assert (batch.germination.value, batch.germination.source) == (pytest.approx(0.82), Source.SEEN)
        assert batch.germination.origin == "82 % seen in 2 batches, 77 to 86 %"
        assert not batch.germination_assumed
    assert checked.job.batches[0].plants_expected == pytest.approx(164)
    assert about_lots(checked) == []


def test_what_came_up_of_a_sowing_never_changes_what_was_sown(plan: Path) -> None:
    """Printed again, the first sowing is as it was; the later one has learnt from it, not from itself."""
    plan.write_text(PLAN.replace(PACKET, SEEN), encoding="utf-8")
    count(plan, 120, 90)
    first, later = check(Options(plan=plan), books.PRINTED).job.batches
    assert (first.germination.value, first.germination.source) == (0.7, Source.LEGAL_MINIMUM)
    assert (later.germination.value, later.germination.source) == (pytest.approx(0.6), Source.SEEN)


def test_a_plan_that_asks_in_vain_is_told_what_is_taken_instead(plan: Path) -> None:
    checked = next_year(plan, SEEN)
    assert checked.job.batches[0].germination.source is Source.LEGAL_MINIMUM
    assert about_lots(checked) == [
        "Onion 'Amber Vault': the book has no finished count of an earlier sowing of lot HB-1;"
        " the legal minimum, 70 %, is taken"
    ]


def test_few_seeds_counted_are_said(plan: Path) -> None:
    add(book_beside(plan), "sown", 1, "2027-03-06")
    count(plan, 20)
    (said,) = about_lots(next_year(plan, SEEN))
    assert said.endswith("lot HB-1: 80 % seen in 1 batch, 61 to 91 %; few were counted, so more may come up, or fewer")


def test_dead_seed_is_not_reckoned_with(plan: Path) -> None:
    count(plan, 0, 0)
    with pytest.raises(PlanError) as error:
        next_year(plan, SEEN)
    assert str(error.value.problems[0]).endswith(
        "no seed of lot HB-1 came up so far (0 % seen in 2 batches, 0 to 1 %); sow other seed"
    )


def test_a_book_that_cannot_be_read_is_said_before_anything_is_made(plan: Path) -> None:
    book_beside(plan).write_bytes(b"x" * 5000)
    with pytest.raises(BookError, match="it is not a book"):
        check(Options(plan=plan), books.PRINTED)


# ---- what is printed is kept, and what is noted is printed


def test_all_that_is_printed_of_a_batch_is_kept_for_when_the_plan_is_gone(plan: Path) -> None:
    book = book_beside(plan)
    plan.unlink()
    one = account(book, CLUMP, books.PRINTED)
    told = one.batch.told
    assert told["lead"] == "25 seeds, scattered, in each of 8 cells"
    assert told["tray_kind"] == {"name": "pot-18", "title": "flat of 18 pots", "rows": 3, "columns": 6}
    assert told["runs"] == [{"tray": 1, "first": "A1", "last": "B2", "cells": 8}]
    assert (told["lot"], told["confidence"], told["days_to_raise"], told["cluster"]) == ("HB-1", 0.9, 56, False)
    assert [step.step for step in one.steps] == ["sow", "emerge", "trim", "harden_off", "plant_out"]
    assert [step.what for step in one.steps][:2] == ["Sow", "Look for seedlings"]


def test_the_table_of_crops_tells_whose_seeds_bring_more_than_one_seedling(plan: Path) -> None:
    plan.write_text(PLAN.replace('"Onion"', '"Beetroot"'), encoding="utf-8")
    make(Options(plan=plan, only=("records",), force=True), books.PRINTED)
    beet = next(one.batch.code for one in accounts(book_beside(plan), books.PRINTED) if one.batch.told["cluster"])
    for code, cells, up in ((CLUMP, 8, 200), (beet, None, 500)):
        add(book_beside(plan), "sown", cells, "2027-03-13", batch=code)
        add(book_beside(plan), "emerged", up, "2027-03-20", batch=code, sure=False)
    with pytest.raises(DoubtfulEntry, match="201 seedlings on 2027-03-20; seeds sown by then: 200"):
        add(book_beside(plan), "emerged", 201, "2027-03-20", batch=CLUMP, sure=False)


def test_record_pages_show_what_was_noted_so_far_and_by_nobody(plan: Path, tmp_path: Path) -> None:
    page = tmp_path / "spring" / "records" / "B" / CLUMP / "index.html"
    before = page.read_text(encoding="utf-8")
    assert "What was noted" not in before
    add(book_beside(plan), "emerged", 170, "2027-03-20", who="Ann Other")
    add(book_beside(plan), "lost", 2, "2027-03-25", remark="<b>slugs</b> & snails")
    add(book_beside(plan), "sold", 7, "2027-03-26")
    add(book_beside(plan), "remark", None, "2027-03-26", remark="", corrects=3)
    make(Options(plan=plan, only=("records",)), books.TODAY)
    text = page.read_text(encoding="utf-8")
    for said in ("What was noted", "Came up: 170", "Lost: 2", "&lt;b&gt;slugs&lt;/b&gt; &amp; snails"):
        assert said in text
    assert "As it stood on 1 Jun 2027." in text
    assert "Ann Other" not in text
    assert "Sold" not in text
