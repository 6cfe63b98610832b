"""A starter plan written as a file, to write on in."""

from functools import partial
from pathlib import Path

from traysheets.base.errors import FileError
from traysheets.export.files import put, write_one
from traysheets.plan.starter import starter_plan


def begin(file: Path, season: int) -> None:
    """Write a starter plan for the spring of a year, that can be made as it is. Raises FileError with none written."""
    if file.exists():
        raise FileError(f"{file} is there already and was left as it is; choose another name")
    write_one(file, partial(put, starter_plan(season).encode()))
