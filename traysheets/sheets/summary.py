"""The plan in a screenful: what is sown on each day, in which trays, and what it takes in all. Text for a terminal."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from math import ceil

from traysheets.base.days import iso_week
from traysheets.reckon.bench_weeks import BenchUse
from traysheets.reckon.model import Batch
from traysheets.reckon.totals import Comparison, Totals
from traysheets.sheets import phrases
from traysheets.sheets.job import Job


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; columns numbered in `right` hold numbers."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()


def summary(job: Job, totals: Totals, compare: Comparison | None, benches: Sequence[BenchUse]) -> tuple[Table, ...]:
    """A table a sowing day, then the totals with the comparison and the benches."""
    by_day = groupby(sorted(job.batches, key=lambda batch: batch.sow), key=lambda batch: batch.sow)
    return (*(_day(job, day, tuple(batches)) for day, batches in by_day), _in_all(job, totals, compare, benches))


_COLUMNS = ("batch", "code", "what", "in_cell", "cells", "trays", "seeds", "germination", "plants", "plant_out")
_NUMBERS = (3, 4, 6, 8)


def _day(job: Job, day: date, batches: Sequence[Batch]) -> Table:
    words = job.words
    title = words("check.day", day=words.day(day), week=iso_week(day))
    headings = tuple(words(f"check.{column}") for column in _COLUMNS)
    return Table(title, headings, tuple(_row(job, batch) for batch in batches), _NUMBERS)


def _row(job: Job, batch: Batch) -> tuple[str, ...]:
    words, sowing = job.words, batch.sowing
    percent = words.percent(batch.germination.value)
    said = words("check.germination_said", percent=percent, source=words(f"source.{batch.germination.source}"))
    return (
        job.codes[batch.index],
        sowing.code,
        f"{sowing.variety}, {sowing.crop_name}",
        phrases.count_in_cell(batch, words),
        words.number(batch.cells),
        _where(job, batch),
        words.number(batch.seeds_total + batch.seeds_spare),
        said,
        words.number(batch.plants_low),
        words.day_of_year(batch.plant_out.value) if batch.plant_out else "",
    )


def _where(job: Job, batch: Batch) -> str:
    """Tray numbers with the cells, `3 A1-B2, 4`; only the numbers where there are many; a full tray by its number."""
    runs = job.arranged.runs.get(batch.index, ())
    numbers = sorted({run.tray for run in runs})
    if len(numbers) > 3:
        whole = numbers[-1] - numbers[0] == len(numbers) - 1
        return f"{numbers[0]}-{numbers[-1]}" if whole else ", ".join(map(str, numbers))
    name, size = batch.tray.cell_name, batch.tray.cells
    return ", ".join(
        str(run.tray) if run.cells == size else f"{run.tray} {name(run.first)}-{name(run.last)}" for run in runs
    )


def _in_all(job: Job, totals: Totals, compare: Comparison | None, benches: Sequence[BenchUse]) -> Table:
    words = job.words
    rows = [
        (words("check.trays"), words.number(totals.trays)),
        (words("check.cells"), words.number(totals.cells)),
        (words("check.seeds"), words.number(totals.seeds + totals.seeds_spare)),
        (words("check.mix"), _mix(job, totals)),
        (words("check.bench"), words("check.square_metres", area=words.number(totals.bench_m2, 1))),
        (words("check.work"), words("check.minutes", n=ceil(totals.minutes))),
    ]
    if totals.seed_grams is not None:
        rows.insert(3, (words("check.seed"), words("check.grams", grams=words.number(totals.seed_grams, 1))))
    if compare:
        said = words(
            "check.compared",
            tray=compare.tray.name,
            trays=words.number(compare.trays),
            cells=words.number(compare.cells),
        )
        rows.append((words("check.compare"), said))
    rows += [(use.bench.name, _bench(job, use)) for use in benches]
    return Table(words("check.in_all"), ("", ""), tuple(rows))


def _mix(job: Job, totals: Totals) -> str:
    """Litres, or cubic feet where the plan's sheets show inches."""
    if job.units == "inch":
        return job.words("check.cubic_feet", volume=job.words.number(totals.mix_cubic_feet, 1))
    return job.words("check.litres", volume=job.words.number(totals.mix_litres, 1))


def _bench(job: Job, use: BenchUse) -> str:
    if use.kind is None or use.peak_week is None:
        return job.words("check.bench_empty")
    return job.words(
        "check.bench_use", holds=use.holds, kind=use.kind.name, peak=use.peak_trays, week=iso_week(use.peak_week)
    )
