"""What reaches a terminal, and what a pipe: nothing steers the one, and all is exact in the other."""

import json
import os
import pty
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from books import CLUMP, add
from test_cli import run

EVIL = "red \x1b[31m, bell \x07, one byte \x9b2J, struck \x7f"
SHOWN = r"red \x1b[31m, bell \x07, one byte \x9b2J, struck \x7f"

TURNING = [chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))]
"""What embeds, overrides or isolates a direction, and so turns round whatever else stands in the row."""


@pytest.fixture
def evil(file: Path) -> Path:
    """A book from elsewhere, that holds what no program of ours would have written."""
    add(file, "emerged", 100, remark="a remark")
    with closing(sqlite3.connect(file)) as connection, connection:
        connection.execute("DROP TRIGGER entries_stay_as_written")
        connection.execute("UPDATE entries SET remark = ?", (EVIL,))
        connection.execute("UPDATE batches SET variety = ?", (EVIL,))
    return file


def on_terminal(*words: str | Path) -> str:
    """What a command writes to a terminal, which itself puts a return before every line feed."""
    ours, its = pty.openpty()
    with os.fdopen(ours, "rb", buffering=0) as terminal:
        command = [sys.executable, "-m", "traysheets", *words]
        process = subprocess.Popen(command, stdout=its, env={**os.environ, "PYTHONUTF8": "1"})
        os.close(its)
        said = b""
        try:
            while part := terminal.read(65536):
                said += part
        except OSError:  # Linux says so when nobody holds the other end any more
            pass
        assert process.wait() == 0
    return said.decode().replace("\r\n", "\n")


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["csv", "json"])
def test_an_export_to_a_terminal_does_not_steer_it(evil: Path, form: list[str]) -> None:
    said = on_terminal("book", "export", evil, *form)
    assert "".join(filter(str.isprintable, said)) == said.replace("\n", "")
    assert "one byte \\x9b2J, struck \\x7f" in said
    if not form:
        assert said.startswith("batch,crop,variety,")
        assert said.splitlines()[1].startswith(f"{CLUMP},Onion,")
        assert SHOWN in said


@pytest.mark.parametrize("sign", TURNING)
def test_no_name_turns_round_what_stands_beside_it(sign: str, tmp_path: Path) -> None:
    plan, escaped = tmp_path / "plan.toml", f"\\u{ord(sign):04x}"
    sowing = '[[sowing]]\ncrop = "Leek"\nvariety = "{}"\ncells = 1\ntray = "pot-18"\nsow = 2027-03-06\n'
    plan.write_text(2 * sowing.format(f"Old{sign}Ferry") + sowing.format("Another, longer"), encoding="utf-8")
    said = run("check", plan)
    assert said.stdout.count(f"Old{escaped}Ferry") == 2
    assert f"Old{escaped}Ferry is sown like this in line 1 already" in said.stderr
    assert sign not in said.output
    heading, _, first, second, other = said.stdout.splitlines()[3:8]
    columns = {row.index("60%") for row in (first, second, other)}
    assert columns == {heading.index("germination")}, "what is escaped takes more room, and the columns are as wide"
    as_json = run("check", plan, "--json").stdout
    assert sign not in as_json
    assert any(f"Old{sign}Ferry" in warning["text"] for warning in json.loads(as_json)["warnings"])


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["csv", "json"])
def test_a_remark_that_turns_the_row_is_handed_to_a_pipe_as_it_is(file: Path, form: list[str]) -> None:
    remark = f"a{''.join(TURNING)}b\u200e\u200f"
    add(file, "emerged", 100, remark=remark)
    assert remark in run("book", "export", file, *form).stdout_bytes.decode("utf-8-sig")
    said = on_terminal("book", "export", file, *form)
    assert not set(TURNING) & set(said)
    assert "a\\u202a\\u202b" in said
    assert "b\u200e\u200f" in said, "marks turn nothing else, and names in Hebrew or Arabic need them"


def test_an_export_to_a_pipe_is_the_file_to_the_byte(evil: Path, tmp_path: Path) -> None:
    for form in ([], ["--json"]):
        target = tmp_path / "export"
        assert run("book", "export", evil, *form, "-o", target, "--force").exit_code == 0
        assert run("book", "export", evil, *form).stdout_bytes == target.read_bytes()
        assert EVIL.split(",")[-1] in target.read_text(encoding="utf-8-sig")


def test_json_of_what_would_steer_a_terminal_is_json_of_it(evil: Path, tmp_path: Path) -> None:
    """The plan has the batch no more: it is told of by its name in the book."""
    plan = tmp_path / "plan.toml"
    plan.write_text('[[sowing]]\ncrop = "Leek"\nvariety = "Old Ferry"\ncells = 1\ntray = "pot-18"\nsow = 2027-03-06\n')
    said = run("check", plan, "--json", "--book", evil).stdout
    assert said.replace("\n", "").isprintable()
    assert any(EVIL in warning["text"] for warning in json.loads(said)["warnings"])
