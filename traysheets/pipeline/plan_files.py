"""A plan written as a file: in its other form, or a starter plan to write on in."""

from functools import partial
from pathlib import Path

from traysheets.base.errors import FileError
from traysheets.export.files import may_write, put, write_one
from traysheets.plan.convert import Converted, convert_plan
from traysheets.plan.starter import starter_plan


def convert(source: Path, target: Path, settings: Path | None = None, *, force: bool = False) -> Converted:
    """Write a plan in its other form, TOML or CSV, and tell what was written.

    Raises TraysheetsError when the plan has problems, or a file is there already and `force` is not given; nothing
    is then written.
    """
    converted = convert_plan(source, target, settings)
    files = {Path(file.file): file.text.encode() for file in converted.files}
    may_write(files, force)
    for path, content in reversed(files.items()):
        write_one(path, partial(put, content))
    return converted


def begin(file: Path, season: int) -> None:
    """Write a starter plan for the spring of a year, that can be made as it is. Raises FileError with none written."""
    if file.exists():
        raise FileError(f"{file} is there already and was left as it is; choose another name")
    write_one(file, partial(put, starter_plan(season).encode()))
