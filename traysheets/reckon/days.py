"""The days of a batch: sowing, thinning, trimming, hardening off and planting out. Days are dates, never moments.

Weeks to transplant are the crop table's; every other span is common practice, with no source. When seedlings come up
is reckoned in `emergence`.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from traysheets.plan.model import Method, Sowing
from traysheets.reckon.emergence import emergence
from traysheets.reckon.model import Emergence, Figure, Source
from traysheets.reckon.rate import Rate
from traysheets.reckon.rounding import middle, up

THIN_AFTER_EMERGENCE_DAYS = 10
TRIM_AFTER_SOWING_DAYS = 42
# Seedlings that leave within a week of the day of trimming are not worth cutting.
TRIM_WORTH_DAYS = 7
HARDEN_OFF_DAYS = 7
# A crop that leaves longer before the last frost than this grows in the season before it (judgement, no source).
FROST_SEASON = timedelta(weeks=26)


@dataclass(frozen=True, slots=True)
class Days:
    """Every day of a batch; None where it does not apply or cannot be reckoned. Planting out has a first and a last."""

    sow: date
    emergence: Emergence | None
    thin: date | None
    trim: date | None
    harden_off: date | None
    plant_out: Figure[date] | None
    plant_out_last: date | None


def raising_days(weeks: tuple[int, int]) -> int:
    """From sowing to a planting-out day that is given: the middle of the crop's weeks, rounded up to a whole week.

    Whole weeks keep the day of the week; rounded up, as a plant a few days too old does better than one too small.
    """
    return up(middle(weeks)) * 7


def sowing_day(sowing: Sowing, last_frost: date | None) -> date | None:
    """The plan's sowing day, else reckoned back from planting out or from the last frost.

    None when the plan gives no frost date, or no table the crop's weeks to transplant.
    """
    if sowing.sow is not None:
        return sowing.sow
    weeks = sowing.crop.weeks_to_transplant
    if sowing.plant_out is not None and weeks is not None:
        return sowing.plant_out - timedelta(days=raising_days(weeks.value))
    if sowing.weeks_before_frost is not None and last_frost is not None:
        return last_frost - timedelta(weeks=sowing.weeks_before_frost)
    return None


def planting_out(
    sowing: Sowing, sow: date, later: timedelta, last_frost: date | None
) -> tuple[Figure[date] | None, date | None]:
    """First and last planting-out day: the plan's own, `later` for a succession, else the crop's weeks after sowing.

    Of the crop's weeks a tender crop waits for the last frost to be over, where the plan knows the day.
    """
    if sowing.plant_out is not None:
        day = sowing.plant_out + later
        return Figure(day, Source.PLAN), day
    weeks = sowing.crop.weeks_to_transplant
    if weeks is None:
        return None, None
    least, most = (sow + timedelta(weeks=number) for number in weeks.value)
    if last_frost is not None and would_freeze(sowing, least, last_frost):
        return Figure(last_frost, Source.LAST_FROST, weeks.origin), max(most, last_frost)
    return Figure(least, Source.CROP_TABLE, weeks.origin), most


def would_freeze(sowing: Sowing, plant_out: date, last_frost: date) -> bool:
    """Whether plants that are put out on a day are killed by frosts that may still come."""
    return sowing.crop.tender and last_frost - FROST_SEASON <= plant_out < last_frost


def thinning_day(sowing: Sowing, rate: Rate, sow: date, seen: Emergence | None) -> date | None:
    """About ten days after emergence, where more than one seed lies in a hole. A clump is not thinned."""
    in_hole = rate.seeds_per_station or rate.seeds_per_cell
    if sowing.method is Method.CLUMP or in_hole.value < 2 or seen is None:
        return None
    return sow + timedelta(days=up(seen.days) + THIN_AFTER_EMERGENCE_DAYS)


def trimming_day(sowing: Sowing, sow: date, plant_out: Figure[date] | None) -> date | None:
    """Six weeks after sowing, for alliums whose planting out does not begin within a week of that day."""
    trim = sow + timedelta(days=TRIM_AFTER_SOWING_DAYS)
    stays = plant_out is not None and (plant_out.value - trim).days >= TRIM_WORTH_DAYS
    return trim if sowing.crop.trim and stays else None


def hardening_day(sow: date, plant_out: Figure[date] | None) -> date | None:
    """A week before planting out; None when the batch is not even sown by then."""
    if plant_out is None:
        return None
    day = plant_out.value - timedelta(days=HARDEN_OFF_DAYS)
    return day if day > sow else None


def days_of(sowing: Sowing, rate: Rate, first_sow: date, later: timedelta, last_frost: date | None = None) -> Days:
    """All days of the succession that is sown so much `later` than the first."""
    sow = first_sow + later
    seen = emergence(sowing, sow)
    plant_out, last = planting_out(sowing, sow, later, last_frost)
    return Days(
        sow=sow,
        emergence=seen,
        thin=thinning_day(sowing, rate, sow, seen),
        trim=trimming_day(sowing, sow, plant_out),
        harden_off=hardening_day(sow, plant_out),
        plant_out=plant_out,
        plant_out_last=last,
    )
