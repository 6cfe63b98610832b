"""A table of the plan file to the values of its form. What pydantic has against it is said here in our own words."""

import json
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from traysheets.base.errors import Problem, nearest
from traysheets.plan.form import Form
from traysheets.plan.size import long_lists, too_wide
from traysheets.plan.sowing_form import RepeatForm
from traysheets.plan.tables import Table
from traysheets.plan.texts import shown


@dataclass(frozen=True, slots=True)
class Answers:
    """What a table says: every good value by key, and the keys that were given but are wrong.

    `below` is what it was laid over; a key that the table itself lacks stands there.
    """

    table: Table
    values: dict[str, Any]
    bad: frozenset[str] = frozenset()
    below: "Answers | None" = None

    def get(self, key: str, default: Any = None) -> Any:
        """The good value of a key."""
        return self.values.get(key, default)

    def given(self, key: str) -> bool:
        """Whether a key was given at all, right or wrong."""
        return key in self.values or key in self.bad

    def own(self, key: str) -> bool:
        """Whether a key stands in the table itself, not in what it was laid over."""
        return key in self.table.values

    def problem(self, text: str, *keys: str | int) -> Problem:
        """Something wrong with a key, told where that key stands; a key that stands nowhere is told at the table."""
        holder = self._holder(str(keys[0])) if keys else None
        return (holder or self).table.problem(text, *keys)

    def _holder(self, key: str) -> "Answers | None":
        """The uppermost of the tables laid over each other that has the key."""
        if self.own(key):
            return self
        return self.below._holder(key) if self.below else None

    def lacking(self, *keys: str) -> list[str]:
        """Those of the keys that were not given at all."""
        return [key for key in keys if not self.given(key)]

    def over(self, below: "Answers", without: frozenset[str] = frozenset()) -> "Answers":
        """These answers laid over others, whose keys `without` do not apply."""
        hidden = {*without, *self.bad, *self.values}
        values = {key: value for key, value in below.values.items() if key not in hidden}
        return Answers(self.table, values | self.values, self.bad | (below.bad - hidden), below)


def fill(form: type[Form], table: Table, problems: list[Problem], section: str) -> Answers:
    """The answers of a table; what is wrong with it is added to `problems`, its good values are kept all the same."""
    if told := [*long_lists(table), *filter(None, [_wide(table, section)])]:
        problems.extend(told)
        return Answers(table, {}, frozenset(form.model_fields).intersection(table.values))
    try:
        filled, bad = _validated(form, dict(table.values)), table.bad
    except ValidationError as error:
        details = error.errors(include_url=False)
        problems.extend(_problem(detail, form, table, section) for detail in details)
        bad = table.bad.union(str(detail["loc"][0]) for detail in details)
        filled = _validated(form, {key: value for key, value in table.values.items() if key not in bad})
    values = {key: getattr(filled, key) for key in table.values if key in filled.model_fields_set}
    # Empty text says nothing: in a spreadsheet it could not be told from an empty field.
    return Answers(table, {key: value for key, value in values.items() if value not in ("", ())}, bad)


def _wide(table: Table, section: str) -> Problem | None:
    """What is wrong with a table of more keys than can be complained of one by one."""
    text = too_wide(table.values, section)
    return table.problem(text) if text else None


def _validated(form: type[Form], values: dict[str, Any]) -> Form:
    """Validate as JSON text, where strict types still let lists and ISO dates pass."""
    return form.model_validate_json(json.dumps(values, default=_day_text))


def _day_text(value: object) -> str:
    assert isinstance(value, date | datetime | time)
    return value.isoformat()


def _problem(detail: ErrorDetails, form: type[Form], table: Table, section: str) -> Problem:
    """What pydantic found, as a problem with its place."""
    keys = detail["loc"]
    if detail["type"] == "extra_forbidden":
        return table.problem(_unknown_key(keys, form, section), *keys)
    column = table.column_of(*keys)
    name = column or ".".join(str(key) for key in keys)
    if detail["type"] == "value_error":
        said = str(detail["ctx"]["error"])
        return table.problem(said if column else f"{name}: {said}", *keys)
    return table.problem(f"{name} {_must_be(detail)}", *keys)


def _unknown_key(keys: tuple[str | int, ...], form: type[Form], section: str) -> str:
    if len(keys) > 1:
        form, section = RepeatForm, str(keys[0])
    key, known = str(keys[-1]), list(form.model_fields)
    if near := nearest(key, known):
        return f"there is no key {shown(key)} in {section}; did you mean '{near}'?"
    return f"there is no key {shown(key)} in {section}; there are: {', '.join(known)}"


_KINDS = {
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "string": "text in quotes",
    "model": 'a table in braces, as { every = "2 weeks", times = 4 }',
    "finite": "an ordinary number",
}


def _must_be(detail: ErrorDetails) -> str:
    bounds = detail.get("ctx", {})
    value = shown(detail["input"])
    if detail["type"] == "greater_than_equal":
        return f"must be {bounds['ge']:,.10g} or more, not {value}"
    if detail["type"] == "greater_than":
        return f"must be more than {bounds['gt']:,.10g}, not {value}"
    if detail["type"] == "less_than_equal":
        return f"must be {bounds['le']:,.10g} or less, not {value}"
    kind = _KINDS.get(detail["type"].split("_")[0])
    return f"must be {kind}, not {value}" if kind else f"cannot be {value}"
