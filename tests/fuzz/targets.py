"""What is fuzzed: each target takes one input and lets through whatever is no answer for a grower.

A target passes when the program does what it should or says what is wrong. A traceback, a text that steers a terminal,
or a sentence without its place is a fault; so are a hang and too much memory, which the runner watches.
"""

import os
import re
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing, suppress
from tempfile import TemporaryDirectory

from fuzz import seeds
from fuzz.seeds import put, run

from traysheets.base.errors import PlanError
from traysheets.plan.model import Plan
from traysheets.plan.read import plan_from_csv, plan_from_toml
from traysheets.plan.source import Source, decoded

_PLACED = re.compile(r"plan(\.\w+)?:(\d+: )? ?\S|settings:\d+: \S")


def toml(content: bytes) -> None:
    """The bytes of a plan in TOML."""
    _refused(content, lambda text: plan_from_toml(text, "plan"))


def table(content: bytes) -> None:
    """The bytes of a plan in CSV."""
    _refused(content, lambda text: plan_from_csv(text, "plan", Source(seeds.SETTINGS, "settings")))


def settings(content: bytes) -> None:
    """The bytes of a settings file behind a good spreadsheet."""
    _refused(content, lambda text: plan_from_csv(seeds.TABLE, "plan", Source(text, "settings")))


def _refused(content: bytes, read: Callable[[str], Plan]) -> None:
    for said in _said(content, read):
        assert _PLACED.match(said), said
        assert said.isprintable(), said


def _said(content: bytes, read: Callable[[str], Plan]) -> list[str]:
    try:
        read(decoded(content, "plan"))
    except PlanError as error:
        return [str(problem) for problem in error.problems] or [""]
    return []


def check(content: bytes) -> None:
    """`check`, as a table and as JSON, of a plan."""
    with TemporaryDirectory() as folder:
        plan = put(folder, "plan.toml", content)
        for words in (["check", plan], ["check", plan, "--json", "-q"]):
            answered(run(*words))


def make(content: bytes) -> None:
    """`make` of a plan, all sheets, if it is small enough to be drawn in a moment."""
    with TemporaryDirectory() as folder:
        plan = put(folder, "plan.toml", content)
        with suppress(PlanError):
            read = plan_from_toml(decoded(content, "plan"), "plan")
            if sum((one.repeat.times if one.repeat else 1) * one.amount.number for one in read.sowings) > 400:
                return
        answered(run("make", plan))
        _only_below(folder, {"plan.toml", "plan.book.sqlite", "plan", "traysheets.lock"})


def commands(words: Sequence[str]) -> None:
    """A command line, in a folder that holds a good plan, table and book. What it writes stays in that folder."""
    before = os.getcwd()
    with TemporaryDirectory() as folder:
        inner = os.path.join(folder, "a", "b", "c")
        os.makedirs(inner)
        put(inner, "plan.toml", seeds.PLAN.encode())
        put(inner, "plan.csv", seeds.TABLE.encode())
        put(inner, "plan.book.sqlite", seeds.book())
        os.chdir(inner)
        try:
            answered(run(*words))
        finally:
            os.chdir(before)


def book(content: bytes) -> None:
    """Everything that reads a book, and a note into it."""
    with TemporaryDirectory() as folder:
        file = put(folder, "plan.book.sqlite", content)
        plan = put(folder, "plan.toml", seeds.PLAN.encode())
        code = seeds.codes()[0]
        for words in (
            ["book", "show", file], ["book", "show", file, code],
            ["book", "export", file, "-o", f"{file}.csv"], ["book", "export", file, "--json", "-o", f"{file}.json"],
            ["book", "note", file, code, "remark", "--remark", "x", "--sure"], ["check", plan, "-q"],
            ["book", "backup", file, "-o", os.path.join(folder, "copy")],
        ):  # fmt: skip
            answered(run(*words))


def rows(changes: Sequence[tuple[str, str, object]]) -> None:
    """A sound book whose rows hold what no program of ours has written: (table, column, value)."""
    with TemporaryDirectory() as folder:
        file = put(folder, "book", seeds.book())
        with closing(sqlite3.connect(file, isolation_level=None)) as opened:
            opened.execute("DROP TRIGGER IF EXISTS entries_stay_as_written")
            for name, column, value in changes:
                with suppress(sqlite3.IntegrityError, sqlite3.OperationalError):
                    opened.execute(f"UPDATE {name} SET {column} = ?", (value,))
        with open(file, "rb") as opened_file:
            book(opened_file.read())


def verify(content: bytes) -> None:
    """`verify` of what may be a PDF."""
    with TemporaryDirectory() as folder:
        answered(run("verify", put(folder, "sheet.pdf", content)))


def answered(result: tuple[int, str, str]) -> None:
    """Whether a run ended as it should, and said nothing that steers a terminal."""
    status, out, err = result
    assert status in (0, 1, 2), status
    assert status == 0 or err.strip() or out.strip(), "nothing is said"
    for said in (out, err):
        wrong = {c for c in said if (ord(c) < 32 or 127 <= ord(c) < 160) and c not in "\n\r\t"}
        assert not wrong, (wrong, said)
        assert "Traceback" not in said, said


def _only_below(folder: str, known: set[str]) -> None:
    strays = {name for name in os.listdir(folder) if name not in known and not name.startswith(".")}
    assert not strays, strays
