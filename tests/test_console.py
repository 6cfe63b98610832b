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
