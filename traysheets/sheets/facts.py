"""A plan reckoned and arranged, as plain values for programs: the object of `check --json` and of `records.json`.

The keys are stable. Numbers are in mm, g, litres, m2 and minutes, days are ISO 8601; what cannot be reckoned is None.
"""

from collections.abc import Iterable
from datetime import date
from typing import TypeAlias

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.days import iso_week
from traysheets.base.notices import Notice
from traysheets.reckon.bench_weeks import BenchUse
from traysheets.reckon.model import Batch
from traysheets.reckon.totals import Comparison, Totals
from traysheets.sheets.job import Job

Plain: TypeAlias = dict[str, object]

_PLACES = 6
"""Decimals kept: more than any figure has meaning, few enough that sums show no trace of binary fractions."""


def plan_facts(
    job: Job, totals: Totals, compare: Comparison | None, benches: Iterable[BenchUse], notices: Iterable[Notice]
) -> Plain:
    """The whole: the plan, its sowings and trays on the chosen days, and what they take in all."""
    return {
        "plan": {"title": job.plan.title, "season": job.plan.season},
        "sowings": [sowing_facts(job, batch) for batch in job.batches],
        "trays": [tray_facts(job, tray) for tray in job.trays],
        "totals": _totals_facts(totals),
        "compare": _comparison_facts(compare) if compare else None,
        "benches": [_bench_facts(use) for use in benches],
        "warnings": [{"line": _line_in_plan(notice, job.plan.file), "text": notice.text} for notice in notices],
    }


def _line_in_plan(notice: Notice, plan: str) -> int | None:
    """Where in the plan file a notice comes from; a line of its settings is none of its lines."""
    return notice.line if notice.file in (None, plan) else None


def sowing_facts(job: Job, batch: Batch) -> Plain:
    """What one sowing takes, gives and when."""
    sowing, emergence = batch.sowing, batch.emergence
    return {
        "batch": job.codes[batch.index],
        "code": sowing.code,
        "crop": sowing.crop_name,
        "variety": sowing.variety,
        "method": sowing.method.value,
        "tray": sowing.tray.name,
        "cells": batch.cells,
        "seeds_per_cell": batch.seeds_per_cell.value,
        "stations": batch.stations,
        "seeds_per_station": batch.seeds_per_station.value if batch.seeds_per_station else None,
        "seeds_total": batch.seeds_total,
        "seeds_spare": batch.seeds_spare,
        "seed_grams": _rounded(batch.seed_grams.value if batch.seed_grams else None),
        "germination": _rounded(batch.germination.value),
        "germination_assumed": batch.germination_assumed,
        "plants_expected": _rounded(batch.plants_expected),
        "plants_low": batch.plants_low,
        "stand_chance": _rounded(batch.stand_chance),
        "sow": _iso(batch.sow),
        "emerge_from": _iso(emergence.first if emergence else None),
        "emerge_to": _iso(emergence.last if emergence else None),
        "thin": _iso(batch.thin),
        "plant_out": _iso(batch.plant_out.value if batch.plant_out else None),
        "runs": [run_facts(batch, run) for run in job.runs(batch)],
    }


TABLE_COLUMNS: tuple[str, ...] = (
    "batch", "code", "crop", "variety", "method", "tray", "cells", "seeds_per_cell", "stations", "seeds_per_station",
    "seeds_total", "seeds_spare", "seed_grams", "germination", "germination_assumed", "plants_expected", "plants_low",
    "stand_chance", "sow", "emerge_from", "emerge_to", "thin", "trim", "harden_off", "plant_out", "stands", "place",
    "lot", "treated", "cover_mm", "notes",
)  # fmt: skip
"""Headings of a table of batches: the keys of a sowing, `stands` for its runs, and what else a grower looks up."""


def sowing_row(job: Job, batch: Batch) -> Plain:
    """One sowing as a row of the table; where it stands as `3 A1-B2, 4 A1-A6`."""
    facts = sowing_facts(job, batch)
    runs = [run_facts(batch, run) for run in job.runs(batch)]
    facts["stands"] = ", ".join(f"{run['tray']} {run['first']}-{run['last']}" for run in runs)
    facts |= {"trim": _iso(batch.trim), "harden_off": _iso(batch.harden_off)}
    facts |= {"place": batch.sowing.place, "lot": batch.sowing.lot, "treated": batch.sowing.treated}
    facts |= {"cover_mm": _rounded(batch.cover_mm.value if batch.cover_mm else None), "notes": batch.sowing.notes}
    return {column: facts[column] for column in TABLE_COLUMNS}


def run_facts(batch: Batch, run: Run) -> Plain:
    """Where a run stands, its cells by name."""
    name = batch.tray.cell_name
    return {"tray": run.tray, "first": name(run.first), "last": name(run.last), "cells": run.cells}


def tray_facts(job: Job, tray: ArrangedTray) -> Plain:
    """One tray, and the batch code in every sown cell by the cell's name."""
    owners = enumerate(tray.cell_batches())
    return {
        "number": tray.number,
        "kind": tray.kind.name,
        "sow": _iso(tray.sow),
        "place": tray.place,
        "cells": {tray.kind.cell_name(cell): job.codes[batch] for cell, batch in owners if batch is not None},
        "spare": tray.spare,
    }


def _totals_facts(totals: Totals) -> Plain:
    return {
        "trays": totals.trays,
        "cells": totals.cells,
        "seeds": totals.seeds,
        "seed_grams": _rounded(totals.seed_grams),
        "mix_litres": _rounded(totals.mix_litres),
        "bench_m2": _rounded(totals.bench_m2),
        "minutes": _rounded(totals.minutes),
    }


def _comparison_facts(compare: Comparison) -> Plain:
    return {
        "tray": compare.tray.name,
        "trays": compare.trays,
        "cells": compare.cells,
        "bench_m2": _rounded(compare.bench_m2),
        "minutes": _rounded(compare.minutes),
    }


def _bench_facts(use: BenchUse) -> Plain:
    """One bench; its fullest week as ISO 8601 writes weeks, `2027-W12`."""
    return {
        "name": use.bench.name,
        "holds": use.holds,
        "peak_trays": use.peak_trays,
        "peak_week": iso_week(use.peak_week) if use.peak_week else None,
    }


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, _PLACES)


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
