"""Calendar files against RFC 5545, read back by a strict reader of our own and by vobject."""

import io
import os
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta

import pytest
import rfc5545
import vobject
from hypothesis import example, given
from hypothesis import strategies as st

from traysheets.export.calendar import write_calendar
from traysheets.page.calendar import Event

DAY = date(2027, 3, 6)
THIN = Event("27-014-K-thin", DAY, DAY, DAY, "Thin: Long, Winter", "to 1 a hole\nBatch 27-014-K", "tray 3", "Thin")
LOOK = Event("27-014-K-emerge", DAY, DAY + timedelta(days=4), DAY, "Look for seedlings")


def written(*events: Event, title: str = "Spring") -> bytes:
    file = io.BytesIO()
    write_calendar(events, file, title)
    return file.getvalue()


def test_an_event_is_a_whole_day_that_ends_before_the_next() -> None:
    """RFC 5545, 3.6.1: the end of an event is not part of it, so a single day ends on the day after."""
    event = rfc5545.read(written(THIN)).inside[0]
    assert (event.one("DTSTART"), event.one("DTEND")) == ("20270306", "20270307")
    assert event.one("TRANSP") == "TRANSPARENT"


def test_an_event_of_several_days_ends_after_its_last() -> None:
    event = rfc5545.read(written(LOOK)).inside[0]
    assert (event.one("DTSTART"), event.one("DTEND")) == ("20270306", "20270311")


def test_days_at_the_ends_of_months_and_leap_years() -> None:
    leap = Event("a", date(2028, 2, 28), date(2028, 2, 29), DAY, "Leap")
    assert rfc5545.read(written(leap)).inside[0].one("DTEND") == "20280301"


def test_words_come_back_as_they_were() -> None:
    event = rfc5545.read(written(THIN)).inside[0]
    assert rfc5545.text(event.one("SUMMARY")) == THIN.title
    assert rfc5545.text(event.one("DESCRIPTION")) == THIN.text
    assert (event.one("LOCATION"), event.one("CATEGORIES"), event.one("UID")) == ("tray 3", "Thin", "27-014-K-thin")


def test_the_stamp_is_of_the_plan_not_of_the_run() -> None:
    assert rfc5545.read(written(THIN)).inside[0].one("DTSTAMP") == "20270306T000000Z"


def test_the_calendar_is_named_where_it_has_a_name() -> None:
    """RFC 7986, 5.1."""
    calendar = rfc5545.read(written(THIN, title="Spring, first; sowings"))
    assert {rfc5545.text(calendar.one(name)) for name in ("NAME", "X-WR-CALNAME")} == {"Spring, first; sowings"}
    assert rfc5545.read(written(THIN, title="")).values("NAME") == []


def test_another_library_reads_the_same() -> None:
    first, second = vobject.readOne(written(THIN, LOOK).decode()).vevent_list
    assert (first.dtstart.value, first.dtend.value) == (DAY, DAY + timedelta(days=1))
    assert (second.dtstart.value, second.dtend.value) == (DAY, DAY + timedelta(days=5))
    assert (first.summary.value, first.description.value, first.location.value) == (THIN.title, THIN.text, "tray 3")
    assert first.dtstamp.value.replace(tzinfo=UTC) == datetime(2027, 3, 6, tzinfo=UTC)


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=200)


@given(WORDS, WORDS)
@example("\\N", "a\\Nb\\n;\\,")
def test_any_words_are_escaped_and_folded(title: str, text: str) -> None:
    event = Event("a", DAY, DAY, DAY, title, text)
    found = rfc5545.read(written(event)).inside[0]
    assert rfc5545.text(found.one("SUMMARY")) == title
    assert [rfc5545.text(value) for value in found.values("DESCRIPTION")] == ([text] if text else [])


def test_the_same_events_make_the_same_bytes_in_any_process() -> None:
    program = (
        "import sys; from datetime import date; from traysheets.page.calendar import Event;"
        "from traysheets.export.calendar import write_calendar; day = date(2027, 3, 6);"
        "events = [Event(f'u{i}', day, day, day, 'Thin', 'a', 'b', 'c') for i in range(9)];"
        "write_calendar(events, sys.stdout.buffer, 'T')"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", program], check=True, capture_output=True, env=os.environ | {"PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(runs) == 1
    rfc5545.read(runs.pop())


# ---- the reader itself

GOOD = written(THIN).decode()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("\r\n", "\n"),
        ("SUMMARY:Thin", "SUMMARY:" + "Thin" * 20),
        ("UID:27-014-K-thin\r\n", ""),
        ("DTSTAMP:20270306T000000Z", "DTSTAMP:20270306T000000"),
        ("DTEND;VALUE=DATE:20270307", "DTEND;VALUE=DATE:20270306"),
        ("DTSTART;VALUE=DATE:20270306", "DTSTART:20270306"),
        ("Long\\, Winter", "Long, Winter"),
        ("VERSION:2.0\r\n", ""),
        ("END:VEVENT\r\n", ""),
        ("TRANSP:", "TRANSP"),
        ("END:VCALENDAR\r\n", ""),
        ("END:VEVENT", "END:VEVENT\r\n" + GOOD[GOOD.index("BEGIN:VEVENT") : GOOD.index("END:VEVENT")] + "END:VEVENT"),
    ],
)
def test_the_reader_refuses_what_is_wrong(before: str, after: str) -> None:
    assert before in GOOD
    with pytest.raises((ValueError, StopIteration)):
        rfc5545.read(GOOD.replace(before, after).encode())
