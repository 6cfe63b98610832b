"""A small strict reader of iCalendar files, written from RFC 5545 alone, for tests. It refuses what the RFC forbids."""

import re
from dataclasses import dataclass, field

LINE = re.compile(r'([A-Z0-9-]+)((?:;[A-Z0-9-]+=(?:"[^"\x00-\x1f]*"|[^";:,\x00-\x1f]*))*):([^\x00-\x08\x0a-\x1f\x7f]*)')
"""3.1: contentline = name *(";" param) ":" value."""

BARE = re.compile(r"(?<!\\)(?:\\\\)*[,;]")
ESCAPE = re.compile(r"\\(.)", re.DOTALL)
DATE = re.compile(r"\d{8}")
UTC_TIME = re.compile(r"\d{8}T\d{6}Z")
TEXTS = {"SUMMARY", "DESCRIPTION", "LOCATION", "UID"}


@dataclass
class Component:
    """A component, its properties as (name, parameters, value), and the components in it."""

    name: str
    properties: list[tuple[str, str, str]] = field(default_factory=list)
    inside: list["Component"] = field(default_factory=list)

    def values(self, name: str) -> list[str]:
        return [value for key, _, value in self.properties if key == name]

    def one(self, name: str) -> str:
        values = self.values(name)
        if len(values) != 1:
            raise ValueError(f"{self.name} has {len(values)} {name}")
        return values[0]


def read(data: bytes) -> Component:
    """The calendar in a file. Raises ValueError for whatever breaks a rule of the RFC."""
    top = Component("")
    stack = [top]
    for line in _unfolded(data):
        found = LINE.fullmatch(line)
        if not found:
            raise ValueError(f"not a content line: {line!r}")
        name, parameters, value = found.groups()
        if name == "BEGIN":
            stack.append(Component(value))
            stack[-2].inside.append(stack[-1])
        elif name == "END":
            if stack.pop().name != value:
                raise ValueError(f"END:{value} ends nothing")
        else:
            stack[-1].properties.append((name, parameters, value))
    if len(stack) != 1 or [one.name for one in top.inside] != ["VCALENDAR"]:
        raise ValueError("not one whole calendar")
    _check_calendar(top.inside[0])
    return top.inside[0]


def text(value: str) -> str:
    """A TEXT value as it is meant (3.3.11)."""
    return ESCAPE.sub(lambda found: "\n" if found[1] in "nN" else found[1], value)


def _unfolded(data: bytes) -> list[str]:
    """3.1: lines end in CRLF and hold 75 octets at most; a line that begins with white space goes on the one before."""
    if not data.endswith(b"\r\n") or b"\n" in data.replace(b"\r\n", b"") or b"\r" in data.replace(b"\r\n", b""):
        raise ValueError("lines must end in CRLF")
    lines: list[bytes] = []
    for line in data[:-2].split(b"\r\n"):
        if len(line) > 75:
            raise ValueError(f"a line of {len(line)} octets")
        line.decode()
        if line[:1] in (b" ", b"\t"):
            lines[-1] += line[1:]
        else:
            lines.append(line)
    return [line.decode() for line in lines]


def _check_calendar(calendar: Component) -> None:
    """3.6: PRODID and VERSION once each, and at least one component. 3.6.1: what an event must have."""
    calendar.one("PRODID")
    if calendar.one("VERSION") != "2.0":
        raise ValueError("another version")
    if not calendar.inside:
        raise ValueError("a calendar of nothing")
    uids = [_check_event(event) for event in calendar.inside]
    if len(set(uids)) != len(uids):
        raise ValueError("the same UID twice")


def _check_event(event: Component) -> str:
    if event.name != "VEVENT" or event.inside:
        raise ValueError(f"not a plain event: {event.name}")
    if not UTC_TIME.fullmatch(event.one("DTSTAMP")):
        raise ValueError("DTSTAMP must be a moment in UTC (3.8.7.2)")
    for name in ("DTSTART", "DTEND"):
        parameters = next(params for key, params, _ in event.properties if key == name)
        if parameters != ";VALUE=DATE" or not DATE.fullmatch(event.one(name)):
            raise ValueError(f"{name} of a whole day must be a date")
    if event.one("DTEND") <= event.one("DTSTART"):
        raise ValueError("DTEND must be later than DTSTART (3.8.2.2)")
    for name, _, value in event.properties:
        if name in TEXTS and BARE.search(value):
            raise ValueError(f"{name} has a bare comma or semicolon (3.3.11)")
    return event.one("UID")
