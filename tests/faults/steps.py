"""A run stopped, or denied, at every call to the system that changes a disk, those of SQLite too. Needs `strace`."""

import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path
from random import Random

from workshop import KILLED, ONLY, Workshop, tree

_CALLS = (
    "write,pwrite64,ftruncate,fsync,fdatasync,sync,rename,renameat,renameat2,link,linkat,symlink,"
    "unlink,unlinkat,mkdir,mkdirat,rmdir"
)
_MISHAPS = ("signal=KILL", "error=ENOSPC", "error=EIO", "error=EACCES")


def every_step(place: Path, runs: int, chance: Random) -> Counter[str]:
    """For each call that the run of a second version makes: what is left when it is the last, or is refused.

    All mishaps at all steps, or some of them where there are more than `runs`. Raises FileNotFoundError where there is
    no `strace`, PermissionError where processes may not be traced.
    """
    begun, counts = Workshop(place / "begun"), Counter[str](runs=0)
    begun.write_plan(0)
    begun.make()
    steps = _count(begun)
    cases = [(mishap, step) for mishap in _MISHAPS for step in steps]
    for mishap, step in chance.sample(cases, min(runs, len(cases))):
        counts[_one(begun, place / "shop", mishap, step)] += 1
        counts["runs"] += 1
    counts["possible"] = len(cases)
    return counts


def _count(begun: Workshop) -> list[str]:
    """All such calls of a run, as `name:when=N`: strace counts the calls of each name on their own."""
    shop = _copy(begun, begun.place.parent / "counted")
    log = shop.place / "log"
    status, said = _traced(shop, "-o", str(log), "-e", f"trace={_CALLS}")
    if status:
        raise PermissionError(said)
    made = Counter(line.partition("(")[0] for line in log.read_text().splitlines() if "(" in line)
    return [f"{name}:when={number}" for name, count in made.items() for number in range(1, count + 1)]


def _copy(begun: Workshop, place: Path) -> Workshop:
    shutil.copytree(begun.place, place)
    shop = Workshop(place)
    shop.write_plan(1)
    shop.printed = dict(begun.printed)
    return shop


def _traced(shop: Workshop, *words: str) -> tuple[int, str]:
    call = ["make", str(shop.plan), "-o", str(shop.output), *ONLY[:2], "--quiet"]
    command = ["strace", "-qq", *words, sys.executable, "-B", "-m", "traysheets", *call]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return done.returncode, done.stderr


def _one(begun: Workshop, place: Path, mishap: str, step: str) -> str:
    shop = _copy(begun, place)
    before = tree(shop.output)
    log = ("-o", os.devnull, "-e", f"trace={_CALLS}")
    status, said = _traced(shop, *log, "-e", f"inject={step}:{mishap}")
    found = tree(shop.output)
    assert found.keys() == before.keys(), f"{mishap} at step {step}: {found.keys() ^ before.keys()}"
    assert "Traceback" not in said, f"{mishap} at step {step}: {said}"
    if status == 1:
        assert found == before, f"{mishap} at step {step}: something was changed"
    assert status in (0, 1, KILLED, 128 - KILLED), f"{mishap} at step {step}: {status} {said}"
    shop.check()
    shop.make()
    assert shop.at_rest(), f"{mishap} at step {step}"
    shutil.rmtree(shop.place)
    return {0: "went through", 1: "refused"}.get(status, "killed")
