"""What the phones are shown of a plan: its trays drawn as the sheets have them, beside what the book keeps.

A drawing is given only for what is printed as the plan now has it: a plan that was edited since would show other cells
than the sticks say. The plan is read again when its file changes, or the codes that the book gives it do.
"""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from threading import Lock

from traysheets.arrange.model import ArrangedTray
from traysheets.base.errors import TraysheetsError
from traysheets.base.words import languages, sentence, words_for
from traysheets.book.diary import read_histories
from traysheets.book.model import Kept
from traysheets.book_report import book_meant
from traysheets.export.html import render_inside
from traysheets.page import qr
from traysheets.page.fonts import font_files, with_fonts
from traysheets.page.record import RecordPage
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.reckon.model import Batch
from traysheets.serve.site import Drawn, Site
from traysheets.sheets.batch_record import batch_record
from traysheets.sheets.job import Job
from traysheets.sheets.kept_facts import kept_facts
from traysheets.sheets.record_parts import RecordParts
from traysheets.sheets.steps import steps
from traysheets.sheets.tray_record import tray_record

_QUIET = 2
_HALVES = {("0", "0"): "█", ("1", "0"): "▄", ("0", "1"): "▀", ("1", "1"): " "}


def site_of(
    given: Path, book: Path | None, settings: Path | None, now: Callable[[], datetime], seconds: Callable[[], float]
) -> Site:
    """The site of a plan, or of a book alone. Raises TraysheetsError for a plan with problems."""
    if book_meant(given) == given and settings is None:
        title = given.name.removesuffix(".sqlite").removesuffix(".book")
        return Site(given, now, seconds, title=title, language=_printed_in(given))
    options = Options(plan=given, settings=settings, book=book)
    drawings = PlanDrawings(options, lambda: now().date())
    return Site(options.book_file, now, seconds, given.name, drawings.title, drawings, drawings.language)


def _printed_in(book: Path) -> str:
    """The language of what was printed last; English where that is not known."""
    with suppress(TraysheetsError):
        batches = sorted((one.batch for one in read_histories(book)), key=lambda batch: batch.last_printed)
        spoken = [batch.told["language"] for batch in batches if batch.told.get("language") in languages()]
        return str(spoken[-1]) if spoken else "en"
    return "en"


class PlanDrawings:
    """The trays of a plan drawn on demand, each once in every language that is asked for."""

    def __init__(self, options: Options, today: Callable[[], date]) -> None:
        """Read the plan. Raises TraysheetsError when it has problems."""
        self._options, self._today = options, today
        self._lock = Lock()
        self._stamp = self._files()
        self._job = check(options, today()).job
        self._drawn: dict[str, _DrawnPlan] = {}
        self._missed: set[str] = set()

    @property
    def title(self) -> str:
        """What the plan is called."""
        return self._job.plan.title

    @property
    def language(self) -> str:
        """The language of its sheets."""
        return self._job.words.language

    def batch(self, batch: Kept, language: str) -> Drawn | None:
        """Where a printed batch stands and its figures; None when the plan has it no more, or otherwise."""
        with self._lock:
            self._read_again([batch])
            return self._in(language).batch(batch.code) if self._as_printed(batch) else None

    def tray(self, number: int, batches: Sequence[Kept], language: str) -> Drawn | None:
        """A tray from above with these batches; None when the plan has others in it."""
        with self._lock:
            self._read_again(batches)
            drawn = self._in(language)
            same = drawn.batches_in(number) == {batch.code for batch in batches}
            return drawn.tray(number) if same and all(map(self._as_printed, batches)) else None

    def _as_printed(self, batch: Kept) -> bool:
        """Whether printing now would say the same of a batch, in the language it was printed in."""
        language = str(batch.told.get("language"))
        return language in languages() and self._in(language).would_print(batch)

    def _in(self, language: str) -> "_DrawnPlan":
        if language not in self._drawn:
            self._drawn[language] = _DrawnPlan(replace(self._job, words=words_for(language), noted={}))
        return self._drawn[language]

    def _read_again(self, asked: Iterable[Kept]) -> None:
        """Take the plan as its file and its codes are now; as it was before while the file has problems."""
        stamp, missed = self._files(), self._missing(asked)
        if stamp == self._stamp and missed <= self._missed:
            return
        self._missed = missed if stamp != self._stamp else self._missed | missed
        self._stamp = stamp
        with suppress(TraysheetsError):
            self._job = check(self._options, self._today()).job
            self._drawn = {}

    def _missing(self, asked: Iterable[Kept]) -> set[str]:
        """Codes that batches were printed under from this plan, and that it had not when it was read.

        Before it was printed another plan may have been, with the same book, and got the codes that this one had.
        """
        printed = {batch.code for batch in asked if batch.in_plan and batch.plan == self._options.plan.name}
        return printed.difference(self._job.codes.values())

    def _files(self) -> tuple[object, ...]:
        files = (self._options.plan, self._options.settings)
        stats = (file.stat() if file and file.exists() else None for file in files)
        return tuple(about and (about.st_mtime_ns, about.st_size) for about in stats)


class _DrawnPlan:
    """A plan that does not change in one language, and what was drawn of it."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._fonts = font_files(job.plan.fonts)
        self._kept: dict[tuple[str, str | int], Drawn] = {}

    @cached_property
    def _parts(self) -> RecordParts:
        return RecordParts(self.job)

    @cached_property
    def _facts(self) -> Mapping[str, str]:
        """What printing now would keep of every batch, by its code."""
        facts = kept_facts(self.job)
        return {str(told["batch"]): json.dumps(told, sort_keys=True, default=str) for told in facts.values()}

    @cached_property
    def _by_code(self) -> Mapping[str, Batch]:
        return {self.job.codes[batch.index]: batch for batch in self.job.batches}

    @cached_property
    def _trays(self) -> Mapping[int, ArrangedTray]:
        return {tray.number: tray for tray in self.job.arranged.trays}

    def would_print(self, batch: Kept) -> bool:
        return self._facts.get(batch.code) == json.dumps(batch.told, sort_keys=True)

    def batches_in(self, number: int) -> set[str]:
        tray = self._trays.get(number)
        return {self.job.codes[index] for index in tray.batches} if tray else set()

    def batch(self, code: str) -> Drawn:
        if ("batch", code) not in self._kept:
            own = self._by_code[code]
            numbers = dict.fromkeys(run.tray for run in self.job.arranged.runs.get(own.index, ()))
            with with_fonts(self._fonts):
                record = batch_record(self._parts, own, tuple(self._trays[number] for number in numbers))
                to_do, *rest = record.sections
                # What is to be done is shown as it stands today; of its words only the particulars are the plan's.
                drawn = self._drawn(replace(record, sections=tuple(rest)))
            names = (step.task.value for step in steps(own))
            details = {name: task.details for name, task in zip(names, to_do.tasks, strict=True)}
            self._kept["batch", code] = replace(drawn, lead=record.lead, details=details)
        return self._kept["batch", code]

    def tray(self, number: int) -> Drawn:
        if ("tray", number) not in self._kept:
            with with_fonts(self._fonts):
                record = tray_record(self._parts, self._trays[number])
                pictures, *rest = record.sections
                shown = replace(pictures, heading=sentence(record.subtitle), items=())
                self._kept["tray", number] = self._drawn(replace(record, sections=(shown, *rest)))
        return self._kept["tray", number]

    def _drawn(self, record: RecordPage) -> Drawn:
        inside = render_inside(record)
        return Drawn(inside.sections, record.language, record.direction, inside.look)


def terminal_code(text: str) -> str:
    """A QR code for a terminal, light on dark or dark on light as that may be: two rows of modules a line."""
    rows = ["0" * _QUIET + row + "0" * _QUIET for row in qr.modules(text, "M")]
    blank = "0" * len(rows[0])
    rows = [*[blank] * _QUIET, *rows, *[blank] * (_QUIET + len(rows) % 2)]
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return "\n".join("".join(_HALVES[upper, lower] for upper, lower in zip(*pair, strict=True)) for pair in pairs)
