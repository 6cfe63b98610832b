"""The words of the sheets, in the reader's language, with its own habits for numbers, dates and lengths.

A language is one file of `languages/`, named by its code. No sheet holds a word of its own. Values are put in by name: `words("tray", n=3)`.
An entry with plural forms is a table keyed by the CLDR plural categories; its form follows the value called `n`.
"""

import tomllib
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from babel import Locale
from babel.dates import format_date
from babel.numbers import format_decimal, format_percent

from traysheets.base.errors import TraysheetsError

_FOLDER = Path(__file__).parent / "languages"
MM_PER_INCH = 25.4


def languages() -> tuple[str, ...]:
    """Codes of the languages there are words for, in alphabetical order."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def words_for(language: str) -> "Words":
    """The words of a language. Raises TraysheetsError when there is no file for it."""
    path = _FOLDER / f"{language}.toml"
    if not path.is_file():
        known = ", ".join(languages())
        raise TraysheetsError(f"there are no words for the language '{language}'; there are: {known}")
    return Words(language, tomllib.loads(path.read_text(encoding="utf-8")))


@dataclass(frozen=True)
class Words:
    """One language: its entries by section and key, and its habits."""

    language: str
    entries: dict[str, Any]
    locale: Locale = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "locale", Locale.parse(self.language))

    def __call__(self, key: str, /, **values: object) -> str:
        """The words under `section.key`, values put in. Raises KeyError for a key the file lacks: a fault of ours."""
        section, _, name = key.partition(".")
        entry = self.entries[section][name]
        if isinstance(entry, dict):
            count = values.get("n")
            entry = entry[self.locale.plural_form(count) if isinstance(count, int | float) else "other"]
        shown = {name: self.number(v) if isinstance(v, int | float) else v for name, v in values.items()}
        return str(entry).format_map(shown)

    def number(self, value: float, decimals: int | None = None) -> str:
        """A number with the language's own marks; `decimals` fixes how many places, else at most three."""
        pattern = None if decimals is None else "#,##0." + "0" * decimals if decimals else "#,##0"
        return format_decimal(value, format=pattern, locale=self.locale)

    def percent(self, fraction: float) -> str:
        """A fraction as a percentage, to at most one decimal."""
        return format_percent(round(fraction, 3), locale=self.locale, decimal_quantization=False)

    def day(self, day: date) -> str:
        """A day written out: `Saturday 6 March 2027`."""
        return format_date(day, self.entries["day"]["long"], locale=self.locale)

    def short_day(self, day: date) -> str:
        """A day in short: `6 Mar 2027`."""
        return format_date(day, self.entries["day"]["short"], locale=self.locale)

    def day_of_year(self, day: date) -> str:
        """A day without its year: `6 Mar`."""
        return format_date(day, self.entries["day"]["no_year"], locale=self.locale)

    def length(self, mm: float, units: str) -> str:
        """A length in the plan's units: `76 mm`, or inches to the nearest eighth: `3 in`, `1 1/8 in`."""
        if units != "inch":
            return f"{self.number(round(mm, 1))} mm"
        eighths = round(mm / MM_PER_INCH * 8)
        whole, rest = divmod(eighths, 8)
        if not rest:
            return f"{whole} in"
        above, below = rest, 8
        while above % 2 == 0:
            above, below = above // 2, below // 2
        return f"{whole} {above}/{below} in" if whole else f"{above}/{below} in"
