"""Drawing what was asked for, writing it all or nothing, and entering what is printed in the book."""

from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from functools import partial
from io import BytesIO
from pathlib import Path
from typing import Any

from traysheets.arrange.model import Trays
from traysheets.base.errors import BookError, PlanError
from traysheets.base.notices import Notice
from traysheets.base.workers import cores, shared_out
from traysheets.book.book import contents, enter
from traysheets.export.files import Writer, put, write_all
from traysheets.page.fonts import Fonts, font_files, with_fonts
from traysheets.pipeline.checking import Checked, check, checked, require_sowings, wanted_batch
from traysheets.pipeline.choosing import stock_notices
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import OUTPUTS, RECORDS, USUAL, Progress, is_outdated, output_files
from traysheets.reckon.model import Reckoned
from traysheets.sheets.accounts import account, sticks_wanted
from traysheets.sheets.characters import require_characters
from traysheets.sheets.job import Job
from traysheets.sheets.kept_facts import kept_facts
from traysheets.sheets.printer_truth import printer_notices
from traysheets.sheets.stick_checks import stick_notices

_NO_STICKS = Notice("no sticks are asked for, as sticks = 0 for all that is sown, so there is no sticks.pdf")
_IN_PLACE = (
    "the finished files were being put in place, of which each is whole, old or new, and codes may be in the book"
    " already; run this again"
)
WORTH_SHARING = 120
"""Batches and trays from which on drawing takes so long that starting further processes pays."""


@dataclass(frozen=True, slots=True)
class Made:
    """What a run wrote: the folder, and the files by path below it; and the notices.

    `removed` are files of an earlier run in whose place others stand now.
    """

    folder: Path
    files: tuple[str, ...]
    notices: tuple[Notice, ...]
    removed: tuple[str, ...] = ()


class Stopped(KeyboardInterrupt):
    """A stop by hand, that says what was written by then."""


def make(options: Options, today: date, progress: Progress = lambda name, pages: None) -> Made:
    """Draw what was asked for and write it, all or nothing, and enter what is printed in the book.

    Raises TraysheetsError; the folder and the book are then as they were. Raises Stopped when it is stopped by hand.
    """
    with _telling_of_a_stop() as begin:
        return _made(check(options, today), options, today, progress, begin)


def make_sheets(
    reckoned: Reckoned, arranged: Trays, folder: Path | None = None, *, today: date, **choices: Any
) -> Made:
    """Make the sheets of a plan that was read, reckoned and arranged before; `choices` are the fields of `Options`.

    Writes below `folder`, beside the plan when None, and enters the batches in the book; all or nothing.
    Raises TraysheetsError, and Stopped when it is stopped by hand.
    """
    options = Options(plan=Path(reckoned.plan.file), folder=folder, **choices)
    with _telling_of_a_stop() as begin:
        plan = checked(reckoned, arranged, contents(options.book_file), options, today)
        return _made(plan, options, today, lambda name, pages: None, begin)


@contextmanager
def _telling_of_a_stop() -> Iterator[Callable[[], object]]:
    """Say of a stop by hand what was written by then. What it hands out is to be called before anything is."""
    begun: list[None] = []
    try:
        yield lambda: begun.append(None)
    except KeyboardInterrupt as stop:
        raise Stopped(_IN_PLACE if begun else "nothing was written") from stop


def _made(plan: Checked, options: Options, today: date, progress: Progress, begin: Callable[[], object]) -> Made:
    """Draw and write, with the fonts at hand that the plan names. Calls `begin` before anything is there to stay."""
    job = plan.job
    wanted = tuple(name for name in OUTPUTS if name in (options.only or USUAL))
    names = tuple(name for name in wanted if name != "sticks" or any(sticks_wanted(job, it) for it in job.batches))
    with with_fonts(fonts := font_files(job.plan.fonts)):
        _something_to_draw(job, names)
        _book_is_at_hand(plan, options)
        require_characters(job)
        account(job)
        notices = (*plan.notices, *printer_notices(job, names), *_about_sticks(options, job, names))
        notices += (_NO_STICKS,) if names != wanted else ()
        with closing(_files(plan, options, names, fonts, progress)) as files:
            wrote = write_all(
                options.output_folder,
                files,
                force=options.force,
                before_final=lambda: _enter(options, job, today, begin),
                outdated=partial(is_outdated, made=wanted, whole=options.days is None),
            )
    return Made(options.output_folder, wrote.files, (*notices, *map(_left, wrote.left)), wrote.removed)


def _about_sticks(options: Options, job: Job, names: tuple[str, ...]) -> tuple[Notice, ...]:
    if "sticks" not in names:
        return ()
    return *stock_notices(options, job.plan, job.choices), *stick_notices(job)


def _files(
    plan: Checked, options: Options, names: tuple[str, ...], fonts: Fonts, progress: Progress
) -> Generator[tuple[str, Writer], None, None]:
    """The files of all outputs in their order, drawn by as many processes as are wanted or pay."""
    draw = partial(output_files, plan, options.pages_per_file)
    jobs = min(_jobs_that_pay(plan.job) if options.jobs is None else options.jobs, len(names))
    if jobs == 1:
        for name in names:
            yield from draw(name, progress)
        return
    for path, content in shared_out(partial(_contents, draw, fonts), names, jobs, progress):
        yield path, partial(put, content)


def _jobs_that_pay(job: Job) -> int:
    return cores() if len(job.batches) + len(job.trays) >= WORTH_SHARING else 1


def _contents(  # pragma: no cover - runs in processes that are killed when done, and then count no lines
    draw: Callable[[str, Progress], Iterator[tuple[str, Writer]]], fonts: Fonts, name: str, progress: Progress
) -> Iterator[tuple[str, bytes]]:
    """The files of one output with what is in them, as another process draws them."""
    with with_fonts(fonts):
        for path, writer in draw(name, progress):
            file = BytesIO()
            writer(file)
            yield path, file.getvalue()


def _left(file: str) -> Notice:
    """What to say of a file of an earlier run that was changed, and so stands beside those that are made now."""
    return Notice(
        f"{file} is of an earlier run and was changed since, so it was left; it is not part of what was made now"
    )


def _something_to_draw(job: Job, names: tuple[str, ...]) -> None:
    """Raise a PlanError when nothing is sown on the chosen days, or no sticks, which alone are wanted."""
    require_sowings(job)
    if not names:
        raise PlanError(f"{_NO_STICKS.text}: there is nothing else to make")


def _book_is_at_hand(plan: Checked, options: Options) -> None:
    """Raise BookError when new codes were printed into this folder before: their book is missing, or is another's.

    Or another run has printed them since the book was read: a run enters its codes before its files get their names.
    """
    job, pages = plan.job, options.output_folder / RECORDS / "B"
    new = [job.codes[batch.index] for batch in job.batches if batch.index not in plan.printed]
    there = [] if options.force else [code for code in new if (pages / code).exists()]
    if not there:
        return
    entered = {batch.code for batch in contents(options.book_file).batches}
    if lost := [code for code in there if code not in entered]:
        raise BookError(
            f"{pages} holds records of {_some(lost)}, which the book {options.book_file} does not know; name the book"
            " they were printed with by --book, choose another folder with -o, or give the codes anew with --force"
        )
    raise BookError(f"another run has just entered {_some(there)} in the book {options.book_file}; run this again")


def _some(codes: Sequence[str]) -> str:
    """The first of some codes, and how many there are more."""
    return ", ".join(codes[:3]) + (f" and {len(codes) - 3} more" if len(codes) > 3 else "")


def _enter(options: Options, job: Job, today: date, begin: Callable[[], object]) -> None:
    """Enter the printed batches in the book, with all that was printed about them."""
    begin()
    facts = kept_facts(job)
    wanted = tuple(wanted_batch(batch, facts.get(batch.index)) for batch in job.reckoned.batches)
    codes = tuple(job.codes[batch.index] for batch in job.reckoned.batches)
    enter(options.book_file, wanted, job.plan.season, options.plan.name, codes, facts, today)
