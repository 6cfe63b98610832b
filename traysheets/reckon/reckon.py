"""From the plan to what it takes: one batch a sowing and succession, the seed of the whole, and a grower's advice.

Only the order of the sums is here; each sum has its own file.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import MOST_CELLS
from traysheets.base.notices import Notice
from traysheets.plan.model import Pace, Plan, Sowing, Wanted
from traysheets.reckon import advice
from traysheets.reckon.amounts import cells_wanted, seeds_left, spare_seeds
from traysheets.reckon.cover import cover_mm
from traysheets.reckon.days import Days, days_of, sowing_day
from traysheets.reckon.lots import NOTHING_COUNTED, Counts, lot_notices, shown_by
from traysheets.reckon.minutes import seconds_a_cell
from traysheets.reckon.mix import mix_litres
from traysheets.reckon.model import Batch, Reckoned
from traysheets.reckon.rate import Rate, rate
from traysheets.reckon.room import Room
from traysheets.reckon.seeds import packets_for, seed_needs, weight_grams
from traysheets.reckon.seen import Seen
from traysheets.reckon.stand import stand_chance
from traysheets.reckon.successions import delays


def reckon(plan: Plan, today: date | None = None, counts: Counts = NOTHING_COUNTED) -> Reckoned:
    """Every batch of the plan with its figures, in plan order, and the notices on it; `today` tells what is past.

    `counts` are the finished ones of every lot, for sowings that ask for what their lot has shown.
    Raises PlanError, with every sowing whose cells or days cannot be reckoned. The notices of the plan's own
    reading are not repeated.
    """
    batches: list[Batch] = []
    problems: list[Problem] = []
    notices: list[Notice] = []
    room = Room(plan.file)
    for sowing in plan.sowings:
        try:
            own = list(_batches(sowing, plan, len(batches), shown_by(sowing, plan, counts)))
        except UnreckonableError as error:
            problems.append(Problem(f"{sowing.crop_name} '{sowing.variety}': {error}", plan.file, sowing.line))
            continue
        batches += own
        room.take(own)
        notices += advice.sowing_notices(own, plan.last_frost)
    if problems:
        raise PlanError(problems)
    notices += advice.past_days(batches, today) if today is not None else ()
    notices += advice.crop_notices(batches)
    notices += lot_notices(batches, plan, counts)
    needs = seed_needs(batches)
    notices += (notice for need in needs for notice in advice.seed_notices(need, batches))
    return Reckoned(plan, tuple(batches), needs, tuple(notices))


class UnreckonableError(ValueError):
    """A sowing that cannot be reckoned. Its text says why, and what would be right."""


def _batches(sowing: Sowing, plan: Plan, first_index: int, shown: Seen | None) -> Iterator[Batch]:
    """The batches of a sowing, one a succession; `shown` is the germination its lot has shown."""
    if sowing.germination_seen and shown is not None and not shown.germination:
        raise UnreckonableError(f"no seed of lot {sowing.lot} came up so far ({shown.origin}); sow other seed")
    sown = rate(sowing, shown)
    late = delays(sowing)
    cells = _possible_cells(sowing, sown, len(late))
    first_day = _first_day(sowing, plan)
    for turn, later in enumerate(late):
        days = _possible_days(sowing, sown, first_day, later, plan.last_frost)
        yield _batch(sowing, sown, cells, days, plan.pace, first_index + turn, turn + 1, len(late))


def _possible_cells(sowing: Sowing, sown: Rate, successions: int) -> int:
    """The cells of each succession, when they are neither none nor out of all reason."""
    number, wanted = sowing.amount.number, sowing.amount.wanted
    boundless = wanted is Wanted.PLANTS and sown.stand.rough_cells(number) > MOST_CELLS
    cells = MOST_CELLS + 1 if boundless else cells_wanted(sowing, sown)
    if cells * successions > MOST_CELLS:
        unit = str(wanted) if number > 1 else str(wanted).removesuffix("s")
        times = f", {successions} times," if successions > 1 else ""
        most = f"{MOST_CELLS:,} cells, the most that a sowing may have"
        raise UnreckonableError(f"{number:,} {unit}{times} would take more than {most}")
    if cells < 1:
        in_cell = sown.seeds_per_cell.value + spare_seeds(sown.seeds_per_cell.value, sowing.spare)
        seeds = "1 seed does" if number == 1 else f"{number} seeds do"
        raise UnreckonableError(f"{seeds} not fill a cell, which takes {in_cell}; sow fewer a cell, or give more")
    return cells


def _first_day(sowing: Sowing, plan: Plan) -> date:
    day = sowing_day(sowing, plan.last_frost)
    if day is not None:
        return day
    if sowing.plant_out is None:
        raise UnreckonableError("weeks_before_frost needs last_frost = DATE under [plan]")
    raise UnreckonableError(
        "no table gives the weeks from sowing to planting out for this crop; give sow = DATE instead"
    )


def _possible_days(sowing: Sowing, sown: Rate, first_day: date, later: timedelta, last_frost: date | None) -> Days:
    try:
        return days_of(sowing, sown, first_day, later, last_frost)
    except OverflowError:
        raise UnreckonableError("its days run past the year 9999; repeat it fewer times") from None


def _batch(
    sowing: Sowing, sown: Rate, cells: int, days: Days, pace: Pace, index: int, succession: int, successions: int
) -> Batch:
    seeds = cells * sown.seeds_per_cell.value
    spare = spare_seeds(seeds, sowing.spare)
    return Batch(
        index=index,
        sowing=sowing,
        succession=succession,
        successions=successions,
        sow=days.sow,
        cells=cells,
        seeds_per_cell=sown.seeds_per_cell,
        stations=sown.stations,
        seeds_per_station=sown.seeds_per_station,
        seeds_total=seeds,
        seeds_spare=spare,
        seeds_left=seeds_left(sowing, seeds + spare),
        seed_grams=weight_grams(seeds + spare, sowing.crop),
        packets=packets_for(seeds + spare, sowing.packet),
        germination=sown.germination,
        plants_expected=sown.stand.expected(cells),
        plants_low=sown.stand.low(cells, sowing.confidence),
        stand_chance=stand_chance(sowing.method, sown.stand),
        cover_mm=cover_mm(sowing),
        emergence=days.emergence,
        thin=days.thin,
        trim=days.trim,
        harden_off=days.harden_off,
        plant_out=days.plant_out,
        plant_out_last=days.plant_out_last,
        mix_litres=mix_litres(cells, sowing.tray.volume_ml),
        seconds=cells * seconds_a_cell(sowing.method, sown.stations, pace),
    )
