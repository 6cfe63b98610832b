"""The words of a finished record page: headed groups of facts, dated tasks and pictures, for a phone.

What turns a record into HTML decides nothing and knows no language: every word a reader sees stands here. Dates and
numbers are text by now. A link is the `path` of another record page.
"""

from dataclasses import dataclass

from traysheets.page.marks import Page


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a record: what it is, its value, and in small how it came about."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Task:
    """Something to do: when in words, what in few words, and the particulars."""

    when: str
    what: str
    details: str = ""


@dataclass(frozen=True, slots=True)
class Item:
    """One of a list, touched as a whole where it has a `link`. `letters` and the picture `mark` are of the map."""

    title: str
    details: str = ""
    code: str = ""
    letters: str = ""
    mark: Page | None = None
    link: str | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing; `text` says what it shows to those who do not see it, `caption` stands below it for all."""

    page: Page
    text: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """A link that leads on: its words, and the path of the record page it leads to."""

    words: str
    path: str


@dataclass(frozen=True, slots=True)
class Section:
    """A headed group. What it has is shown in the order of the fields; line breaks in `text` are kept.

    `ways` are short and may stand side by side. `short` is the heading in a list of contents.
    """

    heading: str
    text: str = ""
    tasks: tuple[Task, ...] = ()
    items: tuple[Item, ...] = ()
    ways: tuple[Way, ...] = ()
    facts: tuple[Fact, ...] = ()
    pictures: tuple[Picture, ...] = ()
    short: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety line that must not be missed: what it is about, and what to do."""

    heading: str
    text: str


@dataclass(frozen=True, slots=True)
class RecordPage:
    """One page of the records. `path` is its folder below `records/`, `/`-separated, empty for the index.

    `code` is the code that stands on the stick, `letters` and `mark` are what the map shows. `lead` is the one thing to
    know. `up` leads to the page above, `on` to those beside; `contents` heads a list of the sections to jump to.
    `direction` is "ltr" or "rtl", as `language` is written.
    """

    path: str
    title: str
    subtitle: str
    language: str
    sections: tuple[Section, ...]
    code: str = ""
    letters: str = ""
    mark: Page | None = None
    lead: str = ""
    cautions: tuple[Caution, ...] = ()
    contents: str = ""
    up: Way | None = None
    on: tuple[Way, ...] = ()
    footer: str = ""
    direction: str = "ltr"

    @property
    def file(self) -> str:
        """Where the page is found below `records/`: `B/27-014-K/index.html`."""
        return f"{self.path}/index.html" if self.path else "index.html"
