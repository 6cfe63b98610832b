"""A plan written in its other form, as a file."""

from functools import partial
from pathlib import Path

from traysheets.export.files import may_write, put, write_one
from traysheets.plan.convert import Converted, convert_plan


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
