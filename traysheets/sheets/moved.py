"""What was printed before and is no longer true: batches that stand elsewhere now, or bear other letters on the map.

Only batch codes are kept for ever. Trays, cells and map letters follow the plan, and a map on a flat does not.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from traysheets.base.notices import Notice
from traysheets.sheets.facts import sowing_facts
from traysheets.sheets.job import Job

MOST_TOLD = 5
"""Batches told of one by one; the rest are counted."""


def moved_notices(job: Job, printed: Mapping[int, Mapping[str, Any]]) -> Iterator[Notice]:
    """A notice for batches whose printed facts, by batch index, say another place or letters than the plan does now."""
    told = 0
    for index, before in sorted(printed.items()):
        if text := _change(job, index, before):
            told += 1
            if told <= MOST_TOLD:
                yield Notice(text, job.batch(index).sowing.line, passing=True)
    if told > MOST_TOLD:
        yield Notice(
            f"{told - MOST_TOLD} more printed batches have moved or bear other letters; print their maps again",
            passing=True,
        )


def _change(job: Job, index: int, before: Mapping[str, Any]) -> str | None:
    batch = job.batch(index)
    now = sowing_facts(job, batch)
    name = f"{now['batch']} '{batch.sowing.variety}'"
    if before.get("runs") is not None and before["runs"] != now["runs"]:
        was, is_now = _where(before["runs"]), _where(now["runs"])
        keep = 'at = ["' + '", "'.join(_pin(run) for run in before["runs"]) + '"]'
        return (
            f"{name} was printed as standing in {was}, and now stands in {is_now}; print maps and sticks again,"
            f" or keep the place with {keep}"
        )
    if before.get("code") is not None and before["code"] != now["code"]:
        return (
            f"{name} was printed as {before['code']} on the map, and is {now['code']} now; print the map again,"
            f' or keep the letters with code = "{before["code"]}"'
        )
    return None


def _where(runs: Any) -> str:
    return ", ".join(f"tray {_pin(run)}" for run in runs)


def _pin(run: Mapping[str, Any]) -> str:
    ends = run["first"] if run["first"] == run["last"] else f"{run['first']}-{run['last']}"
    return f"{run['tray']}: {ends}"
