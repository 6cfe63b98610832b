"""Where the letters of a PDF page are, as pdfium reads them: independent of what laid the page out and wrote it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2

MM = 25.4 / 72
MEET_MM = 0.05
"""Ink of two letters that meets by no more than this does not count."""


@dataclass(frozen=True)
class Letter:
    """A letter that is seen: the box of its ink in mm from the top left corner, and which in the page's text it is."""

    character: str
    left: float
    top: float
    right: float
    bottom: float
    number: int


@dataclass(frozen=True)
class Letters:
    """The letters of a page, and the size of the page."""

    width_mm: float
    height_mm: float
    seen: tuple[Letter, ...]


def letters(pdf: bytes) -> Iterator[Letters]:
    """The letters of every page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in document:
            height = page.get_height()
            yield Letters(page.get_width() * MM, height * MM, tuple(_letters(page.get_textpage(), height)))
    finally:
        document.close()


def _letters(text: Any, height: float) -> Iterator[Letter]:
    """Blanks have no ink; line breaks are pdfium's own."""
    for number, character in enumerate(text.get_text_range()):
        if not character.isspace():
            left, bottom, right, top = text.get_charbox(number)
            yield Letter(character, left * MM, (height - top) * MM, right * MM, (height - bottom) * MM, number)


def outside(page: Letters) -> list[Letter]:
    """The letters that reach over the edge of the page."""
    return [
        it for it in page.seen if it.left < 0 or it.top < 0 or it.right > page.width_mm or it.bottom > page.height_mm
    ]


def meeting(page: Letters) -> list[tuple[Letter, Letter]]:
    """The pairs of letters whose ink boxes meet, but for those next to each other in a text."""
    found = []
    by_left = sorted(page.seen, key=lambda it: it.left)
    for rank, one in enumerate(by_left):
        for other in by_left[rank + 1 :]:
            if other.left > one.right - MEET_MM:
                break
            apart = abs(one.number - other.number) > 1
            if apart and min(one.bottom, other.bottom) - max(one.top, other.top) > MEET_MM and one.right > one.left:
                found.append((one, other))
    return found
