"""The aftercare list, week by week and day by day, and the same as events for a calendar.

What there is to do, in words, is `chores.py`; here it is set out on pages.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from hashlib import sha256
from itertools import groupby

from traysheets.base.days import week_monday
from traysheets.base.words import Words
from traysheets.page.calendar import Event
from traysheets.page.marks import Page
from traysheets.sheets.cautions import met
from traysheets.sheets.chores import Chore, chores, undated_chores
from traysheets.sheets.frame import Head
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Part, Said, Sign, Stack, WritingLine, caution_lines, columns, few, tick_box
from traysheets.sheets.list_strips import closing, day_head, group_head, heading, row
from traysheets.sheets.lists import Listing, Strip, growth, list_frame, listing_pages
from traysheets.sheets.standing_places import MOST_PLACES
from traysheets.sheets.steps import Step, Task, days
from traysheets.sheets.task_signs import task_sign

_ROW_MM = 11.0
_BOX_MM = 6.5
_SIGN_MM = 7.5
_WRITING_MM = 8.2


def aftercare_pages(job: Job) -> Iterator[Page]:
    """What to do on which day after sowing, one page at a time."""
    yield from listing_pages(job, _listing(job))


def aftercare_events(job: Job) -> Iterator[Event]:
    """The same as events for a calendar, in the same order.

    Looking for seedlings goes on over all its days. Planting out stands on its first, as its last may be weeks away.
    """
    for chore in chores(job):
        batch, step = chore.batch, chore.step
        until = step.last if step.task is Task.EMERGE and step.last else step.first
        yield Event(
            uid=_uid(job, chore),
            first=step.first,
            last=until,
            made=batch.sow,
            title=job.words(
                "aftercare.event", what=chore.what, variety=batch.sowing.variety, crop=batch.sowing.crop_name
            ),
            text="\n".join(
                (*(how for how in chore.how if how), job.words("aftercare.batch", code=job.codes[batch.index]))
            ),
            where="; ".join((*chore.where, *([batch.sowing.place] if batch.sowing.place else []))),
            kind=chore.what,
        )


def _uid(job: Job, chore: Chore) -> str:
    """A name of this work and no other: batch code and task, and the grower, as others allot the same codes.

    Lasting and unique over all calendars, as RFC 5545, 3.8.4.7 asks.
    """
    grower = sha256(job.plan.grower.encode()).hexdigest()[:12]
    return f"{job.codes[chore.batch.index]}-{chore.step.task.value}-{grower}@traysheets"


def _listing(job: Job) -> Listing:
    todo, undated = chores(job), undated_chores(job)
    rows = _Rows(job)
    return Listing(
        title=job.words("aftercare.title"),
        head=Head(job.words("aftercare.name"), "", _lines(job, todo, undated)),
        heading=rows.heading() if todo or undated else None,
        strips=[*rows.weeks(todo), *rows.undated(undated)],
        closing=rows.closing({chore.step.task for chore in (*todo, *undated)}),
    )


def _lines(job: Job, todo: Sequence[Chore], undated: Sequence[Chore]) -> tuple[str, ...]:
    """The days that the list is for, and how much it is."""
    words, everything = job.words, (*todo, *undated)
    if not everything:
        return (words("aftercare.nothing"), job.plan.title)
    batches = len({chore.batch.index for chore in everything})
    tasks = words("aftercare.tasks", n=len(everything))
    amount = words("aftercare.amount", tasks=tasks, batches=words("records.batches", n=batches))
    if not todo:
        return amount, job.plan.title
    first, last = todo[0].step.first, max(chore.step.last or chore.step.first for chore in todo)
    return _span(words, first, last), amount, job.plan.title


def _span(words: Words, first: date, last: date) -> str:
    return days(Step(Task.EMERGE, first, last), words)


class _Rows:
    """The rows of one job's aftercare list, all in the same columns."""

    def __init__(self, job: Job) -> None:
        self._job, self._words = job, job.words
        self._frame = list_frame(job)
        self._growth = growth(self._frame)
        self._columns = columns(
            self._frame, self._growth, tick=6.5, sign=7.5, what=43, code=15, plants=0, where=31, note=36
        )

    def heading(self) -> Strip:
        """The names of the columns."""
        shown = ("what", "code", "plants", "where", "note")
        titles = [(self._words(f"aftercare.{name}"), self._columns[name], False) for name in shown]
        return heading(self._frame, self._growth, titles)

    def closing(self, tasks: set[Task]) -> Strip:
        """What to beware of in the work that the list holds."""
        return closing(self._frame, caution_lines(met(tasks), self._words), self._growth)

    def weeks(self, todo: Sequence[Chore]) -> Iterator[Strip]:
        """The rows below heads of weeks and days."""
        for monday, of_week in groupby(todo, key=lambda chore: week_monday(chore.step.first)):
            year, week, _ = monday.isocalendar()
            name = self._words("aftercare.week", week=str(week), year=str(year))
            head = f"{name}  ·  {_span(self._words, monday, monday + timedelta(days=6))}"
            yield group_head(self._frame, self._growth, head, self._words("lists.continued", what=name))
            for day, of_day in groupby(of_week, key=lambda chore: chore.step.first):
                yield self._day(day)
                yield from map(self._row, of_day)

    def undated(self, todo: Sequence[Chore]) -> Iterator[Strip]:
        """The rows of work of which nobody can say when, below a head of their own."""
        if todo:
            name = self._words("aftercare.undated")
            yield group_head(self._frame, self._growth, name, self._words("lists.continued", what=name))
            yield from map(self._row, todo)

    def _day(self, day: date) -> Strip:
        text = self._words.day_heading(day)
        return day_head(self._frame, self._growth, text, self._words("lists.continued", what=text))

    def _row(self, chore: Chore) -> Strip:
        at, grown, sowing = self._columns, self._growth, chore.batch.sowing
        code = self._job.codes[chore.batch.index]
        how = (Said(how, lines=2) for how in chore.how)
        parts: list[Part] = [
            Sign(tick_box(_BOX_MM * grown), at["tick"]),
            Sign(task_sign(chore.step.task, _SIGN_MM * grown), at["sign"]),
            Stack([Said(chore.what, "bold", 11), *how], at["what"], grown),
            Stack([Said(sowing.code, "bold", 11), Said(code, "code")], at["code"], grown),
            Stack(
                [Said(sowing.variety, "bold", 10, lines=2, readable_pt=8), Said(sowing.crop_name)], at["plants"], grown
            ),
            Stack([Said(place, "bold", 9, lines=2) for place in few(chore.where, MOST_PLACES)], at["where"], grown),
            WritingLine(at["note"], _WRITING_MM * grown),
        ]
        return row(self._frame, grown, parts, _ROW_MM)
