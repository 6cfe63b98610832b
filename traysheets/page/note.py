"""The note of a file: what it says of itself for who reads it back, so that a lost page or a scaled copy is noticed.

It is one line of plain ASCII: `traysheets 0.1.0; from 1; 12 of 297x210 with 1 of 0.5; 2 of 210x297 as 0.995x1.002`,
which is the version that made it, the number of its first page, and then how many pages of what size in mm follow one
another, with how many QR codes each and the smallest of their modules, and how much longer than true they are made for
a printer, if they are.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TypeAlias

KEY = "Traysheets"
"""Under which key of a PDF file's own description the note stands."""

MOST_PAGES = 1_000_000

_HEAD = re.compile(r"traysheets (\S+); from (\d{1,7})")
_RUN = re.compile(
    r"(\d{1,7}) of ([\d.]{1,9})x([\d.]{1,9})(?: with (\d{1,5}) of ([\d.]{1,9}))?(?: as ([\d.]{1,9})x([\d.]{1,9}))?"
)


@dataclass(frozen=True, slots=True)
class NotedPage:
    """What is noted of one page: its size, how many QR codes it has and the least size of their modules in mm, and how
    much longer than true it is across and down.
    """

    width_mm: float
    height_mm: float
    codes: int = 0
    module_mm: float = 0.0
    across: float = 1.0
    down: float = 1.0

    def __str__(self) -> str:
        """Say it as the note does."""
        said = f"{_number(self.width_mm, 3)}x{_number(self.height_mm, 3)}"
        if self.codes:
            said += f" with {self.codes} of {_number(self.module_mm, 3)}"
        stretch = _number(self.across, 6), _number(self.down, 6)
        return said if stretch == ("1", "1") else f"{said} as {'x'.join(stretch)}"


NotedPages: TypeAlias = Sequence[NotedPage]


@dataclass(frozen=True, slots=True)
class Note:
    """What a file says of itself: the version that made it, the number of its first page, and every page."""

    version: str
    first_page: int
    pages: NotedPages

    @property
    def corrected(self) -> tuple[tuple[float, float], ...]:
        """How much longer than true pages are across and down, made for a printer; empty where all are true."""
        return tuple(dict.fromkeys((it.across, it.down) for it in self.pages if (it.across, it.down) != (1, 1)))

    def __str__(self) -> str:
        """The note as it stands in the file."""
        runs = (f"{len(list(group))} of {page}" for page, group in groupby(map(str, self.pages)))
        return "; ".join((f"traysheets {self.version}", f"from {self.first_page}", *runs))


def read_note(text: str) -> Note | None:
    """The note that a text is; None where it is none, or one of another form."""
    head, *runs = re.split(r"; (?=\d)", text)
    found, read = _HEAD.fullmatch(head), [_RUN.fullmatch(run) for run in runs]
    runs_found = [run for run in read if run]
    if not found or len(runs_found) < len(runs) or sum(int(run[1]) for run in runs_found) > MOST_PAGES:
        return None
    try:
        pages = [page for run in runs_found for page in _pages(run)]
    except ValueError:
        return None
    return Note(found[1], int(found[2]), pages)


def _pages(run: re.Match[str]) -> list[NotedPage]:
    count, width, height, codes, module, across, down = run.groups()
    noted = NotedPage(
        float(width), float(height), int(codes or 0), float(module or 0), float(across or 1), float(down or 1)
    )
    return [noted] * int(count)


def _number(value: float, decimals: int) -> str:
    """A number without trailing zeros."""
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".")
