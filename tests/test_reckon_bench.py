"""Trays on shelves and benches by week, mix, minutes, the totals and the comparison with one plant a cell."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from plans import BEET, CELL_72, CELL_200, ONION, POT_3IN, POT_18, TOMATO, bench, crop, plan, sowing, tray

from traysheets.plan.model import Bench, Method, Pace, Repeat, Sowing
from traysheets.reckon.bench import area_m2, holds, trays_on_shelf
from traysheets.reckon.bench_weeks import BenchWeeks, Standing, bench_notices, bench_weeks, standing
from traysheets.reckon.minutes import minutes_by_day, seconds_a_cell
from traysheets.reckon.mix import cubic_feet, mix_litres
from traysheets.reckon.reckon import reckon
from traysheets.reckon.totals import Totals, compare, plan_comparison, totals
from traysheets.trade.trays import Tray

MONDAY = date(2027, 3, 1)


@pytest.mark.parametrize(
    ("length_mm", "depth_mm", "trays"),
    [
        (1200, 600, 4),  # 2 along x 2 deep, or 4 along x 1 deep
        (1200, 300, 2),  # 2 along, one deep
        (1200, 540, 4),  # 4 turned across, one deep; the other way only 2
        (540, 279, 1),
        (279, 540, 1),
        (539, 278, 0),
        (2400, 900, 12),  # 4 x 3; turned 8 x 1
    ],
)
def test_a_shelf_holds_whole_trays_the_better_way_round(length_mm: float, depth_mm: float, trays: int) -> None:
    assert trays_on_shelf(length_mm, depth_mm, CELL_72) == trays


def test_four_exact_widths_hold_four_trays() -> None:
    narrow = tray("narrow", 1, 1, 20, 20, outer_mm=(0.1 * 3, 0.1 * 3))
    assert trays_on_shelf(1.2, 0.3, narrow) == 4, "1.2 / (0.1 x 3) is a hair under 4 in floating point"


def test_a_rack_holds_its_shelves() -> None:
    assert holds(bench(shelves=3), POT_18) == 12


def standings(number: int, kind: Tray = POT_18, weeks: int = 3, place: str = "", late: int = 0) -> list[Standing]:
    first = MONDAY + timedelta(weeks=late)
    return [Standing(kind, first, first + timedelta(weeks=weeks), place)] * number


def seen(weeks: BenchWeeks) -> dict[str, tuple[int, ...]]:
    return {use.bench.name: use.trays for use in weeks.benches}


def test_a_tray_stands_from_its_sowing_to_its_last_planting_out() -> None:
    early, late = reckon(plan(sowing(BEET), sowing(ONION))).batches
    assert standing(POT_18, early.sow, [early, late]).last == date(2027, 5, 29)
    unknown = reckon(plan(sowing(crop("Sea kale")))).batches
    assert standing(POT_18, date(2027, 3, 6), unknown).last == date(2027, 4, 17), "six weeks where no table says"


def test_weeks_run_over_the_year_end() -> None:
    """2026 has 53 ISO weeks; the Monday of the last is 28 December."""
    found = bench_weeks([Standing(POT_18, date(2026, 12, 30), date(2027, 1, 12))], [bench()])
    assert found.mondays == (date(2026, 12, 28), date(2027, 1, 4), date(2027, 1, 11))
    assert found.trays == (1, 1, 1)


def test_the_peak_is_the_first_fullest_week() -> None:
    found = bench_weeks(standings(2) + standings(2, late=1) + standings(1, late=3), [bench()])
    assert found.trays == (2, 4, 4, 5, 3, 1, 1)
    assert (found.benches[0].holds, found.peak_trays, found.peak_week) == (4, 5, date(2027, 3, 22))
    assert found.benches[0].over == (0, 0, 0, 1, 0, 0, 0)
    (notice,) = bench_notices(found)
    assert notice.text == (
        "the bench 'light shelf' is too full in week 2027-W12: of 5 trays in 2027-W12 it has no room for 1"
        " (it holds 4 trays of pot-18)"
    )


def test_a_bench_of_mixed_kinds_says_so() -> None:
    """It holds four flats of the main kind; smaller and larger ones stand there too, so four is no count of them."""
    wide = replace(POT_18, name="wide-18", rows=POT_18.rows + 1)
    mixed = [*standings(4), replace(standings(1)[0], kind=wide)]
    (notice,) = bench_notices(bench_weeks(mixed, [bench()]))
    assert notice.text.endswith("(kinds are mixed there; of pot-18 alone it holds 4)")


def test_a_bench_too_full_for_weeks_says_from_when_to_when() -> None:
    (notice,) = bench_notices(bench_weeks(standings(6, weeks=2), [bench()]))
    assert "is too full in 3 weeks, 2027-W09 to 2027-W11: of 6 trays in 2027-W09 it has no room for 2" in notice.text


def test_full_is_not_too_full() -> None:
    assert bench_notices(bench_weeks(standings(4), [bench()])) == ()


def test_benches_fill_in_the_order_of_the_plan() -> None:
    found = bench_weeks(standings(10, weeks=0), [bench("left"), bench("right"), bench("spare")])
    assert seen(found) == {"left": (4,), "right": (4,), "spare": (2,)}
    assert [use.holds for use in found.benches] == [4, 4, 4]


def test_a_place_that_is_a_bench_keeps_its_own_trays() -> None:
    trays = standings(5, weeks=0, place="Heat Mats") + standings(3, weeks=0, place="greenhouse")
    found = bench_weeks(trays, [bench("heat mats"), bench("slats")])
    assert seen(found) == {"heat mats": (5,), "slats": (3,)}
    assert [use.over for use in found.benches] == [(1,), (0,)]


def test_trays_of_a_place_without_a_bench_are_not_squeezed_in() -> None:
    trays = standings(4, weeks=0, place="shelf") + standings(9, weeks=0, place="field")
    found = bench_weeks(trays, [bench("shelf")])
    assert seen(found) == {"shelf": (4,)}
    assert found.trays == (13,)
    assert bench_notices(found) == ()


def test_kinds_mix_by_the_room_they_take() -> None:
    """A shelf of 1200 x 600 mm holds 4 flats or 15 x 7 = 105 loose pots of 76 mm: 3 flats leave room for 26 pots."""
    assert trays_on_shelf(1200, 600, POT_3IN) == 105
    fits = bench_weeks(standings(3) + standings(26, POT_3IN), [bench()])
    assert bench_notices(fits) == ()
    over = bench_weeks(standings(3) + standings(27, POT_3IN), [bench()])
    assert over.benches[0].over[0] == 1


def test_the_share_of_a_bench_that_is_taken() -> None:
    """Of the shelf above 3 of 4 flats, 21 of 105 pots; then 5 flats, one more than it holds."""
    (use,) = bench_weeks(standings(3, weeks=1) + standings(21, POT_3IN, weeks=0), [bench()]).benches
    assert (use.filled, use.filled_over, use.mixed, use.peak_filled) == ((0.95, 0.75), (0, 0), True, 0.95)
    (full,) = bench_weeks(standings(5, weeks=0), [bench()]).benches
    assert (full.filled, full.filled_over, full.mixed) == ((1.25,), (0.25,), False)


def test_the_fullest_week_is_the_one_with_least_room_left_not_with_most_trays() -> None:
    found = bench_weeks(standings(30, POT_3IN, weeks=0) + standings(3, weeks=0, late=1), [bench()])
    assert found.trays == (30, 3)
    assert (found.benches[0].peak_trays, found.benches[0].peak_week) == (3, date(2027, 3, 8))


def test_the_most_that_trays_take_at_once() -> None:
    found = bench_weeks(standings(2, weeks=0) + standings(3, weeks=0, late=1), [])
    assert found.peak_m2 == pytest.approx(3 * 0.540 * 0.279)


def test_a_bench_smaller_than_a_tray_is_told_of() -> None:
    shelf = Bench("sill", 500, 200, 1, line=14)
    (notice,) = bench_notices(bench_weeks(standings(1), [shelf]))
    assert notice.line == 14
    assert notice.text == "the bench 'sill' (500 x 200 mm) is too small for a pot-18 tray (540 x 279 mm)"


def test_without_trays_or_benches_there_is_nothing_to_say() -> None:
    empty = bench_weeks([], [bench()])
    assert (empty.mondays, empty.peak_trays, empty.peak_week, empty.benches[0].holds) == ((), 0, None, 0)
    assert bench_notices(empty) == ()
    assert bench_weeks(standings(3), []).peak_trays == 3


def test_mix_is_the_cells_and_what_pressing_takes() -> None:
    """72 cells x 45 ml = 3.24 l, and 15 % (common practice, no source): 3.726 l."""
    assert mix_litres(72, 45) == pytest.approx(3.726)
    assert reckon(plan(sowing(trays=1, tray=CELL_72))).batches[0].mix_litres == pytest.approx(3.726)


def test_a_cubic_foot_is_exactly_28_316846592_litres() -> None:
    """International yard and pound agreement, 1959: 1 ft = 0.3048 m."""
    assert cubic_feet(28.316846592) == 1
    assert cubic_feet(0.3048**3 * 1000) == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize(
    ("method", "cells", "minutes"), [(Method.SINGLE, 200, 15), (Method.CLUMP, 18, 2), (Method.STATIONS, 72, 16.2)]
)
def test_usual_minutes(method: Method, cells: int, minutes: float) -> None:
    """Common practice, no source: 200 single cells in 15 minutes, 18 clumps in 2; a station as a single cell."""
    assert seconds_a_cell(method, 3, Pace()) * cells / 60 == pytest.approx(minutes)


def test_the_growers_own_pace_goes_before() -> None:
    pace = Pace(single_s=3, clump_s=5, stations_s=11)
    assert [seconds_a_cell(method, 3, pace) for method in Method] == [3, 5, 11]
    assert seconds_a_cell(Method.STATIONS, 3, Pace(single_s=2)) == 6


def test_helpers_share_a_sowing_day() -> None:
    both = sowing(trays=1, repeat=Repeat(7, 2)), sowing(TOMATO, "single", trays=1, tray=CELL_200)
    found = reckon(plan(*both))
    first, second = date(2027, 3, 6), date(2027, 3, 13)
    assert minutes_by_day(found.batches) == pytest.approx({first: 17, second: 2})
    assert minutes_by_day(found.batches, helpers=4) == pytest.approx({first: 4.25, second: 0.5})
    assert list(minutes_by_day(reversed(found.batches))) == [first, second]


def test_totals_by_hand() -> None:
    """Two flats: 18 clumps of 25 onions, and 72 cells with 3 x 2 beet clusters.

    Seeds 450 + 432; grams 450/340 + 432/60; mix (18 x 0.5 + 72 x 0.045) x 1.15; 2 + 16.2 minutes; 2 x 0.540 x 0.279 m2.
    """
    onion = sowing(cells=18, seeds_per_cell=25)
    beet = sowing(BEET, "stations", trays=1, seeds_per_station=2, tray=CELL_72)
    found = totals(reckon(plan(onion, beet)).batches, [POT_18, CELL_72])
    assert found == Totals(
        trays=2,
        cells=90,
        seeds=882,
        seeds_spare=0,
        seed_grams=pytest.approx(8.523529411764706),
        unweighed=0,
        mix_litres=pytest.approx(14.076),
        bench_m2=pytest.approx(0.30132),
        minutes=pytest.approx(18.2),
    )
    assert found.mix_cubic_feet == pytest.approx(14.076 / 28.316846592)


def test_totals_say_what_was_not_weighed() -> None:
    unknown = sowing(crop("Sea kale"), seeds_per_cell=4, spare=0.5)
    found = totals(reckon(plan(unknown)).batches, [POT_18])
    assert (found.seed_grams, found.unweighed, found.seeds, found.seeds_spare) == (None, 1, 4, 2)
    both = totals(reckon(plan(unknown, sowing(BEET, "clump", seeds_per_cell=60))).batches, [POT_18])
    assert (both.seed_grams, both.unweighed) == (1.0, 1)


@pytest.mark.parametrize(
    ("one", "cells"),
    [
        (sowing(seeds=1500, seeds_per_cell=30), 1500),
        (sowing(BEET, "stations", cells=46, seeds_per_station=2), 138),
        (sowing(TOMATO, "single", cells=30, seeds_per_cell=2), 30),
    ],
)
def test_one_a_cell_takes_a_cell_for_every_place(one: Sowing, cells: int) -> None:
    """The stand stays the same binomial, so the same plants come of it."""
    found = reckon(plan(one)).batches
    other = compare(found, CELL_200, Pace())
    assert other.cells == cells
    seeds = 1 if one.method is Method.CLUMP else (found[0].seeds_per_station or found[0].seeds_per_cell).value
    alone = reckon(plan(sowing(one.crop, "single", cells=cells, seeds_per_cell=seeds))).batches[0]
    assert alone.plants_expected == pytest.approx(found[0].plants_expected)
    assert alone.plants_low == found[0].plants_low


def test_1500_onions_one_a_cell_are_eight_trays_against_three() -> None:
    """Common practice, no source. 8 x 0.540 x 0.279 m2; 1,500 cells at 4.5 s."""
    reckoned = reckon(plan(sowing(seeds=1500, seeds_per_cell=30), compare=CELL_200))
    found = plan_comparison(reckoned.plan, reckoned.batches)
    assert found is not None
    assert (found.tray, found.trays, found.cells) == (CELL_200, 8, 1500)
    assert found.bench_m2 == pytest.approx(8 * area_m2(CELL_200)) == pytest.approx(1.20528)
    assert found.minutes == pytest.approx(112.5)


def test_the_compared_trays_are_shared_as_the_plans_own() -> None:
    small = sowing(cells=2, seeds_per_cell=30)
    days = reckon(plan(small, small, sowing(cells=2, seeds_per_cell=30, place="mat"))).batches
    assert compare(days, CELL_200, Pace()).trays == 2
    alone = sowing(cells=2, seeds_per_cell=30, own_trays=True)
    assert compare(reckon(plan(alone, alone)).batches, CELL_200, Pace()).trays == 2


def test_a_plan_that_compares_with_nothing() -> None:
    assert plan_comparison(plan(sowing()), reckon(plan(sowing())).batches) is None
