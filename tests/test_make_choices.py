"""What `make` prints on when nobody says, and what it does when there is nothing to print on a sheet."""

from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from traysheets.base.errors import PlanError
from traysheets.pipeline.making import Made, make
from traysheets.pipeline.options import PAPERS, Options

TODAY = date(2027, 1, 15)
SOWING = """
[[sowing]]
crop = "Onion"
variety = "Longstalk Winter"
tray = "pot-18"
cells = 18
sow = {sow}
sticks = {sticks}
soil_temp = "18 C"
"""
SIDES_MM = {"a4": (210, 297), "letter": (215.9, 279.4)}
"""ISO 216 and ANSI/ASME Y14.1, both from memory."""


def plan_in(folder: Path, *sowings: tuple[str, int], more: str = "") -> Path:
    plan = folder / "plan.toml"
    rows = "".join(SOWING.format(sow=sow, sticks=sticks) for sow, sticks in sowings or [("2027-03-06", 2)])
    plan.write_text(f"[plan]\n{more}\n{rows}")
    return plan


def sides_mm(made: Made) -> tuple[float, ...]:
    box = PdfReader(made.folder / "sticks.pdf").pages[0].mediabox
    return tuple(sorted(round(float(side) / 72 * 25.4, 1) for side in (box.width, box.height)))


def told(made: Made) -> str:
    return "\n".join(notice.text for notice in made.notices)


@pytest.mark.parametrize(
    ("paper", "card"),
    [("a4", "a4"), ("letter", "letter"), ("legal", "letter"), ("tabloid", "letter"), ("a3", "a4"), ("a5", "a4")],
)
@pytest.mark.parametrize("said", ["by the command", "by the plan"])
def test_the_usual_sticks_follow_the_paper(tmp_path: Path, paper: str, card: str, said: str) -> None:
    """On letter paper no stake reaches over the edge; where no card is of that size, the one to load is named."""
    by_command = said == "by the command"
    plan = plan_in(tmp_path, more="" if by_command else f'paper = "{paper}"')
    made = make(Options(plan, only=("sticks",), paper=paper if by_command else None), TODAY)
    assert sides_mm(made) == SIDES_MM[card]
    assert (f"load {card} card" in told(made)) == (paper != card), told(made)


def test_every_paper_has_its_usual_sticks(tmp_path: Path) -> None:
    plan = plan_in(tmp_path)
    for paper in PAPERS:
        made = make(Options(plan, only=("sticks",), paper=paper), TODAY)
        assert sides_mm(made) in SIDES_MM.values()


def test_a_stock_that_is_named_stands_whatever_the_paper(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, more='paper = "letter"\nunits = "inch"')
    made = make(Options(plan, only=("sticks",), stock="stake-25x150-a4"), TODAY)
    assert sides_mm(made) == SIDES_MM["a4"]
    assert "card" not in told(made)
    assert sides_mm(make(Options(plan, only=("sticks",)), TODAY)) == SIDES_MM["letter"]


def test_a_plan_without_sticks_is_made_but_for_them(tmp_path: Path) -> None:
    made = make(Options(plan_in(tmp_path, ("2027-03-06", 0))), TODAY)
    assert "sticks.pdf" not in made.files
    assert {"maps.pdf", "guide.pdf", "seeds.pdf", "records/index.html"} <= {*made.files}
    assert "no sticks are asked for" in told(made)


def test_a_day_without_sticks_takes_those_of_other_days_away(tmp_path: Path) -> None:
    """As with every sheet: what is in the folder is what was asked for last."""
    plan = plan_in(tmp_path, ("2027-03-06", 0), ("2027-04-03", 3))
    whole = make(Options(plan), TODAY)
    assert "sticks.pdf" in whole.files
    assert "no sticks" not in told(whole)
    day = make(Options(plan, days=(date(2027, 3, 6),) * 2), TODAY)
    assert "no sticks are asked for" in told(day)
    assert day.removed == ("sticks.pdf",)


def test_sticks_alone_where_none_are_asked_for_are_refused(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match=r"no sticks are asked for.*nothing else to make"):
        make(Options(plan_in(tmp_path, ("2027-03-06", 0)), only=("sticks",)), TODAY)
    assert [path.name for path in tmp_path.iterdir()] == ["plan.toml"]


def test_pages_of_trays_that_are_no_more_go_and_those_of_batches_stay(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, ("2027-03-06", 1), ("2027-04-03", 1), ("2027-05-01", 1))
    records = make(Options(plan), TODAY).folder / "records"
    batches = sorted(path.name for path in (records / "B").iterdir())
    assert sorted(path.name for path in (records / "T").iterdir()) == ["1", "2", "3"]
    plan_in(tmp_path, ("2027-03-06", 1), ("2027-04-03", 1))
    part = make(Options(plan, days=(date(2027, 3, 6),) * 2), TODAY)
    assert part.removed == ()
    assert (records / "T/3/index.html").exists()
    assert make(Options(plan, only=("maps",)), TODAY).removed == ()
    whole = make(Options(plan), TODAY)
    assert whole.removed == ("records/T/3/index.html",)
    assert sorted(path.name for path in (records / "T").iterdir()) == ["1", "2"]
    assert sorted(path.name for path in (records / "B").iterdir()) == batches


def test_a_crop_that_no_table_says_when_it_comes_up_is_made_and_entered(tmp_path: Path) -> None:
    """Its thinning stands on the record, and not among the days that the book keeps."""
    plan = plan_in(tmp_path)
    plan.write_text(plan.read_text().replace("Onion", "Dill") + 'method = "single"\nseeds_per_cell = 3\n')
    made = make(Options(plan), TODAY)
    page = next(name for name in made.files if name.startswith("records/B/"))
    assert "When the seedlings have true leaves" in (made.folder / page).read_text()
    assert "THIN" not in (made.folder / "aftercare.ics").read_text().upper()
