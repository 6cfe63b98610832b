"""Whole plans and all that is said about them, word for word: plan above, sentences below, in one file."""

from pathlib import Path

import pytest

from traysheets.base.errors import PlanError
from traysheets.plan.read import plan_from_csv, plan_from_toml

CASES = sorted(Path(__file__).with_name("plan_cases").glob("*.case"))
CUT = "======== "


def said_about(name: str, text: str) -> tuple[str, str]:
    """What is said about a plan, and whether as problems or as notices."""
    read = plan_from_csv if name.endswith(".csv") else plan_from_toml
    try:
        plan = read(text, name)
    except PlanError as error:
        return "problems", str(error)
    return "notices", "\n".join(f"{name}:{notice.line}: {notice.text}" for notice in plan.notices)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_everything_is_said(case: Path) -> None:
    text, _, expected = case.read_text(encoding="utf-8").partition(CUT)
    assert said_about(case.stem, text) == tuple(expected.rstrip("\n").split("\n", 1))


def test_the_cases_are_found() -> None:
    assert len(CASES) >= 9
