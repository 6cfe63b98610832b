"""Accounts: what is lost, doubled or miscounted between the reckoning and the paper stops the run, in words."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from map_jobs import cells_on, stood_for

from traysheets.arrange.model import Trays
from traysheets.base.bundle import bundled
from traysheets.base.errors import SheetError
from traysheets.page.marks import Mark, Page, Place
from traysheets.page.reach import text_boxes
from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.sheets.accounts import account, accounted
from traysheets.sheets.job import Job
from traysheets.sheets.maps import map_pages
from traysheets.sheets.sticks import stick_pages
from traysheets.sheets.tray_drawing import EMPTY

SAMPLES = ("spring", "season")
FAULT = "this is a fault of the program, not of your plan; nothing was written"


@cache
def job(name: str = "spring", **choices: Any) -> Job:
    return check(Options(plan=bundled("sample_plans") / f"{name}.toml", **choices), date(2027, 3, 1)).job


def complaint(work: Callable[[], object]) -> str:
    with pytest.raises(SheetError) as caught:
        work()
    assert all(str(problem).endswith(FAULT) for problem in caught.value.problems)
    return str(caught.value)


def counted(name: str, made: Job, pages: Iterator[Page] | list[Page]) -> list[Page]:
    """The pages, of which each cell and each stick was counted; a SheetError where one is lost or doubled."""
    return list(accounted(name, made, iter(pages)))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_samples_add_up(name: str) -> None:
    account(job(name))
    assert len(counted("sticks", job(name), stick_pages(job(name)))) > 1
    assert len(counted("maps", job(name), map_pages(job(name)))) > 9


@pytest.mark.parametrize("scale", ["1:1", "1:2", "1:10"])
def test_cells_are_counted_at_any_scale(scale: str) -> None:
    """At 1:10 cells are too small for their codes, at 1:1 trays go on over several pages."""
    made = job(scale=scale, paper="a3")
    assert len(counted("maps", made, map_pages(made))) >= len(made.trays)


def test_pots_that_share_a_page_are_counted(tmp_path: Path) -> None:
    plan = tmp_path / "pots.toml"
    wanted = (("Onion", 14), ("Leek", 7))
    sowings = (f'[[sowing]]\ncrop = "{crop}"\nvariety = "A"\ncells = {cells}' for crop, cells in wanted)
    start = '[plan]\ntitle = "Pots"\nseason = 2027\n[defaults]\ntray = "pot-9cm"\nsow = 2027-03-06'
    plan.write_text("\n".join((start, *sowings)))
    made = check(Options(plan=plan), date(2027, 3, 1)).job
    pages = list(map_pages(made))
    assert len(counted("maps", made, pages)) == 2
    assert complaint(lambda: counted("maps", made, pages[:1])).startswith("there is no map of Tray ")
    lost = next(mark for mark in pages[0].marks if isinstance(mark, Place) and mark.stamp.stands_for)
    fewer = replace(pages[0], marks=tuple(mark for mark in pages[0].marks if mark is not lost))
    assert "cells of" in complaint(lambda: counted("maps", made, [fewer, *pages[1:]]))


def test_a_day_alone_adds_up() -> None:
    """No cell and no stick of the other days is missed."""
    days = job().batches[0].sow
    made = job(days=(days, days))
    account(made)
    assert counted("maps", made, map_pages(made))
    assert counted("sticks", made, stick_pages(made))


def test_other_sheets_pass() -> None:
    pages = [Page(10, 10, ())]
    assert counted("guide", job(), pages) == pages


def with_batch(**changes: Any) -> Job:
    first, *others = job().reckoned.batches
    return replace(job(), reckoned=replace(job().reckoned, batches=(replace(first, **changes), *others)))


def test_cells_and_seeds_that_were_lost_are_told() -> None:
    first = job().batches[0]
    words = complaint(lambda: account(with_batch(cells=first.cells + 1)))
    assert f"has {first.cells} cells in the trays, and {first.cells + 1} were reckoned" in words
    words = complaint(lambda: account(with_batch(seeds_total=first.seeds_total - 1)))
    assert f"has {first.seeds_total} seeds in its cells, and {first.seeds_total - 1} were reckoned" in words
    assert "and the seed list has" in words


def test_a_run_without_a_stick_is_told() -> None:
    runs = {index: (*runs, *runs) for index, runs in job().arranged.runs.items()}
    made = replace(job(), arranged=Trays(job().arranged.trays, runs))
    assert "which are not its runs, one each" in complaint(lambda: account(made))


def test_a_stick_too_few_on_the_sheets_is_told() -> None:
    first, *others = stick_pages(job())
    marks = [mark for mark in first.marks if isinstance(mark, Place)]
    fewer = replace(first, marks=tuple(marks[1:]))
    words = complaint(lambda: counted("sticks", job(), [fewer, *others]))
    assert words.startswith(f"batch {marks[0].stamp.stands_for} has 0 sticks on the sheets, not 1")
    doubled = replace(first, marks=(marks[0], *marks))
    assert "has 2 sticks on the sheets, not 1" in complaint(lambda: counted("sticks", job(), [doubled, *others]))


def test_a_map_that_is_missing_is_told() -> None:
    first, *others = map_pages(job())
    assert complaint(lambda: counted("maps", job(), others)).startswith(f"there is no map of {first.title};")


def test_a_map_that_is_there_twice_is_told() -> None:
    first, *others = map_pages(job())
    words = complaint(lambda: counted("maps", job(), [first, *others, first]))
    assert words.startswith(f"there is more than one map of {first.title};")


def test_what_stamps_are_called_is_not_asked() -> None:
    """Were they counted by their names, every cell and stick would be told as lost."""

    def renamed(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
        return tuple(
            replace(it, stamp=replace(it.stamp, name="a × b", marks=renamed(it.stamp.marks)))
            if isinstance(it, Place)
            else it
            for it in marks
        )

    for name, pages in (("maps", map_pages(job())), ("sticks", stick_pages(job()))):
        assert counted(name, job(), [replace(page, marks=renamed(page.marks), title="") for page in pages])


def test_cells_too_small_for_letters_are_counted_batch_by_batch(tmp_path: Path) -> None:
    plan = tmp_path / "tiny.toml"
    sowings = (f'[[sowing]]\ncrop = "{crop}"\nvariety = "A"\ncells = 40' for crop in ("Onion", "Leek"))
    start = '[plan]\ntitle = "Tiny"\nseason = 2027\n[defaults]\ntray = "cell-200"\nsow = 2027-03-06'
    plan.write_text("\n".join((start, *sowings)))
    made = check(Options(plan=plan, scale="1:10"), date(2027, 3, 1)).job
    (page,) = counted("maps", made, map_pages(made))
    onions, *_, leeks = [row for row in cells_on(page) if EMPTY not in stood_for(row.stamp)]
    assert list(text_boxes([onions, leeks])) == []
    mistaken = replace(onions, stamp=leeks.stamp)
    marks = tuple(mistaken if mark is onions else mark for mark in page.marks)
    assert "cells of" in complaint(lambda: counted("maps", made, [replace(page, marks=marks)]))


def test_cells_that_are_lost_doubled_or_another_batchs_are_told() -> None:
    pages = list(map_pages(job()))
    first = pages[0]
    cells = [mark for mark in cells_on(first) if EMPTY not in stood_for(mark.stamp)]
    others = tuple(mark for mark in first.marks if mark not in cells)

    def told(*marks: Place) -> str:
        return complaint(lambda: counted("maps", job(), [replace(first, marks=(*others, *marks)), *pages[1:]]))

    assert "cells of" in told(*cells[1:])
    assert "are drawn at one and the same place" in told(*cells, cells[0])
    moved = replace(cells[0], x_mm=cells[0].x_mm + 0.1)
    assert "cells of" in told(*cells, moved)
    assert "cells of" in told(replace(cells[0], stamp=cells[-1].stamp), *cells[1:])


def test_a_run_whose_proof_fails_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = tmp_path / "spring.toml"
    plan.write_bytes((bundled("sample_plans") / "spring.toml").read_bytes())
    monkeypatch.setattr("traysheets.sheets.accounts.sticks_wanted", lambda job, batch: 99)
    complaint(lambda: make(Options(plan=plan, only=("maps", "sticks")), date(2027, 3, 1)))
    assert list(tmp_path.rglob("*.pdf")) == []
