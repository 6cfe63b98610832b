"""How long sowing takes: seconds a cell by method, the grower's own pace or the usual one.

Usual (common practice, no source): a tray of 200 cells sown one by one in about 15 minutes, a flat of 18 pots sown in
clumps in about 2. Every hole of a station sowing is taken as one single cell; the seeds of a hole go in together.
"""

from collections.abc import Iterable
from datetime import date

from traysheets.plan.model import Method, Pace
from traysheets.reckon.model import Batch

USUAL_SINGLE_S = 15 * 60 / 200
USUAL_CLUMP_S = 2 * 60 / 18


def seconds_a_cell(method: Method, stations: int | None, pace: Pace) -> float:
    """Seconds to sow one cell. The grower's pace for stations is of a whole cell, as for the other methods."""
    single_s = USUAL_SINGLE_S if pace.single_s is None else pace.single_s
    match method:
        case Method.SINGLE:
            return single_s
        case Method.CLUMP:
            return USUAL_CLUMP_S if pace.clump_s is None else pace.clump_s
        case Method.STATIONS:  # pragma: no branch - there is no further method
            return single_s * (stations or 1) if pace.stations_s is None else pace.stations_s


def minutes_by_day(batches: Iterable[Batch], helpers: int = 1) -> dict[date, float]:
    """Minutes each sowing day takes when so many sow side by side, in the order of the days."""
    seconds: dict[date, float] = {}
    for batch in batches:
        seconds[batch.sow] = seconds.get(batch.sow, 0.0) + batch.seconds
    return {day: seconds[day] / 60 / helpers for day in sorted(seconds)}
