"""What can be made: each sheet and the records, as the files they are written to, with their writers.

Here is which function draws what, and how its file is named. When files get written is `pipeline/making.py`. What
writes calendars and HTML takes long to load, and is loaded where it is asked for.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from traysheets.export.files import Writer, put
from traysheets.export.pdf import write_pdf
from traysheets.export.tables import csv_bytes, json_bytes
from traysheets.export.volumes import Volume, is_of, volumes
from traysheets.page.marks import Document, Page
from traysheets.pipeline.checking import Checked, facts_of
from traysheets.sheets.accounts import accounted
from traysheets.sheets.aftercare import aftercare_events, aftercare_pages
from traysheets.sheets.facts import TABLE_COLUMNS, sowing_row
from traysheets.sheets.guide import guide_pages
from traysheets.sheets.job import Job
from traysheets.sheets.logs import log_pages
from traysheets.sheets.maps import map_pages
from traysheets.sheets.overview import overview_pages
from traysheets.sheets.printer_truth import correction
from traysheets.sheets.records import record_pages
from traysheets.sheets.seeds import seed_pages
from traysheets.sheets.sticks import stick_pages
from traysheets.sheets.templates import template_pages

T = TypeVar("T")
Progress = Callable[[str, int], None]
"""Told of every page: the name of the output, and how many pages it has so far."""


@dataclass(frozen=True, slots=True)
class Output:
    """One sheet that `make` can write: its name in the folder, the key of its title, and what draws its pages."""

    file: str
    title: str
    pages: Callable[[Job], Iterator[Page]]


SHEETS: dict[str, Output] = {
    "maps": Output("maps.pdf", "titles.maps", map_pages),
    "templates": Output("templates.pdf", "titles.templates", template_pages),
    "sticks": Output("sticks.pdf", "titles.sticks", stick_pages),
    "guide": Output("guide.pdf", "titles.guide", guide_pages),
    "seeds": Output("seeds.pdf", "titles.seeds", seed_pages),
    "aftercare": Output("aftercare.pdf", "titles.aftercare", aftercare_pages),
    "overview": Output("overview.pdf", "titles.overview", overview_pages),
    "logs": Output("logs.pdf", "titles.logs", log_pages),
}
RECORDS = "records"
OUTPUTS: tuple[str, ...] = (*SHEETS, RECORDS)
"""What may be asked for by name."""
USUAL: tuple[str, ...] = tuple(name for name in OUTPUTS if name != "templates")
"""What is made when nothing is asked for: a board is made once, a plan is printed often."""


def output_files(
    checked: Checked, pages_per_file: int | None, name: str, progress: Progress
) -> Iterator[tuple[str, Writer]]:
    """The files of one output, with their writers."""
    if name == RECORDS:
        yield from _record_files(checked, progress)
        return
    job, sheet = checked.job, SHEETS[name]
    pages = counted(accounted(name, job, sheet.pages(job)), name, progress)
    if pages_per_file is None:
        yield sheet.file, partial(write_pdf, _document(job, sheet, pages))
    else:
        for volume in volumes(pages, pages_per_file):
            yield volume.file(sheet.file), partial(write_pdf, _document(job, sheet, iter(volume.pages), volume))
    if name == "aftercare":
        from traysheets.export.calendar import write_calendar

        yield "aftercare.ics", partial(write_calendar, aftercare_events(job), title=_title(job, sheet))


def is_outdated(file: str, made: tuple[str, ...], whole: bool) -> bool:
    """Whether a file of an earlier run stands for an output that is made anew, though perhaps under other names.

    So do the pages of trays when the records of the `whole` plan are made: a tray that is not among them there is no
    more. The pages of batches stay, as their sticks may stand in pots.
    """
    if file.startswith(f"{RECORDS}/T/"):
        return whole and RECORDS in made
    return any(is_of(SHEETS[name].file, file) for name in made if name != RECORDS)


def _title(job: Job, sheet: Output) -> str:
    return job.words("titles.file", what=job.words(sheet.title), plan=job.plan.title)


def _document(job: Job, sheet: Output, pages: Iterator[Page], volume: Volume | None = None) -> Document:
    """A file of a sheet: all of it, or the volume whose pages these are."""
    title, first = _title(job, sheet), 1
    if volume and volume.part:
        title, first = job.words("titles.part", title=title, part=str(volume.part)), volume.first_page
    author, language = job.plan.grower, job.words.language
    return Document(title, pages, job.words(sheet.title), author, language, correction(job.plan.printer), first)


def _record_files(checked: Checked, progress: Progress) -> Iterator[tuple[str, Writer]]:
    """The records of the chosen days and of all days printed before, so that the index leaves no printed batch out."""
    from traysheets.export.html import record_files

    printed = frozenset(checked.job.batch(index).sow for index in checked.printed)
    job = replace(checked.job, choices=replace(checked.job.choices, also=printed))
    for path, writer in record_files(counted(record_pages(job), RECORDS, progress)):
        yield f"{RECORDS}/{path}", writer
    rows = (sowing_row(job, batch) for batch in job.batches)
    lasting = replace(checked, notices=tuple(notice for notice in checked.notices if not notice.passing))
    tables = {"json": json_bytes(facts_of(lasting, job)), "csv": csv_bytes(TABLE_COLUMNS, rows)}
    for ending, content in tables.items():
        yield f"{RECORDS}/records.{ending}", partial(put, content)


def counted(pages: Iterator[T], name: str, progress: Progress) -> Iterator[T]:
    """The same pages, with a word of progress at each."""
    for number, page in enumerate(pages, start=1):
        progress(name, number)
        yield page
