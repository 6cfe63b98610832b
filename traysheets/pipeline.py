"""The order of the stages, and nothing else: plan, reckon, codes, arrange, sheets, export.

`check` stops before anything is drawn and writes nothing. `make` draws and writes all or nothing; the batches it prints
are entered in the book once every file is whole, just before the files get their names.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO, TypeVar

from traysheets.arrange.arrange import arrange
from traysheets.arrange.model import Trays
from traysheets.base.errors import BookError, FileError, PlanError, Problem, nearest
from traysheets.base.notices import Notice
from traysheets.base.words import Words, words_for
from traysheets.book.book import allotted, enter
from traysheets.book.diary import entries_of
from traysheets.book.entries import in_force
from traysheets.book.model import Identity, Wanted
from traysheets.bookkeeping import book_beside, counts_in
from traysheets.export.calendar import write_calendar
from traysheets.export.files import Writer, write_all, write_one
from traysheets.export.html import record_files
from traysheets.export.pdf import write_pdf
from traysheets.export.tables import csv_bytes, json_bytes
from traysheets.page.fonts import font_files, with_fonts
from traysheets.page.marks import Document, Page
from traysheets.plan.convert import Converted, convert_plan
from traysheets.plan.limits import MOST_LANGUAGES
from traysheets.plan.model import Plan
from traysheets.plan.read import read_plan
from traysheets.reckon.bench_weeks import BenchWeeks, bench_notices, bench_weeks, standing
from traysheets.reckon.model import Batch, Reckoned
from traysheets.reckon.reckon import reckon
from traysheets.reckon.totals import Comparison, Totals, plan_comparison, totals
from traysheets.sheets.aftercare import aftercare_events, aftercare_pages
from traysheets.sheets.characters import require_characters
from traysheets.sheets.facts import TABLE_COLUMNS, Plain, plan_facts, sowing_row
from traysheets.sheets.guide import guide_pages
from traysheets.sheets.job import Choices, Job, Noted
from traysheets.sheets.kept_facts import kept_facts
from traysheets.sheets.links import address_notices
from traysheets.sheets.logs import log_pages
from traysheets.sheets.maps import map_pages
from traysheets.sheets.moved import moved_notices
from traysheets.sheets.overview import overview_pages
from traysheets.sheets.printer_check import printer_pages
from traysheets.sheets.printer_truth import correction, printer_notices
from traysheets.sheets.records import record_pages
from traysheets.sheets.seeds import seed_pages
from traysheets.sheets.stick_checks import stick_notices
from traysheets.sheets.sticks import stick_pages
from traysheets.sheets.summary import Table, summary
from traysheets.sheets.templates import template_pages
from traysheets.trade.papers import PAPERS as _PAPERS
from traysheets.trade.papers import SCALES as _SCALES

T = TypeVar("T")
PAPERS: tuple[str, ...] = tuple(_PAPERS)
SCALES: tuple[str, ...] = tuple(_SCALES)
Progress = Callable[[str, int], None]

_INCH_PAPERS = frozenset({"letter", "legal", "tabloid"})
"""Where these are used, rulers have inches."""


@dataclass(frozen=True, slots=True)
class Options:
    """What a run was asked for. `days` are the first and last sowing day wanted; None wants all.

    `languages` are instead of the plan's: of all sheets the first, of the guide all.
    """

    plan: Path
    settings: Path | None = None
    book: Path | None = None
    folder: Path | None = None
    only: tuple[str, ...] = ()
    days: tuple[date, date] | None = None
    paper: str | None = None
    scale: str = "fit"
    stock: str | None = None
    first_label: int = 1
    outlines: bool = False
    grey: bool = False
    languages: tuple[str, ...] = ()
    force: bool = False

    @property
    def book_file(self) -> Path:
        """The book: beside the plan and named after it, unless another is given."""
        return self.book or book_beside(self.plan)

    @property
    def output_folder(self) -> Path:
        """The folder of the sheets: beside the plan and named after it, unless another is given."""
        return self.folder or self.plan.with_suffix("")


@dataclass(frozen=True, slots=True)
class Output:
    """One file that `make` can write: its name in the folder, the key of its title, and what draws its pages."""

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


@dataclass(frozen=True)
class Checked:
    """A plan read, reckoned, arranged and given its batch codes, ready to be drawn; and what there is to say of it.

    `printed` are the indexes of batches that were printed before.
    """

    job: Job
    printed: frozenset[int]
    weeks: BenchWeeks
    notices: tuple[Notice, ...]

    @property
    def facts(self) -> Plain:
        """The chosen days as plain values for programs."""
        return facts_of(self, self.job)

    @property
    def tables(self) -> tuple[Table, ...]:
        """The chosen days as tables for a terminal."""
        return summary(self.job, *_sums(self.job), self.weeks.benches)


def facts_of(checked: Checked, job: Job) -> Plain:
    """The days of a job as plain values for programs."""
    return plan_facts(job, *_sums(job), checked.weeks.benches, checked.notices)


def _sums(job: Job) -> tuple[Totals, Comparison | None]:
    """What the days of a job take in all, and what the same plants would take one a cell."""
    in_all = totals(job.batches, (tray.kind for tray in job.trays))
    return in_all, plan_comparison(job.plan, job.batches)


@dataclass(frozen=True, slots=True)
class Made:
    """What a run wrote: the folder, and the files by path below it; and the notices."""

    folder: Path
    files: tuple[str, ...]
    notices: tuple[Notice, ...]


def check(options: Options, today: date) -> Checked:
    """Read, reckon and arrange a plan, with the batch codes that printing it would allot. Writes nothing."""
    reckoned = reckon(read_plan(options.plan, options.settings), today, counts_in(options.book_file))
    return _checked(reckoned, arrange(reckoned), options, today)


def make(options: Options, today: date, progress: Progress = lambda name, pages: None) -> Made:
    """Draw what was asked for and write it, all or nothing, and enter what is printed in the book.

    Raises TraysheetsError; the folder and the book are then as they were.
    """
    return _made(check(options, today), options, today, progress)


def make_sheets(
    reckoned: Reckoned, arranged: Trays, folder: Path | None = None, *, today: date, **choices: Any
) -> Made:
    """Make the sheets of a plan that was read, reckoned and arranged before; `choices` are the fields of `Options`.

    Writes below `folder`, beside the plan when None, and enters the batches in the book; all or nothing.
    Raises TraysheetsError.
    """
    options = Options(plan=Path(reckoned.plan.file), folder=folder, **choices)
    return _made(_checked(reckoned, arranged, options, today), options, today, lambda name, pages: None)


def convert(source: Path, target: Path, settings: Path | None = None, *, force: bool = False) -> Converted:
    """Write a plan in its other form, TOML or CSV, and tell what was written.

    Raises TraysheetsError when the plan has problems, or a file is there already and `force` is not given; nothing
    is then written.
    """
    converted = convert_plan(source, target, settings)
    _may_write([file.file for file in converted.files], force)
    for file in reversed(converted.files):
        write_one(Path(file.file), partial(_put, file.text.encode()))
    return converted


def printer_check(file: Path, paper: str, language: str = "en", *, force: bool = False) -> None:
    """Write the page that shows what a printer makes of lengths, on a paper of `PAPERS`.

    Raises TraysheetsError when there are no words for the language, or the file is there already and `force` is not
    given; nothing is then written.
    """
    words = words_for(language.casefold())
    _may_write([str(file)], force)
    pages = printer_pages(_PAPERS[paper], words, "inch" if paper in _INCH_PAPERS else "metric")
    write_one(file, partial(write_pdf, Document(words("titles.printer"), pages, language=words.language)))


def _may_write(files: Iterable[str], force: bool) -> None:
    """Raise FileError with every file that is there already, unless `force`."""
    there = [] if force else [file for file in files if Path(file).exists()]
    if there:
        text = "is there already; choose another name, or replace it with --force"
        raise FileError(Problem(text, file) for file in there)


def _checked(reckoned: Reckoned, arranged: Trays, options: Options, today: date) -> Checked:
    """All there is to say of an arranged plan, and the job of drawing it."""
    plan = reckoned.plan
    allotment = allotted(options.book_file, _wanted(reckoned), plan.season, options.plan.name)
    codes = dict(enumerate(allotment.codes))
    words = _words(options, plan)
    job = Job(reckoned, arranged, codes, words[0], _choices(options, plan), today, words, _noted(options, codes))
    standings = [standing(tray.kind, tray.sow, map(job.batch, tray.batches), tray.place) for tray in arranged.trays]
    weeks = bench_weeks(standings, plan.benches)
    said = (plan, reckoned, arranged, allotment)
    before = {index: json.loads(batch.facts) for index, batch in allotment.printed.items()}
    notices = (
        *(notice for stage in said for notice in stage.notices),
        *moved_notices(job, before),
        *bench_notices(weeks),
        *address_notices(job),
    )
    return Checked(job, frozenset(allotment.printed), weeks, notices)


def _noted(options: Options, codes: Mapping[int, str]) -> dict[int, tuple[Noted, ...]]:
    """What the book has noted of the batches and still counts."""
    entries = entries_of(options.book_file)
    return {
        index: tuple(
            Noted(entry.day, entry.kind.value, entry.number, entry.remark) for entry in in_force(entries[code])
        )
        for index, code in codes.items()
        if code in entries
    }


def _made(checked: Checked, options: Options, today: date, progress: Progress) -> Made:
    with with_fonts(font_files(checked.job.plan.fonts)):
        return _drawn(checked, options, today, progress)


def _drawn(checked: Checked, options: Options, today: date, progress: Progress) -> Made:
    """Draw and write, with the fonts at hand that the plan names."""
    job, wanted = checked.job, options.only or USUAL
    _something_to_draw(job)
    _book_is_at_hand(checked, options)
    require_characters(job)
    notices = (*checked.notices, *printer_notices(job, wanted), *(stick_notices(job) if "sticks" in wanted else ()))
    files = (file for name in OUTPUTS if name in wanted for file in _files(name, checked, progress))
    written = write_all(
        options.output_folder, files, force=options.force, before_final=lambda: _enter(options, job, today)
    )
    return Made(options.output_folder, written, notices)


def _book_is_at_hand(checked: Checked, options: Options) -> None:
    """Raise BookError when new codes were printed into this folder before: their book is missing, or is another's."""
    job, pages = checked.job, options.output_folder / RECORDS / "B"
    new = [job.codes[batch.index] for batch in job.batches if batch.index not in checked.printed]
    lost = [] if options.force else [code for code in new if (pages / code).exists()]
    if lost:
        some = ", ".join(lost[:3]) + (f" and {len(lost) - 3} more" if len(lost) > 3 else "")
        raise BookError(
            f"{pages} holds records of {some}, which the book {options.book_file} does not know; name the book they"
            " were printed with by --book, choose another folder with -o, or give the codes anew with --force"
        )


def _wanted(reckoned: Reckoned) -> tuple[Wanted, ...]:
    """The batches of the plan as the book tells them apart."""
    return tuple(_wanted_batch(batch) for batch in reckoned.batches)


def _wanted_batch(batch: Batch, facts: Plain | None = None) -> Wanted:
    sowing = batch.sowing
    identity = Identity(
        crop=sowing.crop.name,
        variety=sowing.variety,
        sow=batch.sow,
        lot=sowing.lot or "",
        method=sowing.method.value,
        tray=sowing.tray.name,
        place=sowing.place,
        cells=batch.cells,
        seeds_per_cell=batch.seeds_per_cell.value,
    )
    return Wanted(identity, sowing.line, sowing.batch, batch.successions > 1, json.dumps(facts or {}))


def _enter(options: Options, job: Job, today: date) -> None:
    """Enter the printed batches in the book, with all that was printed about them."""
    facts = kept_facts(job)
    wanted = tuple(_wanted_batch(batch, facts.get(batch.index)) for batch in job.reckoned.batches)
    codes = tuple(job.codes[batch.index] for batch in job.reckoned.batches)
    enter(options.book_file, wanted, job.plan.season, options.plan.name, codes, facts, today)


def _files(name: str, checked: Checked, progress: Progress) -> Iterator[tuple[str, Writer]]:
    """The files of one output, with their writers."""
    if name == RECORDS:
        yield from _record_files(checked, progress)
        return
    job, sheet = checked.job, SHEETS[name]
    what = job.words(sheet.title)
    pages = counted(sheet.pages(job), name, progress)
    title = job.words("titles.file", what=what, plan=job.plan.title)
    author, language = job.plan.grower, job.words.language
    document = Document(title, pages, what, author, language, correction(job.plan.printer))
    yield sheet.file, partial(write_pdf, document)
    if name == "aftercare":
        yield "aftercare.ics", partial(write_calendar, aftercare_events(job), title=document.title)


def _record_files(checked: Checked, progress: Progress) -> Iterator[tuple[str, Writer]]:
    """The records of the chosen days and of all days printed before, so that the index leaves no printed batch out."""
    printed = frozenset(checked.job.batch(index).sow for index in checked.printed)
    job = replace(checked.job, choices=replace(checked.job.choices, also=printed))
    for path, writer in record_files(counted(record_pages(job), RECORDS, progress)):
        yield f"{RECORDS}/{path}", writer
    rows = (sowing_row(job, batch) for batch in job.batches)
    lasting = replace(checked, notices=tuple(notice for notice in checked.notices if not notice.of_today))
    tables = {"json": json_bytes(facts_of(lasting, job)), "csv": csv_bytes(TABLE_COLUMNS, rows)}
    for ending, content in tables.items():
        yield f"{RECORDS}/records.{ending}", partial(_put, content)


def _put(content: bytes, file: BinaryIO) -> None:
    file.write(content)


def counted(pages: Iterator[T], name: str, progress: Progress) -> Iterator[T]:
    """The same pages, with a word of progress at each."""
    for number, page in enumerate(pages, start=1):
        progress(name, number)
        yield page


def _something_to_draw(job: Job) -> None:
    """Raise a PlanError when nothing is sown on the chosen days, naming the nearest sowing days."""
    if job.batches:
        return
    days = sorted({batch.sow for batch in job.reckoned.batches})
    raise PlanError(f"nothing is sown then; sowing days are {', '.join(day.isoformat() for day in days)}")


def _words(options: Options, plan: Plan) -> tuple[Words, ...]:
    """The languages of this run: those the command asks for, else the plan's; all are on the guide."""
    codes = tuple(dict.fromkeys(code.casefold() for code in options.languages or plan.languages))
    if len(codes) > MOST_LANGUAGES:
        raise PlanError(f"{len(codes)} languages are asked for; the guide has room for {MOST_LANGUAGES}")
    return tuple(map(words_for, codes))


def _choices(options: Options, plan: Plan) -> Choices:
    """The choices of this run: the command's, else the plan's, else what is usual where its units are."""
    inches = plan.units == "inch"
    paper = options.paper or plan.paper or ("letter" if inches else "a4")
    stock = options.stock or plan.stock or ("stake-25x150-letter" if inches else "stake-25x150-a4")
    if stock not in plan.stocks:
        near = nearest(stock, plan.stocks)
        hint = f"did you mean '{near}'?" if near else f"there are: {', '.join(plan.stocks)}"
        raise PlanError(f"there is no label stock '{stock}'; {hint}")
    return Choices(
        _PAPERS[paper],
        plan.stocks[stock],
        options.scale,
        options.first_label,
        options.outlines,
        options.grey,
        options.days,
    )
