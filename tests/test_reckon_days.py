"""Days of a batch: emergence by the handbook table, forward and back, over leap days, year ends and ISO weeks."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from plans import BEET, CELL_72, ONION, TOMATO, crop, of_sowings, plan, points, sowing

from traysheets.base.days import iso_week, parse_day
from traysheets.base.errors import PlanError
from traysheets.plan.model import Repeat, Sowing
from traysheets.reckon.days import raising_days
from traysheets.reckon.emergence import days_to_emergence, what_the_table_lacks, window_days
from traysheets.reckon.model import Batch, Figure, Source
from traysheets.reckon.reckon import reckon
from traysheets.trade.crops import EmergencePoint, crops, find_crop

HANDBOOK = "Harrington and Minges 1954, days to emergence from 13 mm, as reprinted after Knott 1997"


def batch(one: Sowing, **of_plan: object) -> Batch:
    return reckon(plan(one, **of_plan)).batches[0]


def table(name: str) -> tuple[EmergencePoint, ...]:
    known = find_crop(name)
    assert known is not None
    assert known.emergence is not None
    return known.emergence.value


@pytest.mark.parametrize(
    ("name", "temp_c", "days"),
    [
        ("Onion", 0, 136),
        ("Onion", 10, 13),
        ("Onion", 20, 5),
        ("Lettuce", 25, 2),
        ("Tomato", 10, 43),
        ("Beet", 5, 42),
        ("Carrot", 15, 10),
        ("Pepper", 15, 25),
        ("Parsnip", 20, 14),
        ("Cucumber", 25, 4),
        ("Spinach", 5, 23),
        ("Okra", 40, 7),
    ],
)
def test_at_its_own_temperatures_the_table_says_its_own_days(name: str, temp_c: float, days: float) -> None:
    assert days_to_emergence(table(name), temp_c) == days, HANDBOOK


def test_every_day_of_every_crop_comes_back() -> None:
    found = [crop.emergence.value for crop in crops().values() if crop.emergence]
    assert len(found) > 20
    for known in found:
        for point in known:
            assert days_to_emergence(known, point.temp_c) == point.days


@pytest.mark.parametrize(
    ("name", "temp_c", "days"),
    [
        ("Onion", 12.5, 9.1),  # the mean of 1/13 and 1/7 is 10/91; the mean of the days would be 10
        ("Onion", 18, 5.64516),  # 0.4 of 1/7 and 0.6 of 1/5 = 0.17714
        ("Onion", 16, 6.48148),  # 0.8 of 1/7 and 0.2 of 1/5 = 0.154286
        ("Tomato", 12, 23.51562),  # 0.6 of 1/43 and 0.4 of 1/14 = 0.042525
    ],
)
def test_between_its_temperatures_the_rate_is_interpolated(name: str, temp_c: float, days: float) -> None:
    assert days_to_emergence(table(name), temp_c) == pytest.approx(days, rel=1e-5)


def test_days_fall_steadily_between_two_temperatures() -> None:
    steps = [days_to_emergence(table("Onion"), 10 + step / 10) for step in range(51)]
    assert all(a > b for a, b in pairwise(steps) if a and b)
    assert (steps[0], steps[-1]) == (13, 7)


@pytest.mark.parametrize(
    ("temp_c", "why"),
    [
        (-1, "the emergence table goes from 0 to 40 °C"),
        (41, "the emergence table goes from 0 to 40 °C"),
        (5, "nothing came up at 5 °C in the emergence table"),
        (7.5, "nothing came up at 5 °C in the emergence table"),
        (38, "nothing came up at 40 °C in the emergence table"),
    ],
)
def test_outside_the_table_nothing_is_guessed(temp_c: float, why: str) -> None:
    assert days_to_emergence(table("Tomato"), temp_c) is None
    assert what_the_table_lacks(table("Tomato"), temp_c) == why


def test_a_temperature_never_tested_is_not_called_barren() -> None:
    assert what_the_table_lacks(table("Cabbage"), 37) == "the emergence table has no days for 35 °C"


def test_the_grower_is_told_what_the_table_lacks() -> None:
    (cold, lacking) = reckon(plan(sowing(TOMATO, "single", seeds_per_cell=2, soil_temp_c=7.5, line=4))).notices
    assert "a soil of 7.5 °C is cold for Tomato; 20 to 29 °C suits it" in cold.text
    assert "cannot be said: nothing came up at 5 °C in the emergence table" in lacking.text
    assert (cold.line, lacking.line) == (4, 4)


def test_crops_not_in_the_table_have_no_emergence_and_are_told_of_once() -> None:
    basil, chives = find_crop("Basil"), find_crop("Chives")
    assert basil is not None
    assert chives is not None
    assert batch(sowing(basil)).emergence is None
    (notice,) = reckon(plan(sowing(basil, soil_temp_c=22.0), sowing(chives), sowing(basil))).notices
    assert notice.text == "when seedlings come up cannot be said: the emergence table has no Basil, Chives"


def test_many_crops_not_in_the_table_are_counted_not_listed() -> None:
    names = ("Basil", "Chives", "Dill", "Coriander", "Thyme", "Oregano", "Zinnia")
    found = [crop for name in names if (crop := find_crop(name))]
    five, seven = (reckon(plan(*(sowing(crop, soil_temp_c=21.0) for crop in found[:n]))).notices for n in (5, 7))
    start = "when seedlings come up cannot be said: the emergence table has no Basil, Chives, Dill, Coriander"
    assert f"{start}, Thyme" in {notice.text for notice in five}
    assert f"{start} and 3 more" in {notice.text for notice in seven}


def test_the_window_is_round_the_days_of_the_table() -> None:
    """0.8 and 1.4 of the days, a judgement; at 10 °C onions take 13 days: 10.4 and 18.2."""
    assert window_days(13) == (10, 19)
    assert window_days(5) == (4, 7)
    assert window_days(1) == (1, 2)
    found = batch(sowing(ONION, soil_temp_c=10.0)).emergence
    assert found is not None
    assert (found.first, found.last) == (date(2027, 3, 16), date(2027, 3, 25))
    assert (found.days, found.source, found.soil_c) == (13, Source.EMERGENCE_TABLE, Figure(10.0, Source.PLAN))


def test_without_a_soil_temperature_the_crops_own_middle_is_taken_and_said() -> None:
    found = batch(sowing(ONION)).emergence
    assert found is not None
    assert found.soil_c == Figure(23.5, Source.CROP_TABLE, "middle of 18 to 29 °C")
    assert found.days == pytest.approx(1 / (0.3 / 5 + 0.7 / 4), abs=0.05)


def test_every_crop_of_the_table_has_days_at_its_own_middle() -> None:
    for known in crops().values():
        found = batch(sowing(known, "single", seeds_per_cell=1)).emergence
        assert (found is None) == (known.emergence is None or known.soil_c is None), known.name


def test_planting_out_is_the_crops_weeks_after_sowing() -> None:
    found = batch(sowing(ONION))
    assert found.plant_out is not None
    assert (found.plant_out.value, found.plant_out.source) == (date(2027, 5, 1), Source.CROP_TABLE)  # 8 weeks
    assert found.plant_out_last == date(2027, 5, 29)  # 12 weeks
    assert found.harden_off == date(2027, 4, 24)


def test_back_from_a_planting_out_day_by_the_middle_of_the_weeks() -> None:
    """Onion 8 to 12 weeks: 10; beet 4 to 5: the middle is 4.5, rounded up to 5, so that the weekday stays."""
    assert (raising_days((8, 12)), raising_days((4, 5)), raising_days((8, 8))) == (70, 35, 56)
    found = batch(sowing(BEET, "stations", plant_out=date(2027, 5, 1)))
    assert found.sow == date(2027, 3, 27)
    assert found.plant_out == Figure(date(2027, 5, 1), Source.PLAN)
    assert found.plant_out_last == date(2027, 5, 1)


def test_back_from_the_last_frost() -> None:
    found = batch(sowing(TOMATO, "single", weeks_before_frost=7), last_frost=date(2027, 5, 5))
    assert found.sow == date(2027, 3, 17)


def test_back_over_a_leap_day_and_a_year_end() -> None:
    """2028 is a leap year: ten weeks before 20 March 2028 is 10 January, with 29 February between."""
    assert batch(sowing(ONION, plant_out=date(2028, 3, 20))).sow == date(2028, 1, 10)
    assert batch(sowing(ONION, plant_out=date(2027, 2, 1))).sow == date(2026, 11, 23)


def test_forward_over_a_leap_day() -> None:
    lettuce = crop("Lettuce", weeks_to_transplant=(3, 6))
    leap, common = (batch(sowing(lettuce, "single", sow=date(year, 2, 15))).plant_out for year in (2028, 2027))
    assert leap is not None
    assert common is not None
    assert (leap.value, common.value) == (date(2028, 3, 7), date(2027, 3, 8))


def test_week_53_of_2026_is_a_week_like_any_other() -> None:
    """ISO 8601: 2026 has 53 weeks, as 28 December 2026 is a Monday of week 53 (53-week years 2020, 2026, 2032)."""
    sow = parse_day("2026-W53")
    assert sow == date(2026, 12, 28)
    first, second, third = reckon(plan(sowing(ONION, sow=sow, repeat=Repeat(7, 3)))).batches
    assert [iso_week(one.sow) for one in (first, second, third)] == ["2026-W53", "2027-W01", "2027-W02"]


def test_successions_shift_every_day_alike() -> None:
    one, two, three = reckon(plan(sowing(BEET, "stations", plant_out=date(2027, 5, 1), repeat=Repeat(14, 3)))).batches
    fortnight = timedelta(days=14)
    assert [batch.succession for batch in (one, two, three)] == [1, 2, 3]
    assert {batch.successions for batch in (one, two, three)} == {3}
    assert (two.sow - one.sow, three.sow - two.sow) == (fortnight, fortnight)
    assert one.plant_out is not None
    assert two.plant_out == Figure(one.plant_out.value + fortnight, Source.PLAN)
    assert one.thin is not None
    assert two.thin == one.thin + fortnight
    assert one.emergence is not None
    assert two.emergence is not None
    assert two.emergence.first == one.emergence.first + fortnight


def test_thinning_is_ten_days_after_emergence_where_seeds_share_a_hole() -> None:
    """Beet at 10 °C takes 17 days: thinned 27 days after 6 March."""
    sown = {"soil_temp_c": 10.0, "tray": CELL_72}
    assert batch(sowing(BEET, "stations", seeds_per_station=2, **sown)).thin == date(2027, 4, 2)
    assert batch(sowing(BEET, "single", seeds_per_cell=2, **sown)).thin == date(2027, 4, 2)
    assert batch(sowing(BEET, "stations", seeds_per_station=1, **sown)).thin is None
    assert batch(sowing(BEET, "single", seeds_per_cell=1, **sown)).thin is None
    assert batch(sowing(BEET, "clump", seeds_per_cell=4, **sown)).thin is None
    assert batch(sowing(crop("Sea kale"), "stations", seeds_per_station=3)).thin is None, "emergence is not known"


def test_alliums_that_stay_long_are_trimmed_at_six_weeks() -> None:
    assert batch(sowing(ONION)).trim == date(2027, 4, 17)
    assert batch(sowing(BEET)).trim is None
    early = crop("Bunching onion", trim=True, weeks_to_transplant=(5, 6))
    assert batch(sowing(early)).trim is None
    assert batch(sowing(crop("Wild leek", trim=True))).trim is None, "no table says how long it stays"


FROST = date(2027, 5, 5)
TENDER = crop("Tomato", tender=True, weeks_to_transplant=(6, 8), germination_minimum=0.9)


def test_a_tender_crop_waits_for_the_last_frost() -> None:
    """Common practice, no source: sown on 6 March, it is ready after 6 to 8 weeks, from 17 April, and kept in."""
    found = batch(sowing(TENDER, "single", seeds_per_cell=1), last_frost=FROST)
    assert found.plant_out is not None
    assert (found.plant_out.value, found.plant_out.source) == (FROST, Source.LAST_FROST)
    assert found.plant_out_last == FROST
    assert found.harden_off == FROST - timedelta(days=7)
    back = batch(sowing(TENDER, "single", seeds_per_cell=1, weeks_before_frost=7), last_frost=FROST)
    assert back.plant_out is not None
    assert back.plant_out.value == FROST
    assert back.plant_out_last == date(2027, 5, 12)
    assert of_sowings(reckon(plan(sowing(TENDER, "single", seeds_per_cell=1), last_frost=FROST))) == ()


def test_successions_of_a_tender_crop_wait_only_as_long_as_they_must() -> None:
    often = sowing(TENDER, "single", seeds_per_cell=1, repeat=Repeat(14, 3))
    outs = [one.plant_out for one in reckon(plan(often, last_frost=FROST)).batches]
    assert [(out.value, out.source) for out in outs if out] == [
        (FROST, Source.LAST_FROST),
        (FROST, Source.LAST_FROST),
        (date(2027, 5, 15), Source.CROP_TABLE),
    ]


def test_a_crop_that_frost_does_not_kill_waits_for_nothing() -> None:
    hardy = batch(sowing(ONION), last_frost=FROST)
    assert hardy == batch(sowing(ONION))


def test_a_tender_crop_of_the_season_before_does_not_wait_a_year() -> None:
    summer = batch(sowing(TENDER, "single", seeds_per_cell=1, sow=date(2026, 6, 1)), last_frost=FROST)
    assert summer.plant_out is not None
    assert summer.plant_out.value == date(2026, 7, 13)


def test_a_tender_crop_planned_out_before_the_last_frost_is_told_of_and_kept() -> None:
    early = sowing(TENDER, "single", seeds_per_cell=1, plant_out=date(2027, 4, 28), line=6)
    found = reckon(plan(early, last_frost=FROST))
    assert found.batches[0].plant_out == Figure(date(2027, 4, 28), Source.PLAN)
    (notice,) = of_sowings(found)
    assert (notice.line, notice.text) == (
        6,
        "Tomato 'Longstalk Winter': planting out is planned for 2027-04-28; the last frost is reckoned with until"
        " 2027-05-05, and it kills Tomato",
    )


def test_hardening_off_needs_a_planting_out_day_and_a_week() -> None:
    assert batch(sowing(crop("Cress", weeks_to_transplant=(1, 2)))).harden_off is None
    assert batch(sowing(crop("Cress"))).harden_off is None


def test_a_sowing_without_a_day_says_what_is_wanted() -> None:
    lost = sowing(crop("Sea kale"), plant_out=date(2027, 5, 1), line=7)
    frostless = sowing(ONION, weeks_before_frost=8, line=3)
    with pytest.raises(PlanError) as caught:
        reckon(plan(frostless, lost))
    first, second = map(str, caught.value.problems)
    assert first == (
        "plan.toml:3: Onion, bulb 'Longstalk Winter': weeks_before_frost needs last_frost = DATE under [plan]"
    )
    assert second == (
        "plan.toml:7: Sea kale 'Longstalk Winter': no table gives the weeks from sowing to planting out for this crop;"
        " give sow = DATE instead"
    )


def test_days_beyond_the_calendar_are_a_problem_not_a_crash() -> None:
    with pytest.raises(PlanError, match="its days run past the year 9999; repeat it fewer times"):
        reckon(plan(sowing(ONION, sow=date(9998, 1, 1), repeat=Repeat(700, 3))))


def test_a_thinning_day_after_planting_out_is_told_of() -> None:
    # 0.1 of 1/17 and 0.9 of 1/42: 36.6 days, and ten more.
    cold = sowing(crop("Beet", emergence=points(None, 42, 17), weeks_to_transplant=(4, 5)), "stations", soil_temp_c=5.5)
    (notice,) = reckon(plan(cold)).notices
    assert (
        "the seedlings are not ready to be thinned before 2027-04-22, after planting out by 2027-04-10" in notice.text
    )


def test_sowing_after_planting_out_is_told_of() -> None:
    late = sowing(ONION, seeds_per_cell=25, sow=date(2027, 5, 2), plant_out=date(2027, 5, 1))
    hasty = sowing(ONION, seeds_per_cell=25, sow=date(2027, 4, 3), plant_out=date(2027, 5, 1))
    first, second = of_sowings(reckon(plan(late, hasty)))
    assert first.text.endswith("the sowing day 2027-05-02 is not before the planting-out day 2027-05-01")
    assert second.text.endswith(
        "from sowing on 2027-04-03 to planting out on 2027-05-01 are 4 weeks; the crop takes 8 to 12 weeks"
    )
