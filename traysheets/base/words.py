"""The words of the sheets, in the reader's language, with its own habits for numbers, dates and lengths.

A language is one file of `languages/`, named by its code. No sheet holds a word of its own. Values are put in by name:
`words("maps.of", total=3)`. An entry with plural forms is a table keyed by the CLDR plural categories; its form follows
the value called `n`. What is asked for is kept, as sheets say the same things often; habits are read when first needed.
"""

import tomllib
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import Any

from babel import Locale
from babel.dates import format_date
from babel.numbers import format_decimal, format_percent

from traysheets.base.directions import isolated
from traysheets.base.errors import TraysheetsError
from traysheets.base.units import MM_PER_INCH

_FOLDER = Path(__file__).parent / "languages"
_OTHER = "other"
"""The plural category that every language has, and that stands in for one a file leaves out."""


@cache
def languages() -> tuple[str, ...]:
    """Codes of the languages there are words for, in alphabetical order."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def words_for(language: str) -> "Words":
    """The words of a language. Raises TraysheetsError when there is no file for it."""
    if language not in languages():
        known = ", ".join(languages())
        raise TraysheetsError(f"there are no words for the language '{language}'; there are: {known}")
    return Words(language, tomllib.loads((_FOLDER / f"{language}.toml").read_text(encoding="utf-8")))


@dataclass(frozen=True)
class Words:
    """One language: its entries by section and key, and its habits."""

    language: str
    entries: dict[str, Any]

    @cached_property
    def locale(self) -> Locale:
        """The habits of the language, as the Unicode CLDR tells them."""
        return Locale.parse(self.language)

    @cached_property
    def _forms(self) -> dict[str, dict[str, str]]:
        """The forms of every entry by `section.key`; of one without plurals there is one, for every number."""
        return {
            f"{section}.{key}": entry if isinstance(entry, dict) else {_OTHER: str(entry)}
            for section, entries in self.entries.items()
            for key, entry in entries.items()
        }

    def __call__(self, key: str, /, **values: object) -> str:
        """The words under `section.key`, values put in. Raises KeyError for a key the file lacks: a fault of ours."""
        forms = self._forms[key]
        form = forms[_OTHER]
        if not values:
            return form
        count = values.get("n")
        if len(forms) > 1 and isinstance(count, int | float):
            form = forms.get(_category(count, self.locale), form)
        return form.format_map({name: self._shown(value) for name, value in values.items()})

    def _shown(self, value: object) -> object:
        """A value as it stands among words: a number as written here, a name so that it turns no words round."""
        if isinstance(value, int | float):
            return self.number(value)
        return isolated(value) if isinstance(value, str) else value

    def number(self, value: float, decimals: int | None = None) -> str:
        """A number with the language's own marks; `decimals` fixes how many places, else at most three."""
        return _number(value, decimals, self.locale)

    def percent(self, fraction: float) -> str:
        """A fraction as a percentage, to at most one decimal."""
        return _percent(round(fraction, 3), self.locale)

    def day(self, day: date) -> str:
        """A day written out: `Saturday 6 March 2027`."""
        return self.written(day, "day.long")

    def day_heading(self, day: date) -> str:
        """The same where it opens a line: names of days begin with a capital there in every language."""
        return sentence(self.day(day))

    def short_day(self, day: date) -> str:
        """A day in short: `6 Mar 2027`."""
        return self.written(day, "day.short")

    def day_of_year(self, day: date) -> str:
        """A day without its year: `6 Mar`."""
        return self.written(day, "day.no_year")

    def written(self, day: date, key: str) -> str:
        """A day by the date pattern under `section.key`; the first of a month as the language says it."""
        return _written(day, self(key), self("day.first"), self.locale)

    def length(self, mm: float, units: str) -> str:
        """A length in the plan's units: `76 mm`, or inches to the nearest eighth: `3 in`, `1 1/8 in`."""
        if units == "inch":
            return self("measures.inches", n=inches(mm))
        return self("measures.millimetres", n=to_a_tenth(mm))


def to_a_tenth(mm: float) -> float:
    """Millimetres to a tenth, halves up, as a reader rounds: 57.15 is 57.2, though a float is a hair less than that."""
    return float(Decimal(repr(round(float(mm), 6))).quantize(Decimal("0.1"), ROUND_HALF_UP))


def sentence(text: str) -> str:
    """A text as it stands at the beginning of a line: its first letter a capital."""
    return text[:1].upper() + text[1:]


def inches(mm: float, parts: int = 8) -> str:
    """A length as inches to the nearest eighth (or sixteenth), the fraction in lowest terms: `3`, `1/8`, `1 1/2`."""
    whole, rest = divmod(round(mm / MM_PER_INCH * parts), parts)
    if not rest:
        return str(whole)
    above, below = rest, parts
    while above % 2 == 0:
        above, below = above // 2, below // 2
    return f"{whole} {above}/{below}" if whole else f"{above}/{below}"


@lru_cache(maxsize=4096)
def _category(count: float, locale: Locale) -> str:
    return locale.plural_form(count)


@lru_cache(maxsize=4096)
def _number(value: float, decimals: int | None, locale: Locale) -> str:
    pattern = None if decimals is None else "#,##0." + "0" * decimals if decimals else "#,##0"
    return format_decimal(value, format=pattern, locale=locale)


@lru_cache(maxsize=1024)
def _percent(fraction: float, locale: Locale) -> str:
    return format_percent(fraction, locale=locale, decimal_quantization=False)


@lru_cache(maxsize=4096)
def _written(day: date, pattern: str, first: str, locale: Locale) -> str:
    return format_date(day, _with_first(pattern, first) if day.day == 1 else pattern, locale=locale)


def _with_first(pattern: str, first: str) -> str:
    """The pattern for the first day of a month, which some languages count by an ordinal, as `1er mars`.

    The CLDR has no field for that: the number gives way to words, in quotes as it wants them.
    """
    parts = pattern.split("'")
    return "'".join(part if i % 2 else part.replace("d", f"'{first}'") for i, part in enumerate(parts))
