"""From a plan file to a job ready to be drawn: read, reckon, codes, arrange, all there is to say. Writes nothing."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from traysheets.arrange.arrange import arrange
from traysheets.arrange.model import Trays
from traysheets.base.errors import PlanError
from traysheets.base.limits import MOST_LANGUAGES
from traysheets.base.notices import Notice
from traysheets.base.words import Words, words_for
from traysheets.book.book import Contents, allotted, contents
from traysheets.book.entries import Entry, in_force
from traysheets.book.model import Identity, Wanted
from traysheets.bookkeeping import counts_in
from traysheets.page.fonts import font_files, with_fonts
from traysheets.pipeline.choosing import choices_of
from traysheets.pipeline.handed_on import handed_on_notices
from traysheets.pipeline.options import Options
from traysheets.plan.model import Plan
from traysheets.plan.read import read_plan
from traysheets.reckon.bench_weeks import BenchWeeks, bench_notices, bench_weeks, standing
from traysheets.reckon.model import Batch, Reckoned
from traysheets.reckon.reckon import reckon
from traysheets.reckon.totals import Comparison, Totals, plan_comparison, totals
from traysheets.sheets.characters import require_characters
from traysheets.sheets.facts import Plain, plan_facts
from traysheets.sheets.job import Job, Noted
from traysheets.sheets.links import address_notices
from traysheets.sheets.moved import moved_notices
from traysheets.sheets.summary import Table, summary


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


def check(options: Options, today: date) -> Checked:
    """Read, reckon and arrange a plan, with the batch codes that printing it would allot. Writes nothing.

    The book is read once, so that all that is said of it is of one moment.
    """
    plan, book = read_plan(options.plan, options.settings), contents(options.book_file)
    reckoned = reckon(plan, today, counts_in(book.histories))
    return checked(reckoned, arrange(reckoned), book, options, today)


def check_to_print(options: Options, today: date) -> Checked:
    """The same for a plan that is to be printed. Raises SheetError with every name that no font at hand has whole.

    Raises PlanError when nothing is sown on the chosen days, as making their sheets does.
    """
    found = check(options, today)
    require_sowings(found.job)
    with with_fonts(font_files(found.job.plan.fonts)):
        require_characters(found.job)
    return found


def require_sowings(job: Job) -> None:
    """Raise a PlanError when nothing is sown on the chosen days, naming the sowing days."""
    if not job.batches:
        days = sorted({batch.sow for batch in job.reckoned.batches})
        raise PlanError(f"nothing is sown then; sowing days are {', '.join(day.isoformat() for day in days)}")


def checked(reckoned: Reckoned, arranged: Trays, book: Contents, options: Options, today: date) -> Checked:
    """All there is to say of an arranged plan and of what its book holds, and the job of drawing it."""
    plan = reckoned.plan
    wanted = tuple(wanted_batch(batch) for batch in reckoned.batches)
    allotment = allotted(book, wanted, plan.season, options.plan.name)
    codes = dict(enumerate(allotment.codes))
    words = _words(options, plan)
    noted = _noted(book.entries, codes)
    job = Job(reckoned, arranged, codes, words[0], choices_of(options, plan), today, words, noted)
    standings = [standing(tray.kind, tray.sow, map(job.batch, tray.batches), tray.place) for tray in arranged.trays]
    weeks = bench_weeks(standings, plan.benches)
    said = (plan, reckoned, arranged, allotment)
    kept = {batch.code: batch for batch in book.batches}
    before = {index: kept[batch.code].told for index, batch in allotment.printed.items()}
    notices = (
        *(notice for stage in said for notice in stage.notices),
        *moved_notices(job, before),
        *handed_on_notices(job, book, options.plan.name),
        *bench_notices(weeks),
        *address_notices(job),
    )
    return Checked(job, frozenset(allotment.printed), weeks, notices)


def wanted_batch(batch: Batch, facts: Plain | None = None) -> Wanted:
    """A batch as the book tells it from others, with what was printed about it."""
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


def _noted(entries: Mapping[str, Sequence[Entry]], codes: Mapping[int, str]) -> dict[int, tuple[Noted, ...]]:
    """What is noted of the batches and still counts, by their indexes."""
    return {
        index: tuple(
            Noted(entry.day, entry.kind.value, entry.number, entry.remark) for entry in in_force(entries[code])
        )
        for index, code in codes.items()
        if code in entries
    }


def _words(options: Options, plan: Plan) -> tuple[Words, ...]:
    """The languages of this run: those the command asks for, else the plan's; all are on the guide."""
    codes = tuple(dict.fromkeys(code.casefold() for code in options.languages or plan.languages))
    if len(codes) > MOST_LANGUAGES:
        raise PlanError(f"{len(codes)} languages are asked for; the guide has room for {MOST_LANGUAGES}")
    return tuple(map(words_for, codes))
