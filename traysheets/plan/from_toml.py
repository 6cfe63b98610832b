"""A plan written in TOML to its tables. What the tables hold is checked elsewhere."""

from collections.abc import Iterator
from typing import Any

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import DEEPEST_NESTING
from traysheets.plan.lines import KeyPath, locate
from traysheets.plan.sections import LISTS, NAMES, form_of, heading
from traysheets.plan.size import TOO_DEEP, refuse_too_much, too_wide
from traysheets.plan.source import Source
from traysheets.plan.syntax import toml_values
from traysheets.plan.tables import Document, Table
from traysheets.plan.texts import listed, meant, shown


def toml_document(source: Source) -> Document:
    """The tables of a TOML text. Raises PlanError when it is not TOML; tables out of place become problems."""
    source = Source(source.text.replace("\r\n", "\n"), source.file)
    refuse_too_much(source)
    try:
        values, lines = toml_values(source), locate(source.text)
    except RecursionError:
        raise PlanError(Problem(TOO_DEEP, source.file, 1)) from None
    deepest = max(lines, key=len, default=())
    if len(deepest) > DEEPEST_NESTING:
        raise PlanError(Problem(TOO_DEEP, source.file, lines[deepest]))
    if text := too_wide(values, "the top of this file"):
        raise PlanError(Problem(text, source.file, 1))
    problems: list[Problem] = []
    sections: dict[str, list[Table]] = {}
    for name, value in values.items():
        tables = list(_tables(name, value))
        problem = _misplaced(name, value)
        if problem:
            sections[name] = []
            problems.append(Problem(problem, source.file, lines[name,]))
        else:
            sections[name] = [Table(v, source.file, lines[path], lines, path) for path, v in tables]
    return Document(source.file, sections, tuple(problems))


def _tables(name: str, value: Any) -> Iterator[tuple[KeyPath, Any]]:
    if isinstance(value, list):
        yield from (((name, place), table) for place, table in enumerate(value))
    else:
        yield (name,), value


def _misplaced(name: str, value: Any) -> str | None:
    """What is wrong with a name at the top of the file, if anything."""
    is_table = isinstance(value, dict)
    is_tables = isinstance(value, list) and all(isinstance(table, dict) for table in value) and value != []
    if name not in NAMES:
        return _unknown(name, is_table or is_tables)
    if name in LISTS and not is_tables:
        return f"{name} may stand in a plan many times; head each with {heading(name)}"
    if name not in LISTS and not is_table:
        return f"{name} stands in a plan once; head it with {heading(name)}"
    return None


_LIKELY_HOMES = sorted(NAMES, key=lambda section: section not in ("plan", "sowing"))


def _unknown(name: str, is_table: bool) -> str:
    if is_table:
        headings = listed([heading(section) for section in NAMES])
        near = meant(name, NAMES)
        return f"there is no table {shown(name)} in a plan{near or f'; there are: {headings}'}"
    homes = [heading(section) for section in _LIKELY_HOMES if name in form_of(section).model_fields]
    if homes:
        return f"{name} stands outside all tables; put it under {listed(homes[:2], 'or')}"
    return f"{shown(name)} stands outside all tables, and no table has such a key"
