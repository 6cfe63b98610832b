"""The fields of a spreadsheet to values as TOML would give them, so that one form takes both.

What cannot be such a value is left as text, for the form to complain about.
"""

import re
from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Annotated, Any, get_args, get_origin

from traysheets.plan.headings import REPEAT
from traysheets.plan.sowing_form import RepeatForm, SowingForm

_WHOLE = re.compile(r"(\d{1,15})(?:[.,]0{1,2})?")
# The smallest float there is has 341 places behind the point when it is written out.
_DECIMAL = re.compile(r"\d{1,12}\.\d{1,400}|\.\d{1,400}|\d{1,12}")
_COMMA_IN_NUMBER = re.compile(r"(?<=\d),(?=\d)")
_POINT_IN_NUMBER = re.compile(r"(?<=\d)\.(?=\d)")
_MIDNIGHT = re.compile(r"[T ]00:00(?::00(?:\.0+)?)?Z?$")
# The words that spreadsheets and growers use for it, in the languages that sheets are printed in.
_YES = "true yes x wahr ja vrai oui verdadero sí si verdadeiro sim"
_NO = "false no falsch nein faux non falso não nao"
_YES_AND_NO = dict.fromkeys(_YES.split(), True) | dict.fromkeys(_NO.split(), False)
_SIGNS_OF_FORMULAS = frozenset("=+-@#'")
_SPREADSHEET_ERROR = re.compile(r"#(?:REF!|N/A|VALUE!|NAME\?|DIV/0!|NUM!|NULL!)")

DECIMALS = frozenset({"germination", "confidence", "spare", "soil_temp", "cover"})
"""Columns whose numbers may have decimals."""


def _whole(text: str) -> Any:
    """A whole number. Thousands marks are not guessed at: `2.000` stays text, and is refused."""
    found = _WHOLE.fullmatch(text)
    return int(found[1]) if found else text


def _decimal(text: str) -> Any:
    if not _DECIMAL.fullmatch(text):
        return text
    return float(text) if "." in text else int(text)


def _yes_or_no(text: str) -> Any:
    return _YES_AND_NO.get(text.casefold(), text)


def _day(text: str) -> Any:
    """A day without the time of midnight that some spreadsheets add."""
    return _MIDNIGHT.sub("", text)


def _list(text: str) -> Any:
    return [part.strip() for part in re.split(r"[;,\n]", text) if part.strip()]


def reader(column: str) -> Callable[[str], Any]:
    """What turns the text of a field into the value of that column."""
    if column in DECIMALS:
        return _decimal
    if column == "at":
        return _list
    if column in ("sow", "plant_out"):
        return _day
    kinds = _kinds(column)
    if bool in kinds:
        return _yes_or_no
    return _whole if int in kinds and column != "repeat_every" else str


def _kinds(column: str) -> set[Any]:
    """The plain types that the form gives a column."""
    form, key = (RepeatForm, column.removeprefix(REPEAT)) if column.startswith(REPEAT) else (SowingForm, column)
    kinds: set[Any] = set()
    for choice in get_args(form.model_fields[key].annotation):
        bare = get_args(choice)[0] if get_origin(choice) is Annotated else choice
        kinds.update(get_args(bare) or [bare])
    return kinds


def uses_decimal_comma(fields: Iterable[str]) -> bool:
    """Whether numbers among these fields are written with a comma, and none with a point."""
    comma = False
    for text in fields:
        if _POINT_IN_NUMBER.search(text):
            return False
        comma = comma or _COMMA_IN_NUMBER.search(text) is not None
    return comma


def with_decimal_point(text: str) -> str:
    """The text with the comma in its number made a point."""
    return _COMMA_IN_NUMBER.sub(".", text)


def complaint(text: str) -> str | None:
    """Why a field cannot be taken as it is, if anything: a formula, or an error that the spreadsheet shows."""
    if text.startswith("="):
        return "this is a formula; save the sheet with its values, or begin the text with an apostrophe"
    if _SPREADSHEET_ERROR.fullmatch(text):
        return f"the spreadsheet shows an error here ({text}); mend it there"
    return None


def unmarked(text: str) -> str:
    """Text without the apostrophe that keeps a spreadsheet from taking it for a formula."""
    return text[1:] if text[:1] == "'" and text[1:2] in _SIGNS_OF_FORMULAS else text


def written(value: Any) -> str:
    """A value as a field holds it, the reverse of a reader; what a spreadsheet would take for a formula is marked."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{Decimal(repr(value)):f}"
    if isinstance(value, list):
        return "; ".join(map(str, value))
    text = str(value).strip()
    return f"'{text}" if text[:1] in _SIGNS_OF_FORMULAS else text
