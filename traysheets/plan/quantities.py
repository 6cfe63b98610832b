"""The kinds of quantity a plan file may hold: lengths, temperatures, days, fractions; each with its JSON Schema.

A kind that refuses a value raises ValueError with a sentence; which key it was, and where, is added by `filling`.
"""

import math
import re
from collections.abc import Callable
from datetime import date, timedelta
from functools import lru_cache
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema

from traysheets.base import limits
from traysheets.base.days import parse_day
from traysheets.base.units import parse_length, parse_temperature, parse_volume
from traysheets.plan.texts import clean, shown
from traysheets.trade.papers import PAPERS, Paper

SEEN = "seen"
"""As a germination: what the book has seen of the lot."""

T = TypeVar("T")

_MORE_THAN_ANY_PART = 1000
_LEAST_MEANT_AS_PERCENT = 2
"""A bare number between 1 and this is a slip in a fraction rather than a percentage without its mark."""

_PERCENT = re.compile(r"(\d{1,4}(?:\.\d{1,6})?)\s*%")
_PLAIN_NUMBER = re.compile(r"\d{1,6}(?:\.\d{1,20})?|\.\d{1,20}")
_GAP = re.compile(r"(\d{1,4})\s*(day|week)s?", re.IGNORECASE)


def remembered(read: Callable[[Any], T]) -> Callable[[Any], T]:
    """A reader that reads the same text once: a plan says `18 C` thousands of times."""
    read_text = lru_cache(maxsize=4096)(read)

    def read_value(value: Any) -> T:
        return read_text(value) if isinstance(value, str) else read(value)

    return read_value


def _length(least_mm: float, most_mm: float) -> Callable[[Any], float]:
    """A reader of lengths between two sizes."""

    def read(value: Any) -> float:
        return _between(parse_length(_short(value)), least_mm, most_mm, value)

    return read


def _short(value: Any) -> Any:
    """The value; text proved to be short and fit to show, as a complaint may quote it whole."""
    return clean(value, limits.MOST_LETTERS_IN_QUANTITY) if isinstance(value, str) else value


def _between(mm: float, least_mm: float, most_mm: float, value: object) -> float:
    if not least_mm <= mm <= most_mm:
        raise ValueError(f"{shown(value)} is {mm:,.8g} mm; it must be {least_mm:,.10g} to {most_mm:,.10g} mm")
    return mm


def _two(read: Callable[[Any], float], example: str) -> Callable[[Any], tuple[float, ...]]:
    """A reader of two quantities in a list."""

    def read_two(value: Any) -> tuple[float, ...]:
        if not isinstance(value, list) or len(value) != 2:
            raise ValueError(f"write two in brackets, as {example}")
        return tuple(read(part) for part in value)

    return read_two


def _shift(value: Any) -> float:
    """A length that may point the other way."""
    if isinstance(value, str):
        text = _short(value)
        back = text.startswith("-")
        mm = parse_length(text.removeprefix("-"))
    else:
        back = isinstance(value, int | float) and value < 0
        mm = parse_length(-value if back else value)
    return _between(-mm if back else mm, -limits.MOST_PRINTER_SHIFT_MM, limits.MOST_PRINTER_SHIFT_MM, value)


_tray_size = _length(0.1, limits.LARGEST_TRAY_MM)
_two_tray_sizes = _two(_tray_size, '["400 mm", "250 mm"]')


def _one_or_two(value: Any) -> tuple[float, ...]:
    return _two_tray_sizes(value) if isinstance(value, list) else (_tray_size(value),) * 2


def _page(value: Any) -> tuple[float, ...]:
    """Width and height, from lengths or from the name of a paper."""
    if not isinstance(value, str):
        return _two_tray_sizes(value)
    paper = paper_named(value)
    return paper.width_mm, paper.height_mm


def paper_named(name: str) -> Paper:
    """The paper of that name, in small letters or capitals. Raises ValueError when there is none such."""
    paper = PAPERS.get(name.strip().casefold())
    if paper is None:
        raise ValueError(f"there is no paper {shown(name)}; there are: {', '.join(PAPERS)}")
    return paper


_LENGTH = WithJsonSchema({"type": ["string", "number"], "examples": ["76 mm", "3 1/2 in", 88.9]})
_LENGTHS = {"type": "array", "items": {"type": ["string", "number"]}, "minItems": 2, "maxItems": 2}
Two = tuple[float, float]

BenchLength = Annotated[float, BeforeValidator(remembered(_length(10, limits.LONGEST_MM))), _LENGTH]
TrayLength = Annotated[float, BeforeValidator(_tray_size), _LENGTH]
TwoLengths = Annotated[Two, BeforeValidator(_two_tray_sizes), WithJsonSchema(_LENGTHS)]
OneOrTwoLengths = Annotated[
    Two,
    BeforeValidator(_one_or_two),
    WithJsonSchema({"anyOf": [{"type": ["string", "number"]}, _LENGTHS]}),
]
PageSize = Annotated[
    Two,
    BeforeValidator(_page),
    WithJsonSchema({"anyOf": [{"enum": list(PAPERS)}, _LENGTHS]}),
]
Offset = Annotated[float, BeforeValidator(remembered(_length(0, limits.LARGEST_TRAY_MM))), _LENGTH]
TwoOffsets = Annotated[
    Two,
    BeforeValidator(_two(_length(0, limits.LARGEST_TRAY_MM), '["7.2 mm", "15.1 mm"]')),
    WithJsonSchema(_LENGTHS),
]
Cover = Annotated[float, BeforeValidator(remembered(_length(0, limits.DEEPEST_COVER_MM))), _LENGTH]
Shift = Annotated[float, BeforeValidator(_shift), _LENGTH]
Measured = Annotated[
    float,
    BeforeValidator(
        _length(
            limits.PRINTER_CHECK_MM - limits.MOST_PRINTER_ERROR_MM,
            limits.PRINTER_CHECK_MM + limits.MOST_PRINTER_ERROR_MM,
        )
    ),
    _LENGTH,
]


def _volume(value: Any) -> float:
    ml = parse_volume(_short(value))
    if not 0.01 <= ml <= limits.LARGEST_CELL_ML:
        raise ValueError(f"{shown(value)} cannot be; it must be 0.01 ml to {limits.LARGEST_CELL_ML / 1000:g} l")
    return ml


def _soil(value: Any) -> float:
    if isinstance(value, bool | list | dict):
        raise ValueError(f"{shown(value)} is not a temperature; write it like 18 C or 65 F")
    celsius = parse_temperature(_short(value))
    least, most = limits.COLDEST_SOIL_C, limits.WARMEST_SOIL_C
    if not least <= celsius <= most:
        raise ValueError(f"{shown(value)} is {celsius:,.0f} C; soil to sow in has {least} to {most} C")
    return celsius


_two_soils = _two(_soil, '["15 C", "25 C"]')


def _coolest_and_warmest(value: Any) -> tuple[float, ...]:
    coolest, warmest = _two_soils(value)
    if coolest > warmest:
        raise ValueError(f"{shown(value[0])} is warmer than {shown(value[1])}; write the coolest first")
    return coolest, warmest


Volume = Annotated[
    float,
    BeforeValidator(_volume),
    WithJsonSchema({"type": ["string", "number"], "examples": ["80 ml"]}),
]
Temperature = Annotated[
    float,
    BeforeValidator(remembered(_soil)),
    WithJsonSchema({"type": "string", "examples": ["18 C", "65 F"]}),
]
TwoTemperatures = Annotated[
    Two,
    BeforeValidator(_coolest_and_warmest),
    WithJsonSchema({"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}),
]


_SMALL_WEEK = re.compile(r"^(\s*\d{4}-)w(\d\d(?:-\d)?\s*)$")
_SPREADSHEET_DAY = re.compile(r"([34567]\d{4})(?:\.0+)?")
_SPREADSHEET_DAY_0 = date(1899, 12, 30)
"""Days from 1900 on are counted from here (ISO/IEC 29500-1, 18.17.4.1, the 1900 date system, from memory)."""


def _day(value: Any) -> date:
    if not isinstance(value, str):
        raise ValueError(f'{shown(value)} is not a day; write it as 2027-03-06, or a week as "2027-W09"')
    if number := _SPREADSHEET_DAY.fullmatch(value.strip()):
        day = _SPREADSHEET_DAY_0 + timedelta(days=int(number[1]))
        said = "is the number of a day as spreadsheets count them"
        raise ValueError(f"{shown(value)} {said}, {day} most likely; give the cells the form of a day, as 2027-03-06")
    day = parse_day(_SMALL_WEEK.sub(r"\1W\2", _short(value)))
    if not limits.FIRST_SEASON <= day.year <= limits.LAST_SEASON:
        raise ValueError(f"{shown(value)}: the year must be {limits.FIRST_SEASON} to {limits.LAST_SEASON}")
    return day


Day = Annotated[
    date,
    BeforeValidator(remembered(_day)),
    WithJsonSchema({"type": "string", "pattern": r"^\d{4}-(\d{2}-\d{2}|[Ww]\d{2}(-\d)?)$"}),
]


def _season(year: int) -> int:
    if not limits.FIRST_SEASON <= year <= limits.LAST_SEASON:
        raise ValueError(f"{shown(year)} is not a season; write the year in full, as 2027")
    return year


Season = Annotated[int, AfterValidator(_season)]


def _part(value: Any, what: str, example: str = '0.85 or "85 %"') -> float:
    """A fraction from a number or from text, with `%` or without; a bare 85 is asked about, not guessed at."""
    if isinstance(value, str) and (percent := _PERCENT.fullmatch(value.strip())):
        return float(percent[1]) / 100
    if isinstance(value, str) and _PLAIN_NUMBER.fullmatch(value.strip()):
        value = float(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"{shown(value)} is not {what}; write it as {example}")
    if 1 < value < _LEAST_MEANT_AS_PERCENT:
        raise ValueError(f"{value:g} is more than the whole; write a fraction up to 1, or a percentage: {example}")
    if 1 < value <= 100:
        raise ValueError(f'{value:g} is more than the whole; did you mean "{value:g} %"?')
    if abs(value) > _MORE_THAN_ANY_PART:  # a whole number of hundreds of digits is more than a float can hold
        return math.inf if value > 0 else -math.inf
    return float(value)


def _germination(value: Any) -> float | str:
    if isinstance(value, str) and value.strip().casefold() == SEEN:
        return SEEN
    part = _part(value, "a germination")
    if not 0 < part <= 1:
        raise ValueError(f'{shown(value)} cannot be; germination is above 0 and at most 1, or "100 %"')
    return part


def _minimum(value: Any) -> float:
    part = _germination(value)
    if isinstance(part, str):
        raise ValueError('a crop takes a figure here, as 0.7 or "70 %"; "seen" belongs in a sowing')
    return part


def _confidence(value: Any) -> float:
    part = _part(value, "a chance", '0.9 or "90 %"')
    if not 0 < part <= limits.HIGHEST_CONFIDENCE:
        most = limits.HIGHEST_CONFIDENCE
        raise ValueError(f"{shown(value)} cannot be; the chance wanted is above 0 and at most {most}, as 0.9")
    return part


def _spare(value: Any) -> float:
    part = _part(value, "a share of the seed", '0.1 or "10 %"')
    if not 0 <= part <= limits.MOST_SPARE:
        raise ValueError(f'{shown(value)} cannot be; spare seed is 0 or more of what is sown, as 0.1 or "10 %"')
    return part


_PART = WithJsonSchema({"type": ["number", "string"], "examples": [0.85, "85 %"]})
Germination = Annotated[
    float | str,
    BeforeValidator(remembered(_germination)),
    WithJsonSchema({"type": ["number", "string"], "examples": [0.85, "85 %", SEEN]}),
]
Minimum = Annotated[float, BeforeValidator(_minimum), _PART]
Confidence = Annotated[float, BeforeValidator(_confidence), _PART]
Spare = Annotated[float, BeforeValidator(_spare), _PART]


def _gap_days(value: Any) -> int:
    """The days that `2 weeks` or `10 days` are."""
    found = _GAP.fullmatch(value.strip()) if isinstance(value, str) else None
    days = int(found[1]) * (7 if found[2].casefold() == "week" else 1) if found else 0
    if not 1 <= days <= limits.LONGEST_GAP_DAYS:
        raise ValueError(f'{shown(value)} is not a time between sowings; write it as "2 weeks" or "10 days"')
    return days


GapDays = Annotated[
    int,
    BeforeValidator(_gap_days),
    WithJsonSchema({"type": "string", "examples": ["2 weeks", "10 days"]}),
]
