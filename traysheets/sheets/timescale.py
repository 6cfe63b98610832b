"""A scale of weeks and months: where a day stands across the page, and what is written over it.

The timeline and the bars of the benches share it. Weeks are ISO weeks, from Monday on.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from traysheets.base.days import LAST_YEAR, week_monday
from traysheets.base.words import Words
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import Line, Mark, Path, Stamp, Text

MONTH_PT, WEEK_PT = 8.0, 7.0

_MONTH_LINE, _WEEK_LINE = "#8A8A8A", "#D4D4D4"
_LEAST_PITCH_MM = 1.3
"""Lines closer than this are not drawn, as they would grey the page."""

_DAYS_A_MONTH = 365.2425 / 12
_STEPS_MONTHS = (1, 3, 6, 12, 60, 120, 1200, 12000)
_STEPS_WEEKS = (1, 2, 4, 8, 13)
_PAD_MM = 1.0


@dataclass(frozen=True, slots=True)
class TimeScale:
    """Whole weeks from the Monday `first` on, over a width, from a left edge."""

    first: date
    weeks: int
    left_mm: float
    width_mm: float

    @property
    def week_mm(self) -> float:
        """How wide a week is."""
        return self.width_mm / self.weeks

    def x_mm(self, day: date) -> float:
        """Where a day begins."""
        return self.left_mm + (day - self.first).days / 7 * self.week_mm

    @property
    def end(self) -> date:
        """The day after the last."""
        return self.first + timedelta(weeks=self.weeks)

    @property
    def month_mm(self) -> float:
        """How wide a month is, about."""
        return self.week_mm * _DAYS_A_MONTH / 7

    def mondays(self, room_mm: float) -> Iterator[date]:
        """The Mondays of weeks a step apart that leaves each such room; none when even a quarter of a year does not."""
        step = next((step for step in _STEPS_WEEKS if step * self.week_mm >= room_mm), None)
        return (self.first + timedelta(weeks=week) for week in range(0, self.weeks if step else 0, step or 1))

    def months(self, room_mm: float) -> Iterator[date]:
        """The first days of months, a step apart that leaves each such room."""
        step = next((step for step in _STEPS_MONTHS if step * self.month_mm >= room_mm), _STEPS_MONTHS[-1])
        number = self.first.year * 12 + self.first.month - 1
        number += -number % step
        while number // 12 <= LAST_YEAR and (day := date(number // 12, number % 12 + 1, 1)) < self.end:
            if day >= self.first:
                yield day
            number += step


def scale_over(first: date, last: date, left_mm: float, width_mm: float) -> TimeScale:
    """The scale that holds the weeks of both days."""
    monday = week_monday(first)
    return TimeScale(monday, (last - monday).days // 7 + 1, left_mm, width_mm)


@lru_cache(maxsize=256)
def grid(scale: TimeScale, height_mm: float) -> Stamp:
    """Fine lines where weeks and months begin, from the left edge of the scale."""
    weeks = scale.mondays(0.0) if scale.week_mm >= _LEAST_PITCH_MM else iter(())
    lines = ((weeks, _WEEK_LINE, 0.15), (scale.months(_LEAST_PITCH_MM), _MONTH_LINE, 0.2))
    marks = (_uprights(scale, days, height_mm, colour, stroke) for days, colour, stroke in lines)
    return Stamp("weeks and months", scale.width_mm, height_mm, tuple(mark for mark in marks if mark.d))


def _uprights(scale: TimeScale, days: Iterator[date], height_mm: float, colour: str, stroke_mm: float) -> Path:
    pieces: list[tuple[str | float, ...]] = []
    for day in days:
        x = scale.x_mm(day) - scale.left_mm
        pieces += [("M", x, 0.0), ("L", x, height_mm)]
    return Path(tuple(pieces), stroke=colour, stroke_mm=stroke_mm)


def month_names(scale: TimeScale, base: float, words: Words, growth: float = 1.0) -> Iterator[Mark]:
    """The names of months where they begin, with the year at the first and each January; on long scales years alone."""
    size_pt = MONTH_PT * growth
    days = list(scale.months(_room_mm(words, "overview.month", size_pt)))
    if scale.first not in days:
        days.insert(0, scale.first)
    ends = [*(scale.x_mm(day) for day in days[1:]), scale.left_mm + scale.width_mm]
    said_year = False
    for day, end in zip(days, ends, strict=True):
        left = scale.x_mm(day) + _PAD_MM * 0.6
        names = _month_names(scale, day, words, size_pt, with_year=not said_year or day.month == 1)
        text = next((name for name in names if left + width_mm(name, "bold", size_pt) + 0.4 <= end), None)
        if text:
            said_year = said_year or str(day.year) in text
            yield Text(left, base, text, "bold", size_pt)


def _room_mm(words: Words, key: str, size_pt: float) -> float:
    """Room for the widest name of a month."""
    names = (words.written(date(2000, month, 1), key) for month in range(1, 13))
    return max(width_mm(name, "bold", size_pt) for name in names) + 2 * _PAD_MM


def _month_names(scale: TimeScale, day: date, words: Words, size_pt: float, *, with_year: bool) -> Iterator[str]:
    """What a month may be called, the longest first."""
    if 4 * scale.month_mm < _room_mm(words, "overview.month", size_pt):
        yield str(day.year)
        return
    if with_year:
        yield words.written(day, "overview.month_year")
    yield words.written(day, "overview.month")


def week_numbers(scale: TimeScale, base: float, growth: float = 1.0, bold: date | None = None) -> Iterator[Mark]:
    """ISO week numbers in the middle of their weeks, as many as there is room for; one of them may be bold."""
    size_pt = WEEK_PT * growth
    room = width_mm("53", "bold", size_pt) + _PAD_MM
    shown = list(scale.mondays(room))
    if bold and bold not in shown:
        apart = room / scale.week_mm * 7
        shown = [monday for monday in shown if abs((monday - bold).days) >= apart] + [bold]
    for monday in shown:
        face = "bold" if monday == bold else "regular"
        middle = scale.x_mm(monday) + scale.week_mm / 2
        yield from _inside(scale, Text(middle, base, str(monday.isocalendar().week), face, size_pt, anchor="middle"))


def _inside(scale: TimeScale, text: Text) -> Iterator[Text]:
    """A centred text, when it stays within the scale."""
    half = width_mm(text.text, text.face, text.size_pt) / 2
    if scale.left_mm <= text.x_mm - half and text.x_mm + half <= scale.left_mm + scale.width_mm:
        yield text


def scale_head(scale: TimeScale, top: float, words: Words, growth: float) -> Iterator[Mark]:
    """Names of months over numbers of weeks, `scale_head_mm` high, over a rule."""
    height = scale_head_mm(growth)
    base = top + cap_height_mm("bold", MONTH_PT * growth) + 0.4 * growth
    yield from month_names(scale, base, words, growth)
    yield from week_numbers(scale, top + height - 1.3 * growth, growth)
    yield Line(scale.left_mm, top + height, scale.left_mm + scale.width_mm, top + height, stroke_mm=0.35)


def scale_head_mm(growth: float) -> float:
    """Height of the head of a scale."""
    return 8.2 * growth
