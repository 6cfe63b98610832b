"""A plan kept in a spreadsheet and saved as CSV to its tables, one row a sowing. What rows hold is checked elsewhere.

Rows are counted as the spreadsheet counts them, blank ones and headings too.
"""

import csv
import io
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import MOST_FIELDS, MOST_KEYS, MOST_LETTERS_IN_FIELD, MOST_SOWINGS
from traysheets.base.notices import Notice
from traysheets.plan.fields import DECIMALS, complaint, reader, unmarked, uses_decimal_comma, with_decimal_point
from traysheets.plan.headings import REPEAT, Headings, key_of, understood
from traysheets.plan.size import TOO_MANY_SOWINGS, refuse_many, too_wide
from traysheets.plan.source import Source
from traysheets.plan.sowings import AMOUNTS, DAYS, NEEDED
from traysheets.plan.tables import Document, Table
from traysheets.plan.texts import listed

_DELIMITERS = ",;\t"
_TOLD_DELIMITER = re.compile(r'\s*"?sep=([,;\t|])"?[ ;,]*(?:\n|\Z)', re.IGNORECASE)
"""A first line that tells a spreadsheet what stands between fields. It reads it and shows no row for it."""


@dataclass(frozen=True, slots=True)
class _Lines:
    """The rows of a file as text, and what stands between fields."""

    text: str
    file: str
    delimiter: str


@dataclass(frozen=True, slots=True)
class _Row:
    """A row that holds something, with its number in the spreadsheet."""

    number: int
    fields: list[str]


def csv_document(source: Source, settings: Document | None = None) -> Document:
    """The tables of a CSV text, and those of its settings behind them.

    Raises PlanError when it is not CSV; what is wrong with headings and rows becomes problems.
    """
    text = source.text.replace("\r\n", "\n").replace("\r", "\n")
    told = _TOLD_DELIMITER.match(text)
    lines = _Lines(text[told.end() :] if told else text, source.file, told[1] if told else _delimiter(text))
    refuse_many(lines.text.count(lines.delimiter), "fields", MOST_FIELDS, source.file)
    rows = _rows(lines)
    first = next(rows, None)
    if first is None:
        raise PlanError(Problem("no row of this file holds anything", source.file, 1))
    if wide := too_wide(first.fields, "this row", "headings"):
        raise PlanError(Problem(wide, source.file, first.number))
    reading = _Reading(source.file, first.number, understood(first.fields), _not_too_many(rows, source.file))
    defaults = {key for table in (settings.tables("defaults") if settings else []) for key in table.values}
    lacking = reading.lacking(defaults)
    document = Document(
        source.file,
        {"sowing": list(reading.tables())} if reading.has_rows else {},
        (*reading.problems, *reading.lacking_problems(lacking)),
        tuple(reading.notices()),
        frozenset(lacking),
    )
    return document.over(settings) if settings else document


def _rows(source: _Lines) -> Iterator[_Row]:
    """The rows that are not blank. Raises PlanError where quote marks do not add up."""
    number = 0
    lines = csv.reader(io.StringIO(source.text), delimiter=source.delimiter, strict=True)
    try:
        for number, fields in enumerate(lines, 1):
            if any(field.strip().strip(_DELIMITERS) for field in fields):
                yield _Row(number, fields)
    except csv.Error as error:
        raise PlanError(Problem(_in_other_words(str(error)), source.file, number + 1)) from None


def _not_too_many(rows: Iterator[_Row], file: str) -> list[_Row]:
    """The rows of sowings. Raises PlanError at the first that is one too many."""
    kept = list(islice(rows, MOST_SOWINGS))
    if more := next(rows, None):
        raise PlanError(Problem(TOO_MANY_SOWINGS, file, more.number))
    return kept


def _in_other_words(said: str) -> str:
    if "field limit" in said:
        return f"a field of this row has more than {MOST_LETTERS_IN_FIELD:,} characters; is a quote mark never closed?"
    if "expected after" in said:
        return 'a quote mark inside a quoted field must be written twice, as ""'
    return "a quote mark is opened in this row and never closed"


def _delimiter(text: str) -> str:
    """What stands between fields: of comma, semicolon and tab the one that makes most sense of the headings."""
    line = next((line for line in text.split("\n") if line.strip(" \t;,")), "")

    def sense(delimiter: str) -> tuple[int, int]:
        fields = line.split(delimiter, MOST_KEYS)
        return sum(key_of(field) is not None for field in fields), len(fields)

    return max(_DELIMITERS, key=sense)


class _Reading:
    """The rows of one file on their way to tables; what is wrong gathers in `problems`."""

    def __init__(self, file: str, heading_row: int, headings: Headings, rows: list[_Row]) -> None:
        self._file = file
        self._heading_row = heading_row
        self._headings = headings
        self._rows = rows
        self._comma_keys = self._find_comma_keys()
        self._headless: set[int] = set()
        self.problems = [Problem(text, file, heading_row, column) for text, column in headings.wrong]

    @property
    def has_rows(self) -> bool:
        """Whether anything stands below the headings."""
        return bool(self._rows)

    def _find_comma_keys(self) -> frozenset[str]:
        """The columns of decimals, when the file writes them with commas."""
        places = [place for place, key in enumerate(self._headings.keys) if key in DECIMALS]
        fields = (row.fields[place] for row in self._rows for place in places if place < len(row.fields))
        return DECIMALS if uses_decimal_comma(fields) else frozenset()

    def notices(self) -> Iterator[Notice]:
        """What was made of headings and numbers."""
        if self._headings.forgiven:
            yield Notice(f"headings are read so: {listed(self._headings.forgiven)}", self._heading_row)
        if self._comma_keys:
            yield Notice("decimal commas are read as decimal points in this file", self._heading_row)

    def lacking(self, defaults: set[str]) -> list[str]:
        """Keys that every sowing needs, and that neither a column nor the defaults can give; of a group its first."""
        known = defaults | set(self._headings.columns)
        missing = [key for key in NEEDED if key not in known]
        return missing + [str(group[0]) for group in (AMOUNTS, DAYS) if not known.intersection(group)]

    def lacking_problems(self, lacking: list[str]) -> Iterator[Problem]:
        """One problem for each heading that is missing, rather than one a row."""
        for key in (key for key in NEEDED if key in lacking and key not in self._headings.suggested):
            yield self._at_headings(
                f"no column is headed {key}; add it, or give {key} under [defaults] in the settings"
            )
        for group in (AMOUNTS, DAYS):
            if group[0] in lacking and not self._headings.suggested.intersection(group):
                yield self._at_headings(f"no column is headed {listed(group, 'or')}; add one of them")

    def _at_headings(self, text: str) -> Problem:
        return Problem(text, self._file, self._heading_row)

    def tables(self) -> Iterator[Table]:
        """A table for each row; rows that do not fit the headings become problems."""
        readers = [reader(key) if key else str for key in self._headings.keys]
        width = len(readers)
        for row in self._rows:
            fields = row.fields[:width] if not any(row.fields[width:]) else row.fields
            if len(fields) == width:
                yield self._table(row.number, fields, readers)
            else:
                text = f"this row has {len(fields)} fields, and there are {width} headings"
                self.problems.append(Problem(text, self._file, row.number))

    def _table(self, number: int, fields: list[str], readers: list[Callable[[str], Any]]) -> Table:
        values: dict[str, Any] = {}
        bad = set()
        for place, text in enumerate(map(str.strip, fields)):
            key = self._headings.keys[place]
            if not text:
                continue
            if key is None:
                self._complain_of_headless(number, place)
            elif wrong := complaint(text):
                self.problems.append(Problem(wrong, self._file, number, self._headings.columns[key]))
                bad.add(key)
            else:
                plain = with_decimal_point(text) if key in self._comma_keys else text
                values[key] = readers[place](unmarked(plain))
        return Table(_nested(values), self._file, number, columns=self._headings.columns, bad=frozenset(bad))

    def _complain_of_headless(self, number: int, place: int) -> None:
        """Something stands in a column without a heading; told at the first such row."""
        if place in self._headings.blank and place not in self._headless:
            self._headless.add(place)
            text = f"field {place + 1} of this row stands in a column without a heading; head it, or empty the column"
            self.problems.append(Problem(text, self._file, number))


def _nested(values: dict[str, Any]) -> dict[str, Any]:
    """The two columns of `repeat` as the one table that they are in TOML."""
    parts = [column for column in values if column.startswith(REPEAT)]
    if parts:
        values["repeat"] = {column.removeprefix(REPEAT): values.pop(column) for column in parts}
    return values
