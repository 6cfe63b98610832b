"""A plan that is edited after its batches were sown: what differs from what was noted is said, with the plan's line."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import books
import pytest
from books import CLUMP, SINGLE, add, make_book
from test_book_allot import PLAN

from traysheets.base.notices import Notice
from traysheets.book.book import allotted, contents
from traysheets.book.changed import MOST_TOLD
from traysheets.book.model import Wanted
from traysheets.bookkeeping import book_beside
from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

ANEW = "Counts go by what was noted; if it was sown as the plan says now, strike out that entry and note it anew"


def edited(**changes: Any) -> list[Wanted]:
    """The plan with its first batch, which stands in line 7, edited."""
    first, *others = books.batches()
    own = {"own_code": CLUMP} if "sow" in changes else {}
    return [replace(first, identity=replace(first.identity, **changes), line=7, **own), *others]


def said(file: Path, wanted: list[Wanted]) -> list[Notice]:
    return [notice for notice in allotted(contents(file), wanted, 2027, PLAN).notices if "noted" in notice.text]


@pytest.mark.parametrize(
    ("changes", "was", "now"),
    [
        ({"cells": 9}, "8 cells", "9 cells"),
        ({"cells": 1}, "8 cells", "1 cell"),
        ({"seeds_per_cell": 30}, "25 seeds a cell", "30 seeds a cell"),
        ({"method": "single", "tray": "cell-72"}, "the method clump and the tray pot-18",
         "the method single and the tray cell-72"),
    ],
)  # fmt: skip
def test_what_differs_is_said_with_the_line(file: Path, changes: dict[str, Any], was: str, now: str) -> None:
    assert said(file, edited(**changes)) == []
    add(file, "sown", None, "2027-03-06")
    (notice,) = said(file, edited(**changes))
    assert notice.line == 7
    assert notice.text == (
        f"27-001-7 'Amber Vault' is noted as sown on 2027-03-06, when the plan said {was}; now it says {now}. {ANEW}"
    )
    make_book(file, edited(**changes))
    assert said(file, edited(**changes)) == [notice], "it is said as long as it is so, also when it was printed again"


def test_a_sowing_on_another_day_than_planned_is_said_until_the_plan_has_it(file: Path) -> None:
    add(file, "sown", None, "2027-02-20")
    (notice,) = said(file, edited())
    assert (notice.line, notice.text) == (
        7,
        "27-001-7 'Amber Vault' is noted as sown on 2027-02-20, the plan says 2027-03-06;"
        " put the day into the plan (sow = 2027-02-20), and the printed days follow",
    )
    for lot in ("L1", ""):
        moved = [replace(one, own_code=None) for one in edited(sow=date(2027, 2, 20), lot=lot)]
        assert said(file, moved) == []
        assert allotted(contents(file), moved, 2027, PLAN).codes[0] == CLUMP
    assert make_book(file, moved)[0] == CLUMP
    assert said(file, moved) == []


def test_a_day_sown_in_parts_is_as_planned_when_one_part_was(file: Path) -> None:
    add(file, "sown", 3, "2027-02-20")
    assert len(said(file, edited())) == 1
    add(file, "sown", 8, "2027-03-06")
    assert said(file, edited()) == []


def test_of_a_repeated_sowing_no_single_day_can_be_put_into_the_plan(file: Path) -> None:
    add(file, "sown", None, "2027-02-20")
    (notice,) = said(file, [replace(one, repeated=True) for one in edited()])
    assert notice.text.endswith("is noted as sown on 2027-02-20, the plan says 2027-03-06")


def test_a_counted_batch_of_which_no_sowing_is_noted_tells_of_its_day_once(file: Path) -> None:
    add(file, "emerged", 150)
    (notice,) = said(file, edited(sow=books.PRINTED))
    assert "when the plan said the sowing day 2027-03-06; now it says the sowing day 2027-03-01" in notice.text


def test_what_was_only_counted_is_as_good_as_sown(file: Path) -> None:
    add(file, "emerged", 150)
    (notice,) = said(file, edited(cells=9))
    assert "is noted as emerged on 2027-03-20, when the plan said 8 cells; now it says 9 cells" in notice.text


@pytest.mark.parametrize("note", [("remark",), ("lost", 1), ("trimmed",)])
def test_what_tells_nothing_of_the_sowing_is_not_asked(file: Path, note: tuple[Any, ...]) -> None:
    add(file, *note)
    assert said(file, edited(cells=9)) == []


def test_a_plan_cut_down_to_the_part_that_was_sown_is_right(file: Path) -> None:
    add(file, "sown", 4, "2027-03-06")
    assert said(file, edited(cells=4)) == []
    assert len(said(file, edited(cells=5))) == 1


def test_what_is_not_edited_says_nothing(file: Path) -> None:
    add(file, "sown", None, "2027-03-06")
    assert said(file, books.batches()) == []
    add(file, "remark", None, "2027-03-06", remark="", corrects=1)
    assert said(file, edited(cells=9)) == [], "struck out, it is not sown"


def test_noted_anew_it_says_nothing(file: Path) -> None:
    add(file, "sown", None, "2027-03-06")
    make_book(file, edited(cells=9))
    add(file, "remark", None, "2027-03-06", remark="", corrects=1)
    add(file, "sown", None, "2027-03-06")
    assert said(file, edited(cells=9)) == []


def test_a_sown_batch_that_left_the_plan_is_said_once(file: Path) -> None:
    add(file, "sown", None, "2027-03-06", batch=SINGLE)
    wanted = books.batches()[:2]
    assert said(file, wanted) == [
        Notice(
            "27-003-3 'Harbour Green', noted as sown on 2027-03-06, is in the plan no more; the book keeps it",
            passing=True,
        )
    ]
    make_book(file, wanted)
    assert said(file, wanted) == []


def test_many_are_counted(tmp_path: Path) -> None:
    file = tmp_path / "many.sqlite"
    many = [books.wanted(f"V{number}") for number in range(9)]
    for code in make_book(file, many):
        add(file, "sown", None, "2027-03-06", batch=code)
    found = said(file, [replace(one, identity=replace(one.identity, cells=9)) for one in many])
    assert len(found) == MOST_TOLD + 1
    assert found[-1].text == "4 more batches noted as sown or counted are planned otherwise now"
    gone = said(file, many[:1])
    assert gone[-1].text == "3 more batches noted as sown or counted are in the plan no more"


EDITED = """
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
"""


def test_check_and_make_say_it(tmp_path: Path) -> None:
    plan = tmp_path / "spring.toml"
    plan.write_text(EDITED, encoding="utf-8")
    options = Options(plan=plan, only=("records",))
    make(options, books.PRINTED)
    add(book_beside(plan), "sown", None, "2027-03-06")
    plan.write_text(EDITED.replace("cells = 8", "cells = 9"), encoding="utf-8")
    for notices in (check(options, books.PRINTED).notices, make(options, books.PRINTED).notices):
        (notice,) = [notice for notice in notices if "is noted as sown" in notice.text]
        assert (notice.line, "when the plan said 8 cells; now it says 9 cells" in notice.text) == (6, True)
