"""Jobs made by hand for tests of the guide, and a walk over all that stands on a page, stamps and clips too."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

import map_jobs
import plans

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.words import words_for
from traysheets.page.marks import Clip, Mark, Page, Place, Stamp, Text
from traysheets.page.reach import box
from traysheets.plan.model import Pace
from traysheets.reckon.model import Batch, Figure, Source
from traysheets.sheets.job import Job
from traysheets.trade.crops import crops
from traysheets.trade.trays import Tray

CROPS = crops()
TRAYS = map_jobs.TRAYS


def batch(
    index: int = 0,
    kind: Tray | str = "pot-18",
    cells: int = 8,
    what: str = "clump 25",
    crop: str = "Onion",
    cover_mm: float | None = 6.0,
    **other: Any,
) -> Batch:
    """A batch of a built-in crop. `what` is `clump 25`, `stations 3x2` or `single 1`."""
    tray = TRAYS[kind] if isinstance(kind, str) else kind
    cover = None if cover_mm is None else Figure(cover_mm, Source.PLAN)
    made = map_jobs.batch(index, tray, cells, what, cover_mm=cover)
    return replace(made, sowing=replace(made.sowing, crop=CROPS[crop], crop_name=crop, **other))


def job(batches: Sequence[Batch], languages: Sequence[str] = ("en",), helpers: int = 1, **other: Any) -> Job:
    """Batches in trays of their own, one after the other; `languages` of the guide."""
    trays: list[ArrangedTray] = []
    for one in batches:
        for first in range(0, one.cells, one.tray.cells):
            number, cells = len(trays) + 1, min(one.cells - first, one.tray.cells)
            trays.append(ArrangedTray(number, one.tray, plans.SATURDAY, "", (Run(number, one.index, 0, cells),)))
    made = map_jobs.job(batches, trays, pace=Pace(helpers=helpers), **other)
    words = tuple(map(words_for, languages))
    return replace(made, words=words[0], guide_words=words)


def one(*args: Any, paper: str = "a4", grey: bool = False, **other: Any) -> Job:
    """A job of one batch."""
    return job([batch(0, *args, **other)], paper=paper, grey=grey)


def walk(marks: Iterable[Mark], within: tuple[str, ...] = ()) -> Iterator[tuple[Mark, tuple[str, ...]]]:
    """Every mark with the names of the stamps it stands in, outermost first."""
    for mark in marks:
        yield mark, within
        if isinstance(mark, Clip):
            yield from walk(mark.marks, within)
        elif isinstance(mark, Place):
            yield from walk(mark.stamp.marks, (*within, mark.stamp.name))


def texts(page: Page) -> list[Text]:
    """All texts of a page, in its order."""
    return [mark for mark, _ in walk(page.marks) if isinstance(mark, Text)]


def cut_off(page: Page) -> list[str]:
    """The texts of a page that an ellipsis cut, those of its foot left out."""
    marks = [(mark, within) for mark, within in walk(page.marks) if isinstance(mark, Text) and "foot" not in within]
    in_field = (mark for mark, within in marks if within or mark.y_mm < page.height_mm - 20)
    return [mark.text for mark in in_field if "…" in mark.text]


def said(page: Page) -> str:
    """All that a page says, lines joined, every space a usual one."""
    return " ".join(text.text for text in texts(page)).replace("\u00a0", " ")


def placed(page: Page | Stamp, name: str) -> list[Place]:
    """The stamps of that name on a page or in a stamp."""
    return [mark for mark, _ in walk(page.marks) if isinstance(mark, Place) and mark.stamp.name == name]


def middle(place: Place) -> tuple[float, float]:
    """The middle of a placed stamp, where it is placed."""
    left, top, right, bottom = box(place)
    return (left + right) / 2, (top + bottom) / 2
