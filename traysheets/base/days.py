"""Days and weeks as ISO 8601 writes them. A day is a date, never a moment; today is told by the caller."""

import re
from calendar import month_name, monthrange
from datetime import date, timedelta

from traysheets.base.quoting import quoted

# ISO 8601 leaves years before the Gregorian calendar (1583) to agreement between the parties.
# The last year is one short of what `date` can hold, so that the week a day stands in is always whole.
FIRST_YEAR, LAST_YEAR = 1583, 9998

_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})\.?", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})[-./ ] ?(\d{1,2})[-./ ] ?(\d{4})", re.ASCII)
_WEEK = re.compile(r"(\d{4})-W(\d{2})(?:-(\d))?", re.ASCII)


def parse_day(text: str) -> date:
    """The day written as `2027-03-06`, as `2027-W09` (the Monday of that week) or as `2027-W09-6`.

    Raises ValueError, saying what would be right, for any other form and for days that do not exist.
    """
    written = text.strip()
    if found := _DATE.fullmatch(written):
        return _calendar_day(written, *(int(part) for part in found.groups()))
    if found := _WEEK.fullmatch(written):
        return _week_day(written, int(found[1]), int(found[2]), int(found[3] or 1))
    raise ValueError(f"{quoted(text)} is not a day; {_remedy(written)}")


def _remedy(text: str) -> str:
    """How the day is to be written: itself where it is plain which is meant, else what it may be, else an example."""
    may_be = [day.isoformat() for day in _may_be(text)]
    if may_be:
        return f"write it as {' or '.join(may_be)} (year, month, day){', whichever is meant' if may_be[1:] else ''}"
    return "write it as 2027-03-06 (year, month, day), or a week as 2027-W09"


def _may_be(text: str) -> list[date]:
    """The days that a date of figures in another order may mean: none, one, or two where day and month may change."""
    if found := _YEAR_FIRST.fullmatch(text):
        orders = [(found[1], found[2], found[3])]
    elif found := _YEAR_LAST.fullmatch(text):
        orders = [(found[3], found[2], found[1]), (found[3], found[1], found[2])]
    else:
        return []
    return list(dict.fromkeys(day for order in orders if (day := _if_there_is(*map(int, order)))))


def _if_there_is(year: int, month: int, day: int) -> date | None:
    """The day, if the calendar has it."""
    if FIRST_YEAR <= year <= LAST_YEAR and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]:
        return date(year, month, day)
    return None


def _calendar_day(text: str, year: int, month: int, day: int) -> date:
    _check_year(text, year)
    if not 1 <= month <= 12:
        raise ValueError(f"{text}: there is no month {month:02}; dates are written year, month, day")
    days = monthrange(year, month)[1]
    if not 1 <= day <= days:
        raise ValueError(f"{text}: {month_name[month]} {year} has {days} days")
    return date(year, month, day)


def _week_day(text: str, year: int, week: int, day: int) -> date:
    _check_year(text, year)
    weeks = weeks_in_year(year)
    if not 1 <= week <= weeks:
        raise ValueError(f"{text}: {year} has weeks W01 to W{weeks}")
    if not 1 <= day <= 7:
        raise ValueError(f"{text}: the days of a week are 1 (Monday) to 7 (Sunday)")
    return date.fromisocalendar(year, week, day)


def _check_year(text: str, year: int) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"{text}: the year must be {FIRST_YEAR} to {LAST_YEAR}")


def weeks_in_year(year: int) -> int:
    """How many ISO weeks a year has, 52 or 53: 28 December is always in its last."""
    return date(year, 12, 28).isocalendar().week


def iso_week(day: date) -> str:
    """The ISO week a day stands in, as `2027-W09`; the year is the week's own, not always the day's."""
    year, week, _ = day.isocalendar()
    return f"{year:04}-W{week:02}"


def week_monday(day: date) -> date:
    """The Monday of the ISO week a day stands in."""
    return day - timedelta(days=day.weekday())
