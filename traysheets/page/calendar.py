"""The words of a finished calendar: events of whole days. What writes them to a file decides nothing."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Event:
    """Something to do on whole days, `first` to `last`; both the same for a single day.

    `uid` stays as long as it is the same work: a calendar that knows the event moves it instead of adding another.
    `made` is the day it counts as made on: not that of the run, so that the same plan gives the same file. `text`,
    `where` and `kind` may be empty.
    """

    uid: str
    first: date
    last: date
    made: date
    title: str
    text: str = ""
    where: str = ""
    kind: str = ""
