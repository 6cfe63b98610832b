"""Kills, crowds and refusals that befall the command as a whole: a few here, hundreds with `python tests/faults`.

In a process of its own, which forks: it must have no threads, as the libraries of other tests do.
"""

import json
import subprocess
import sys
from pathlib import Path

FAULTS = Path(__file__).parent / "faults"


def befallen(runs: int, *mishaps: str) -> dict[str, dict[str, int]]:
    """The counts of some mishaps, each as often as asked for. Fails with what was found when anything was lost."""
    only = [word for name in mishaps for word in ("--only", name)]
    command = [sys.executable, str(FAULTS), "--runs", str(runs), "--json", *only]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    counts: dict[str, dict[str, int]] = json.loads(done.stdout)
    return counts


def test_a_killed_make_leaves_whole_files_and_every_code() -> None:
    counts = befallen(4, "makes")["makes"]
    assert counts["runs"] == 4
    assert counts.get("killed", 0) + counts.get("ended before", 0) == 4


def test_a_killed_note_or_server_loses_nothing_acknowledged() -> None:
    counts = befallen(8, "notes", "servers")
    assert counts["notes"]["killed"] > 0
    assert counts["servers"]["killed"] == counts["servers"]["runs"] > 0


def test_ten_runs_at_once_spoil_nothing_of_each_other() -> None:
    counts = befallen(1, "folder", "book")
    assert counts["folder"]["went through"] >= 1
    assert counts["book"]["went through"] == 10


def test_what_cannot_be_written_changes_nothing() -> None:
    counts = befallen(5, "limit", "rights")
    assert counts["limit"]["runs"] == 5
    assert counts["rights"] == {"runs": 1, "went through": 0, "refused": 1}
