"""What draws the sheets: `traysheets`, and the general-purpose tools that a grower's helper might use in its place.

A tool is a row of `TOOLS`. Each is started in a fresh process: it reads a job that lies ready in a folder and leaves
PDF files in another. `traysheets` is given the plan and does all it always does; the others are given what the sheets
say, ready to be drawn (`peers/`).
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from machine import package_version, program_version

PEERS = Path(__file__).parent / "peers"
STOCK = "a4-21"


@dataclass(frozen=True)
class Tool:
    """A tool: its name, its version or None when it is not at hand, how it is to be had, and how it is started.

    `start` makes the command from the kind of sheets, the folder of the job and that of the PDF files. `tree`: it is
    many processes at once.
    """

    name: str
    version: Callable[[], str | None]
    get: str
    start: Callable[[str, Path, Path], list[str]]
    tree: bool = False


def ours(kind: str, ready: Path, out: Path, *options: str) -> list[str]:
    """The command that makes one kind of sheets from the plan, with a new book."""
    asked = ("--only", kind, "--stock", STOCK, "-o", str(out), "--book", str(out / "new.book.sqlite"), "--quiet")
    return [sys.executable, "-m", "traysheets", "make", str(ready / "plan.toml"), *asked, *options]


def _peer(script: str, kind: str, ready: Path, out: Path) -> list[str]:
    return [sys.executable, str(PEERS / script), str(ready / "job.json"), str(out / f"{kind}.pdf")]


PIP = "pip install -e '.[test,bench]'"
PANGO = "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
TOOLS = (
    Tool("traysheets", partial(package_version, "traysheets"), PIP, ours),
    Tool("reportlab", partial(package_version, "reportlab"), PIP, partial(_peer, "with_reportlab.py")),
    Tool("typst", partial(package_version, "typst"), PIP, partial(_peer, "with_typst.py")),
    Tool(
        "Chromium",
        partial(program_version, "chromium"),
        "apt-get install chromium",
        partial(_peer, "with_chromium.py"),
        tree=True,
    ),
    Tool(
        "WeasyPrint",
        partial(package_version, "weasyprint"),
        f"{PIP}; apt-get install {PANGO}",
        partial(_peer, "with_weasyprint.py"),
    ),
)
OURS = TOOLS[0]
