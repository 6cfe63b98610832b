"""What several files of tests ask for by name: a book with batches in it, a browser, a plan that is served."""

import signal
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from books import make_book

if TYPE_CHECKING:
    from browser_jobs import Served
    from playwright.sync_api import Browser


if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    # So it is in a shell's background jobs, and in all that they start: what is to end at Ctrl+C never would.
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A book that holds the batches of `books.py`."""
    book = tmp_path / "plan.book.sqlite"
    make_book(book)
    return book


@pytest.fixture(scope="module")
def browser() -> "Iterator[Browser]":
    """Chromium. What drives it is loaded for the tests that ask for it alone."""
    from browser_jobs import chromium

    with chromium() as found:
        yield found


@pytest.fixture
def served(tmp_path: Path, browser: "Browser") -> "Iterator[Served]":
    """A plan that was printed and is served."""
    from browser_jobs import start

    made = start(tmp_path)
    yield made
    made.stop()
