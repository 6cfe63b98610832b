"""Speed and memory, measured in one run and printed as a table: `python tests/bench`.

Each figure is taken in a process of its own, so that no row warms up or fattens another. Ratios stand beside a plain
script on general-purpose libraries that does the bare part of the same job, measured in the same run.
"""

import json
import platform
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Row:
    """One line of the table: what is measured, the names of its cases, and what to say of their results."""

    what: str
    cases: tuple[str, ...]
    say: Callable[..., str]
    reach: str


def run(case: str) -> dict[str, float]:
    """One case in a fresh process; what it printed as JSON."""
    command = [sys.executable, str(HERE / "cases.py"), case]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=HERE)
    result: dict[str, float] = json.loads(done.stdout)
    return result


def best(case: str, times: int = 3) -> dict[str, float]:
    """The quickest of some runs: the machine's other work only ever adds."""
    return min((run(case) for _ in range(times)), key=lambda result: result["seconds"])


def said_of_maps(ours: dict[str, float], bare: dict[str, float]) -> str:
    """Pages a second, beside those of the bare script, and the size of a page."""
    return (
        f"{300 / ours['seconds']:.0f} pages a second ({ours['seconds'] / bare['seconds']:.2f} x the time of a bare"
        f" script, {300 / bare['seconds']:.0f}); {ours['bytes'] / 300 / 1024:.1f} KiB a page"
    )


ROWS = (
    Row(
        "3,000 sticks of 100 batches",
        ("sticks_3000", "qr_100"),
        lambda ours, bare: (
            f"{ours['seconds']:.2f} s, {ours['seconds'] / bare['seconds']:.2f} x of encoding the 100 codes"
            f" ({bare['seconds']:.2f} s); {ours['bytes'] / 3000:.0f} bytes a stick"
        ),
        "1.3 x; 100 bytes",
    ),
    Row("300 maps of 200-cell trays", ("maps_300", "bare_maps_300"), said_of_maps, "200 a second; 3 KiB"),
    Row("the same, four batches a tray", ("mixed_maps_300", "bare_maps_300"), said_of_maps, ""),
    Row(
        "100,000 sticks of 2,000 batches",
        ("sticks_100000", "sticks_50000"),
        lambda ours, half: (
            f"{ours['mib']:.0f} MiB; {ours['seconds']:.1f} s,"
            f" {ours['seconds'] / half['seconds']:.2f} x the time of half as many of both"
        ),
        "300 MiB; 2 x",
    ),
    Row(
        "arranging 5,000 sowings",
        ("arrange_5000",),
        lambda ours: f"{ours['seconds']:.2f} s",
        "1 s",
    ),
    Row(
        "20 phones at once, 1,000 requests",
        ("serve_1000",),
        lambda ours: (
            f"{1000 / ours['seconds']:.0f} requests a second; half within {ours['median'] * 1000:.0f} ms, the slowest"
            f" {ours['slowest'] * 1000:.0f} ms; {ours['mib']:.0f} MiB"
        ),
        "",
    ),
    Row(
        "`traysheets --version`",
        ("start_up", "import_click"),
        lambda ours, bare: (
            f"{ours['seconds'] * 1000:.0f} ms, {ours['seconds'] / bare['seconds']:.2f} x of `import click`"
            f" ({bare['seconds'] * 1000:.0f} ms)"
        ),
        "2.5 x",
    ),
)


def main() -> None:
    """Measure every row and print the table."""
    lines = [("what", "measured", "reach")]
    for row in ROWS:
        lines.append((row.what, row.say(*map(best, row.cases)), row.reach))
        print(f"measured: {row.what}", file=sys.stderr)
    print(f"Python {platform.python_version()}, {platform.machine()}, {platform.system()}\n")
    widths = [max(len(line[i]) for line in lines) for i in range(3)]
    for number, line in enumerate(lines):
        print("| " + " | ".join(text.ljust(width) for text, width in zip(line, widths, strict=True)) + " |")
        if number == 0:
            print("|" + "|".join("-" * (width + 2) for width in widths) + "|")


if __name__ == "__main__":
    main()
