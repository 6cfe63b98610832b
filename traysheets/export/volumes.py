"""Volumes: the pages of a sheet parted over files, and what those files are called. What is in them is not looked at.

A sheet that goes into one file keeps its plain name, `maps.pdf`. Else its files are `maps-001.pdf`, `maps-002.pdf`, and
so on: three digits sort as they count, and a file keeps its name when a longer job takes more of them.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from traysheets.page.marks import Page


@dataclass(frozen=True, slots=True)
class Volume:
    """Pages that go into one file: which part of the sheet they are, 0 when they are all of it."""

    part: int
    first_page: int
    pages: tuple[Page, ...]

    def file(self, whole: str) -> str:
        """The name of the file, given that of the whole sheet."""
        stem, dot, ending = whole.rpartition(".")
        return f"{stem}-{self.part:03d}{dot}{ending}" if self.part else whole


def volumes(pages: Iterable[Page], most: int) -> Iterator[Volume]:
    """The pages, at most so many a volume, one volume at a time.

    A page that goes on with what stands on the one before has no title, and stays in one file with it; unless together
    they are more than a file may hold.
    """
    waiting: list[Page] = []
    part, first = 0, 1
    for page in pages:
        if len(waiting) == most:
            end = most if page.title else _last_beginning(waiting)
            part += 1
            yield Volume(part, first, tuple(waiting[:end]))
            first += end
            waiting = waiting[end:]
        waiting.append(page)
    yield Volume(part + 1 if part else 0, first, tuple(waiting))


def _last_beginning(pages: list[Page]) -> int:
    """Where the last of what stands on pages begins; their end when all go on with the first."""
    return next((i for i in range(len(pages) - 1, 0, -1) if pages[i].title), len(pages))


def is_of(whole: str, file: str) -> bool:
    """Whether a file is that of the whole sheet, or one of its volumes."""
    stem, dot, ending = (re.escape(part) for part in whole.rpartition("."))
    return re.fullmatch(rf"{stem}(-[0-9]{{3,}})?{dot}{ending}", file) is not None
