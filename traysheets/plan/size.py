"""What is too much to be read at all: found before any work is done on it, so that no file takes long or much memory.

What a single value may ask for is said by its kind, in `form`, `quantities` and `texts`.
"""

import re
from collections.abc import Iterable, Iterator, Sized

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import DEEPEST_NESTING, MOST_IN_LIST, MOST_KEYS, MOST_PROBLEMS, MOST_SOWINGS, MOST_VALUES
from traysheets.plan.source import Source
from traysheets.plan.tables import Table

TOO_DEEP = (
    f"brackets or dotted keys are nested deeper here than the {DEEPEST_NESTING} a plan may have; write it flatter"
)
TOO_MANY_SOWINGS = f"with this the plan has more than {MOST_SOWINGS:,} sowings; make several plans of it"

_BEFORE_VALUES = "=,[."
# Names joined by dots, twice as many as may be nested. It is sought from the first of its dots, and each turn
# gives nothing back, so that the search is over in the time it takes to read the file once or so.
_PART = r"""[ \t]*+(?:[A-Za-z0-9_-]{1,1000}+|"[^"\n]{0,1000}+"|'[^'\n]{0,1000}+')[ \t]*+"""
_LONG_KEY = re.compile(rf"\.(?:{_PART}\.){{{2 * DEEPEST_NESTING}}}")


def refuse_too_much(source: Source) -> None:
    """Raises PlanError for a TOML text that holds more values, or deeper ones, than any plan."""
    refuse_many(sum(source.text.count(mark) for mark in _BEFORE_VALUES), "keys and values", MOST_VALUES, source.file)
    if found := _LONG_KEY.search(source.text):
        raise PlanError(Problem(TOO_DEEP, source.file, source.text.count("\n", 0, found.start()) + 1))


def refuse_many(values: int, what: str, most: int, file: str) -> None:
    """Raises PlanError for more values than any plan has."""
    if values > most:
        text = f"this file holds {values:,} {what}, and {most:,} are the most; make several plans of it"
        raise PlanError(Problem(text, file))


def too_wide(keys: Sized, what: str, kind: str = "keys") -> str | None:
    """What is said of a table with more keys, or a spreadsheet with more columns, than there are any."""
    if len(keys) <= MOST_KEYS:
        return None
    return f"{what} has {len(keys):,} {kind}; {MOST_KEYS:,} are the most, and a plan knows fewer"


def long_lists(table: Table) -> Iterator[Problem]:
    """The lists of a table that have more items than any needs."""
    for key, value in table.values.items():
        if isinstance(value, list) and len(value) > MOST_IN_LIST:
            yield table.problem(f"{key} has {len(value):,} items; {MOST_IN_LIST:,} are the most", key)


def as_told(problems: Iterable[Problem], file: str) -> list[Problem]:
    """Each problem once, those of the plan before those of its settings, by line; no more than can be read."""
    ordered = sorted(dict.fromkeys(problems), key=lambda problem: (problem.file != file, problem.line or 0))
    if len(ordered) <= MOST_PROBLEMS:
        return ordered
    return [
        *ordered[:MOST_PROBLEMS],
        Problem(f"there are more problems than these {MOST_PROBLEMS:,}; mend them first", file),
    ]


def refuse_hopeless(problems: list[Problem], file: str) -> None:
    """Raises PlanError when there are so many problems already that looking for more would help nobody."""
    if len(problems) > MOST_PROBLEMS:
        raise PlanError(as_told(problems, file))
