"""What `make` does when another run enters batches in the book between its reading that and its writing."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from test_make_choices import TODAY, plan_in

from traysheets.base.errors import BookError
from traysheets.pipeline import making
from traysheets.pipeline.checking import Checked, check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

FIVE = [(f"2027-03-0{day}", 1) for day in range(1, 6)]


def overtaken(options: Options, other: Options, monkeypatch: pytest.MonkeyPatch) -> str:
    """What is said to a run that another overtakes once it has read the book."""

    def checked(options: Options, today: date) -> Checked:
        found = check(options, today)
        monkeypatch.undo()
        make(other, today)
        return found

    monkeypatch.setattr(making, "check", checked)
    with pytest.raises(BookError) as error:
        make(options, TODAY)
    return str(error.value)


def test_who_is_overtaken_by_a_run_of_the_same_plan_is_told_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    options = Options(plan_in(tmp_path, *FIVE), only=("records",))
    assert overtaken(options, options, monkeypatch) == (
        f"another run has just entered 27-001-7, 27-002-5, 27-003-3 and 2 more in the book {options.book_file};"
        " run this again"
    )
    assert make(options, TODAY).files


def test_codes_that_the_book_lacks_even_so_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    options = Options(plan_in(tmp_path, *FIVE), only=("records",))
    (options.output_folder / "records/B/27-002-5").mkdir(parents=True)
    first = date(2027, 3, 1)
    said = overtaken(options, replace(options, days=(first, first)), monkeypatch)
    assert "holds records of 27-002-5, which the book" in said
