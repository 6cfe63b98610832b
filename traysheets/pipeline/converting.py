"""A plan written in its other form, and the rule for files that stand alone: none is replaced unasked."""

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import BinaryIO

from traysheets.base.errors import FileError, Problem
from traysheets.export.files import write_one
from traysheets.plan.convert import Converted, convert_plan


def convert(source: Path, target: Path, settings: Path | None = None, *, force: bool = False) -> Converted:
    """Write a plan in its other form, TOML or CSV, and tell what was written.

    Raises TraysheetsError when the plan has problems, or a file is there already and `force` is not given; nothing
    is then written.
    """
    converted = convert_plan(source, target, settings)
    may_write([file.file for file in converted.files], force)
    for file in reversed(converted.files):
        write_one(Path(file.file), partial(_put, file.text.encode()))
    return converted


def _put(content: bytes, file: BinaryIO) -> None:
    file.write(content)


def may_write(files: Iterable[str], force: bool) -> None:
    """Raise FileError with every file that is there already, unless `force`."""
    there = [] if force else [file for file in files if Path(file).exists()]
    if there:
        text = "is there already; choose another name, or replace it with --force"
        raise FileError(Problem(text, file) for file in there)
