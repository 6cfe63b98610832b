"""What a message advises to write into a plan, in the words of its file: as TOML has it, or for a spreadsheet."""

from pathlib import Path
from typing import Any

from traysheets.plan.fields import written
from traysheets.plan.source import is_csv
from traysheets.plan.toml_text import toml_line


def advised(key: str, value: Any, file: str) -> str:
    """A key of a sowing with its value: `at = ["1: A1-A2"]`; of a plan in CSV, `1: A1-A2 in the column at`."""
    return f"{written(value)} in {named(key, file)}" if is_csv(Path(file)) else toml_line(key, value)


def named(key: str, file: str) -> str:
    """A key of a sowing by its name: `at`; of a plan in CSV, `the column at`."""
    return f"the column {key}" if is_csv(Path(file)) else key
