"""What a run was asked for, and the words in which papers and scales are asked for. Reads nothing."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from traysheets.trade.papers import PAPERS as _PAPERS
from traysheets.trade.papers import SCALES as _SCALES

PAPERS: tuple[str, ...] = tuple(_PAPERS)
SCALES: tuple[str, ...] = tuple(_SCALES)
LETTER_FAMILY = frozenset({"letter", "legal", "tabloid"})
"""Papers of the countries that have letter card and rulers in inches; where the others are used there is A4."""


@dataclass(frozen=True, slots=True)
class Options:
    """What a run was asked for. `days` are the first and last sowing day wanted; None wants all.

    `languages` are instead of the plan's: of all sheets the first, of the guide all. `pages_per_file` parts sheets of
    more pages into volumes. `jobs` is how many processes draw: one is this one alone, None what pays here.
    """

    plan: Path
    settings: Path | None = None
    book: Path | None = None
    folder: Path | None = None
    only: tuple[str, ...] = ()
    days: tuple[date, date] | None = None
    paper: str | None = None
    scale: str = "fit"
    stock: str | None = None
    first_label: int = 1
    outlines: bool = False
    grey: bool = False
    languages: tuple[str, ...] = ()
    pages_per_file: int | None = None
    jobs: int | None = 1
    force: bool = False

    @property
    def book_file(self) -> Path:
        """The book: beside the plan and named after it, unless another is given."""
        # Loads the book and the sums, which who only asks for help does not need.
        from traysheets.bookkeeping import book_beside

        return self.book or book_beside(self.plan)

    @property
    def output_folder(self) -> Path:
        """The folder of the sheets: beside the plan and named after it, unless another is given."""
        return self.folder or self.plan.with_suffix("")
