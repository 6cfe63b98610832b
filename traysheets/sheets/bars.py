"""Benches by week: for each bench a bar a week, so high as it is filled, with the number of trays on each.

A line says where it is full; what has no room is hatched. Trays that stand on no bench have bars by their number.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from traysheets.arrange.model import ArrangedTray
from traysheets.base.words import Words
from traysheets.page.hatches import hatched
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Line, Mark, Path, Place, Rect, Stamp, Text
from traysheets.reckon.bench_weeks import BenchUse, BenchWeeks, Standing, bench_weeks, standing
from traysheets.sheets.frame import Frame
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Column, Said, Stack
from traysheets.sheets.lists import Strip
from traysheets.sheets.steps import Step, Task, days
from traysheets.sheets.timescale import WEEK_PT, TimeScale, month_names, week_numbers
from traysheets.sheets.tray_titles import tray_title
from traysheets.trade.trays import Tray

BAR_FILL = "#81DFFF"

LEAST_PANEL_MM, _PANEL_MM, _MOST_PANEL_MM = 30.0, 41.0, 58.0
_WORDS_MM = 48.0
_AXIS_MM = 9.0
_TOP_MM, _FEET_MM = 6.0, 8.5
_HATCH = "diagonal"
_LEAST_HATCHED_MM = 1.6


@dataclass(frozen=True, slots=True)
class Panel:
    """What a set of bars shows: trays in each week and those of them without room, and how high to draw both.

    The heights are shares of the bench, 1 where it is full; without a bench (`holds` is None), numbers of trays.
    """

    name: str
    kind: Tray | None
    holds: int | None
    trays: tuple[int, ...]
    over: tuple[int, ...]
    peak_trays: int
    peak_week: date | None
    heights: tuple[float, ...]
    heights_over: tuple[float, ...]
    mixed: bool = False


def weeks_of(job: Job) -> BenchWeeks:
    """All trays of the plan on its benches, week by week."""
    return bench_weeks([standing_of(job, tray) for tray in job.arranged.trays], job.plan.benches)


def standing_of(job: Job, tray: ArrangedTray) -> Standing:
    """How long a tray of the plan stands, and where."""
    return standing(tray.kind, tray.sow, [job.batch(index) for index in tray.batches], tray.place)


def panels(weeks: BenchWeeks, words: Words) -> Iterator[Panel]:
    """One for each bench, and one for the trays that stand on none."""
    for use in weeks.benches:
        yield _of_bench(use)
    on_benches = [sum(of_week) for of_week in zip(*(use.trays for use in weeks.benches), strict=True)]
    elsewhere = [trays - on for trays, on in zip(weeks.trays, on_benches or [0] * len(weeks.trays), strict=True)]
    if any(elsewhere):
        most = max(elsewhere)
        name = words("overview.elsewhere" if weeks.benches else "overview.all_trays")
        peak_week = weeks.mondays[elsewhere.index(most)]
        none, high = (0,) * len(elsewhere), tuple(map(float, elsewhere))
        yield Panel(name, None, None, tuple(elsewhere), none, most, peak_week, high, tuple(map(float, none)))


def _of_bench(use: BenchUse) -> Panel:
    return Panel(
        name=use.bench.name,
        kind=use.kind,
        holds=use.holds,
        trays=use.trays,
        over=use.over,
        peak_trays=use.peak_trays,
        peak_week=use.peak_week,
        heights=use.filled,
        heights_over=use.filled_over,
        mixed=use.mixed,
    )


class Bars:
    """The bars of one job in its frame."""

    def __init__(self, job: Job, frame: Frame, growth: float) -> None:
        self._words, self._units, self._frame, self._growth = job.words, job.units, frame, growth
        self._fill = WHITE if job.choices.grey else BAR_FILL
        self._weeks = weeks_of(job)
        left = frame.left_mm + (_WORDS_MM + _AXIS_MM) * growth
        first = self._weeks.mondays[0] if self._weeks.mondays else date.min
        self._scale = TimeScale(first, max(len(self._weeks.mondays), 1), left, frame.right_mm - left)

    def strips(self, room_mm: float) -> Iterator[Strip]:
        """A strip for each bench, so high that together they fill the room, where they can."""
        shown = list(panels(self._weeks, self._words))
        share = room_mm / max(len(shown), 1) / self._growth
        panel_mm = (min(share, _MOST_PANEL_MM) if share >= LEAST_PANEL_MM else _PANEL_MM) * self._growth
        for panel in shown:
            yield self._strip(panel, panel_mm)

    def _strip(self, panel: Panel, panel_mm: float) -> Strip:
        drawn = _Drawn(panel, self._scale, self._growth, self._fill, panel_mm)
        stack = Stack(self._told(panel), Column(self._frame.left_mm, _WORDS_MM * self._growth), self._growth)

        def marks(top: float) -> Iterator[Mark]:
            yield from stack.marks(top + _TOP_MM * self._growth)
            yield from drawn.marks(top, self._words)

        return Strip(max(panel_mm, stack.height_mm + _TOP_MM * self._growth), marks)

    def _told(self, panel: Panel) -> Iterator[Said]:
        words = self._words
        yield Said(panel.name, "bold", 11, lines=2)
        if panel.holds is not None:
            key = "overview.too_small" if not panel.holds else "overview.main_kind" if panel.mixed else "overview.holds"
            kind = tray_title(panel.kind, words, self._units) if panel.kind else ""
            yield Said(words(key, n=panel.holds, kind=kind), size_pt=9, lines=3 if panel.mixed else 2)
        if panel.peak_week is None:
            yield Said(words("overview.unused"), size_pt=9)
            return
        yield Said(
            words("overview.fullest", n=panel.peak_trays, week=str(panel.peak_week.isocalendar().week)),
            "bold",
            9,
            lines=2,
        )
        yield Said(days(Step(Task.SOW, panel.peak_week, panel.peak_week + timedelta(days=6)), words), size_pt=9)
        homeless = panel.over[self._weeks.mondays.index(panel.peak_week)]
        if homeless:
            full = sum(1 for over in panel.over if over)
            yield Said(words("overview.homeless", n=homeless), "bold", 9, lines=2)
            yield Said(words("overview.full_weeks", n=full), size_pt=9, lines=2)


class _Drawn:
    """The bars of one panel, from the top of its strip down."""

    def __init__(self, panel: Panel, scale: TimeScale, growth: float, fill: str, panel_mm: float) -> None:
        self._panel, self._scale, self._growth, self._fill = panel, scale, growth, fill
        self._high = panel_mm - (_TOP_MM + _FEET_MM) * growth
        self._most = max(*panel.heights, 1.0) if panel.heights else 1.0

    def marks(self, top: float, words: Words) -> Iterator[Mark]:
        """Bars, counts, the line of what the bench holds, and the weeks and months below."""
        foot, grown = top + _TOP_MM * self._growth + self._high, self._growth
        scale = self._scale
        yield from self._bars(foot)
        yield Line(scale.left_mm, foot, scale.left_mm + scale.width_mm, foot, stroke_mm=0.35)
        yield from self._line(foot, words)
        yield from self._counts(foot)
        yield from week_numbers(scale, foot + 3.2 * grown, grown, self._panel.peak_week)
        yield from month_names(scale, foot + 7.0 * grown, words, grown)

    def _up_mm(self, height: float) -> float:
        return self._high * height / self._most

    def _bars(self, foot: float) -> Iterator[Mark]:
        wide = self._scale.week_mm * 0.82
        pieces: list[tuple[str | float, ...]] = []
        for week, (high, over) in enumerate(zip(self._panel.heights, self._panel.heights_over, strict=True)):
            left = self._scale.left_mm + self._scale.week_mm * (week + 0.09)
            if high > over:
                pieces.append(("R", left, foot - self._up_mm(high - over), wide, self._up_mm(high - over)))
            if over:
                yield Place(_no_room(wide, self._up_mm(over)), left, foot - self._up_mm(high))
        if pieces:
            yield Path(tuple(pieces), fill=self._fill, stroke=BLACK, stroke_mm=min(0.25, wide / 4))

    def _line(self, foot: float, words: Words) -> Iterator[Mark]:
        """Where the bench is full, as a dashed line with the word at the axis."""
        if not self._panel.holds:
            return
        y, left, said = foot - self._up_mm(1.0), self._scale.left_mm, words("overview.full")
        room, size_pt = (_AXIS_MM - 1.5) * self._growth, 9.0 * self._growth
        size_pt *= min(1.0, room / width_mm(said, "bold", size_pt))
        yield Line(left, y, left + self._scale.width_mm, y, stroke_mm=0.6, dash_mm=(2.0, 1.2))
        middle = y + cap_height_mm("bold", size_pt) / 2
        yield Text(left - 1.5 * self._growth, middle, said, "bold", size_pt, anchor="end")

    def _counts(self, foot: float) -> Iterator[Mark]:
        """How many trays, over each bar where there is room for it, over the fullest at any rate."""
        size_pt, panel = WEEK_PT * self._growth, self._panel
        roomy = width_mm(str(max(panel.trays, default=0)), "regular", size_pt) + 0.8 <= self._scale.week_mm
        for week, trays in enumerate(panel.trays):
            monday = self._scale.first + timedelta(weeks=week)
            fullest = monday == panel.peak_week
            if trays and (roomy or fullest):
                x = self._scale.x_mm(monday) + self._scale.week_mm / 2
                face, size = ("bold", size_pt * (1.25 if not roomy else 1.0)) if fullest else ("regular", size_pt)
                top = foot - self._up_mm(panel.heights[week])
                yield from self._count(x, self._clear_of_line(top, foot, face, size), str(trays), face, size)

    def _clear_of_line(self, top: float, foot: float, face: str, size_pt: float) -> float:
        """The base line of a count over a bar; over the dashed line too, where it would run into that."""
        apart = 0.9 * self._growth
        base, line = top - apart, foot - self._up_mm(1.0)
        runs_in = base - cap_height_mm(face, size_pt) - apart < line < base + apart
        return line - apart if self._panel.holds and runs_in else base

    def _count(self, x: float, base: float, text: str, face: str, size_pt: float) -> Iterator[Mark]:
        """A count centred over its bar, never over an end of the scale; on white, as a higher bar may stand there."""
        half, high = width_mm(text, face, size_pt) / 2, cap_height_mm(face, size_pt)
        left = self._scale.left_mm
        x = min(max(x, left + half), left + self._scale.width_mm - half)
        yield Rect(x - half - 0.2, base - high - 0.3, 2 * half + 0.4, high + 0.6, WHITE)
        yield Text(x, base, text, face, size_pt, anchor="middle")


def _no_room(width_mm: float, height_mm: float) -> Stamp:
    """The part of a bar that stands for trays without room: hatched, or black where it is too narrow for a hatch."""
    edge = Rect(0, 0, width_mm, height_mm, stroke=BLACK, stroke_mm=min(0.3, width_mm / 4))
    inside = (
        hatched(_HATCH, width_mm, height_mm, WHITE)
        if width_mm >= _LEAST_HATCHED_MM
        else Rect(0, 0, width_mm, height_mm, BLACK)
    )
    return Stamp("no room", width_mm, height_mm, (inside, edge))
