"""The overview: the plan in a few large figures, beside the same plants one a cell, its benches by week, its timeline.

Here is what stands on it and in which order; each drawing has its own file.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from traysheets.page.marks import Line, Mark, Page
from traysheets.reckon.bench_weeks import bench_weeks
from traysheets.reckon.minutes import minutes_by_day
from traysheets.reckon.totals import Totals, compare, totals
from traysheets.sheets import measures
from traysheets.sheets.bars import Bars, standing_of
from traysheets.sheets.beside import beside
from traysheets.sheets.frame import Frame, Head
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Column, Said, Stack, columns
from traysheets.sheets.list_strips import section_head
from traysheets.sheets.lists import Listing, Strip, drawn, growth, height_mm, list_frame, paginate
from traysheets.sheets.timeline import Timeline

_TILE_MM = 23.0
_TILES_A_ROW = 4
_FIGURE_PT = 30.0
_LONG_MINUTES = 90
_AS_GOOD_AS_ALL = 0.999
_MOST_KINDS = 6
_TOGETHER = str.maketrans({" ": "\N{NO-BREAK SPACE}", "-": "\N{NON-BREAKING HYPHEN}"})


def overview_pages(job: Job) -> Iterator[Page]:
    """The figures, the comparison and the benches; then the timeline, on the same page where all of it has room.

    Something is sown on the chosen days.
    """
    frame, words = list_frame(job), job.words
    grown, room = growth(frame), frame.field_mm[1]
    whole = totals(job.batches, [tray.kind for tray in job.trays])
    summary = list(_tiles(job, frame, grown, whole))
    summary += _comparison(job, frame, grown, whole, room - height_mm(summary))
    summary += _benches(job, frame, grown, room - height_mm(summary))
    timeline = list(Timeline(job, frame, grown).strips())
    together = height_mm([*summary, *timeline]) <= room
    pages = paginate([*summary, *timeline], room) if together else paginate(summary, room) + paginate(timeline, room)
    head = Head(words("overview.name"), "", (job.plan.title, *_lines(job)))
    yield from drawn(job, frame, Listing(words("overview.name"), head, ()), [page for page in pages if page])


def _lines(job: Job) -> Iterator[str]:
    """Whose plan it is, and of which days."""
    if job.plan.grower:
        yield job.plan.grower
    days = [batch.sow for batch in job.batches]
    if min(days) == max(days):
        yield job.words("overview.sown_on", day=job.words.day(days[0]))
    else:
        yield job.words("overview.sown", first=job.words.short_day(min(days)), last=job.words.short_day(max(days)))


# ---- figures


@dataclass(frozen=True, slots=True)
class Tile:
    """One large figure, what it counts, and a line more about it."""

    figure: str
    what: str
    more: str = ""


def tiles(job: Job, whole: Totals) -> tuple[Tile, ...]:
    """The plan in figures."""
    words = job.words
    plain = {
        "trays": (whole.trays, _kinds(job)),
        "cells": (whole.cells, _free(job)),
        "seeds": (whole.seeds, _spare(job, whole)),
    }
    days = len({batch.sow for batch in job.batches})
    sowings = words("overview.sowings_what", n=len(job.batches))
    return (
        Tile(words.number(len(job.batches)), sowings, words("overview.on_days", n=days)),
        *(Tile(words.number(n), words(f"overview.{name}_what", n=n), more) for name, (n, more) in plain.items()),
        _weight(job, whole),
        *_both(job, "mix", (whole.mix_litres, "litres"), (whole.mix_cubic_feet, "cubic_feet")),
        _area(job, whole),
        _time(job, whole),
    )


def _kinds(job: Job) -> str:
    """How many trays of each kind, the kinds in the order of the trays; of many kinds the most used, and the rest."""
    counts = Counter(tray.kind.name for tray in job.trays)
    most = counts if len(counts) <= _MOST_KINDS else {name for name, _ in counts.most_common(_MOST_KINDS - 1)}
    kinds = [f"{job.words.number(number)} {name}" for name, number in counts.items() if name in most]
    others = sum(number for name, number in counts.items() if name not in most)
    told = [kind.translate(_TOGETHER) for kind in kinds]
    return ", ".join([*told, *([job.words("overview.trays_others", n=others)] if others else [])])


def _free(job: Job) -> str:
    free = sum(tray.spare for tray in job.trays)
    return job.words("overview.free", n=free) if free else ""


def _spare(job: Job, whole: Totals) -> str:
    return job.words("overview.spare", n=whole.seeds_spare) if whole.seeds_spare else ""


def _weight(job: Job, whole: Totals) -> Tile:
    words = job.words
    what = words("overview.grams_what")
    if whole.seed_grams is None:
        return Tile("–", what, words("overview.unweighed", n=whole.unweighed) if whole.unweighed else "")
    more = (
        words("overview.unweighed", n=whole.unweighed) if whole.unweighed else measures.ounces(whole.seed_grams, words)
    )
    return Tile(measures.rounded(whole.seed_grams, words), what, more)


def _both(job: Job, name: str, metric: tuple[float, str], inch: tuple[float, str]) -> Iterator[Tile]:
    """A figure in the plan's units, and in the other ones below."""
    words = job.words
    shown, other = (inch, metric) if job.units == "inch" else (metric, inch)
    what = words(f"overview.{name}_{shown[1]}")
    yield Tile(
        measures.rounded(shown[0], words), what, words(f"measures.{other[1]}", n=measures.rounded(other[0], words))
    )


def _area(job: Job, whole: Totals) -> Tile:
    """The room that all trays take, though they may never stand all at once; below, the most that they take at once."""
    feet = whole.bench_m2 / measures.SQUARE_METRES_PER_SQUARE_FOOT
    (tile,) = _both(job, "bench", (whole.bench_m2, "square_metres"), (feet, "square_feet"))
    peak_m2 = bench_weeks([standing_of(job, tray) for tray in job.trays], ()).peak_m2
    if peak_m2 >= whole.bench_m2 * _AS_GOOD_AS_ALL:
        return tile
    at_once = job.words("overview.at_once", area=measures.area(peak_m2, job.words, job.units))
    return replace(tile, more=f"{tile.more} · {at_once}")


def _time(job: Job, whole: Totals) -> Tile:
    words, helpers = job.words, job.plan.pace.helpers
    shared = sum(minutes_by_day(job.batches, helpers).values())
    more = words("overview.one_pair")
    if helpers > 1:
        more = words("overview.shared", n=helpers, time=measures.duration(shared, words))
    elif whole.minutes >= _LONG_MINUTES:
        more = measures.duration(whole.minutes, words)
    return Tile(words.number(measures.whole_minutes(whole.minutes)), words("overview.minutes_what"), more)


def _tiles(job: Job, frame: Frame, grown: float, whole: Totals) -> Iterator[Strip]:
    """The figures in rows, as strips."""
    shown = tiles(job, whole)
    at = list(columns(frame, grown, **dict.fromkeys((f"tile_{i}" for i in range(_TILES_A_ROW)), 0.0)).values())
    for first in range(0, len(shown), _TILES_A_ROW):
        yield _tile_row(shown[first : first + _TILES_A_ROW], at, grown)


def _tile_row(shown: tuple[Tile, ...], at: list[Column], grown: float) -> Strip:
    stacks = [
        Stack(
            [Said(tile.figure, "bold", _FIGURE_PT), Said(tile.what, "bold", 9.5), Said(tile.more, lines=2)],
            column,
            grown,
        )
        for tile, column in zip(shown, at, strict=False)
    ]
    height = max(_TILE_MM * grown, *(stack.height_mm + 3 * grown for stack in stacks))

    def marks(top: float) -> Iterator[Mark]:
        for stack, column in zip(stacks, at, strict=False):
            yield Line(column.left_mm, top + 1.0, column.right_mm, top + 1.0, stroke_mm=0.5)
            yield from stack.marks(top + 1.5)

    return Strip(height, marks)


# ---- drawings


def _comparison(job: Job, frame: Frame, grown: float, whole: Totals, room_mm: float) -> Iterator[Strip]:
    tray = job.plan.compare
    if tray:
        head = section_head(frame, grown, job.words("overview.compare"))
        other = compare(job.batches, tray, job.plan.pace)
        yield head
        yield beside(job, frame, grown, whole, other, room_mm - head.height_mm)


def _benches(job: Job, frame: Frame, grown: float, room_mm: float) -> Iterator[Strip]:
    """The benches, in what room there is left. They hold the whole plan, whatever days are chosen."""
    head = section_head(frame, grown, job.words("overview.benches_whole" if job.choices.days else "overview.benches"))
    yield head
    yield from Bars(job, frame, grown).strips(room_mm - head.height_mm)
