"""Which page is which, in a file that another program wrote again: pages lost, doubled, or in another order.

Told from the number at the foot of a page, in any language of the sheets; of sheets without one from the bookmarks,
which lead to pages. What should be on each page is then known from the note of the file.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from traysheets.page.note import Note, NotedPage
from traysheets.verify import pdfium
from traysheets.verify.report import Finding, Part

MOST_NAMED = 6
"""Pages named one by one; of more the number is said."""

_FOOT_POINTS = 60.0
_NUMBER = re.compile(r"(?<!\w)[^\W\d]+ (\d{1,7}) [^\W\d]{1,6} (\d{1,7})[ \t\r]*$", re.MULTILINE)
"""`page 3 of 12`, at the end of a line."""


@dataclass(frozen=True, slots=True)
class Order:
    """The place that each page had in the note, from 0, None where nothing tells; and the title of every place."""

    note: Note
    places: tuple[int | None, ...]
    titles: tuple[str, ...]

    def noted(self) -> list[NotedPage | None]:
        """What is noted of each page. Where nothing speaks against it, pages stand where they did."""
        pages = self.note.pages
        if len(pages) == len(self.places) and all(place in (None, i) for i, place in enumerate(self.places)):
            return list(pages)
        return [None if place is None else pages[place] for place in self.places]


def order(document: Any, note: Note, most: int) -> Order:
    """Which page is which, of the first `most`."""
    places = _numbered(document, note, most)
    titles, marked = _marked(document, note)
    if not any(place is not None for place in places):
        places = [marked.get(i) for i in range(len(places))]
    return Order(note, tuple(places), titles)


def _numbered(document: Any, note: Note, most: int) -> list[int | None]:
    """By the numbers at the foot; what stands on every page, such as a title, is none."""
    feet = [set(_NUMBER.findall(pdfium.foot(document, i, _FOOT_POINTS))) for i in range(min(len(document), most))]
    common = set.intersection(*feet) if len(feet) > 1 else set()
    return [_place({int(number) for number, _ in foot - common}, note) for foot in feet]


def _place(numbers: set[int], note: Note) -> int | None:
    places = [it for number in numbers if 0 <= (it := number - note.first_page) < len(note.pages)]
    return places[0] if len(places) == 1 else None


def _marked(document: Any, note: Note) -> tuple[tuple[str, ...], dict[int, int]]:
    """The bookmarks, where there is one of each page: their titles, and the place of the page that each leads to."""
    marks = pdfium.bookmarks(document)
    if len(marks) != len(note.pages):
        return (), {}
    return tuple(title for title, _ in marks), {page: i for i, (_, page) in enumerate(marks) if page is not None}


def order_findings(found: Order, pages: int) -> Iterator[Finding]:
    """What there is to say of the pages as a whole, of which there are so many; not all need have been looked at."""
    meant, known = len(found.note.pages), [place for place in found.places if place is not None]
    lost = sorted(set(range(meant)) - set(known)) if len(known) == pages else []
    twice = sorted(place for place, times in Counter(known).items() if times > 1)
    if lost or pages < meant:
        which = f"{_pages(found, lost)} missing" if lost else "the others were lost"
        there = meant - len(lost) if lost else pages
        yield Finding(Part.WHOLE, f"it has {there} of its {meant} pages: {which}; make it again")
    if twice or pages > meant:
        more = f": {_pages(found, twice)} in it more than once" if twice else ""
        yield Finding(Part.WHOLE, f"it has {pages} pages, and had {meant} when it was made{more}")
    if not twice and known != sorted(known):
        yield out_of_order([place + found.note.first_page for place in known])


def out_of_order(numbers: Sequence[int] = ()) -> Finding:
    """Pages that are all there, but not as they were; `numbers` are those at their feet, if known."""
    more = ", ..." if len(numbers) > MOST_NAMED else ""
    now = f": {', '.join(map(str, numbers[:MOST_NAMED]))}{more}" if numbers else ""
    return Finding(Part.WHOLE, f"its pages are in another order than they were made{now}; make it again")


def _pages(found: Order, places: Sequence[int]) -> str:
    """Pages by the number at their foot and their title, with the verb: `page 2 ('Tray 2') is`."""
    named = [_page(found, place) for place in places[:MOST_NAMED]]
    if len(places) == 1:
        return f"page {named[0]} is"
    rest = len(places) - len(named)
    last = f"{rest} more" if rest else named.pop()
    return f"pages {', '.join(named)} and {last} are"


def _page(found: Order, place: int) -> str:
    number = str(place + found.note.first_page)
    return f"{number} ('{found.titles[place]}')" if found.titles else number
