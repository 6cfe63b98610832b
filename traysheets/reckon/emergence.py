"""When seedlings come up: days to emergence from the handbook table, by crop and soil temperature.

Between two temperatures of the table the rate (1 / days) is interpolated, not the days: the speed of germination is
near enough linear in temperature between close points (thermal time: Garcia-Huidobro, Monteith and Squire 1982, from
memory). Nothing is guessed beside the table, nor next to a temperature at which nothing came up.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

from traysheets.plan.model import Sowing
from traysheets.reckon.model import Emergence, Figure, Source
from traysheets.reckon.rounding import down, middle, up
from traysheets.trade.crops import EmergencePoint

# The table gives one figure, the seedlings come up over days: the first somewhat before, most of them within half as
# long again (judgement, no source).
FIRST_PART, LAST_PART = 0.8, 1.4

Points = Sequence[EmergencePoint]


def soil_temperature(sowing: Sowing) -> Figure[float] | None:
    """The plan's soil temperature, else the middle of what suits the crop; None when neither is known."""
    if sowing.soil_temp_c is not None:
        return Figure(sowing.soil_temp_c, Source.PLAN)
    best = sowing.crop.soil_c
    if best is None:
        return None
    return Figure(middle(best.value), Source.CROP_TABLE, f"middle of {best.value[0]:g} to {best.value[1]:g} °C")


def neighbours(points: Points, temp_c: float) -> tuple[EmergencePoint, EmergencePoint] | None:
    """The table's points next below and above a temperature, twice the same at its own; None outside the table."""
    for point in points:
        if point.temp_c == temp_c:
            return point, point
    return next((pair for pair in pairwise(points) if pair[0].temp_c < temp_c < pair[1].temp_c), None)


def days_to_emergence(points: Points, temp_c: float) -> float | None:
    """Days at a soil temperature: the rate 1 / days, linear between neighbours. None where the table has no days."""
    found = neighbours(points, temp_c)
    if found is None or found[0].days is None or found[1].days is None:
        return None
    low, high = found
    if low is high:
        return found[0].days
    part = (temp_c - low.temp_c) / (high.temp_c - low.temp_c)
    return 1 / ((1 - part) / found[0].days + part / found[1].days)


def what_the_table_lacks(points: Points, temp_c: float) -> str:
    """Why the table gives no days at a temperature."""
    found = neighbours(points, temp_c)
    if found is None:
        return f"the emergence table goes from {points[0].temp_c:g} to {points[-1].temp_c:g} °C"
    blank = next(point for point in found if point.days is None)
    if blank.state == "no germination":
        return f"nothing came up at {blank.temp_c:g} °C in the emergence table"
    return f"the emergence table has no days for {blank.temp_c:g} °C"


def window_days(days: float) -> tuple[int, int]:
    """Days from sowing to the first and to the last look for seedlings: FIRST_PART and LAST_PART of the table's."""
    first = max(1, down(days * FIRST_PART))
    return first, max(first, up(days * LAST_PART))


def emergence(sowing: Sowing, sow: date) -> Emergence | None:
    """When the seedlings of a sowing come up; None when the table or the temperature does not say."""
    table, soil = sowing.crop.emergence, soil_temperature(sowing)
    days = days_to_emergence(table.value, soil.value) if table and soil else None
    if table is None or days is None:
        return None
    first, last = (sow + timedelta(days=number) for number in window_days(days))
    return Emergence(first, last, Source.EMERGENCE_TABLE, table.origin, round(days, 1), soil)
