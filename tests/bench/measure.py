"""One command in a fresh process: how long it took, and the most memory it held by the system's own account.

The seconds of the processors are those of the process and of all it waited for; they say more than the wall's where
others use the machine. The memory is `ru_maxrss` of wait4, the largest of the process and of those it waited for. A
browser is many processes at once, so for such a command the shares of its whole tree are added up as well, a few times
a second, from /proc/*/smaps_rollup (`Pss`: shared pages are divided among those who share them). A process counts the
memory of the one that started it as its own at first; so this one imports nothing large.
"""

import json
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median_low
from typing import Any

HERE = Path(__file__).parent
NEWLINE = "\n"
PAUSE_S = 0.1
MAXRSS_MIB = 1 / (1024 * 1024 if sys.platform == "darwin" else 1024)
ENOUGH_S = 8.0
"""A command that has run so long in all is not run again."""


class NotMeasuredError(Exception):
    """There are no figures: the command was stopped at the end of its time, or it failed. Says which."""


@dataclass(frozen=True)
class Figures:
    """Wall seconds, seconds of the processors and MiB of a command, and what it printed last, where that was JSON."""

    seconds: float
    cpu_seconds: float
    mib: float
    told: dict[str, Any]


def once(command: Sequence[str], limit_s: float, *, tree: bool = False) -> Figures:
    """Run a command. Raises NotMeasuredError."""
    with tempfile.TemporaryFile("w+") as out, tempfile.TemporaryFile("w+") as said:
        start = time.perf_counter()
        process = subprocess.Popen(command, stdout=out, stderr=said, cwd=HERE, start_new_session=True)
        with _limited(process.pid, limit_s) as stopped, _watched(process.pid, tree) as seen:
            _, status, usage = os.wait4(process.pid, 0)
        seconds = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        texts = [(file.seek(0), file.read())[1] for file in (out, said)]
    if stopped.is_set():
        raise NotMeasuredError(f"stopped after {limit_s:.0f} s")
    if process.returncode:
        raise NotMeasuredError(f"FAILED: {texts[1].strip().rpartition(NEWLINE)[2]}")
    cpu_seconds = usage.ru_utime + usage.ru_stime
    return Figures(seconds, cpu_seconds, max(usage.ru_maxrss * MAXRSS_MIB, *seen, 0.0), _last_json(texts[0]))


def _last_json(text: str) -> dict[str, Any]:
    last = text.strip().rpartition(NEWLINE)[2]
    return dict(json.loads(last)) if last.startswith("{") else {}


@contextmanager
def _limited(pid: int, limit_s: float) -> Iterator[threading.Event]:
    """Stop the process and those it started once the time is up."""
    stopped = threading.Event()

    def stop() -> None:
        stopped.set()
        os.killpg(pid, signal.SIGKILL)

    timer = threading.Timer(limit_s, stop)
    timer.start()
    try:
        yield stopped
    finally:
        timer.cancel()


@contextmanager
def _watched(pid: int, tree: bool) -> Iterator[list[float]]:
    """What the tree of a process held, a few times a second; nothing unless it is asked for."""
    seen, done = [0.0], threading.Event()

    def watch() -> None:
        while not done.wait(PAUSE_S):
            seen.append(sum(map(_share_mib, _tree(pid))))

    thread = threading.Thread(target=watch, daemon=True)
    if tree:
        thread.start()
    try:
        yield seen
    finally:
        done.set()
        if tree:
            thread.join()


def _tree(root: int) -> Iterator[int]:
    """A process and all that came from it."""
    children: dict[int, list[int]] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        fields = _read(stat).rpartition(")")[2].split()
        if fields:
            children.setdefault(int(fields[1]), []).append(int(stat.parent.name))
    waiting = [root]
    while waiting:
        pid = waiting.pop()
        yield pid
        waiting += children.get(pid, [])


def _share_mib(pid: int) -> float:
    lines = _read(Path(f"/proc/{pid}/smaps_rollup")).splitlines()
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:")) / 1024


def _read(file: Path) -> str:
    """A file of /proc; nothing when its process has ended."""
    try:
        return file.read_text()
    except OSError:
        return ""


Case = Callable[[], Figures]
Measured = Figures | NotMeasuredError


def alternately(cases: Sequence[Case], rounds: int) -> list[Measured]:
    """The run of median time of each case, the cases taken in turn; or why there is none.

    A case that has had `ENOUGH_S` is not run again.
    """
    runs: list[list[Figures]] = [[] for _ in cases]
    without: dict[int, NotMeasuredError] = {}
    for _ in range(rounds):
        for number, case in enumerate(cases):
            if number in without or sum(run.seconds for run in runs[number]) > ENOUGH_S:
                continue
            try:
                runs[number].append(case())
            except NotMeasuredError as error:
                without[number] = error
    return [without.get(number) or _middle(of) for number, of in enumerate(runs)]


def _middle(runs: list[Figures]) -> Figures:
    seconds = median_low([run.seconds for run in runs])
    return next(run for run in runs if run.seconds == seconds)
