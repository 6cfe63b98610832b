"""Cells that a plan gives to a batch while another, noted as sown, stands in them: said, and what helps does help."""

from pathlib import Path

import pytest
from books import PRINTED, add

from traysheets.base.notices import Notice
from traysheets.bookkeeping import book_beside
from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

HEAD = """[plan]
title = "Two"
season = 2027

[defaults]
tray = "cell-72"
sow = 2027-03-06
"""
KALE = """
[[sowing]]
crop = "Kale"
variety = "Green"
cells = 20
"""
CABBAGE = """
[[sowing]]
crop = "Cabbage"
variety = "Late"
cells = 10
"""
GREEN, LATE = "27-001-7", "27-002-5"
"""By the plan the kale stands in A1 to B8, the cabbage after it in B9 to C6."""

ENDS = "note what became of it, or give this one other cells with at"


def said(plan: Path, text: str) -> list[Notice]:
    """What is said of cells that are handed on, when the plan is this; the same by `check` and by `make`."""
    plan.write_text(text, encoding="utf-8")
    options = Options(plan=plan, only=("records",))
    checked, made = check(options, PRINTED).notices, make(options, PRINTED).notices
    by_check, by_make = ([one for one in notices if "by the book" in one.text] for notices in (checked, made))
    assert by_check == by_make
    return by_check


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan that was printed; all its kale is noted as sown, and 18 cells of it came up."""
    plan = tmp_path / "two.toml"
    assert said(plan, HEAD + KALE + CABBAGE) == []
    note(plan, "sown")
    note(plan, "emerged", 18)
    assert said(plan, HEAD + KALE + CABBAGE) == []
    return plan


def note(plan: Path, kind: str, number: int | None = None, batch: str = GREEN) -> None:
    add(book_beside(plan), kind, number, batch=batch)


GONE = (
    f"{LATE} 'Late' is planned for tray 1: A1-A10, where 10 cells of {GREEN} 'Green' stand by the book;"
    f" keep that sowing in the plan until its cells are empty, or {ENDS}"
)


def test_cells_of_a_batch_that_left_the_plan(plan: Path) -> None:
    assert said(plan, HEAD + CABBAGE) == [Notice(GONE, 9, passing=True)]
    assert said(plan, HEAD + CABBAGE) == [Notice(GONE, 9, passing=True)], "as long as it stands there"


@pytest.mark.parametrize("kind", ["planted_out", "sold", "lost"])
def test_what_was_carried_off_stands_no_more(plan: Path, kind: str) -> None:
    note(plan, kind, 18)
    assert said(plan, HEAD + CABBAGE) == []


def test_of_what_was_carried_off_in_part_nobody_knows_which_cells_are_left(plan: Path) -> None:
    note(plan, "sold", 16)
    (notice,) = said(plan, HEAD + CABBAGE)
    assert f"where up to 4 cells of {GREEN} 'Green' stand by the book" in notice.text


def test_what_was_not_sown_may_be_replaced(plan: Path) -> None:
    note(plan, "remark", batch=LATE)
    assert said(plan, HEAD + KALE.replace("20", "30")) == []


def test_its_sowing_back_in_the_plan_is_enough(plan: Path) -> None:
    assert len(said(plan, HEAD + CABBAGE)) == 1
    assert said(plan, HEAD + KALE + CABBAGE) == []


def test_other_cells_are_enough(plan: Path) -> None:
    assert said(plan, HEAD + CABBAGE + 'at = ["1: B9-C6"]\n') == []


def test_cells_of_a_batch_made_smaller(plan: Path) -> None:
    smaller = HEAD + KALE.replace("20", "15") + CABBAGE
    text = (
        f"{LATE} 'Late' is planned for tray 1: B4-B8, where 5 cells of {GREEN} 'Green' stand by the book;"
        f" keep them for that sowing, in line 9, until they are empty, or {ENDS}"
    )
    assert said(plan, smaller) == [Notice(text, 14, passing=True)]


def test_a_batch_that_was_sown_in_part_needs_only_that_part(tmp_path: Path) -> None:
    plan = tmp_path / "two.toml"
    said(plan, HEAD + KALE + CABBAGE)
    note(plan, "sown", 15)
    assert said(plan, HEAD + KALE.replace("20", "15") + CABBAGE) == []


def test_a_single_cell(plan: Path) -> None:
    (notice,) = said(plan, HEAD + KALE.replace("20", "19") + CABBAGE)
    assert f"planned for tray 1: B8, where 1 cell of {GREEN} 'Green' stands by the book" in notice.text


def test_cells_of_a_batch_that_moved(plan: Path) -> None:
    text = (
        f"{LATE} 'Late' is planned for tray 1: A1-A10, where 10 cells of {GREEN} 'Green' stand by the book;"
        f" keep them for that sowing, in line 14, until they are empty, or {ENDS}"
    )
    assert said(plan, HEAD + CABBAGE + KALE) == [Notice(text, 9, passing=True)]


REPEATED = CABBAGE + 'repeat = { every = "2 weeks", times = 2 }\n'


def test_a_sowing_that_repeats_is_not_told_to_take_other_cells(plan: Path) -> None:
    (notice,) = said(plan, HEAD + REPEATED)
    assert notice.text.endswith("keep that sowing in the plan until its cells are empty, or note what became of it")


def test_a_sowing_that_repeats_is_not_told_to_keep_its_cells(tmp_path: Path) -> None:
    plan = tmp_path / "two.toml"
    said(plan, HEAD + REPEATED + KALE)
    note(plan, "sown")
    (notice,) = said(plan, HEAD + KALE + REPEATED)
    assert notice.text.endswith(f"of {GREEN} 'Late' stand by the book; {ENDS}")


def test_another_kind_of_tray_has_other_cells(plan: Path) -> None:
    assert said(plan, HEAD + CABBAGE + 'tray = "pot-18"\n') == []


OWN = """
[[tray]]
name = "cell-72"
rows = {rows}
columns = 12
outer = ["540 mm", "280 mm"]
cell = "38 mm"
pitch = "42 mm"
depth = "45 mm"
"""


def test_a_tray_that_has_fewer_cells_now(tmp_path: Path) -> None:
    plan = tmp_path / "two.toml"
    own = OWN.replace('"cell-72"', '"mine"')
    head = HEAD.replace("cell-72", "mine")
    said(plan, head + KALE + CABBAGE + own.format(rows=6))
    note(plan, "sown")
    assert said(plan, head + CABBAGE + own.format(rows=1)) == []


def test_what_stood_in_a_tray_in_an_earlier_season_has_left_it(plan: Path) -> None:
    later = (HEAD + CABBAGE).replace("2027", "2028")
    assert said(plan, later) == []


def test_another_plan_of_the_same_book_has_other_trays(plan: Path) -> None:
    other = plan.with_name("other.toml")
    other.write_text(HEAD + CABBAGE.replace("Late", "Later"), encoding="utf-8")
    notices = check(Options(plan=other, book=book_beside(plan)), PRINTED).notices
    assert [notice for notice in notices if "by the book" in notice.text] == []


def test_a_plan_in_a_spreadsheet_has_columns(tmp_path: Path) -> None:
    plan = tmp_path / "two.csv"
    rows = ("crop,variety,cells,tray,sow", "Kale,Green,20,cell-72,2027-03-06", "Cabbage,Late,10,cell-72,2027-03-06")
    said(plan, "\n".join(rows))
    note(plan, "sown")
    (notice,) = said(plan, "\n".join((rows[0], rows[2])))
    assert (notice.line, notice.text) == (2, GONE.replace("with at", "with the column at"))


def test_a_notice_a_pair_and_of_many_the_number(plan: Path) -> None:
    """Of six that are given its cells five are told; the trays of both runs are named in one notice."""
    six = "".join(CABBAGE.replace("Late", f"Late {name}").replace("10", "3") for name in "ABCDEF")
    notices = said(plan, HEAD + six)
    assert [notice.line for notice in notices] == [9, 14, 19, 24, 29, None]
    assert notices[-1] == Notice(
        "1 more pair of batches: one is planned for cells where the other stands by the book", passing=True
    )
    seven = six + CABBAGE.replace("10", "2")
    assert said(plan, HEAD + seven)[-1].text.startswith("2 more pairs of batches: one is planned for cells where ")


def test_cells_in_two_trays_are_both_named(tmp_path: Path) -> None:
    plan = tmp_path / "two.toml"
    said(plan, HEAD + KALE.replace("20", "80"))
    note(plan, "sown")
    (notice,) = said(plan, HEAD + CABBAGE.replace("10", "74"))
    assert "is planned for tray 1: A1-F12, tray 2: A1-A2, where 74 cells of 27-001-7 'Green' stand" in notice.text
