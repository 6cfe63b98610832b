"""The starter plan and the JSON Schema: what a newcomer and an editor are given."""

import json
import tomllib
from collections.abc import Iterator
from datetime import date
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
from test_plan_toml import WHOLE

from traysheets.plan.model import Method
from traysheets.plan.read import plan_from_toml
from traysheets.plan.schema import plan_schema
from traysheets.plan.sections import NAMES
from traysheets.plan.starter import starter_plan

SAMPLES = Path(__file__).resolve().parent.parent / "sample_plans"


@pytest.mark.parametrize("season", [2026, 2027, 2028])
def test_the_starter_plan_is_read_as_it_is(season: int) -> None:
    plan = plan_from_toml(starter_plan(season), "mine.toml")
    assert plan.notices == ()
    assert plan.season == season
    assert {sowing.method for sowing in plan.sowings} == set(Method)
    assert all(day.year == season for sowing in plan.sowings if (day := sowing.sow))


def test_the_starter_plan_is_short_and_explains_itself() -> None:
    lines = starter_plan().splitlines()
    assert len(lines) < 80
    assert sum("#" in line for line in lines) > 15
    assert all(len(line) <= 120 for line in lines)


def texts_for_dates(value: Any) -> Any:
    """A plan as an editor's schema check sees it: TOML's dates as text."""
    if isinstance(value, dict):
        return {key: texts_for_dates(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [texts_for_dates(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value


def references(schema: Any) -> Iterator[str]:
    """Every `$ref` of a schema."""
    if isinstance(schema, dict):
        yield from ([schema["$ref"]] if "$ref" in schema else [])
        yield from (reference for inner in schema.values() for reference in references(inner))
    elif isinstance(schema, list):
        yield from (reference for inner in schema for reference in references(inner))


def test_the_schema_describes_every_table_and_key() -> None:
    schema = plan_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert set(references(schema)) == {f"#/$defs/{name}" for name in schema["$defs"]}
    assert set(schema["properties"]) == set(NAMES)
    for form in schema["$defs"].values():
        assert form["additionalProperties"] is False
        assert all(key.get("description") or "$ref" in key for key in form["properties"].values())
    assert "null" not in json.dumps(schema)


def test_the_schema_as_an_independent_library_takes_it() -> None:
    """JSON Schema Draft 2020-12, by `jsonschema` where it is installed; else the schema is only proved to be JSON."""
    schema = json.loads(json.dumps(plan_schema()))
    assert schema == plan_schema()
    if find_spec("jsonschema") is None:
        return
    checker = import_module("jsonschema").Draft202012Validator
    checker.check_schema(schema)
    valid = checker(schema)
    whole = WHOLE.replace("Inch", "inch").replace("Clump", "clump")  # capitals are forgiven, not recommended
    for text in (starter_plan(), whole, *(path.read_text() for path in SAMPLES.glob("*.toml"))):
        assert [error.message for error in valid.iter_errors(texts_for_dates(tomllib.loads(text)))] == []
    for wrong in (
        "[plan]\ntitel = 'a'",
        "[[sowing]]\ncells = 0",
        "[plan]\nunits = 'mm'",
        "[sowing]",
        "[other]",
        "[pace]\nclump = 0",
    ):
        assert not valid.is_valid(tomllib.loads(wrong)), wrong
