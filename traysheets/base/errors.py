"""The error family. Every error a user can cause is one of these; anything else is a fault of ours.

An error carries its data and makes its own sentence. Only `cli/` prints them.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, where, and what would be right.

    `file` is the name as the user gave it; `line` counts from 1; `column` is the heading of a spreadsheet column.
    `key` and `values` are there where it can be said in any language: its words in `languages/`, and what is put in.
    """

    text: str
    file: str | None = None
    line: int | None = None
    column: str | None = None
    key: str = ""
    values: tuple[tuple[str, object], ...] = ()

    def __str__(self) -> str:
        """Say it as `file:line: text`, with the parts that are known."""
        place = ":".join(str(part) for part in (self.file, self.line) if part is not None)
        column = f"column {self.column}: " if self.column else ""
        return f"{place}: {column}{self.text}" if place else f"{column}{self.text}"


class TraysheetsError(Exception):
    """Something the user can put right. `problems` holds every one found, in reading order."""

    def __init__(self, problems: Iterable[Problem] | Problem | str) -> None:
        if isinstance(problems, str):
            problems = Problem(problems)
        if isinstance(problems, Problem):
            problems = (problems,)
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type["TraysheetsError"], tuple[tuple[Problem, ...]]]:
        """Keep the problems whole when the error comes back from another process."""
        return type(self), (self.problems,)


class PlanError(TraysheetsError):
    """The plan file cannot be used as it is."""


class BookError(TraysheetsError):
    """The book cannot be read or written, or does not fit the plan."""


class DoubtfulEntry(BookError):  # noqa: N818 - nothing is wrong yet; it asks
    """An entry contradicts what was noted before. Nothing was stored; it may be so all the same, if its writer is sure.

    The problems are the doubts, each a sentence without a stop.
    """

    @property
    def doubts(self) -> tuple[str, ...]:
        """Each contradiction in words."""
        return tuple(problem.text for problem in self.problems)


class SheetError(TraysheetsError):
    """A sheet cannot be drawn true: something does not fit, or a character has no glyph."""


class FileError(TraysheetsError):
    """A file cannot be read or written."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that `word` was most likely meant to be, or None when nothing is near."""
    return _nearest(word, tuple(known))


@lru_cache(maxsize=32)
def _nearest(word: str, known: tuple[str, ...]) -> str | None:
    # The same slip often stands in hundreds of rows of a spreadsheet, and the search is slow. Few are kept, as all that
    # is known is kept with each: for a server that may be ten thousand codes.
    by_folded = {candidate.casefold(): candidate for candidate in known}
    found = get_close_matches(word.casefold(), by_folded, n=1, cutoff=0.6)
    return by_folded[found[0]] if found else None
