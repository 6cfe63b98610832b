"""A plan file cut into its tables, each value with its place, whatever the file's form. Nothing is checked here."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from traysheets.base.errors import Problem
from traysheets.base.notices import Notice
from traysheets.plan.lines import KeyPath


def told_line(line: int | None, file: str | None, here: str) -> str:
    """A line as a complaint in the file `here` names it: `line 5`, or `line 5 of settings.toml` of another file."""
    return f"line {line}" if file == here else f"line {line} of {file}"


@dataclass(frozen=True, slots=True)
class Table:
    """One table of the plan: its values as they were read, and where each stands.

    `lines` are those of the whole file, `path` is the table's own place among them. `columns` gives the heading of a
    key when the table is the row of a spreadsheet; `bad` are keys that were complained about when it was read.
    """

    values: Mapping[str, Any]
    file: str
    line: int
    lines: Mapping[KeyPath, int] = field(default_factory=dict, repr=False)
    path: KeyPath = ()
    columns: Mapping[str, str] = field(default_factory=dict, repr=False)
    bad: frozenset[str] = frozenset()

    def line_of(self, *keys: str | int) -> int:
        """The line of a key, or of the nearest thing around it whose line is known."""
        for length in range(len(keys), 0, -1):
            if found := self.lines.get((*self.path, *keys[:length])):
                return found
        return self.line

    def problem(self, text: str, *keys: str | int) -> Problem:
        """Something wrong with a key of this table, or with the table itself."""
        return Problem(text, self.file, self.line_of(*keys), self.column_of(*keys))

    def column_of(self, *keys: str | int) -> str | None:
        """The heading of the column that a key has in a spreadsheet."""
        names = ("_".join(map(str, keys)), *map(str, keys[:1]))
        return next((self.columns[name] for name in names if name in self.columns), None)


@dataclass(frozen=True, slots=True)
class Document:
    """All tables of a plan, by the name of their section, in the order they apply: what stands first goes before.

    `lacking` are keys that no sowing can have and that were complained about once already.
    """

    file: str
    sections: dict[str, list[Table]]
    problems: tuple[Problem, ...] = ()
    notices: tuple[Notice, ...] = ()
    lacking: frozenset[str] = frozenset()

    def tables(self, section: str) -> list[Table]:
        """The tables of a section; none when the plan lacks it."""
        return self.sections.get(section, [])

    def over(self, settings: "Document") -> "Document":
        """Give this plan with the tables of a settings file behind its own."""
        names = dict.fromkeys([*self.sections, *settings.sections])
        sections = {name: self.tables(name) + settings.tables(name) for name in names}
        return Document(
            self.file, sections, self.problems + settings.problems, self.notices + settings.notices, self.lacking
        )
