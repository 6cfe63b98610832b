"""What is to be drawn, as plain values that every tool is given alike; sizes in mm, from the top left corner of a page.

Here too is the coding of the QR codes, done once a batch or tray and timed, as a Python program would do it: with
`segno`, at level M or better, as few rectangles.
"""

import json
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import segno

Plain: TypeAlias = dict[str, Any]

QUIET = 4
"""Modules left free on every side of a code. ISO/IEC 18004."""


@dataclass(frozen=True)
class Code:
    """A QR code: modules from edge to edge with the quiet zone, and its dark runs (x, y, width) in modules."""

    side: int
    runs: tuple[tuple[int, int, int], ...]

    @property
    def path(self) -> str:
        """The runs as the data of one SVG path."""
        return "".join(f"M{x} {y}h{width}v1h-{width}z" for x, y, width in self.runs)

    @property
    def svg(self) -> str:
        """The code as a picture of its own."""
        head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.side} {self.side}">'
        return f'{head}<path d="{self.path}"/></svg>'


def coded(text: str) -> Code:
    """The code of a text."""
    rows = segno.make(text, error="m", micro=False).matrix
    runs = tuple(run for y, row in enumerate(rows) for run in _runs(row, y))
    return Code(len(rows) + 2 * QUIET, runs)


def _runs(row: bytearray, y: int) -> list[tuple[int, int, int]]:
    found, start = [], None
    for x, dark in enumerate((*row, 0)):
        if dark and start is None:
            start = x
        if not dark and start is not None:
            found.append((start + QUIET, y + QUIET, x - start))
            start = None
    return found


@dataclass(frozen=True)
class Contents:
    """A job as read from its file (`values`), the codes of its texts, and how long coding took."""

    values: Plain
    codes: dict[str, Code]
    coding_seconds: float


def read(file: str) -> Contents:
    """A job from its file, its QR codes encoded."""
    values = json.loads(Path(file).read_text(encoding="utf-8"))
    start = time.perf_counter()
    codes = {each["url"]: coded(each["url"]) for each in (*values.get("batches", ()), *values.get("trays", ()))}
    return Contents(values, codes, time.perf_counter() - start)


def tell(contents: Contents) -> None:
    """Say how long coding took, for whoever measures."""
    print(json.dumps({"coding": contents.coding_seconds}))
