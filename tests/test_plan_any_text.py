"""Whatever a file holds: it becomes a plan, or is refused with places and sentences. Nothing else comes out."""

import re
from collections.abc import Callable

from hypothesis import example, given, settings
from hypothesis import strategies as st
from test_plan_toml import WHOLE

from traysheets.base.errors import PlanError
from traysheets.plan.model import Plan
from traysheets.plan.read import plan_from_csv, plan_from_toml

ROWS = """\
crop,variety,cells,tray,sow,germination,cover,at,repeat every,repeat times,treated,sticks,notes
Onion,Copper Bell,8,pot-18,2027-03-06,85 %,6 mm,1: A1-A3,,,yes,run,"one
two"
Leek,Grey Spire,8,cell-72,2027-W09,"0,85",,,2 weeks,3,,4,
"""
SCRAPS = [
    "",
    '"',
    "'",
    "\n",
    ",",
    ";",
    "[",
    "]",
    "{",
    "}",
    "=",
    "#",
    ".",
    "-",
    "0",
    "9" * 30,
    "nan",
    "\x00",
    "\x1b",
    "é",
    "🌱",
    "\u200b",
]
SCRAPS += [
    "[[sowing]]",
    "[plan]",
    "\ncells = 1\n",
    "[[tray]]\n",
    '"2 weeks"',
    "2027-03-06",
    "'''",
    '"""',
    "\\u0000",
    "\\",
]


@st.composite
def damaged(draw: st.DrawFn, text: str) -> str:
    """The text with pieces cut out and scraps put in."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.sampled_from([0, 1, 2, 7, 60])))
        text = text[:start] + draw(st.sampled_from(SCRAPS)) + text[end:]
    return text


def refused(read: Callable[[str, str], Plan], text: str) -> list[str]:
    """What is said against a text; nothing when it is a plan."""
    try:
        read(text, "plan")
    except PlanError as error:
        return [str(problem) for problem in error.problems] or ["nothing is said"]
    return []


def all_fit_to_show(sentences: list[str]) -> bool:
    """Whether each sentence has its place, stands on one line and steers no terminal."""
    return all(re.match(r"plan:\d+: \S", said) and said.isprintable() for said in sentences)


@settings(max_examples=150, deadline=None)
@given(damaged(WHOLE) | st.text(max_size=60))
@example("sowing = [{}]")
@example("[[sowing]]\nrepeat = { every = { every = 1 } }")
@example("[[sowing]]\nplan.title.x = 1")
@example("plan = { title = { a = [[[1]]] } }")
def test_any_toml(text: str) -> None:
    assert all_fit_to_show(refused(plan_from_toml, text))


@settings(max_examples=150, deadline=None)
@given(damaged(ROWS) | st.text(max_size=60))
@example('"\n"')
@example("crop\n\x00")
@example("crop," * 5000 + "\n")
@example("crop,variety\n" + "x" * 200_000 + ",y\n")
def test_any_csv(text: str) -> None:
    assert all_fit_to_show(refused(plan_from_csv, text))


def test_what_is_not_fit_to_show_is_seen() -> None:
    assert not all_fit_to_show(["nothing is said"])
    assert not all_fit_to_show(["plan:1: a\x1bb"])
    assert all_fit_to_show(["plan:1: a"])
