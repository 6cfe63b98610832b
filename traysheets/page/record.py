"""The words of a finished record page: facts and pictures for a phone. What turns it into HTML decides nothing."""

from dataclasses import dataclass

from traysheets.page.marks import Page


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a record: what it is, its value, how it came about. `link` leads to another record page by its path."""

    label: str
    value: str
    note: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A headed group of facts, with a picture or a table where there is one."""

    heading: str
    facts: tuple[Fact, ...] = ()
    picture: Page | None = None
    picture_text: str = ""
    table: tuple[tuple[Fact, ...], ...] = ()
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RecordPage:
    """One page of the records. `path` is its folder below `records/`, `/`-separated, empty for the index.

    `cautions` are safety lines. `up` is the (words, path) of the page above.
    """

    path: str
    title: str
    subtitle: str
    language: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
    up: tuple[str, str] | None = None
    footer: str = ""
