"""TOML to CSV and back without loss: what a spreadsheet cannot hold goes to a settings file beside it.

Every conversion is read back and compared with what it came from before anything is handed over.
"""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from traysheets.base.errors import PlanError
from traysheets.base.notices import Notice
from traysheets.plan.assembling import plan_of
from traysheets.plan.fields import written
from traysheets.plan.headings import COLUMNS, REPEAT
from traysheets.plan.lines import has_remarks
from traysheets.plan.model import Plan
from traysheets.plan.read import document_of, read_document
from traysheets.plan.sections import LISTS, NAMES
from traysheets.plan.source import Source, is_csv, read_source
from traysheets.plan.tables import Document, Table
from traysheets.plan.toml_text import toml_text

_TOML = ".toml"


@dataclass(frozen=True, slots=True)
class Converted:
    """The files that a plan becomes, the plan itself first, and what is worth knowing about them."""

    files: tuple[Source, ...]
    notices: tuple[Notice, ...]


def convert_plan(source: Path, target: Path, settings: Path | None = None) -> Converted:
    """The plan of `source` in the other form, called `target`: CSV and a settings TOML, or all in one TOML.

    Writes nothing. Raises PlanError when the plan has problems, or cannot be had in the other form without loss.
    """
    _refuse_other_forms(source, target)
    document = read_document(source, settings)
    plan = plan_of(document)
    if is_csv(source) == is_csv(target):
        form = "CSV" if is_csv(source) else "TOML"
        raise PlanError(f"{source} and {target} are both {form}; name a file that ends in .csv or .toml")
    if plan.fonts and source.parent != target.parent:
        raise PlanError(f"{source} names font files beside it; convert it into the same folder")
    files = _to_csv(document, target) if is_csv(target) else (Source(_to_toml(document), str(target)),)
    if _bare(plan_of(document_of(*files))) != _bare(plan):
        raise PlanError(f"{source} cannot be converted without loss")
    return Converted(files, tuple(_notices(source, settings)))


def _refuse_other_forms(source: Path, target: Path) -> None:
    """Raise PlanError when the name of the target does not end as a plan's does, telling one that would."""
    if not is_csv(target) and target.suffix.lower() != _TOML:
        right = target.parent / f"{target.stem or source.stem}{_TOML if is_csv(source) else '.csv'}"
        raise PlanError(f"{target}: a plan is TOML or CSV; name a file that ends in .toml or .csv, as {right}")


def settings_name(plan: Path) -> Path:
    """What the settings of a CSV plan are called when they are made from TOML: `spring.settings.toml`."""
    return plan.with_suffix(".settings.toml")


def _notices(*sources: Path | None) -> Iterable[Notice]:
    if any(has_remarks(read_source(source).text) for source in sources if source and not is_csv(source)):
        yield Notice("remarks after # are not carried over")


def _bare(plan: Plan) -> Plan:
    """The plan without what tells where it was read from."""
    sowings = tuple(replace(sowing, line=0) for sowing in plan.sowings)
    benches = tuple(replace(bench, line=0, file=None) for bench in plan.benches)
    return replace(plan, file="", sowings=sowings, benches=benches, notices=())


def _settings(document: Document) -> list[tuple[str, Mapping[str, Any]]]:
    """All tables but the sowings, as (section, values); the title is made to stand, as it may be the file's name."""
    tables: list[tuple[str, Mapping[str, Any]]] = []
    for name in NAMES:
        found = [] if name == "sowing" else document.tables(name)
        if name == "plan":
            tables.append((name, {"title": Path(document.file).stem} | _merged(found)))
        elif name in LISTS:
            tables.extend((name, table.values) for table in found)
        elif found:
            tables.append((name, _merged(found)))
    return tables


def _merged(tables: Iterable[Table]) -> dict[str, Any]:
    """Tables of one section as one: what stands first goes before."""
    values: dict[str, Any] = {}
    for table in tables:
        values = {**table.values, **values}
    return values


def _to_toml(document: Document) -> str:
    sowings = [("sowing", table.values) for table in document.tables("sowing")]
    return toml_text([*_settings(document), *sowings])


def _to_csv(document: Document, target: Path) -> tuple[Source, Source]:
    rows = [_flat(table.values) for table in document.tables("sowing")]
    columns = [column for column in COLUMNS if any(column in row for row in rows)]
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: written(value) for key, value in row.items()} for row in rows)
    return Source(text.getvalue(), str(target)), Source(toml_text(_settings(document)), str(settings_name(target)))


def _flat(values: Mapping[str, Any]) -> dict[str, Any]:
    """A sowing's values by column."""
    repeat = {f"{REPEAT}{key}": value for key, value in values.get("repeat", {}).items()}
    flat = {key: value for key, value in values.items() if key != "repeat"} | repeat
    return flat | ({"at": [flat["at"]]} if isinstance(flat.get("at"), str) else {})
