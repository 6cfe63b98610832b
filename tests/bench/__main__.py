"""Speed, memory and size, measured in one run and printed as a table: `python tests/bench [--quick] [--only WORD]`.

Each figure is taken in a process of its own, so that no row warms up or fattens another, and is the one of median time
of a few runs; what is compared runs in turn. Beside our own commands stand general-purpose tools that are given what
the same sheets say (`peers/`); what each of them left is looked over (`alike.py`). A tool that is not installed is
named with how it is to be had.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

from bench import Bench
from lines import Line, table
from machine import machine
from rows import ROWS
from tools import TOOLS

HEADINGS = Line("what", "by", "time", "CPU", "memory", "size", "ratio", "reach")
ROUNDS = {"tiny": 1, "quick": 1, "full": 3}


def main() -> None:
    """Measure the rows and print the table."""
    asked = _asked()
    start = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        lines = _measured(Bench(asked.size, Path(folder), ROUNDS[asked.size], asked.limit), asked.only)
    print(f"{machine()}; {', '.join(_versions())}. The whole took {time.monotonic() - start:.0f} s.\n")
    print(table([HEADINGS, *lines]))
    sys.exit(any("FAILED" in one.time or "DIFFERS" in one.beside for one in lines))


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python tests/bench", description="The table of speed, memory and size.")
    sizes = parser.add_mutually_exclusive_group()
    sizes.add_argument("--quick", dest="size", action="store_const", const="quick", help="smaller jobs, once each")
    sizes.add_argument("--tiny", dest="size", action="store_const", const="tiny", help="to try the bench itself")
    parser.add_argument("--only", metavar="WORD", default="", help="only rows with this word in them")
    parser.add_argument("--limit", metavar="S", type=float, default=45.0, help="stop a command after so many seconds")
    parser.set_defaults(size="full")
    return parser.parse_args()


def _measured(bench: Bench, only: str) -> list[Line]:
    """The lines of all rows that are wanted, with a word of progress at each."""
    lines: list[Line] = []
    for row in ROWS:
        if only in row.what:
            found = list(row.lines(bench))
            lines += found
            print(
                "".join(f"{one.what or '  the same'}: {one.by}, {one.time}\n" for one in found), end="", file=sys.stderr
            )
    return lines


def _versions() -> list[str]:
    return [f"{tool.name} {version}" for tool in TOOLS if (version := tool.version())]


if __name__ == "__main__":
    main()
