"""All that is printed about a batch, as plain values that are kept for the day when its plan has changed or is gone.

They are those of `facts.py`, what else its record page says, and what is needed to set counts against.
"""

from collections.abc import Iterator, Mapping

from traysheets.plan.model import Wanted
from traysheets.reckon.model import Batch
from traysheets.sheets.batch_record import cautions, dated_tasks, lead
from traysheets.sheets.facts import Plain, sowing_facts, sowing_row
from traysheets.sheets.job import Job
from traysheets.sheets.looks import looks
from traysheets.sheets.record_parts import RecordParts
from traysheets.sheets.tray_titles import tray_title


def kept_facts(job: Job) -> Mapping[int, Plain]:
    """What is printed about every batch of the chosen days, by its index."""
    parts, shown = RecordParts(job), looks(job)
    return {
        batch.index: {
            **sowing_row(job, batch),
            **sowing_facts(job, batch),
            **_to_count_by(batch),
            "plan": job.plan.title,
            "grower": job.plan.grower,
            "season": job.plan.season,
            "language": job.words.language,
            "tray_kind": _tray_kind(parts, batch),
            "colour": shown[batch.index].colour,
            "tint": shown[batch.index].tint,
            "hatch": shown[batch.index].hatch,
            "lead": lead(parts, batch),
            "steps": list(_steps(parts, batch)),
            "cautions": [{"heading": one.heading, "text": one.text} for one in cautions(parts, [batch])],
        }
        for batch in job.batches
    }


def _to_count_by(batch: Batch) -> Plain:
    """What counts are set against, and how long plants take. `days_to_raise`: the fewest until planting out."""
    amount, weeks, out = batch.sowing.amount, batch.sowing.crop.weeks_to_transplant, batch.plant_out
    days = weeks.value[0] * 7 if weeks else (out.value - batch.sow).days if out else None
    return {
        "cluster": batch.sowing.crop.cluster,
        "germination_source": batch.germination.source.value,
        "confidence": batch.sowing.confidence,
        "plants_wanted": amount.number if amount.wanted is Wanted.PLANTS else None,
        "plant_out_last": batch.plant_out_last.isoformat() if batch.plant_out_last else None,
        "days_to_raise": days,
        "succession": batch.succession,
        "successions": batch.successions,
    }


def _tray_kind(parts: RecordParts, batch: Batch) -> Plain:
    kind = batch.tray
    title = tray_title(kind, parts.words, parts.job.units)
    return {"name": kind.name, "title": title, "rows": kind.rows, "columns": kind.columns}


def _steps(parts: RecordParts, batch: Batch) -> Iterator[Plain]:
    """What is to be done and when, in words too; only what has a day."""
    for step, task in dated_tasks(parts, batch):
        yield {
            "step": step.task.value,
            "first": step.first.isoformat(),
            "last": step.last.isoformat() if step.last else None,
            "when": task.when,
            "what": task.what,
            "details": task.details,
        }
