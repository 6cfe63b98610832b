"""The trays of the plan, and beside them those that the same plants take one a cell: all from above, to one scale."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from traysheets.page.marks import BLACK, WHITE, Circle, Mark, Path, Place, Rect, Stamp
from traysheets.reckon.bench import area_m2
from traysheets.reckon.totals import Comparison, Totals
from traysheets.sheets import measures
from traysheets.sheets.frame import Frame
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Column, Said, Stack
from traysheets.sheets.lists import Strip
from traysheets.sheets.tray_titles import tray_title
from traysheets.trade.trays import Tray

COLOUR, GREY = "#109EEB", "#8C8C8C"

Kinds: TypeAlias = tuple[tuple[Tray, int], ...]
"""Kinds of trays, and how many of each."""

_LEAST_DRAWN_MM, _MOST_DRAWN_MM = 22.0, 42.0
_WORDS_MM, _UNDER_MM = 20.0, 9.0
_BETWEEN_MM = 10.0
_PARTS = tuple(percent / 100 for percent in range(24, 67, 2))
"""How much of the width the plan's own side may have: each leaves room for the words of both."""
_MOST_DRAWN = 1200
_LEAST_CELL_MM = 0.45
_STEPS = 30


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of the comparison: what is said of it, and its trays by kind, as many as are drawn."""

    said: tuple[Said, ...]
    kinds: Kinds
    fill: str


def beside(job: Job, frame: Frame, growth: float, planned: Totals, other: Comparison, room_mm: float) -> Strip:
    """Both sides with their counts, the drawings below, as large as the room allows within reason."""
    each = _each_stands_for(max(planned.trays, other.trays))
    sides = (
        _Side(_told(job, "overview.as_planned", planned), _plan_kinds(job, each), GREY if job.choices.grey else COLOUR),
        _Side(_told(job, "overview.one_a_cell", other), ((other.tray, -(-other.trays // each)),), GREY),
    )
    high = min(max(room_mm / growth - _WORDS_MM - _UNDER_MM, _LEAST_DRAWN_MM), _MOST_DRAWN_MM)
    at, scale = _best(frame, growth, sides, high * growth)
    stacks = [Stack(side.said, column, growth) for side, column in zip(sides, at, strict=True)]
    words_mm = max(_WORDS_MM * growth, *(stack.height_mm + 2 * growth for stack in stacks))
    note = Stack([Said(_note(job, each))], Column(frame.left_mm, frame.field_mm[0]), growth)

    def marks(top: float) -> Iterator[Mark]:
        for stack, side, column in zip(stacks, sides, at, strict=True):
            yield from stack.marks(top)
            yield from _drawn(side, column, scale, top + words_mm)
        yield from note.marks(top + words_mm + used + 1.5 * growth)

    used = max(_laid(side.kinds, column.width_mm, scale)[1] for side, column in zip(sides, at, strict=True))
    return Strip(words_mm + used + note.height_mm + 5.0 * growth, marks)


def _drawn(side: _Side, column: Column, scale: float, top: float) -> Iterator[Mark]:
    """The trays of one side below a given top edge."""
    rows, gap = _laid(side.kinds, column.width_mm, scale)[0], _gap_mm(side.kinds, scale)
    for row in rows:
        stamp = _from_above(row.tray, scale, side.fill)
        for number in range(row.number):
            yield Place(stamp, column.left_mm + row.x_mm + number * (stamp.width_mm + gap), top + row.y_mm)


def _columns(frame: Frame, growth: float, part: float) -> tuple[Column, Column]:
    """The two sides, the left one such a part of the width."""
    between = _BETWEEN_MM * growth
    room = frame.field_mm[0] - between
    left = room * part
    return Column(frame.left_mm, left), Column(frame.left_mm + left + between, room - left)


def _told(job: Job, key: str, side: Totals | Comparison) -> tuple[Said, ...]:
    words = job.words
    kind = tray_title(side.tray, words, job.units) if isinstance(side, Comparison) else ""
    takes = (
        words("maps.cells", n=side.cells),
        measures.area(side.bench_m2, words, job.units),
        measures.duration(side.minutes, words),
    )
    return (
        Said(words("overview.trays", n=side.trays), "bold", 20),
        Said(words(key, kind=kind), "bold", 9.5, lines=2),
        Said(" · ".join(takes), size_pt=9, lines=2),
    )


def _note(job: Job, each: int) -> str:
    note = job.words("overview.same_scale")
    return f"{note} {job.words('overview.each_stands_for', n=each)}" if each > 1 else note


def _each_stands_for(trays: int) -> int:
    """How many trays one that is drawn stands for: 1, or as many tens as keep the drawing countable."""
    each = 1
    while trays > each * _MOST_DRAWN:
        each *= 10
    return each


def _plan_kinds(job: Job, each: int) -> Kinds:
    """The kinds of the plan's trays, the largest first, and how many of each are drawn."""
    counts: dict[Tray, int] = {}
    for tray in job.trays:
        counts[tray.kind] = counts.get(tray.kind, 0) + 1
    kinds = sorted(counts, key=lambda kind: (-area_m2(kind), kind.name))
    return tuple((kind, -(-counts[kind] // each)) for kind in kinds)


# ---- laying trays out


@dataclass(frozen=True, slots=True)
class _Row:
    """Trays of one kind side by side: their number, and the top left corner of the first."""

    tray: Tray
    number: int
    x_mm: float
    y_mm: float


def _laid(kinds: Kinds, room_mm: float, scale: float) -> tuple[list[_Row], float]:
    """The trays in rows that the room holds, kind after kind; and the height of them all."""
    gap = _gap_mm(kinds, scale)
    x = y = row_mm = 0.0
    found: list[_Row] = []
    for tray, left in kinds:
        long, wide = (side * scale for side in tray.outer_mm)
        while left:
            here = min(left, max(int((room_mm - x + gap) / (long + gap)), 0 if x else 1))
            if here:
                found.append(_Row(tray, here, x, y))
                x, row_mm, left = x + here * (long + gap), max(row_mm, wide), left - here
            if left:
                x, y, row_mm = 0.0, y + row_mm + gap, 0.0
    return found, y + row_mm


def _gap_mm(kinds: Kinds, scale: float) -> float:
    """Between trays: a part of the shortest side."""
    return max(0.35, 0.08 * scale * min(min(tray.outer_mm) for tray, _ in kinds)) if kinds else 0.0


def _best(frame: Frame, growth: float, sides: Sequence[_Side], high_mm: float) -> tuple[tuple[Column, ...], float]:
    """The columns that let the trays be drawn largest, and the scale."""
    tried = ((at, _scale(sides, at, high_mm)) for at in (_columns(frame, growth, part) for part in _PARTS))
    return max(tried, key=lambda found: found[1])


def _scale(sides: Sequence[_Side], at: Sequence[Column], high_mm: float) -> float:
    """The largest scale at which both sides go into their room, found by halving."""
    longest = max(max(tray.outer_mm) for side in sides for tray, _ in side.kinds)
    low, high = 0.0, min(column.width_mm for column in at) / longest
    for _ in range(_STEPS):
        middle = (low + high) / 2
        if all(
            _laid(side.kinds, column.width_mm, middle)[1] <= high_mm for side, column in zip(sides, at, strict=True)
        ):
            low = middle
        else:
            high = middle
    return low


@lru_cache(maxsize=256)
def _from_above(tray: Tray, scale: float, fill: str) -> Stamp:
    """A tray from above: its edge, and its cells where they are large enough to be seen."""
    long, wide = (side * scale for side in tray.outer_mm)
    stroke = min(0.22, wide / 10)
    inset = stroke / 2
    shows_cells = min(tray.cell_mm) * scale >= _LEAST_CELL_MM
    ground = WHITE if shows_cells else fill
    edge = Rect(inset, inset, long - stroke, wide - stroke, ground, BLACK, stroke, radius_mm=min(0.6, wide / 12))
    return Stamp(tray.name, long, wide, (edge, *(_cells(tray, scale, fill) if shows_cells else ())))


def _cells(tray: Tray, scale: float, fill: str) -> Iterator[Mark]:
    """The cells, each a little smaller than it is, so that those next to it stay apart."""
    across, down = (side * scale - min(0.15, side * scale / 4) for side in tray.cell_mm)
    centres = [tuple(side * scale for side in tray.centre_mm(cell)) for cell in range(tray.cells)]
    if tray.shape == "round":
        yield from (Circle(x, y, across / 2, fill) for x, y in centres)
    else:
        yield Path(tuple(("R", x - across / 2, y - down / 2, across, down) for x, y in centres), fill)
