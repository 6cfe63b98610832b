"""The record pages of a plan, one at a time: the index, a page a batch, a page a tray.

They hold what is sown on the chosen days, and no day but those of the plan and of what was noted: as long as nothing is
noted, a page says the same whenever it is made.
"""

from collections.abc import Iterator
from datetime import date
from itertools import groupby

from traysheets.base.directions import side_by_side
from traysheets.page.record import RecordPage, Section
from traysheets.reckon.model import Batch
from traysheets.sheets import phrases
from traysheets.sheets.batch_record import batch_record
from traysheets.sheets.job import Job
from traysheets.sheets.record_parts import SEPARATOR, RecordParts
from traysheets.sheets.tray_record import tray_record


def record_pages(job: Job) -> Iterator[RecordPage]:
    """The index, then the batches in plan order, then the trays by number. Every link leads to another of them."""
    parts = RecordParts(job)
    yield _index(parts)
    trays = {tray.number: tray for tray in job.arranged.trays}
    for batch in job.batches:
        numbers = dict.fromkeys(run.tray for run in job.runs(batch))
        yield batch_record(parts, batch, tuple(trays[number] for number in numbers))
    for before, tray, after in zip((None, *job.trays), job.trays, (*job.trays[1:], None), strict=False):
        yield tray_record(parts, tray, tuple(other.number for other in (before, after) if other))


def _index(parts: RecordParts) -> RecordPage:
    job, words = parts.job, parts.words
    counted = words("records.batches", n=len(job.batches)), words("records.trays", n=len(job.trays))
    trays: dict[date, list[int]] = {}
    for tray in job.trays:
        trays.setdefault(tray.sow, []).append(tray.number)
    by_day = {day: list(own) for day, own in groupby(sorted(job.batches, key=_sow), _sow)}
    in_short = words.day_of_year if len({day.year for day in by_day}) == 1 else words.short_day
    days = tuple(_day(parts, day, in_short(day), own, trays.get(day, [])) for day, own in by_day.items())
    return RecordPage(
        path="",
        title=job.plan.title,
        subtitle=side_by_side((job.plan.grower, str(job.plan.season)), SEPARATOR),
        language=words.language,
        direction=words.locale.text_direction,
        lead=SEPARATOR.join(counted) if days else words("records.none"),
        contents=words("records.days") if len(days) > 1 else "",
        sections=days,
        footer=parts.footer(),
    )


def _sow(batch: Batch) -> date:
    return batch.sow


def _day(parts: RecordParts, day: date, short: str, batches: list[Batch], trays: list[int]) -> Section:
    """What is sown on a day, and in which trays."""
    words = parts.words
    return Section(
        words.day_heading(day),
        short=short,
        items=tuple(
            parts.batch_item(batch, phrases.in_every_cell(batch, words), words("records.cells", n=batch.cells))
            for batch in batches
        ),
        ways=tuple(parts.tray_way(number) for number in trays),
    )
