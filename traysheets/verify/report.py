"""What reading a sheet back came to: facts, and findings under three headings, each wrong or only odd."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


class Part(StrEnum):
    """What is asked of a sheet."""

    WHOLE = "whole"
    SCALE = "to scale"
    CODES = "scannable"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to say of a file: what it is about, in which words, on which page from 1. `wrong` fails the file."""

    part: Part
    text: str
    page: int | None = None
    wrong: bool = True


@dataclass(frozen=True, slots=True)
class SeenCode:
    """A QR code found on a printed page: what it says, its version and level, and sizes as printed.

    `quiet_modules` is how much white is round it, as far as was looked. `corner_mm` is its top left on the page.
    """

    page: int
    text: str
    version: int
    level: str
    module_mm: float
    quiet_modules: int
    corner_mm: tuple[float, float]


@dataclass
class Report:
    """All that is known of one file. `unchecked` says what could not be looked at, and why; `known` are the parts of
    which everything was looked at: only of those nothing wrong means that they hold. `corrected` is how much longer
    than true pages are made for one printer, across and down; None where the file does not tell.
    """

    file: str
    made_by: str = ""
    pages: int | None = None
    sizes_mm: tuple[tuple[float, float], ...] = ()
    bars_mm: list[tuple[int, float]] = field(default_factory=list)
    codes: list[SeenCode] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    unchecked: list[str] = field(default_factory=list)
    as_written: bool = False
    corrected: tuple[tuple[float, float], ...] | None = None
    known: set[Part] = field(default_factory=set)
    _taken_up: set[Finding] = field(default_factory=set)

    def add(self, findings: Iterable[Finding]) -> None:
        """Take findings up, like ones once a page, as the codes of a run of sticks give."""
        for finding in findings:
            if finding not in self._taken_up:
                self._taken_up.add(finding)
                self.findings.append(finding)

    @property
    def is_good(self) -> bool:
        """Whether nothing is wrong with the file."""
        return not any(finding.wrong for finding in self.findings)

    def holds(self, part: Part) -> bool:
        """Whether nothing is wrong with that part."""
        return not any(finding.wrong and finding.part is part for finding in self.findings)

    def answer(self, part: Part) -> bool | None:
        """Whether that part holds; None where not all of it was seen, and nothing wrong with what was."""
        if not self.holds(part):
            return False
        return True if part in self.known else None

    @property
    def facts(self) -> dict[str, Any]:
        """The report as plain values for programs: lengths in mm, pages from 1."""
        return {
            "file": self.file,
            "made_by": self.made_by,
            "good": self.is_good,
            "as_written": self.as_written,
            "pages": self.pages,
            "sizes_mm": [list(size) for size in self.sizes_mm],
            **{part.replace(" ", "_"): self.answer(part) for part in Part},
            "corrected": _sides(self.corrected),
            "bars": [{"page": page, "mm": round(length, 3)} for page, length in self.bars_mm],
            "codes": [
                {
                    "page": code.page,
                    "text": code.text,
                    "version": code.version,
                    "level": code.level,
                    "module_mm": round(code.module_mm, 3),
                    "quiet_modules": code.quiet_modules,
                }
                for code in self.codes
            ],
            "findings": [
                {"part": it.part.replace(" ", "_"), "page": it.page, "wrong": it.wrong, "text": it.text}
                for it in self.findings
            ],
            "unchecked": self.unchecked,
        }


def _sides(corrected: tuple[tuple[float, float], ...] | None) -> list[dict[str, float]] | None:
    if corrected is None:
        return None
    return [{"across": across, "down": down} for across, down in corrected]
