"""The rows of the table, in order. A new one is a value in `ROWS`; what runs inside a process is in `cases.py`."""

import sys
from collections.abc import Callable
from pathlib import Path

from commands import Commands, Job
from drawn import Drawn
from grown import Grown
from inside import Inside
from lines import said_bytes

Told = dict[str, float]
ME = [sys.executable, "-m", "traysheets"]


def _make(jobs: int) -> Callable[[Path, Path], list[str]]:
    asked = ["--jobs", str(jobs), "--quiet"]
    return lambda ready, out: [*ME, "make", f"{ready}/plan.toml", "-o", str(out), "--book", f"{out}/new.sqlite", *asked]


def _beside(thing: str, count: int, other: str) -> Callable[[Told, Told], tuple[str, str]]:
    """The size of one of so many things, and the processors' time as a ratio to that of another case."""

    def say(ours: Told, bare: Told) -> tuple[str, str]:
        return said_bytes(ours["bytes"] / count, thing), f"{ours['cpu_seconds'] / bare['cpu_seconds']:.2f} x of {other}"

    return say


def _a_second(ours: Told, bare: Told) -> tuple[str, str]:
    size, beside = _beside("page", 300, "a script that draws forms alone")(ours, bare)
    return size, f"{300 / ours['cpu_seconds']:.0f} pages a second, {beside}"


def _proof(ours: Told) -> tuple[str, str]:
    return "", f"{ours['proof'] / ours['cpu_seconds']:.1%} of it is proof"


def _phones(ours: Told) -> tuple[str, str]:
    half, slowest = (ours[key] * 1000 for key in ("median", "slowest"))
    return "", f"{1000 / ours['seconds']:.0f} a second; half within {half:.0f} ms, the slowest {slowest:.0f} ms"


ROWS = (
    Drawn("{count} sticks of {number} batches", "sticks", (2, 10, 100, 1000), 30),
    Drawn("{count} maps, four batches a tray", "maps", (2, 20, 300), 4),
    Grown("sticks", (20, 200, 2000), 50, (("--pages-per-file", "200"),), "300 MiB"),
    Grown("maps", (10, 100, 1000, 3000), 1, (("--pages-per-file", "100"),)),
    Commands(
        "all sheets and records of {number} batches",
        Job("plan", (2, 50, 200), 1),
        (("make --jobs 2", _make(2)), ("make --jobs 1", _make(1))),
    ),
    Commands(
        "a plan of {number} sowings",
        Job("plan", (2, 300, 3000), 1),
        (("check", lambda ready, out: [*ME, "check", f"{ready}/plan.toml", "--book", f"{out}/new.sqlite"]),),
    ),
    Commands(
        "a book of {number} batches and {entries} entries",
        Job("book", (2, 100, 10_000), 5),
        (
            ("book show", lambda ready, out: [*ME, "book", "show", f"{ready}/plan.book.sqlite"]),
            ("book show 27-001-7", lambda ready, out: [*ME, "book", "show", f"{ready}/plan.book.sqlite", "27-001-7"]),
        ),
    ),
    Commands(
        "starting up",
        Job("plan", (2, 2, 2), 1),
        (
            ("traysheets --version", lambda ready, out: [*ME, "--version"]),
            ("import click", lambda ready, out: [sys.executable, "-c", "import click"]),
        ),
        "2.5 x",
    ),
    Inside(
        "drawing 3,000 sticks of 100 batches",
        ("sticks_3000", "qr_100"),
        _beside("stick", 3000, "encoding the 100 codes with qrcode"),
        "1.3 x; 100 B a stick",
    ),
    Inside(
        "encoding 100 codes with qrcode",
        ("qr_100", "segno_100"),
        lambda ours, bare: ("", f"{ours['cpu_seconds'] / bare['cpu_seconds']:.2f} x of encoding them with segno"),
    ),
    Inside("drawing 300 maps", ("maps_300", "bare_maps_300"), _a_second, "200 a second; 3 KiB a page"),
    Inside("drawing 300 maps, four batches a tray", ("mixed_maps_300", "bare_maps_300"), _a_second, heavy=True),
    Inside("making 3,000 sticks, with its proofs", ("proof_sticks",), _proof, "10 %"),
    Inside("making 300 maps, with its proofs", ("proof_maps",), _proof, "10 %", heavy=True),
    Inside("arranging 5,000 sowings", ("arrange_5000",), lambda ours: ("", ""), "1 s"),
    Inside("20 phones at once, 1,000 requests", ("serve_1000",), _phones),
)
