"""What was printed before and is no longer true: batches that stand elsewhere now, or bear other letters on the map.

Only batch codes are kept for ever. Trays, cells and map letters follow the plan, and a map on a flat does not.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from traysheets.arrange.staying import Pinned, can_stay, pinned
from traysheets.base.notices import Notice
from traysheets.plan.advised import advised
from traysheets.plan.pins import parse_pin, pin_text
from traysheets.reckon.model import Batch
from traysheets.sheets.facts import sowing_facts
from traysheets.sheets.job import Job

MOST_TOLD = 5
"""Batches told of one by one; the rest are counted."""


def moved_notices(job: Job, printed: Mapping[int, Mapping[str, Any]]) -> Iterator[Notice]:
    """A notice for batches whose printed facts, by batch index, say another place or letters than the plan does now."""
    told, pins = 0, pinned(job.reckoned.batches)
    for index, before in sorted(printed.items()):
        if text := _change(job, index, before, pins):
            told += 1
            if told <= MOST_TOLD:
                yield Notice(text, job.batch(index).sowing.line, passing=True)
    if told > MOST_TOLD:
        yield Notice(
            f"{told - MOST_TOLD} more printed batches have moved or bear other letters; print their maps again",
            passing=True,
        )


def _change(job: Job, index: int, before: Mapping[str, Any], pins: Pinned) -> str | None:
    batch = job.batch(index)
    now = sowing_facts(job, batch)
    name = f"{now['batch']} '{batch.sowing.variety}'"
    if before.get("runs") is not None and before["runs"] != now["runs"]:
        was, is_now = _where(before["runs"]), _where(now["runs"])
        text = f"{name} was printed as standing in {was}, and now stands in {is_now}; print maps and sticks again"
        if not _can_stay(batch, before, pins):
            return text
        return f"{text}, or keep the place with {advised('at', _pins(before['runs']), job.plan.file)}"
    if before.get("code") is not None and before["code"] != now["code"]:
        return (
            f"{name} was printed as {before['code']} on the map, and is {now['code']} now; print the map again,"
            f" or keep the letters with {advised('code', before['code'], job.plan.file)}"
        )
    return None


def _can_stay(batch: Batch, before: Mapping[str, Any], others: Pinned) -> bool:
    """Whether a batch can be kept where it was printed, by the pins that it is advised to have."""
    if before.get("tray") != batch.tray.name:
        return False
    try:
        return can_stay(batch, [parse_pin(pin, batch.tray) for pin in _pins(before["runs"])], others)
    except ValueError:  # the tray was given other cells since
        return False


def _where(runs: Any) -> str:
    return ", ".join(f"tray {pin}" for pin in _pins(runs))


def _pins(runs: Any) -> list[str]:
    return [pin_text(run["tray"], run["first"], run["last"]) for run in runs]
