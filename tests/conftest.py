"""What several files of tests ask for by name: a book with batches in it, a browser, a plan that is served."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from books import make_book

if TYPE_CHECKING:
    from browser_jobs import Served
    from playwright.sync_api import Browser


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
