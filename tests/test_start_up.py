"""Each command loads, and nothing that it does not need: told by the names of modules, in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from traysheets.cli.main import COMMANDS

SAMPLE = Path(__file__).parent.parent / "sample_plans" / "spring.toml"

DRAWS = {"reportlab", "PIL", "jinja2", "icalendar", "qrcode"}
SERVES = {"flask", "werkzeug", "waitress"}
READS_PLANS = {"pydantic"}
KEEPS_BOOKS = {"sqlite3"}
SHARES_OUT = {"multiprocessing"}
TELLS_DAYS = {"babel"}

LIGHT = DRAWS | SERVES | READS_PLANS | KEEPS_BOOKS | SHARES_OUT
NEEDLESS = {
    "--version": LIGHT | TELLS_DAYS,
    "--help": LIGHT | TELLS_DAYS,
    "new --help": LIGHT,
    "new {folder}/new.toml": LIGHT,
    "list trays": LIGHT,
    "list crops --origins": LIGHT,
    "check --help": DRAWS | SERVES | SHARES_OUT,
    "check {sample} --book {folder}/book.sqlite": DRAWS | SERVES | SHARES_OUT,
    "schema": DRAWS | SERVES | KEEPS_BOOKS | SHARES_OUT,
    "convert {sample} -o {folder}/new.csv": DRAWS | SERVES | SHARES_OUT,
    "book show --help": DRAWS | SERVES | READS_PLANS | SHARES_OUT,
    "serve --help": DRAWS | SERVES | READS_PLANS | SHARES_OUT,
    "printer-check --help": SERVES | SHARES_OUT | {"jinja2", "icalendar"},
    "make --help": SERVES | {"jinja2", "icalendar"},
    "make {sample} --only sticks --only maps --output {folder}/sheets --book {folder}/book.sqlite -q": SERVES
    | {"jinja2", "icalendar"},
}


def loaded(words: list[str]) -> set[str]:
    """The names of all packages that a command loads, from the interpreter's own account."""
    command = [sys.executable, "-X", "importtime", "-m", "traysheets", *words]
    # What counts the lines that are run would load packages of its own.
    alone = {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}
    done = subprocess.run(command, capture_output=True, text=True, check=True, env=alone)
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


@pytest.mark.parametrize("command", NEEDLESS)
def test_a_command_loads_nothing_needless(tmp_path: Path, command: str) -> None:
    words = [word.format(folder=tmp_path, sample=SAMPLE) for word in command.split()]
    assert loaded(words) & NEEDLESS[command] == set()


def test_what_is_needed_is_seen_to_be_loaded(tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(SAMPLE.read_text())
    assert loaded(["make", str(plan), "-q", "--jobs", "1"]) >= (DRAWS | READS_PLANS | KEEPS_BOOKS)


def test_every_command_loads_with_a_click_that_has_no_types_of_what_is_converted() -> None:
    """Of click before 8.4 it cannot be said what a type of words converts to."""
    code = f"""
import click
from traysheets.cli.main import cli
click.ParamType.__class_getitem__ = None
for name in {list(COMMANDS)}:
    cli.get_command(None, name)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr == ""
