"""What `tomllib` has against a text, in the words of a grower who may never have heard of TOML."""

import re
import tomllib
from typing import Any

from traysheets.base.errors import PlanError, Problem
from traysheets.plan.source import Source
from traysheets.plan.texts import control_character, shown

_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)
_KEY_AND_VALUE = re.compile(r"""\s*([\w.-]+)\s*=\s*([^#]*)""")
_SLASHED_DATE = re.compile(r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}\s*")
_YES = {"true": "true", "yes": "true", "false": "false", "no": "false"}

_A_LINE = 'a line is a key, then =, then a value, as variety = "Longstalk Winter"'
_CONTROL = "there is a control character here; take it out"
_IN_OTHER_WORDS = (
    ("Cannot overwrite a value", "this stands in the plan already; keep one of the two"),
    ("Cannot declare", "this table stands in the plan already; put all its keys under one heading"),
    ("Duplicate inline table key", "a key stands twice between these braces; keep one of the two"),
    ("Cannot mutate immutable namespace", "this adds to a table written in braces; write it all in one place"),
    ("Unclosed array", "a list is not closed; it ends with ]"),
    ("Unclosed inline table", "a table in braces is not closed; it ends with } on the same line"),
    ("Unterminated string", "a text is not closed; it ends with a quote mark like the one it begins with"),
    ("Expected \"'", "a text is not closed; it ends with a quote mark like the one it begins with"),
    ("Illegal character '\\n'", "a text is not closed; it ends with a quote mark on the same line"),
    ("Found invalid character '\\n'", "a text is not closed; it ends with a quote mark on the same line"),
    ("Illegal character", _CONTROL),
    ("Found invalid character", _CONTROL),
    ("Unescaped '\\' in a string", "a backslash in double quotes must be written twice; or use single quotes"),
    ("Invalid hex value", "a character code in this text is not right; write the character itself"),
    ("Escaped character is not", "a character code in this text is not right; write the character itself"),
    ("Invalid date or datetime", "there is no such day; dates are written year, month, day, as 2027-03-06"),
    ("Expected ']' at the end", "a table is headed by its name in brackets, as [plan]"),
    ("Expected ']]' at the end", "this table is headed by its name in double brackets, as [[sowing]]"),
    ("Expected '=' after a key", _A_LINE),
    ("Invalid initial character for a key part", _A_LINE),
    ("Invalid statement", _A_LINE),
)


def toml_values(source: Source) -> dict[str, Any]:
    """The values of a TOML text. Raises PlanError with the line of what is not TOML.

    RecursionError where brackets are nested very deep is left to the caller.
    """
    try:
        return tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        raise PlanError(_problem(str(error), source)) from None
    except ValueError:
        # Python refuses to read a whole number of more than 4,300 digits.
        line = next((n for n, text in enumerate(source.text.split("\n"), 1) if re.search(r"\d{4300}", text)), 1)
        raise PlanError(Problem("this number has thousands of digits", source.file, line)) from None


def _problem(said: str, source: Source) -> Problem:
    lines = source.text.split("\n")
    found = _PLACE.fullmatch(said)
    what = found[1] if found else said
    line = int(found[2]) if found and found[2] else len(source.text.rstrip().split("\n"))
    return Problem(_help(what, lines[line - 1]), source.file, line)


def _help(what: str, line: str) -> str:
    value = _KEY_AND_VALUE.fullmatch(line.split("#")[0])
    if value and what.startswith(("Invalid value", "Expected newline")):
        return _CONTROL if control_character(value[2].strip()) else _value_help(value[1], value[2].strip())
    for begins, help_text in _IN_OTHER_WORDS:
        if what.startswith(begins):
            return help_text
    return f"this is not TOML: {what[:1].lower()}{what[1:]}"


def _value_help(key: str, value: str) -> str:
    """What to write instead of a bare value that TOML does not know."""
    if not value:
        return f"there is no value after {key} ="
    if value.lower() in _YES:
        return f"write {key} = {_YES[value.lower()]}"
    if _SLASHED_DATE.fullmatch(value):
        return f"'{value}' is not a date; dates are written year, month, day, as {key} = 2027-03-06"
    if re.fullmatch(r"\d+,\d+", value):
        return f"'{value}': write the decimal point as a point, {key} = {value.replace(',', '.')}"
    if '"' in value or "'" in value or value[0] in "[{":
        return f"{key}: this value is not written as TOML wants it; text stands in one pair of quotes"
    quoted = shown(value).strip("'")
    return f'text, and a value with a unit, stands in quotes: {key} = "{quoted}"'
