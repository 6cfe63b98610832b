"""A place of work to be maltreated: a plan that changes from run to run, the command in a process that can be killed,
and what must hold of its folder and its book whatever happened. Who maltreats it, and how, is in the files beside it.
"""

import json
import os
import shutil
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path

from traysheets.cli.main import cli

TODAY = date.today()
HEAD = f"""
[plan]
title = "Version {{number}}"
season = {TODAY.year}

[defaults]
tray = "pot-18"
sow = {TODAY}
"""
SOWING = '[[sowing]]\ncrop = "Onion"\nvariety = "Variety {number}"\ncells = 3\n'
ONLY = ("--only", "sticks", "--only", "records", "--quiet")
STATE = ".traysheets"
KILLED = -9


class Child:
    """The command in a process forked off: with all modules loaded, a run is soon in the midst of its work."""

    def __init__(self, *words: str | Path, said: Path, prepare: Callable[[], object] = lambda: None) -> None:
        self._said = said
        self._status: int | None = None
        self.process = os.fork()
        if not self.process:
            self._run([str(word) for word in words], prepare)

    def _run(self, words: list[str], prepare: Callable[[], object]) -> None:
        status = 70
        try:
            with self._said.open("wb", buffering=0) as out:
                os.dup2(out.fileno(), 1)
                os.dup2(out.fileno(), 2)
            prepare()
            cli.main(words, prog_name="traysheets")
        except SystemExit as end:
            status = end.code if isinstance(end.code, int) else 0 if end.code is None else 1
        finally:
            sys.stdout.flush()
            sys.stderr.flush()
            os._exit(status)

    @property
    def ended(self) -> bool:
        """Whether the process is gone, without waiting."""
        if self._status is None:
            process, status = os.waitpid(self.process, os.WNOHANG)
            self._status = os.waitstatus_to_exitcode(status) if process else None
        return self._status is not None

    def kill(self) -> None:
        """End it as a power cut would, were the disk to keep all that was written."""
        if not self.ended:
            os.kill(self.process, 9)

    def wait(self) -> int:
        """Its exit status, or KILLED."""
        if self._status is None:
            self._status = os.waitstatus_to_exitcode(os.waitpid(self.process, 0)[1])
        return self._status

    def said(self) -> str:
        """All it wrote to the terminal."""
        return self._said.read_text(encoding="utf-8")


class Workshop:
    """A plan, its book, and the folder of its sheets. Every version of the plan drops a sowing and adds a new one."""

    def __init__(self, place: Path, output: Path | None = None, book: Path | None = None) -> None:
        place.mkdir(parents=True, exist_ok=True)
        self.place, self.plan, self.told_in = place, place / "plan.toml", place
        self.output, self.book = output or place / "plan", book or place / "plan.book.sqlite"
        self.printed: dict[str, str] = {}

    def write_plan(self, number: int) -> None:
        """Write the version of this number."""
        sowings = "".join(SOWING.format(number=number + further) for further in range(3))
        self.plan.write_text(HEAD.format(number=number) + sowings, encoding="utf-8")

    def start(self, prepare: Callable[[], object] = lambda: None, output: Path | None = None) -> Child:
        """A run of `make` that goes on while the caller looks on."""
        words = ("make", self.plan, "-o", output or self.output, "--book", self.book, *ONLY)
        return Child(*words, said=self.told_in / f"said-{time.monotonic_ns()}", prepare=prepare)

    def make(self) -> None:
        """A run that is left alone must do all."""
        run = self.start()
        assert run.wait() == 0, run.said()
        self.check()

    def meant(self, number: int) -> dict[str, bytes]:
        """The files that a run of this version is to write now, made elsewhere from a copy of the book."""
        aside = Workshop(self.place / "aside")
        aside.write_plan(number)
        if self.book.exists():
            copy(self.book, aside.book)
        aside.make()
        files = tree(aside.output)
        shutil.rmtree(aside.place)
        return files

    def check(self) -> None:
        """Whatever happened: the book is sound, knows every code ever printed, and each is still of its own batch."""
        in_book = varieties(self.book)
        for code, variety in {**self.printed, **on_paper(self.output)}.items():
            assert self.printed.setdefault(code, variety) == variety, f"{code} was given twice"
            assert in_book.get(code) == variety, f"{code} is lost"

    def at_rest(self) -> bool:
        """Whether nothing unfinished lies about."""
        state = self.output / STATE
        return not state.exists() or {path.name for path in state.iterdir()} <= {"written.json", "lock"}


def tree(folder: Path) -> dict[str, bytes]:
    """All files of a folder that are not hidden."""
    paths = sorted(path for path in folder.rglob("*") if STATE not in path.parts and path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def on_paper(folder: Path) -> dict[str, str]:
    """Codes that the records of a folder give to varieties. Fails when the file is not whole."""
    records = folder / "records/records.json"
    if not records.exists():
        return {}
    return {sowing["batch"]: sowing["variety"] for sowing in json.loads(records.read_bytes())["sowings"]}


def varieties(book: Path) -> dict[str, str]:
    """The variety of every code of a book, which is first proved sound, and to give no batch two codes."""
    if not book.exists():
        return {}
    with closing(sqlite3.connect(book, timeout=20)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)], "the book is damaged"
        rows = connection.execute("SELECT code, variety FROM batches").fetchall()
    found = dict(rows)
    assert len(set(found.values())) == len(found), "a batch has two codes"
    return found


def remarks(book: Path) -> list[str]:
    """The remarks of all entries of a book, in the order of writing."""
    with closing(sqlite3.connect(book, timeout=20)) as connection:
        return [remark for (remark,) in connection.execute("SELECT remark FROM entries ORDER BY id")]


def copy(book: Path, target: Path) -> None:
    """A copy of a book as it is now; a journal that a killed run left is heeded, and left."""
    for ending in ("", "-journal"):
        if Path(f"{book}{ending}").exists():
            shutil.copyfile(f"{book}{ending}", f"{target}{ending}")
