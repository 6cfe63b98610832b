"""What a file is by the ending of its name: no command writes what it could not read again under that name."""

from pathlib import Path

import pytest
from test_cli import SMALL, run

from traysheets.base.errors import PlanError
from traysheets.plan.convert import convert_plan
from traysheets.plan.read import read_plan


@pytest.mark.parametrize("name", ["mine.csv", "mine.TSV", "mine.xlsx", "mine.ods"])
def test_no_starter_plan_is_written_into_a_spreadsheet(name: str, tmp_path: Path) -> None:
    result = run("new", tmp_path / name)
    plan, sheet = tmp_path / "mine.toml", tmp_path / (name if name.endswith(("csv", "TSV")) else "mine.csv")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        f"{tmp_path / name} would be a spreadsheet, and a starter plan is TOML; name it {plan}, and"
        f" `traysheets convert {plan} -o {sheet}` makes a spreadsheet of it\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_what_helps_a_newcomer_to_a_spreadsheet_does_what_it_says(tmp_path: Path) -> None:
    plan, sheet = tmp_path / "mine.toml", tmp_path / "mine.csv"
    assert run("new", plan).exit_code == 0
    assert run("convert", plan, "-o", sheet).exit_code == 0
    assert run("check", sheet, "--settings", tmp_path / "mine.settings.toml").exit_code == 0


def test_an_empty_spreadsheet_is_told_what_makes_one(tmp_path: Path) -> None:
    sheet = tmp_path / "mine.csv"
    sheet.write_text("\n", encoding="utf-8")
    with pytest.raises(PlanError) as error:
        read_plan(sheet)
    plan = tmp_path / "mine.toml"
    assert str(error.value) == (
        f"{sheet}:1: this file is empty; give it a row of headings, as crop,variety,tray,cells,sow, and a row for each"
        f" sowing; or `traysheets new {plan}` writes a plan to start from, and `traysheets convert {plan} -o {sheet}"
        " --force` makes a spreadsheet of it"
    )


@pytest.mark.parametrize("name", ["back.json", "back.xlsx", "back"])
def test_a_plan_is_converted_to_no_other_ending(name: str, tmp_path: Path) -> None:
    """From a spreadsheet as from TOML: a plan in TOML called `back.xlsx` could not be read again."""
    plan, sheet = tmp_path / "plan.toml", tmp_path / "plan.csv"
    plan.write_text(SMALL, encoding="utf-8")
    assert run("convert", plan, "-o", sheet).exit_code == 0
    for source in (plan, sheet):
        with pytest.raises(PlanError) as error:
            convert_plan(source, tmp_path / name, tmp_path / "plan.settings.toml" if source == sheet else None)
        assert str(error.value) == (
            f"{tmp_path / name}: a plan is TOML or CSV; name a file that ends in .toml or .csv, as"
            f" {(tmp_path / name).with_suffix('.csv' if source == plan else '.toml')}"
        )


def test_a_name_that_is_none_is_told_the_plans_own(tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(SMALL, encoding="utf-8")
    with pytest.raises(PlanError, match=r"^\.: a plan is TOML or CSV; .*, as plan\.csv$"):
        convert_plan(plan, Path())
