"""What the phones are shown of a plan: its trays drawn as the sheets have them, beside what the book keeps.

A drawing is given only for what is printed as the plan now has it: a plan that was edited since would show other cells
than the sticks say. The plan is read again when its file or the book's codes change.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from threading import Lock

from traysheets.base.errors import TraysheetsError
from traysheets.book.model import Kept
from traysheets.book_report import book_meant
from traysheets.export.html import render_inside
from traysheets.page import qr
from traysheets.page.fonts import font_files, with_fonts
from traysheets.page.record import RecordPage
from traysheets.pipeline import Options, check
from traysheets.reckon.model import Batch
from traysheets.serve.site import Drawn, Site
from traysheets.sheets.batch_record import batch_record
from traysheets.sheets.job import Job
from traysheets.sheets.kept_facts import kept_facts
from traysheets.sheets.record_parts import RecordParts
from traysheets.sheets.tray_record import tray_record

_QUIET = 2
_HALVES = {("0", "0"): "█", ("1", "0"): "▄", ("0", "1"): "▀", ("1", "1"): " "}


def site_of(
    given: Path, book: Path | None, settings: Path | None, now: Callable[[], datetime], seconds: Callable[[], float]
) -> Site:
    """The site of a plan, or of a book alone. Raises TraysheetsError for a plan with problems."""
    if book_meant(given) == given and settings is None:
        return Site(given, now, seconds, title=given.name.removesuffix(".sqlite").removesuffix(".book"))
    options = Options(plan=given, settings=settings, book=book)
    drawings = PlanDrawings(options, lambda: now().date())
    return Site(options.book_file, now, seconds, given.name, drawings.title, drawings)


class PlanDrawings:
    """The trays of a plan drawn on demand, each once."""

    def __init__(self, options: Options, today: Callable[[], date]) -> None:
        """Read the plan. Raises TraysheetsError when it has problems."""
        self._options, self._today = options, today
        self._lock = Lock()
        self._stamp = self._files()
        self._drawn = _DrawnPlan(check(options, today()).job)

    @property
    def title(self) -> str:
        """What the plan is called."""
        return self._plan().job.plan.title

    def batch(self, batch: Kept) -> Drawn | None:
        """Where a printed batch stands and its figures; None when the plan has it no more, or otherwise."""
        with self._lock:
            return self._plan().batch(batch)

    def tray(self, number: int, batches: Sequence[Kept]) -> Drawn | None:
        """A tray from above with these batches; None when the plan has others in it."""
        with self._lock:
            return self._plan().tray(number, batches)

    def _plan(self) -> "_DrawnPlan":
        """The plan as its file is now; as it was before while the file has problems."""
        stamp = self._files()
        if stamp != self._stamp:
            self._stamp = stamp
            with suppress(TraysheetsError):
                self._drawn = _DrawnPlan(check(self._options, self._today()).job)
        return self._drawn

    def _files(self) -> tuple[object, ...]:
        files = (self._options.plan, self._options.settings)
        stats = (file.stat() if file and file.exists() else None for file in files)
        return tuple(about and (about.st_mtime_ns, about.st_size) for about in stats)


class _DrawnPlan:
    """A plan that does not change, and what was drawn of it."""

    def __init__(self, job: Job) -> None:
        self.job = replace(job, noted={})
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

    def _as_printed(self, batch: Kept) -> bool:
        return self._facts.get(batch.code) == json.dumps(batch.told, sort_keys=True)

    def batch(self, batch: Kept) -> Drawn | None:
        if not self._as_printed(batch):
            return None
        if ("batch", batch.code) not in self._kept:
            own = self._by_code[batch.code]
            numbers = dict.fromkeys(run.tray for run in self.job.arranged.runs.get(own.index, ()))
            trays = {tray.number: tray for tray in self.job.arranged.trays}
            with with_fonts(self._fonts):
                record = batch_record(self._parts, own, tuple(trays[number] for number in numbers))
                # The first section is what is to be done: that is shown as it stands today.
                self._kept["batch", batch.code] = self._drawn(replace(record, sections=record.sections[1:]))
        return self._kept["batch", batch.code]

    def tray(self, number: int, batches: Sequence[Kept]) -> Drawn | None:
        tray = next((tray for tray in self.job.arranged.trays if tray.number == number), None)
        codes = {self.job.codes[index] for index in tray.batches} if tray else set()
        if tray is None or codes != {batch.code for batch in batches} or not all(map(self._as_printed, batches)):
            return None
        if ("tray", number) not in self._kept:
            with with_fonts(self._fonts):
                record = tray_record(self._parts, tray)
                pictures, *rest = record.sections
                shown = replace(pictures, heading=record.subtitle, items=())
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
