"""Days and weeks against ISO 8601 (8601-1:2019): week dates, years of 53 weeks, leap days, and what is refused."""

import re
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.days import FIRST_YEAR, LAST_YEAR, iso_week, parse_day, week_monday, weeks_in_year

DAYS = st.dates(date(FIRST_YEAR, 1, 3), date(LAST_YEAR, 12, 31))

# The same day in both forms of ISO 8601, computed from its rule: week 01 holds the year's first Thursday.
WEEK_DATES = [
    ("2005-01-01", "2004-W53-6"),
    ("2006-12-31", "2006-W52-7"),
    ("2008-12-29", "2009-W01-1"),
    ("2010-01-03", "2009-W53-7"),
    ("2019-12-30", "2020-W01-1"),
    ("2021-01-01", "2020-W53-5"),
    ("2022-12-31", "2022-W52-6"),
    ("2024-12-30", "2025-W01-1"),
    ("2026-01-01", "2026-W01-4"),
    ("2026-12-31", "2026-W53-4"),
    ("2027-01-01", "2026-W53-5"),
    ("2027-03-06", "2027-W09-6"),
]


@pytest.mark.parametrize(("day", "week_date"), WEEK_DATES)
def test_week_dates_of_iso_8601(day: str, week_date: str) -> None:
    assert parse_day(week_date) == parse_day(day) == date.fromisoformat(day)
    assert iso_week(parse_day(day)) == week_date[:8]


def test_a_week_is_its_monday() -> None:
    assert parse_day("2027-W09") == date(2027, 3, 1) == week_monday(date(2027, 3, 7))
    assert parse_day("2026-W53") == date(2026, 12, 28) == week_monday(date(2027, 1, 1))


def test_years_of_53_weeks() -> None:
    # ISO 8601: 71 of every 400 years.
    assert [year for year in range(2015, 2051) if weeks_in_year(year) == 53] == [
        2015,
        2020,
        2026,
        2032,
        2037,
        2043,
        2048,
    ]
    assert sum(weeks_in_year(year) == 53 for year in range(2000, 2400)) == 71


@pytest.mark.parametrize("day", ["2024-02-29", "2028-02-29", "2000-02-29"])
def test_leap_days(day: str) -> None:
    assert parse_day(day) == date.fromisoformat(day)


@given(DAYS)
def test_every_day_is_read_back(day: date) -> None:
    assert parse_day(day.isoformat()) == day
    assert parse_day(f"{iso_week(day)}-{day.isoweekday()}") == day


@given(DAYS)
def test_a_monday_begins_the_week_of_its_day(day: date) -> None:
    monday = week_monday(day)
    assert monday.isoweekday() == 1
    assert timedelta(0) <= day - monday <= timedelta(days=6)
    assert parse_day(iso_week(day)) == monday


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("2027-02-30", "2027-02-30: February 2027 has 28 days"),
        ("2028-02-30", "2028-02-30: February 2028 has 29 days"),
        ("1900-02-29", "1900-02-29: February 1900 has 28 days"),
        ("2027-04-00", "2027-04-00: April 2027 has 30 days"),
        ("2027-13-01", "2027-13-01: there is no month 13; dates are written year, month, day"),
        ("2027-W00", "2027-W00: 2027 has weeks W01 to W52"),
        ("2027-W53", "2027-W53: 2027 has weeks W01 to W52"),
        ("2026-W54", "2026-W54: 2026 has weeks W01 to W53"),
        ("2027-W09-8", "2027-W09-8: the days of a week are 1 (Monday) to 7 (Sunday)"),
        ("0001-01-01", "0001-01-01: the year must be 1583 to 9998"),
        ("9999-12-31", "9999-12-31: the year must be 1583 to 9998"),
        *(
            (form, f"'{form}' is not a day; write it as 2027-03-06 (year, month, day), or a week as 2027-W09")
            for form in (
                "",
                "31.2.2027",
                "2027/13/13",
                "6/3/27",
                "20270306",
                "2027-W9",
                "2027W09",
                "2027-w09",
                "March 6",
            )
        ),
        *(
            (form, f"'{form}' is not a day; write it as 2027-03-13 (year, month, day)")
            for form in ("13.03.2027", "13/3/2027", "3/13/2027", "13-3-2027", "2027/03/13", "2027-3-13", "13. 3. 2027")
        ),
        ("3.3.2027", "'3.3.2027' is not a day; write it as 2027-03-03 (year, month, day)"),
        *(
            (
                form,
                f"'{form}' is not a day; write it as 2027-03-06 or 2027-06-03 (year, month, day), whichever is meant",
            )
            for form in ("6/3/2027", "06.03.2027")
        ),
        (
            "２０２７-03-06",
            "'２０２７-03-06' is not a day; write it as 2027-03-06 (year, month, day), or a week as 2027-W09",
        ),
    ],
)
def test_what_is_not_a_day_is_refused_with_what_would_be_right(text: str, sentence: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(sentence)}$"):
        parse_day(text)
