"""The plan in a screenful: what is sown on each day, in which trays, and what it takes in all. Text for a terminal."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from traysheets.arrange.model import Run
from traysheets.base.days import iso_week
from traysheets.base.words import Words
from traysheets.reckon.bench_weeks import BenchUse
from traysheets.reckon.model import Batch
from traysheets.reckon.totals import Comparison, Totals
from traysheets.sheets import measures, phrases
from traysheets.sheets.job import Job
from traysheets.trade.trays import Tray


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
_MINUTES_ALONE = 99


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
        measures.seeds(batch.seeds_total, batch.seeds_spare, words),
        said,
        words.number(batch.plants_low),
        words.day_of_year(batch.plant_out.value) if batch.plant_out else "",
    )


def _where(job: Job, batch: Batch) -> str:
    """Tray numbers with the cells, `3 A1-B2, 4`; only the numbers where there are many; a full tray by its number."""
    runs = job.runs(batch)
    numbers = sorted({run.tray for run in runs})
    if len(numbers) > 3:
        whole = numbers[-1] - numbers[0] == len(numbers) - 1
        return f"{numbers[0]}-{numbers[-1]}" if whole else ", ".join(map(str, numbers))
    return ", ".join(_run(batch.tray, run) for run in runs)


def _run(kind: Tray, run: Run) -> str:
    """Where a run stands: `3` a full tray, `3 A1` a cell, `3 A1-B2`."""
    if run.cells == kind.cells:
        return str(run.tray)
    first, last = kind.cell_name(run.first), kind.cell_name(run.last)
    return f"{run.tray} {first}" if run.cells == 1 else f"{run.tray} {first}-{last}"


def _in_all(job: Job, totals: Totals, compare: Comparison | None, benches: Sequence[BenchUse]) -> Table:
    words = job.words
    rows = [
        (words("check.trays"), words.number(totals.trays)),
        (words("check.cells"), words.number(totals.cells)),
        (words("check.seeds"), measures.seeds(totals.seeds, totals.seeds_spare, words)),
        (words("check.mix"), _mix(job, totals)),
        (words("check.bench"), words("check.area", area=measures.area(totals.bench_m2, words, job.units))),
        (words("check.work"), _work(totals.minutes, words)),
    ]
    if totals.seed_grams is not None:
        rows.insert(3, (words("check.seed"), measures.grams(totals.seed_grams, words)))
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


def _work(minutes: float, words: Words) -> str:
    """Minutes up to 99, beyond that hours and minutes."""
    if minutes > _MINUTES_ALONE:
        return measures.duration(minutes, words)
    return words("check.minutes", n=measures.whole_minutes(minutes))


def _mix(job: Job, totals: Totals) -> str:
    """Litres, or cubic feet where the plan's sheets show inches."""
    if job.units == "inch":
        return job.words("check.cubic_feet", volume=measures.rounded(totals.mix_cubic_feet, job.words))
    return job.words("check.litres", volume=measures.rounded(totals.mix_litres, job.words))


def _bench(job: Job, use: BenchUse) -> str:
    words = job.words
    if use.kind is None or use.peak_week is None:
        return words("check.bench_empty")
    if not use.holds:
        return words("overview.too_small", kind=use.kind.name)
    return words(
        "check.bench_mixed" if use.mixed else "check.bench_use",
        holds=use.holds,
        kind=use.kind.name,
        n=use.peak_trays,
        week=iso_week(use.peak_week),
        share=words.percent(round(use.peak_filled, 2)),
    )
