"""How values are said on the pages, in the language of whoever reads: words, days, numbers, entries, problems. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache

from traysheets.base.errors import Problem
from traysheets.base.words import Words, sentence, words_for
from traysheets.book.entries import Entry, Kind


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence, and the language it is in."""

    text: str
    language: str


@dataclass(frozen=True)
class Speech:
    """One language of the pages: its words by `section.key`, days and kinds of entries among them in words too."""

    words: Words

    def __call__(self, key: str, /, **values: object) -> str:
        """The words under a key, values put in."""
        return self.words(key, **{name: self._said(value) for name, value in values.items()})

    def _said(self, value: object) -> object:
        if isinstance(value, Kind):
            return self.kind(value)
        return self.day(value) if isinstance(value, date) else value

    @property
    def language(self) -> str:
        """The code of the language, as HTML has it."""
        return self.words.language

    @property
    def direction(self) -> str:
        """`ltr` or `rtl`, as the language is written."""
        return str(self.words.locale.text_direction)

    def day(self, on: date) -> str:
        """`Sat 6 Mar 2027`."""
        return self.words.written(on, "day.weekday")

    def day_heading(self, on: date) -> str:
        """A day as a heading, written out: `Saturday 6 March 2027`."""
        return self.words.day_heading(on)

    def days(self, first: date, last: date | None) -> str:
        """The days of a step: one, or the first and the last."""
        if last is None or last == first:
            return self.day(first)
        key = "day.weekday_no_year" if first.year == last.year else "day.weekday"
        return self("steps.days", first=self.words.written(first, key), last=last)

    def number(self, value: int) -> str:
        """`1,234`."""
        return self.words.number(value)

    def kind(self, kind: Kind) -> str:
        """A kind of entry as a button says it: `Came up`."""
        return self(f"records.noted_{kind.value}")

    def entry(self, entry: Entry) -> str:
        """What an entry says in few words: `Came up: 152`."""
        if entry.number is None:
            return self.kind(entry.kind)
        return self("records.noted_number", what=entry.kind, n=entry.number)

    @property
    def for_script(self) -> dict[str, str]:
        """What the script of the pages says, by its names for it."""
        names = ("only_here", "again", "drop", "strike", "not_sent", "no_answer", "not_kept", "saving", "below")
        return {"saved": self("bench.saved")} | {name: self(f"bench.script_{name}") for name in names}

    def all(self, *keys: str) -> tuple[Said, ...]:
        """The sentences under these keys."""
        return tuple(self.one(self(key)) for key in keys)

    def one(self, text: str) -> Said:
        """A sentence in this language."""
        return Said(text, self.language)

    def problems(self, problems: Iterable[Problem]) -> tuple[Said, ...]:
        """What is wrong, a sentence each: in this language where there are words for it, else in English."""
        return tuple(self._problem(problem) for problem in problems)

    def _problem(self, problem: Problem) -> Said:
        if problem.key:
            values = {name: self._amid(value) for name, value in problem.values}
            return self.one(_closed(self(problem.key, **values)))
        return Said(_closed(str(problem)), "en")

    def _amid(self, value: object) -> object:
        """A kind of entry as it stands amid a sentence: small, but for a noun where nouns are large."""
        if not isinstance(value, Kind) or value is Kind.REMARK:
            return value
        kind = self.kind(value)
        return kind[:1].lower() + kind[1:]


def _closed(text: str) -> str:
    """A sentence as it stands alone: from its capital to its full stop."""
    text = sentence(text)
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


@cache
def speech_for(language: str) -> Speech:
    """The speech of a language that there are words for."""
    return Speech(words_for(language))
