"""What is served: a book, and where its plan is at hand, drawings of its trays. Values only; no request, no page.

The accounts of all batches are read once and kept until the book's file changes, whoever changes it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from threading import Lock
from typing import Protocol

from traysheets.base.errors import BookError, TraysheetsError
from traysheets.book.model import Kept
from traysheets.bookkeeping import Account, accounts

_CHANGE_COUNTER = slice(24, 28)
"""Where an SQLite file counts its changes (SQLite, Database File Format, 1.3.6)."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the sheets show of a batch or a tray, as safe HTML, in a language; `look` is its small picture.

    `lead` is the one thing to know of a batch, `details` what is to be known of its steps, by their names.
    """

    html: str
    language: str
    direction: str = "ltr"
    look: str = ""
    lead: str = ""
    details: Mapping[str, str] = field(default_factory=dict)


class Drawings(Protocol):
    """What can be drawn while the plan is at hand. None: the plan does not have it as it was printed."""

    def batch(self, batch: Kept, language: str) -> Drawn | None:
        """Where a printed batch stands, and its figures, in a language."""

    def tray(self, number: int, batches: Sequence[Kept], language: str) -> Drawn | None:
        """A tray from above, with these printed batches in it and no others, in a language."""


class NoDrawings:
    """Of a book without its plan nothing can be drawn."""

    def batch(self, batch: Kept, language: str) -> None:
        """Nothing."""

    def tray(self, number: int, batches: Sequence[Kept], language: str) -> None:
        """Nothing."""


@dataclass(frozen=True)
class Site:
    """A book to serve. `plan` is the name of the plan file, None for a book alone.

    `now` gives the moment with its time zone, `seconds` those of a clock that is never set back. `language` is that of
    the plan, or of what was printed: spoken to whoever asks for none.
    """

    book: Path
    now: Callable[[], datetime]
    seconds: Callable[[], float]
    plan: str | None = None
    title: str = ""
    drawings: Drawings = field(default_factory=NoDrawings)
    language: str = "en"

    @property
    def today(self) -> date:
        """The day at the bench."""
        return self.now().date()

    @cached_property
    def shelf(self) -> "Shelf":
        """The batches as they stand."""
        return Shelf(self.book)

    def accounts(self) -> tuple[Account, ...]:
        """Every batch, by sowing day. Raises BookError when the book cannot be read."""
        return self.shelf.accounts(self.today)

    def account(self, code: str) -> Account | None:
        """The batch of a code, None when there is none. Raises BookError when the book cannot be read."""
        return next((one for one in self.accounts() if one.batch.code == code), None)


class Shelf:
    """The accounts of a book, read again when its file or the day has changed.

    One reads for all. When the book cannot be read, those who were waiting for that are told the same: else each would
    wait in turn for as long as the first has.
    """

    def __init__(self, book: Path) -> None:
        self._book = book
        self._lock = Lock()
        self._read: tuple[object, tuple[Account, ...]] | None = None
        self._failures = 0
        self._failed: BookError | None = None

    def accounts(self, today: date) -> tuple[Account, ...]:
        """Every batch as of today. Raises BookError."""
        failures = self._failures
        with self._lock:
            if self._failed and failures != self._failures:
                raise BookError(self._failed.problems) from self._failed.__cause__
            try:
                return self._current(today)
            except BookError as error:
                self._failures += 1
                self._failed = error
                raise

    def _current(self, today: date) -> tuple[Account, ...]:
        state = (today, _state(self._book))
        if self._read is None or self._read[0] != state:
            self._read = state, accounts(self._book, today)
        return self._read[1]


def _state(file: Path) -> tuple[object, ...]:
    """What changes whenever the book does. Raises BookError when it cannot be read."""
    try:
        about = file.stat()
        with file.open("rb") as book:
            return about.st_ino, about.st_size, about.st_mtime_ns, book.read(100)[_CHANGE_COUNTER]
    except FileNotFoundError:
        return ()
    except OSError as error:
        raise BookError(f"the book {file} cannot be read: {error.strerror}") from error


def without_folder(error: TraysheetsError, book: Path) -> TraysheetsError:
    """The error without telling where on the computer the book is."""
    problems = (
        replace(problem, text=problem.text.replace(str(book), book.name), file=None) for problem in error.problems
    )
    return TraysheetsError(problems)
