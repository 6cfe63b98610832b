"""A starter plan written as a file, to write on in."""

from functools import partial
from pathlib import Path

from traysheets.base.errors import FileError
from traysheets.export.files import put, write_one
from traysheets.plan.source import has_sheets, is_csv
from traysheets.plan.starter import starter_plan


def begin(file: Path, season: int) -> None:
    """Write a starter plan for the spring of a year, that can be made as it is. Raises FileError with none written."""
    _refuse_spreadsheet(file)
    if file.exists():
        raise FileError(f"{file} is there already and was left as it is; choose another name")
    write_one(file, partial(put, starter_plan(season).encode()))


def _refuse_spreadsheet(file: Path) -> None:
    """Raise FileError where the plan would be read as a spreadsheet, for its name; the message leads to one."""
    if is_csv(file) or has_sheets(file):
        plan, sheet = file.with_suffix(".toml"), file if is_csv(file) else file.with_suffix(".csv")
        turned = f"`traysheets convert {plan} -o {sheet}` makes a spreadsheet of it"
        raise FileError(f"{file} would be a spreadsheet, and a starter plan is TOML; name it {plan}, and {turned}")
