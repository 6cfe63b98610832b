"""`python -m tests.fuzz --inputs 100000`: the fuzzing run. Not part of the usual tests, which take a short piece of it.

Each target runs in a process of its own, so that its memory is its own. `--guided SECONDS` lets a coverage-guided
fuzzer look for further inputs (`pip install atheris`); what it finds is kept in `--corpus`, outside the repository.
"""

import argparse
import subprocess
import sys
import time
from itertools import count
from pathlib import Path
from random import randrange

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.inputs import TARGETS
from fuzz.watch import MIB, limit_memory, peak_mib, timed
from hypothesis import HealthCheck, Phase, given, seed, settings


def main() -> int:
    """Run what is asked for; the exit status says whether a fault was found."""
    asked = _asked()
    if asked.one:
        return _one(asked.one, asked.inputs, asked.seed)
    words = [sys.executable, "-m", "tests.fuzz"]
    failed = []
    for name in asked.targets or TARGETS:
        if asked.guided:
            folder = asked.corpus / name
            folder.mkdir(parents=True, exist_ok=True)
            ran = subprocess.run([sys.executable, "-m", "tests.fuzz.guided", name, str(asked.guided), str(folder)])
        else:
            inputs = max(1, round(asked.inputs * (1 if asked.targets else TARGETS[name][0])))
            ran = subprocess.run([*words, "--one", name, "--inputs", str(inputs), "--seed", str(asked.seed)])
        failed += [name] if ran.returncode else []
    print(f"faults in: {', '.join(failed)}" if failed else "no fault found", flush=True)
    return 1 if failed else 0


def _asked() -> argparse.Namespace:
    words = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    words.add_argument("targets", nargs="*", choices=[*TARGETS, []], help="[default: all, each with its share]")
    words.add_argument("--inputs", type=int, default=10_000)
    words.add_argument("--seed", type=int, default=randrange(10**6))
    words.add_argument("--guided", type=int, metavar="SECONDS", help="coverage-guided, so long a target")
    words.add_argument("--corpus", type=Path, default=Path.home() / ".cache" / "traysheets-fuzz")
    words.add_argument("--one", choices=[*TARGETS], help=argparse.SUPPRESS)
    return words.parse_args()


def _one(name: str, inputs: int, number: int) -> int:
    """Run one target in this process and print its line."""
    limit_memory()
    _, target, strategy = TARGETS[name]
    turns, watched = count(), timed(target)

    def run(given: object) -> None:
        next(turns)
        watched(given)

    began = time.monotonic()
    chosen = settings(
        max_examples=inputs,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate, Phase.shrink],
        print_blob=False,
    )
    found = ""
    try:
        seed(number)(chosen(given(strategy)(run)))()
    except BaseException:
        import traceback

        found = traceback.format_exc()
    taken, peak = time.monotonic() - began, peak_mib()
    print(f"{name:9} seed {number}: {next(turns):7,} inputs, {taken:7.1f} s, {peak:5.0f} MiB at the peak", flush=True)
    if found:
        print(found, flush=True)
    return 1 if found or peak > MIB else 0


if __name__ == "__main__":
    raise SystemExit(main())
