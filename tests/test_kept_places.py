"""What a batch that moved is advised to write, to keep its place: only where that works, in the words of its file."""

import re
from pathlib import Path

import pytest
from books import PRINTED, add

from traysheets.base.errors import PlanError
from traysheets.bookkeeping import book_beside
from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

HEAD = """[plan]
title = "Two"
season = 2027
"""


def sowing(crop: str, variety: str, cells: int, *keys: str, tray: str = "cell-72", sow: str = "2027-03-06") -> str:
    lines = (
        f'crop = "{crop}"', f'variety = "{variety}"', f'tray = "{tray}"', f"cells = {cells}", f"sow = {sow}", *keys
    )  # fmt: skip
    return "\n[[sowing]]\n" + "\n".join(lines) + "\n"


EARLY = sowing("Leek", "Early", 5)
KALE, CABBAGE = sowing("Kale", "Green", 20), sowing("Cabbage", "Late", 10)
MOVED = "27-002-5 'Late' was printed as standing in tray 1: B9-C6, and now stands in tray 1: "
AGAIN = "; print maps and sticks again"


def printed(folder: Path, *sowings: str, plan: str = "two.toml") -> Path:
    """A plan of these sowings, printed."""
    file = folder / plan
    write(file, *sowings)
    make(Options(plan=file, only=("records",)), PRINTED)
    return file


def write(plan: Path, *sowings: str) -> None:
    plan.write_text((HEAD if plan.suffix == ".toml" else "") + "".join(sowings), encoding="utf-8")


def said(plan: Path, *sowings: str) -> list[str]:
    """What is said of printed batches that stand elsewhere, when the plan has these sowings."""
    write(plan, *sowings)
    notices = check(Options(plan=plan), PRINTED).notices
    return [notice.text for notice in notices if "was printed as standing in" in notice.text]


def advice(text: str) -> str:
    return re.findall(", or keep the place with (.*)$", text)[0]


def test_a_batch_that_moved_can_be_kept_where_it_was(tmp_path: Path) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    kale, cabbage = said(plan, EARLY, KALE, CABBAGE)
    assert cabbage == f'{MOVED}C2-C11{AGAIN}, or keep the place with at = ["1: B9-C6"]'
    assert said(plan, EARLY, KALE + advice(kale), CABBAGE + advice(cabbage)) == []


def test_a_place_in_two_trays_is_kept_with_both(tmp_path: Path) -> None:
    plan = printed(tmp_path, sowing("Kale", "Green", 80))
    (text,) = said(plan, sowing("Leek", "Early", 72), sowing("Kale", "Green", 80))
    assert advice(text) == 'at = ["1: A1-F12", "2: A1-A8"]'
    assert said(plan, sowing("Leek", "Early", 72), sowing("Kale", "Green", 80, advice(text))) == []


def test_a_sowing_that_repeats_can_keep_no_place(tmp_path: Path) -> None:
    twice = 'repeat = { every = "2 weeks", times = 2 }'
    plan = printed(tmp_path, CABBAGE, KALE + twice)
    assert said(plan, EARLY, CABBAGE, KALE + twice)[1:] == [
        "27-002-5 'Green' was printed as standing in tray 1: A11-C6, and now stands in tray 1: B4-C11" + AGAIN
    ]
    write(plan, EARLY, CABBAGE, f'{KALE}{twice}\nat = ["1: A11-C6"]')
    with pytest.raises(PlanError, match="at keeps cells of one sowing, and this one is repeated"):
        check(Options(plan=plan), PRINTED)


def test_a_sowing_repeated_once_is_one_that_can(tmp_path: Path) -> None:
    once = CABBAGE + 'repeat = { every = "2 weeks", times = 1 }\n'
    plan = printed(tmp_path, once)
    (text,) = said(plan, EARLY, once)
    assert said(plan, EARLY, once + advice(text)) == []


@pytest.mark.parametrize("cells", [9, 11])
def test_a_place_of_another_size_does_not_fit(tmp_path: Path, cells: int) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    (text,) = said(plan, KALE, sowing("Cabbage", "Late", cells))
    assert text == f"{MOVED}B9-C{cells - 4}{AGAIN}"


def test_another_kind_of_tray_does_not_have_the_place(tmp_path: Path) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    (text,) = said(plan, KALE, sowing("Cabbage", "Late", 10, tray="cell-50"))
    assert text.endswith(f"and now stands in tray 2: A1-A10{AGAIN}")


TRAY = """
[[tray]]
name = "cell-mine"
rows = {rows}
columns = {columns}
outer = ["540 mm", "280 mm"]
cell = "38 mm"
pitch = "42 mm"
depth = "45 mm"
"""


def test_a_tray_that_has_fewer_cells_now_lacks_the_place(tmp_path: Path) -> None:
    mine = sowing("Cabbage", "Late", 10, tray="cell-mine")
    plan = printed(tmp_path, mine, TRAY.format(rows=1, columns=12))
    (text,) = said(plan, mine, TRAY.format(rows=6, columns=6))
    assert text.endswith(f"and now stands in tray 1: A1-B4{AGAIN}")


@pytest.mark.parametrize(
    "first",
    [
        sowing("Leek", "Early", 5, 'at = ["1: C1-C5"]'),
        sowing("Leek", "Early", 5, 'at = ["1: A1"]', tray="pot-18"),
        sowing("Leek", "Early", 5, 'at = ["1: A1"]', sow="2027-03-13"),
        sowing("Leek", "Early", 5, 'at = ["1: A1"]', "own_trays = true"),
        sowing("Leek", "Early", 5, 'at = ["1: A1"]', 'place = "heat mat"'),
    ],
    ids=["cells", "kind", "day", "own trays", "place"],
)
def test_a_place_that_is_kept_for_another_is_taken(tmp_path: Path, first: str) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    texts = said(plan, KALE, CABBAGE, first)
    assert texts[-1].startswith("27-002-5 'Late' was printed as standing in tray 1: B9-C6, and now stands in tray ")
    assert texts[-1].endswith(AGAIN)
    write(plan, KALE, CABBAGE + 'at = ["1: B9-C6"]\n', first)
    with pytest.raises(PlanError, match=r"choose others|choose another tray number|give one of them another"):
        check(Options(plan=plan), PRINTED)


def test_a_place_beside_one_kept_for_another_is_free(tmp_path: Path) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    first = sowing("Leek", "Early", 5, 'at = ["1: A1-A5"]')
    text = said(plan, KALE, CABBAGE, first)[-1]
    assert text.startswith(MOVED)
    assert not [other for other in said(plan, KALE, CABBAGE + advice(text), first) if other.startswith("27-002-5")]


def test_its_own_other_place_is_no_hindrance(tmp_path: Path) -> None:
    plan = printed(tmp_path, KALE, CABBAGE)
    (text,) = said(plan, KALE, CABBAGE + 'at = ["1: C1-C10"]\n')
    assert advice(text) == 'at = ["1: B9-C6"]'
    assert said(plan, KALE, CABBAGE + advice(text)) == []


ROWS = ("crop,variety,cells,tray,sow,at\n", "Kale,Green,20,cell-72,2027-03-06,{}\n", "Leek,L,5,cell-72,2027-03-06,\n")


def test_in_a_spreadsheet_it_is_said_what_to_write_in_the_column(tmp_path: Path) -> None:
    plan = printed(tmp_path, ROWS[0], ROWS[1].format(""), plan="two.csv")
    (text,) = said(plan, ROWS[0], ROWS[2], ROWS[1].format(""))
    assert text == (
        "27-001-7 'Green' was printed as standing in tray 1: A1-B8, and now stands in tray 1: A6-C1; print maps and"
        " sticks again, or keep the place with 1: A1-B8 in the column at"
    )
    assert said(plan, ROWS[0], ROWS[2], ROWS[1].format("1: A1-B8")) == []


def test_in_a_spreadsheet_several_places_have_semicolons_between_them(tmp_path: Path) -> None:
    many, whole = ROWS[1].replace(",20,", ",80,"), ROWS[2].replace(",5,", ",72,")
    plan = printed(tmp_path, ROWS[0], many.format(""), plan="two.csv")
    (text,) = said(plan, ROWS[0], whole, many.format(""))
    assert text.endswith("or keep the place with 1: A1-F12; 2: A1-A8 in the column at")
    assert said(plan, ROWS[0], whole, many.format("1: A1-F12; 2: A1-A8")) == []


def test_in_a_spreadsheet_letters_are_kept_with_the_column_code(tmp_path: Path) -> None:
    rows = "crop,variety,cells,tray,sow,code\nKale,Green,20,cell-72,2027-03-06,{}\n"
    plan = printed(tmp_path, rows.format("GX"), plan="two.csv")
    write(plan, rows.format("GY"))
    texts = [notice.text for notice in check(Options(plan=plan), PRINTED).notices if "on the map" in notice.text]
    assert texts == [
        "27-001-7 'Green' was printed as GX on the map, and is GY now; print the map again, or keep the letters with"
        " GX in the column code"
    ]


def test_a_batch_noted_as_sown_on_another_day_keeps_its_place(tmp_path: Path) -> None:
    """Put on the day that it is noted as sown, it no longer shares the tray of the others."""
    plan = printed(tmp_path, KALE, CABBAGE)
    add(book_beside(plan), "sown", None, "2027-03-08", batch="27-002-5")
    later = sowing("Cabbage", "Late", 10, sow="2027-03-08")
    (text,) = said(plan, KALE, later)
    assert text.startswith("27-002-5 'Late' was printed as standing in tray 1: B9-C6, and now stands in tray 2: A1-A10")
    assert not [other for other in said(plan, KALE, later + advice(text)) if other.startswith("27-002-5")]
