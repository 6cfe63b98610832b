"""What befalls the files and the book, many times over: `python tests/faults --runs 300`. Ends at the first fault.

Prints a line of counts for each kind of mishap, or all as JSON. What cannot be done on a machine, because it needs root
or a tool that is not there, is said and left out.
"""

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random

from at_once import ten_plans_one_book, ten_runs_one_folder
from disks import full_disks, limited_files, other_disks, read_only
from kills import killed_makes, killed_notes, killed_servers
from steps import every_step


@dataclass(frozen=True)
class Mishap:
    """One kind of mishap, what it is called, and on how many of the runs asked for comes one of its own."""

    what: str
    befall: Callable[[Path, int, Random], Counter[str]]
    of_runs: int = 1


MISHAPS = {
    "makes": Mishap("`make` killed at a random moment", killed_makes),
    "notes": Mishap("`book note` killed at a random moment", killed_notes),
    "servers": Mishap("`serve` killed while a phone writes and a plan is printed", killed_servers, 5),
    "folder": Mishap("ten runs at once into one folder", ten_runs_one_folder, 20),
    "book": Mishap("ten plans at once on one book", ten_plans_one_book, 20),
    "limit": Mishap("no file longer than so many bytes", limited_files),
    "rights": Mishap("folder, list or book that may not be written", read_only, 5),
    "full": Mishap("so much room left on the disk", full_disks),
    "disks": Mishap("folders on another disk", other_disks, 20),
    "steps": Mishap("killed or refused at every call to the system", every_step),
}


def main() -> None:
    """Let all befall that was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=300)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", choices=MISHAPS, action="append")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args()
    counts = {}
    for name in asked.only or MISHAPS:
        mishap = MISHAPS[name]
        counts[name] = befallen(mishap, max(1, asked.runs // mishap.of_runs), Random(asked.seed))
        if not asked.json:
            print(f"{mishap.what}: {', '.join(f'{count} {what}' for what, count in counts[name].items())}", flush=True)
    if asked.json:
        json.dump(counts, sys.stdout)


def befallen(mishap: Mishap, runs: int, chance: Random) -> Counter[str]:
    """The counts of a kind of mishap; of one that cannot be had here, a word of that."""
    with tempfile.TemporaryDirectory(prefix="faults-") as folder:
        place = Path(folder).resolve()
        place.chmod(0o755)
        try:
            return mishap.befall(place / "place", runs, chance)
        except (PermissionError, FileNotFoundError) as error:
            return Counter({f"runs; it cannot be had here: {error}": 0})


if __name__ == "__main__":
    main()
