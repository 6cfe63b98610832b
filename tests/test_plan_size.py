"""What is too much to be read: refused before work is done on it, with a sentence that says what to do."""

import csv
import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from traysheets.base import limits
from traysheets.base.errors import PlanError
from traysheets.plan.read import plan_from_csv, plan_from_toml, read_plan
from traysheets.reckon.reckon import reckon

HEAD = '[plan]\nseason = 2027\n[defaults]\ntray = "cell-72"\nsow = 2027-03-06\ncells = 1\n'
SOWING = '[[sowing]]\ncrop = "Onion"\nvariety = "Copper Bell"\n'
ROW = "Onion,Copper Bell,1,2027-03-06,cell-72\n"
HEADINGS = "crop,variety,cells,sow,tray\n"


def said(read: Callable[[str, str], object], text: str) -> list[str]:
    """All that is said against a text."""
    with pytest.raises(PlanError) as error:
        read(text, "plan")
    return str(error.value).split("\n")


def bench(number: int) -> str:
    return f'[[bench]]\nname = "{number}"\nlength = "1 m"\ndepth = "1 m"\n'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            HEAD + SOWING + f"at = [{'1,' * 600_000}]",
            "plan: this file holds 600,012 keys and values, and 500,000 are the most; make several plans of it",
        ),
        (
            HEAD + SOWING + ".".join("a" * 2000) + " = 1",
            "plan:10: brackets or dotted keys are nested deeper here than the 20 a plan may have; write it flatter",
        ),
        (
            HEAD + SOWING + '"a b" . ' * 2000 + "a = 1",
            "plan:10: brackets or dotted keys are nested deeper here than the 20 a plan may have; write it flatter",
        ),
        (
            "\n".join(f"k{number} = 1" for number in range(2000)),
            "plan:1: the top of this file has 2,000 keys; 1,000 are the most, and a plan knows fewer",
        ),
        (
            HEAD + SOWING + "\n".join(f"k{number} = 1" for number in range(2000)),
            "plan:7: [[sowing]] has 2,002 keys; 1,000 are the most, and a plan knows fewer",
        ),
        (
            HEAD + SOWING + f"at = [{'1,' * 5001}]",
            "plan:10: at has 5,001 items; 5,000 are the most",
        ),
        (
            HEAD + SOWING + "".join(map(bench, range(1001))),
            f"plan:{10 + 4 * 1000}: a plan may have 1,000 of [[bench]]; leave some out",
        ),
        (
            HEAD + SOWING * 20_001,
            f"plan:{7 + 3 * 20_000}: with this the plan has more than 20,000 sowings; make several plans of it",
        ),
        (
            HEAD + (SOWING + 'repeat = { every = "1 day", times = 300 }\n') * 70,
            f"plan:{10 + 4 * 66}: with its successions the plan comes to 20,100 batches here; 20,000 are the most;"
            " make several plans of it",
        ),
    ],
)  # fmt: skip
def test_toml_that_is_too_much(text: str, told: str) -> None:
    assert said(plan_from_toml, text) == [told]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "crop," + ",".join(f"c{number}" for number in range(2000)) + "\n",
            "plan:1: this row has 2,001 headings; 1,000 are the most, and a plan knows fewer",
        ),
        (
            '"' + "x" * 200_000,
            "plan:1: a field of this row has more than 131,072 characters; is a quote mark never closed?",
        ),
        (
            HEADINGS + ROW + ROW.replace("Copper", "x" * 200_000),
            "plan:3: a field of this row has more than 131,072 characters; is a quote mark never closed?",
        ),
        (
            HEADINGS + "," * 1_100_000,
            "plan: this file holds 1,100,004 fields, and 1,000,000 are the most; make several plans of it",
        ),
        (
            HEADINGS + ROW * 20_001,
            "plan:20002: with this the plan has more than 20,000 sowings; make several plans of it",
        ),
    ],
)  # fmt: skip
def test_a_spreadsheet_that_is_too_much(text: str, told: str) -> None:
    assert said(plan_from_csv, text) == [told]


def test_no_more_problems_are_told_than_can_be_read() -> None:
    told = said(plan_from_csv, HEADINGS + ROW.replace("Onion", "") * 5000)
    assert len(told) == limits.MOST_PROBLEMS + 1
    assert told[-1] == "plan: there are more problems than these 1,000; mend them first"
    assert told[0].startswith("plan:2: ")


def test_cells_of_all_sowings_together() -> None:
    text = HEAD.replace("cells = 1", "cells = 500_000") + SOWING * 11
    with pytest.raises(PlanError) as error:
        reckon(plan_from_toml(text, "plan"))
    told = "with this the plan comes to 5,500,000 cells; 5,000,000 are the most; make several plans of it"
    assert str(error.value) == f"plan:{7 + 3 * 10}: {told}"


def test_trays_of_all_sowings_together() -> None:
    """Of trays of one cell there would be one a cell."""
    own = '[[tray]]\nname = "pot"\nrows = 1\ncolumns = 1\nouter = ["9 cm", "9 cm"]\ncell = "8 cm"\ndepth = "9 cm"\n'
    text = HEAD.replace("cells = 1", "cells = 40_000").replace("cell-72", "pot") + SOWING * 3 + own
    with pytest.raises(PlanError) as error:
        reckon(plan_from_toml(text, "plan"))
    told = "with this the plan comes to 120,000 full trays; 100,000 are the most; make several plans of it"
    assert str(error.value) == f"plan:13: {told}"


def test_many_dots_in_a_text_are_no_key() -> None:
    notes = "see page 3" + "." * 3000 + " or " + "and. so. on. " * 9
    assert plan_from_toml(HEAD + SOWING + f'notes = "{notes}"', "plan").sowings[0].notes == notes.strip()


@pytest.mark.parametrize("value", ['"' + "x" * 3_000_000, '"' + "\\n" * 1_500_000, "'''" + "x\n" * 1_500_000])
def test_a_very_long_text_takes_little_time(value: str) -> None:
    """Its place was once looked for with a memory for every letter: 5 GiB for a text of 49 MB."""
    closing = value[0] * (3 if value.startswith("'''") else 1)
    began = time.process_time()
    assert said(plan_from_toml, HEAD + SOWING + f"notes = {value}{closing}")[0].startswith(
        "plan:10: notes: this text has "
    )
    assert time.process_time() - began < 5


def test_dots_that_nearly_make_a_key_take_little_time() -> None:
    began = time.process_time()
    plan_from_toml(HEAD + SOWING + "# " + (".a" * 39 + ";") * 5_000 + "\n# " + "x" * 1_000_000, "plan")
    assert time.process_time() - began < 5


def test_a_device_without_end_is_no_plan() -> None:
    with pytest.raises(PlanError) as error:
        read_plan(Path("/dev/zero"))
    assert str(error.value) == "/dev/zero: this file is larger than 20 MB; make several plans of it"


def test_the_limit_of_a_field_is_that_of_the_reader_of_spreadsheets() -> None:
    assert csv.field_size_limit() == limits.MOST_LETTERS_IN_FIELD


def test_every_limit_is_in_the_table_of_the_developers() -> None:
    """`DEVELOPERS.md` lists what the module has, no more and no less."""
    text = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| [^|]+ \| ([^|]+?) \| `([A-Z_]+)` \|$", text, re.MULTILINE)
    assert {name: figure for figure, name in rows} == {
        name: str(value) if "SEASON" in name else f"{value:,}" for name, value in vars(limits).items() if name.isupper()
    }
