"""How values are said on the pages: days, entries, counts against expectation. English, as all messages are. Pure."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from traysheets.base.words import words_for
from traysheets.book.entries import Entry, Kind, in_force, strikes_out
from traysheets.book_report import again_words, on_hand, verdict_words
from traysheets.bookkeeping import Account

_ENGLISH = words_for("en")


def kind_words(kind: Kind) -> str:
    """A kind of entry as a button says it."""
    return "Came up" if kind is Kind.EMERGED else kind.words.capitalize()


def day(on: date) -> str:
    """`Sat 6 Mar 2027`."""
    return f"{on:%a} {_ENGLISH.short_day(on)}"


def days(first: date, last: date | None) -> str:
    """The days of a step: one, or the first and the last."""
    return day(first) if last in (None, first) else f"{day(first)} to {day(last)}"


def number(value: int) -> str:
    """`1,234`."""
    return _ENGLISH.number(value)


def entry_words(entry: Entry) -> str:
    """What an entry says in few words: `Came up: 152`."""
    words = kind_words(entry.kind)
    return words if entry.number is None else f"{words}: {number(entry.number)}"


def counted_lines(account: Account) -> tuple[str, ...]:
    """What the latest count says, in sentences; nothing when nobody counted or nothing was expected."""
    if account.count is None:
        return ()
    said = verdict_words(account.count)
    return tuple(line for line in (f"{said[0].upper()}{said[1:]}.", again_words(account)) if line)


def in_short(account: Account) -> str:
    """What is there, in a word for a list: `8 cells`, `3 of 8 cells`, `all gone`."""
    stands = account.standing
    if stands.gone and not stands.cells:
        return "all gone"
    of = f"{number(stands.cells)} of " if stands.cells != stands.cells_sown else ""
    return f"{of}{number(stands.cells_sown)} cell{'' if stands.cells_sown == 1 else 's'}"


@dataclass(frozen=True, slots=True)
class EntryLine:
    """An entry for reading: whether it counts still, and what became of it or what it stands in for."""

    entry: Entry
    counts: bool
    became: str = ""


def entry_lines(account: Account) -> tuple[EntryLine, ...]:
    """The entries, the latest day first. One that only strikes another out is told at that."""
    valid = {entry.id for entry in in_force(account.entries)}
    after = {entry.corrects: entry for entry in account.entries if entry.corrects is not None}
    shown = sorted(account.entries, key=lambda entry: (entry.day, entry.id), reverse=True)
    return tuple(
        EntryLine(entry, entry.id in valid, _became(entry, after)) for entry in shown if not strikes_out(entry)
    )


def _became(entry: Entry, after: Mapping[int, Entry]) -> str:
    later = after.get(entry.id)
    if later is None:
        return "" if entry.corrects is None else "Corrected entry."
    return "Struck out." if strikes_out(later) else f"Corrected: {entry_words(later)}."


FILTERS: Mapping[str, Callable[..., str]] = {
    "day": day,
    "days": days,
    "number": number,
    "kind_words": kind_words,
    "entry_words": entry_words,
    "in_short": in_short,
    "on_hand": on_hand,
}
"""What the templates call by these names."""
