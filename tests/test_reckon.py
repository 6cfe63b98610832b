"""A plan reckoned whole: order and successions, figures that can be traced by hand, and plans out of all reason."""

from datetime import date

import pytest
from plans import BEET, CELL_72, ONION, POT_18, TOMATO, crop, plan, sowing

from traysheets.base.errors import PlanError
from traysheets.base.limits import MOST_CELLS
from traysheets.plan.model import Repeat
from traysheets.reckon.model import Figure, Source
from traysheets.reckon.reckon import reckon
from traysheets.trade.crops import find_crop
from traysheets.trade.trays import built_in_trays


def test_batches_stand_in_plan_order_and_count_their_successions() -> None:
    first, second = sowing(ONION, repeat=Repeat(14, 3)), sowing(BEET, "stations")
    batches = reckon(plan(first, second)).batches
    assert [batch.index for batch in batches] == [0, 1, 2, 3]
    assert [(batch.succession, batch.successions) for batch in batches] == [(1, 3), (2, 3), (3, 3), (1, 1)]
    assert [batch.sow for batch in batches[:3]] == [date(2027, 3, 6), date(2027, 3, 20), date(2027, 4, 3)]
    assert batches[3].sowing is second


def test_an_empty_plan_takes_nothing() -> None:
    found = reckon(plan())
    assert (found.batches, found.seed_needs, found.notices) == ((), (), ())


def test_bunching_onion_in_clumps_traced_by_hand() -> None:
    """25 seeds in each of 8 pots at 85 %: 200 seeds, 200 x 0.85 = 170 plants on the mean; 200 / 374 g of seed.

    Emergence at 18 °C by the onion's row: 1 / (0.4 / 7 + 0.6 / 5) = 5.6 days, so from 0.8 to 1.4 of that, 4 to 8 days.
    """
    onion, pot = find_crop("Bunching onion"), built_in_trays()["pot-18"]
    assert onion is not None
    assert onion.seeds_per_gram is not None
    asked = sowing(onion, seeds_per_cell=25, cells=8, tray=pot, germination=0.85, soil_temp_c=18.0, cover_mm=6.0)
    found = reckon(plan(asked), date(2027, 1, 1))
    (batch,) = found.batches
    assert found.notices == ()
    assert (batch.seeds_total, batch.plants_expected, batch.stand_chance) == (200, pytest.approx(170), None)
    assert batch.plants_low == 163  # binom.ppf(0.1, 200, 0.85) = 163
    assert batch.germination == Figure(0.85, Source.TESTED)
    assert batch.cover_mm == Figure(6.0, Source.PLAN)
    assert batch.seed_grams is not None
    assert batch.seed_grams.value == pytest.approx(200 / onion.seeds_per_gram.value)
    assert batch.emergence is not None
    assert (batch.emergence.first, batch.emergence.last) == (date(2027, 3, 10), date(2027, 3, 14))
    assert batch.plant_out is not None
    assert (batch.plant_out.value, batch.plant_out_last) == (date(2027, 4, 17), date(2027, 5, 8))  # 6 to 9 weeks
    assert (batch.thin, batch.trim, batch.harden_off) == (None, None, date(2027, 4, 10))
    assert batch.mix_litres == pytest.approx(8 * 0.5 * 1.15)
    assert batch.seconds == pytest.approx(8 * 120 / 18)


def test_beet_in_stations_traced_by_hand() -> None:
    """120 plants at 65 % and 3 x 2: p = 0.8775, cell full 0.675680; 48 cells, 144 stations, mean 126.36.

    scipy: binom.sf(119, 144, 0.8775) = 0.967 and binom.sf(119, 141, 0.8775) = 0.870, so 48 cells are the fewest.
    """
    beet, cell = find_crop("Beetroot"), built_in_trays()["cell-72"]
    assert beet is not None
    asked = sowing(beet, "stations", plants=120, seeds_per_station=2, tray=cell, soil_temp_c=20.0)
    (batch,) = reckon(plan(asked)).batches
    assert (batch.cells, batch.stations, batch.seeds_total) == (48, 3, 288)
    assert batch.seeds_per_station == Figure(2, Source.PLAN)
    assert batch.seeds_per_cell.value == 6
    assert batch.plants_expected == pytest.approx(126.36)
    assert batch.plants_low == 121
    assert batch.stand_chance == pytest.approx(0.675680484375)
    assert (batch.germination.value, batch.germination.source) == (0.65, Source.LEGAL_MINIMUM)
    assert batch.germination_assumed
    assert batch.seed_grams is not None
    assert batch.seed_grams.value == pytest.approx(288 / 60)  # clusters: 7 CFR 201.46
    assert batch.emergence is not None
    assert (batch.emergence.first, batch.emergence.last) == (date(2027, 3, 10), date(2027, 3, 15))  # 6 days: 4.8, 8.4
    assert batch.thin == date(2027, 3, 22)  # 6 + 10 days
    assert batch.mix_litres == pytest.approx(48 * 0.045 * 1.15)
    assert batch.seconds == pytest.approx(48 * 3 * 4.5)


def test_tomato_one_a_cell_traced_by_hand() -> None:
    """30 plants at the legal minimum of 75 %, two seeds a cell: p = 0.9375; 34 cells bring 30 or more at 90 %.

    scipy: binom.sf(29, 34, 0.9375) = 0.943 and binom.sf(29, 33, 0.9375) = 0.847.
    """
    tomato = find_crop("Tomato")
    assert tomato is not None
    asked = sowing(tomato, "single", plants=30, tray=built_in_trays()["cell-72"], sow=None, plant_out=date(2027, 5, 15))
    (batch,) = reckon(plan(asked)).batches
    assert (batch.cells, batch.seeds_per_cell.value, batch.seeds_per_cell.source) == (34, 2, Source.RECKONED)
    assert batch.stand_chance == pytest.approx(0.9375)
    assert batch.sow == date(2027, 3, 27)  # 6 to 8 weeks: 7 back
    assert batch.plant_out == Figure(date(2027, 5, 15), Source.PLAN)
    assert batch.harden_off == date(2027, 5, 8)
    assert batch.cover_mm is not None
    assert (batch.cover_mm.value, batch.cover_mm.source) == (6, Source.CROP_TABLE)  # of 6 to 8 mm the shallow end
    assert batch.seconds == pytest.approx(34 * 4.5)


def test_cover_of_seed_that_wants_light() -> None:
    lettuce = crop("Lettuce", light=True, cover_mm=(0, 3))
    celery = crop("Celery", light=True, surface=True, cover_mm=(0, 2))
    bare, light, none = reckon(plan(sowing(celery), sowing(lettuce), sowing(crop("Sea kale")))).batches
    assert bare.cover_mm is not None
    assert light.cover_mm is not None
    assert (bare.cover_mm.value, light.cover_mm.value, none.cover_mm) == (0, 2, None)


def test_all_problems_of_a_plan_are_told_at_once() -> None:
    too_few = sowing(ONION, seeds=10, seeds_per_cell=25, line=5)
    too_many = sowing(TOMATO, "single", plants=1_000_000, germination=0.001, line=9)
    huge = sowing(ONION, trays=50_000, tray=CELL_72, line=14)
    often = sowing(ONION, cells=300_000, repeat=Repeat(7, 2), line=20)
    with pytest.raises(PlanError) as caught:
        reckon(plan(too_few, sowing(BEET), too_many, huge, often))
    assert [str(problem) for problem in caught.value.problems] == [
        "plan.toml:5: Onion, bulb 'Longstalk Winter': 10 seeds do not fill a cell, which takes 25;"
        " sow fewer a cell, or give more",
        "plan.toml:9: Tomato 'Longstalk Winter': 1,000,000 plants would take more than 500,000 cells,"
        " the most that a sowing may have",
        "plan.toml:14: Onion, bulb 'Longstalk Winter': 50,000 trays would take more than 500,000 cells,"
        " the most that a sowing may have",
        "plan.toml:20: Onion, bulb 'Longstalk Winter': 300,000 cells, 2 times, would take more than 500,000 cells,"
        " the most that a sowing may have",
    ]


def test_seed_that_hardly_ever_comes_up_is_a_problem_not_a_crash() -> None:
    dead = {"germination": 1e-17, "seeds_per_cell": 1}
    with pytest.raises(PlanError, match="1 plant would take more than 500,000 cells"):
        reckon(plan(sowing(TOMATO, "single", plants=1, **dead)))
    (batch,) = reckon(plan(sowing(TOMATO, "single", cells=200, **dead))).batches
    assert (batch.plants_low, batch.stand_chance) == (0, 0)


def test_the_most_cells_a_sowing_may_have_are_reckoned() -> None:
    (batch,) = reckon(plan(sowing(ONION, cells=MOST_CELLS, seeds_per_cell=30))).batches
    assert batch.seeds_total == 30 * MOST_CELLS
    assert batch.plants_low < batch.plants_expected


def test_the_same_plan_gives_the_same_figures_in_any_order() -> None:
    one, two = sowing(ONION, plants=300), sowing(BEET, "stations", plants=120, tray=POT_18, line=9)
    forward, backward = reckon(plan(one, two)).batches, reckon(plan(two, one)).batches
    assert [batch.cells for batch in forward] == [batch.cells for batch in reversed(backward)]
