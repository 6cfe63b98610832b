"""The timeline: every sowing on a line of its own, from its sowing day to its last planting-out day.

Marks differ in shape, so that they are told apart without colour; small figures over them are days of the month.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from traysheets.base.directions import side_by_side
from traysheets.page.lettering import MM_PER_POINT, fit, width_mm
from traysheets.page.marks import BLACK, WHITE, Circle, Line, Mark, Path, Place, Rect, Text
from traysheets.reckon.minutes import minutes_by_day
from traysheets.reckon.model import Batch
from traysheets.sheets import measures
from traysheets.sheets.bars import BAR_FILL
from traysheets.sheets.frame import LEAST_PT, Frame
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import RULE, Said, Stack, columns
from traysheets.sheets.lists import Strip
from traysheets.sheets.standing_places import in_trays
from traysheets.sheets.steps import Step, Task, steps
from traysheets.sheets.timescale import grid, scale_head, scale_head_mm, scale_over

_BAND = "#E8E8E8"
_ROW_MM = 8.2
_BAND_MM = 6.0
_LEGEND_MM = 7.0
_MIDDLE_MM, _FIGURES_MM = 5.5, 2.9
"""Where the marks and the base line of the figures stand, from the top of a row."""
_HALF_MM = 1.25
_REACH_MM = 1.6
"""How far a mark of the last day may reach beyond the scale."""
_FIGURES_PT = 7.0
_THIN_FILL = "#E17D27"
_FIRST = (Task.PLANT_OUT, Task.EMERGE, Task.THIN, Task.HARDEN_OFF, Task.TRIM)
"""Whose figure stands where there is no room for two."""


@dataclass(frozen=True, slots=True)
class _Style:
    """Sizes and fills of the marks."""

    growth: float
    emerge: str
    thin: str


class Timeline:
    """The timeline of one job in its frame."""

    def __init__(self, job: Job, frame: Frame, growth: float) -> None:
        self._job, self._words, self._frame, self._growth = job, job.words, frame, growth
        self._columns = columns(frame, growth, code=8, name=36, cells=9, seeds=13, gap=0.5, chart=0)
        grey = job.choices.grey
        self._style = _Style(growth, WHITE if grey else BAR_FILL, WHITE if grey else _THIN_FILL)
        self._batches = sorted(job.batches, key=lambda batch: (batch.sow, batch.index))
        chart = self._columns["chart"]
        last = max(map(_last_day, self._batches))
        self._scale = scale_over(self._batches[0].sow, last, chart.left_mm, chart.width_mm - _REACH_MM * growth)

    def strips(self) -> Iterator[Strip]:
        """The head with the scale, then the sowings of each day."""
        head = Strip(_LEGEND_MM * self._growth + scale_head_mm(self._growth), self._head)
        yield Strip(head.height_mm, self._head, 1, head)
        minutes = minutes_by_day(self._batches)
        for day, group in groupby(self._batches, key=lambda batch: batch.sow):
            of_day = list(group)
            yield self._band(day, of_day, minutes[day])
            yield from map(self._row, of_day)

    # ---- heads

    def _head(self, top: float) -> Iterator[Mark]:
        """The signs and what they mean, over the names of the columns and the scale."""
        yield from self._legend(top)
        foot = top + _LEGEND_MM * self._growth + scale_head_mm(self._growth)
        for name, to_right in (("name", False), ("cells", True), ("seeds", True)):
            said = [Said(self._words(f"overview.{name}_heading"))]
            title = Stack(said, self._columns[name], self._growth, to_right=to_right)
            yield from title.marks(foot - title.height_mm - 1.0)
        yield Line(self._frame.left_mm, foot, self._columns["chart"].left_mm, foot, stroke_mm=0.35)
        yield from scale_head(self._scale, top + _LEGEND_MM * self._growth, self._words, self._growth)

    def _legend(self, top: float) -> Iterator[Mark]:
        grown, left = self._growth, self._frame.left_mm
        middle = top + 2.6 * grown
        room = self._frame.field_mm[0] / (len(_DRAWN) + 1.6)
        for task, draw in _DRAWN.items():
            start = left + (3.0 if task in (Task.EMERGE, Task.PLANT_OUT) else 5.4) * grown
            yield from draw(start, left + 7.0 * grown, middle, self._style)
            yield from self._legend_words(
                left + 8.5 * grown, middle, room - 9.5 * grown, self._words(f"overview.{task}")
            )
            left += room
        yield from self._legend_words(left, middle, self._frame.right_mm - left, self._words("overview.figures"))

    def _legend_words(self, left: float, middle: float, room: float, text: str) -> Iterator[Text]:
        placed = fit(text, "regular", room, 8.0 * self._growth, LEAST_PT)
        base = middle + 0.36 * placed.size_pt * MM_PER_POINT
        yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)

    def _band(self, day: date, batches: Sequence[Batch], minutes: float) -> Strip:
        words, height = self._words, _BAND_MM * self._growth
        parts = (
            words("overview.sowings", n=len(batches)),
            in_trays(self._job, batches),
            measures.duration(minutes, words),
        )
        name = Said(words.day_heading(day), "bold", 9)
        told = Said("  ·  ".join(parts), size_pt=8)
        return self._band_strip(name, told, height, Said(words("lists.continued", what=name.text), "bold", 9))

    def _band_strip(self, name: Said, told: Said | None, height: float, again: Said | None) -> Strip:
        def marks(top: float) -> Iterator[Mark]:
            yield Rect(self._frame.left_mm, top, self._frame.field_mm[0], height, fill=_BAND)
            base, left = top + height - 1.9 * self._growth, self._frame.left_mm + 1.5
            placed = fit(name.text, name.face, self._frame.field_mm[0] * 0.5, name.size_pt * self._growth, LEAST_PT)
            yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)
            if told:
                left += width_mm(placed.lines[0], placed.face, placed.size_pt) + 5.0
                placed = fit(
                    told.text, told.face, self._frame.right_mm - left - 1.5, told.size_pt * self._growth, LEAST_PT
                )
                yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)

        return Strip(height, marks, 2, self._band_strip(again, None, height, None) if again else None)

    # ---- rows

    def _row(self, batch: Batch) -> Strip:
        at, grown, sowing, words = self._columns, self._growth, batch.sowing, self._words
        crop = side_by_side((self._job.codes[batch.index], sowing.crop_name), " · ")
        stacks = (
            Stack([Said(sowing.code, "bold", 9)], at["code"], grown),
            Stack([Said(sowing.variety, "bold", 9), Said(crop, size_pt=7)], at["name"], grown),
            Stack([Said(words.number(batch.cells), size_pt=9)], at["cells"], grown, to_right=True),
            Stack([Said(words.number(batch.seeds_total), size_pt=9)], at["seeds"], grown, to_right=True),
        )
        height = max(_ROW_MM * grown, max(stack.height_mm for stack in stacks) + 0.8 * grown)

        def marks(top: float) -> Iterator[Mark]:
            for stack in stacks:
                yield from stack.marks(top + 0.4 * grown)
            yield Place(grid(self._scale, height), self._scale.left_mm, top)
            yield Line(self._frame.left_mm, top + height, self._frame.right_mm, top + height, RULE, 0.2)
            yield from self._marks(batch, top)

        return Strip(height, marks)

    def _marks(self, batch: Batch, top: float) -> Iterator[Mark]:
        """The line from sowing to the last planting-out day, the marks on it, and their figures."""
        x, middle = self._scale.x_mm, top + _MIDDLE_MM * self._growth
        yield Line(x(batch.sow), middle, x(_last_day(batch)), middle, stroke_mm=0.4)
        todo = steps(batch)
        for step in sorted(todo, key=lambda step: step.task in (Task.SOW, Task.THIN)):
            end = x((step.last or step.first) + timedelta(days=1))
            yield from _DRAWN[step.task](x(step.first), end, middle, self._style)
        yield from self._figures(todo, top + _FIGURES_MM * self._growth)

    def _figures(self, todo: Sequence[Step], base: float) -> Iterator[Text]:
        """The days of the month over the marks; where two would touch, the less telling is left out."""
        size_pt = _FIGURES_PT * self._growth
        taken: list[tuple[float, float]] = []
        for step in sorted((step for step in todo if step.task in _FIRST), key=lambda step: _FIRST.index(step.task)):
            text = str(step.first.day)
            wide = width_mm(text, "regular", size_pt)
            left = min(max(self._scale.x_mm(step.first), self._scale.left_mm), self._frame.right_mm - wide)
            if all(left + wide + 0.6 <= start or end + 0.6 <= left for start, end in taken):
                taken.append((left, left + wide))
                yield Text(left, base, text, "regular", size_pt)


def _last_day(batch: Batch) -> date:
    """The last day that the line of a batch reaches."""
    return max(step.last or step.first for step in steps(batch))


# ---- signs, each from the beginning of its first day to the end of its last


def _sow(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    yield Circle(left, middle, _HALF_MM * style.growth, fill=BLACK)


def _emerge(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    half = _HALF_MM * style.growth
    wide = max(right - left, 0.8)
    yield Rect(left, middle - half, wide, 2 * half, style.emerge, BLACK, 0.3, radius_mm=min(0.7, wide / 2))


def _thin(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    half = _HALF_MM * style.growth * 1.15
    corners = (
        ("M", left, middle - half),
        ("L", left + half, middle),
        ("L", left, middle + half),
        ("L", left - half, middle),
    )
    yield Path((*corners, ("Z",)), style.thin, BLACK, 0.3)


def _trim(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    half = _HALF_MM * style.growth * 1.2
    for x in (left - 0.45, left + 0.45):
        yield Line(x, middle - half, x, middle + half, stroke_mm=0.45)


def _harden_off(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    half = _HALF_MM * style.growth
    corners = (("M", left - half, middle - half), ("L", left + half, middle), ("L", left - half, middle + half))
    yield Path((*corners, ("Z",)), WHITE, BLACK, 0.3)


def _plant_out(left: float, right: float, middle: float, style: _Style) -> Iterator[Mark]:
    half = _HALF_MM * style.growth
    yield Rect(left, middle - half, max(right - left, 0.8), 2 * half, BLACK)


_Draw = Callable[[float, float, float, _Style], Iterator[Mark]]

_DRAWN: dict[Task, _Draw] = {
    Task.SOW: _sow,
    Task.EMERGE: _emerge,
    Task.THIN: _thin,
    Task.TRIM: _trim,
    Task.HARDEN_OFF: _harden_off,
    Task.PLANT_OUT: _plant_out,
}
