"""Tables to TOML text, as a grower would write it: one table a section, one key a line."""

import json
import re
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from traysheets.plan.sections import heading

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_DAYS = {"sow", "plant_out", "last_frost"}


def toml_text(tables: Iterable[tuple[str, Mapping[str, Any]]]) -> str:
    """The text of tables given as (section, values)."""
    return "\n".join(_table(section, values) for section, values in tables)


def _table(section: str, values: Mapping[str, Any]) -> str:
    return "\n".join([heading(section), *(toml_line(key, value) for key, value in values.items())]) + "\n"


def toml_line(key: str, value: Any) -> str:
    """One key with its value: `at = ["1: A1-A2"]`."""
    return f"{_key(key)} = {_value(value, key)}"


def _key(key: str) -> str:
    return key if _BARE_KEY.fullmatch(key) else _quoted(key)


def _value(value: Any, key: str = "") -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(_value(item) for item in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{_key(name)} = {_value(part)}' for name, part in value.items())} }}"
    if isinstance(value, str) and not (key in _DAYS and _DATE.fullmatch(value)):
        return _quoted(value)
    return value.isoformat() if isinstance(value, date) else str(value)


def _quoted(text: str) -> str:
    """Text in double quotes; the escapes of JSON are all escapes of TOML too."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
