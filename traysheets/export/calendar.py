"""Calendars as iCalendar files (RFC 5545), for a phone or a desk. What the events say is settled elsewhere.

The same events give the same bytes. Folding and line ends are the library's work.
"""

from collections.abc import Iterable
from datetime import UTC, datetime, time, timedelta
from typing import BinaryIO

import icalendar

from traysheets.page.calendar import Event

PRODUCT = "-//traysheets//aftercare//EN"

_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})
"""Signs of a text as they are written (RFC 5545, 3.3.11)."""


class _Text(icalendar.vText):
    """A text that keeps a backslash before an N, which the library's own takes for a line break."""

    def to_ical(self) -> bytes:
        return str(self).replace("\r\n", "\n").translate(_ESCAPED).encode()


def write_calendar(events: Iterable[Event], file: BinaryIO, title: str = "") -> None:
    """Write events to a binary file, from the start; `title` is the name that calendars show them under."""
    calendar = icalendar.Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    if title:
        # The name of RFC 7986, 5.1, and the one that calendars had agreed on before it.
        calendar.add("name", _Text(title))
        calendar.add("x-wr-calname", _Text(title))
    for event in events:
        calendar.add_component(_entry(event))
    file.write(calendar.to_ical())


def _entry(event: Event) -> icalendar.Event:
    """An event of whole days. It ends on the day after the last (RFC 5545, 3.6.1), and takes up nobody's time."""
    entry = icalendar.Event()
    entry.add("uid", event.uid)
    entry.add("dtstamp", datetime.combine(event.made, time(), UTC))
    entry.add("dtstart", event.first)
    entry.add("dtend", event.last + timedelta(days=1))
    entry.add("summary", _Text(event.title))
    for name, value in (("description", event.text), ("location", event.where)):
        if value:
            entry.add(name, _Text(value))
    if event.kind:
        entry.add("categories", [event.kind])
    entry.add("transp", "TRANSPARENT")
    return entry
