"""The front door of this room: a file, or the text of one, to a `Plan`."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from traysheets.base.errors import PlanError, Problem
from traysheets.plan.assembling import plan_of
from traysheets.plan.from_csv import csv_document
from traysheets.plan.from_toml import toml_document
from traysheets.plan.model import Plan
from traysheets.plan.source import Source, has_sheets, is_csv, read_source
from traysheets.plan.tables import Document

_NUMBER_IN_COLLECTION = re.compile("#[0-9]+$")
"""What may follow the name of a font file that holds several fonts: which of them, from 0."""

_OF_SETTINGS = re.compile(r"^there is no (?:tray|crop) |\[defaults\]|\[plan\]")
"""Problems of a sheet that a settings file may cure: names of the grower's own, columns that lack, days of the plan."""


def read_plan(source: Path | str, settings: Path | str | None = None) -> Plan:
    """The plan in a file, TOML or CSV by its ending; `settings` is a TOML file with tables that the plan lacks.

    Raises PlanError with every problem at once.
    """
    try:
        return _plan_with_its_files(read_document(Path(source), Path(settings) if settings else None))
    except PlanError as error:
        hints = [] if settings or not is_csv(Path(source)) else _settings_hints(Path(source), error.problems)
        raise PlanError([*error.problems, *hints]) from None


def _settings_hints(source: Path, problems: Iterable[Problem]) -> Iterator[Problem]:
    """Where what a sheet lacks may be: in a settings file, one that stands beside it or one to be written."""
    if not any(_OF_SETTINGS.search(problem.text) for problem in problems):
        return
    beside = (source.with_suffix(".settings.toml"), source.with_name("settings.toml"))
    if found := next((path for path in beside if path.is_file()), None):
        yield Problem(f"{found} stands beside this file and was not read; name it with --settings {found}", str(source))
    else:
        text = "trays and crops of your own, and what is the same for all rows, go in a TOML file"
        yield Problem(f"{text} that is named with --settings FILE", str(source))


def read_document(source: Path, settings: Path | None = None) -> Document:
    """The tables of a plan file and of its settings. Raises PlanError when they cannot be read."""
    if has_sheets(source):
        text = "a spreadsheet's own file cannot be read; save the sheet as CSV in UTF-8 and name that"
        raise PlanError(Problem(text, str(source)))
    return document_of(read_source(source), read_source(settings) if settings else None)


def document_of(source: Source, settings: Source | None = None) -> Document:
    """The tables of a plan's text, TOML or CSV by the ending of its name, and those of its settings behind them."""
    behind = _settings_document(settings) if settings else None
    if is_csv(Path(source.file)):
        return csv_document(source, behind)
    document = toml_document(source)
    return document.over(behind) if behind else document


def _settings_document(source: Source) -> Document:
    """The tables of a settings file. Sowings in it would be lost sight of, and are refused."""
    document = toml_document(source)
    strays = [
        table.problem("a settings file has no sowings; move this to the plan") for table in document.tables("sowing")
    ]
    sections = {name: tables for name, tables in document.sections.items() if name != "sowing"}
    return replace(document, sections=sections, problems=(*document.problems, *strays))


def plan_from_csv(text: str, file: str, settings: Source | None = None) -> Plan:
    """The plan of a CSV text called `file`, one row a sowing; `settings` is TOML with all else. Raises as from TOML."""
    return plan_of(csv_document(Source(text, file), _settings_document(settings) if settings else None))


def plan_from_toml(text: str, file: str, settings: Source | None = None) -> Plan:
    """The plan of a TOML text called `file`. Raises PlanError with every problem at once."""
    document = toml_document(Source(text, file))
    return plan_of(document.over(_settings_document(settings)) if settings else document)


def _plan_with_its_files(document: Document) -> Plan:
    """The plan of a document, the font files that it names proved to be there."""
    missing = list(_missing_fonts(document))
    try:
        plan = plan_of(document)
    except PlanError as error:
        raise PlanError([*error.problems, *missing]) from None
    if missing:
        raise PlanError(missing)
    return plan


def _missing_fonts(document: Document) -> Iterator[Problem]:
    """The font files that are named and not there. What is no text is complained of where the form is filled in.

    A day without quotes passes for a text there, so it does here.
    """
    for table in document.tables("plan"):
        fonts = table.values.get("fonts")
        for place, font in enumerate(fonts if isinstance(fonts, list) else [fonts]):
            if not isinstance(font, str | date):
                continue
            path = Path(document.file).parent / _NUMBER_IN_COLLECTION.sub("", str(font))
            if not path.is_file():
                yield table.problem(f"there is no font file {path}", "fonts", place)
