"""Cells from amounts, spare and left-over seed, weight, packets, and the seed of the whole plan."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans import BEET, CELL_72, CELL_200, ONION, POT_18, TOMATO, crop, of_sowings, plan, sowing

from traysheets.base.units import GRAMS_PER_OUNCE
from traysheets.plan.model import Repeat, Sowing
from traysheets.reckon.amounts import spare_seeds, whole_cells
from traysheets.reckon.model import Batch, Reckoned, SeedNeed
from traysheets.reckon.reckon import reckon
from traysheets.reckon.seeds import packets_for, weight_grams
from traysheets.trade.crops import find_crop


def batch(one: Sowing) -> Batch:
    return reckon(plan(one)).batches[0]


def needs(*sowings: Sowing) -> tuple[SeedNeed, ...]:
    return reckon(plan(*sowings)).seed_needs


@pytest.mark.parametrize(
    ("one", "cells", "trays"),
    [
        (sowing(ONION, seeds=1500, seeds_per_cell=30), 50, 3),
        (sowing(ONION, seeds=1500, seeds_per_cell=20), 75, 5),
        (sowing(ONION, "single", seeds=1500, seeds_per_cell=1, tray=CELL_200), 1500, 8),
    ],
)
def test_1500_onion_seeds(one: Sowing, cells: int, trays: int) -> None:
    """Common practice, no source: three 18-pot flats at 30 a pot, five at 20, eight 200-cell trays one by one."""
    found = batch(one)
    assert found.cells == cells
    assert -(-found.cells // found.tray.cells) == trays
    assert (found.seeds_total, found.seeds_left) == (1500, 0)


def test_trays_are_whole_ones() -> None:
    assert batch(sowing(ONION, trays=2, tray=CELL_72)).cells == 144


def test_seeds_that_fill_no_cell_are_left_over() -> None:
    found = batch(sowing(ONION, seeds=1519, seeds_per_cell=30))
    assert (found.cells, found.seeds_total, found.seeds_left) == (50, 1500, 19)


def test_the_spare_comes_out_of_the_seeds_to_use_up() -> None:
    """By hand: 45 cells x 30 = 1,350 and a tenth of that 135, in all 1,485 of 1,500; 46 cells would take 1,518."""
    found = batch(sowing(ONION, seeds=1500, seeds_per_cell=30, spare=0.1))
    assert (found.cells, found.seeds_total, found.seeds_spare, found.seeds_left) == (45, 1350, 135, 15)


@pytest.mark.parametrize(("sown", "spare", "seeds"), [(30, 0.1, 3), (31, 0.1, 4), (100, 0.07, 7), (9, 0.0, 0)])
def test_spare_is_rounded_up_to_a_whole_seed_and_no_further(sown: int, spare: float, seeds: int) -> None:
    assert spare_seeds(sown, spare) == seeds


@given(st.integers(0, 100_000), st.integers(1, 60), st.sampled_from([0.0, 0.05, 0.1, 0.125, 1 / 3, 1.0]))
def test_whole_cells_are_all_that_the_seeds_fill(seeds: int, per_cell: int, spare: float) -> None:
    def taken(cells: int) -> int:
        return cells * per_cell + spare_seeds(cells * per_cell, spare)

    cells = whole_cells(seeds, per_cell, spare)
    assert taken(cells) <= seeds < taken(cells + 1)


@pytest.mark.parametrize(
    ("name", "seeds_per_gram"),
    [("Onion", 340), ("Beet", 60), ("Lettuce", 890), ("Tomato", 405), ("Leek", 395), ("Cucumber", 40)],
)
def test_weight_goes_by_seeds_per_gram_of_7_cfr_201_46(name: str, seeds_per_gram: int) -> None:
    """7 CFR 201.46, table 1: approximate number of seeds per gram (2015 annual edition)."""
    known = find_crop(name)
    assert known is not None
    weight = weight_grams(1000, known)
    assert weight is not None
    assert weight.value == pytest.approx(1000 / seeds_per_gram)
    assert "7 CFR 201.46" in weight.origin


def test_an_ounce_of_onion_is_about_nine_and_a_half_thousand_seeds() -> None:
    """340 seeds a gram x 28.349523125 g (the exact avoirdupois ounce) = 9,639 seeds, as the table's reprints print."""
    weight = weight_grams(9639, ONION)
    assert weight is not None
    assert weight.value == pytest.approx(GRAMS_PER_OUNCE, rel=1e-4)


def test_seed_no_table_weighs_has_no_weight() -> None:
    assert batch(sowing(crop("Sea kale"))).seed_grams is None


def test_grams_and_packets_are_of_all_that_is_set_out() -> None:
    found = batch(sowing(BEET, "stations", cells=10, seeds_per_station=2, spare=0.5, packet=25))
    assert (found.seeds_total, found.seeds_spare, found.packets) == (60, 30, 4)
    assert found.seed_grams is not None
    assert found.seed_grams.value == pytest.approx(90 / 60)


@pytest.mark.parametrize(("seeds", "packet", "packets"), [(250, 250, 1), (251, 250, 2), (0, 250, 0), (9, None, None)])
def test_packets(seeds: int, packet: int | None, packets: int | None) -> None:
    assert packets_for(seeds, packet) == packets


def test_the_seed_of_a_tin_is_added_up_over_the_plan() -> None:
    first = sowing(ONION, cells=8, seeds_per_cell=25, lot="HB-1", on_hand=900, packet=250, repeat=Repeat(14, 4))
    other = sowing(TOMATO, "single", cells=30, seeds_per_cell=1, variety="Bramble Red")
    again = sowing(ONION, cells=10, seeds_per_cell=25, lot="HB-1", spare=0.1)
    onion, tomato = needs(first, other, again)
    assert (onion.seeds, onion.on_hand, onion.to_buy, onion.packets) == (4 * 200 + 275, 900, 175, 1)
    assert onion.batches == (0, 1, 2, 3, 5)
    assert onion.grams == pytest.approx(1075 / 340)
    assert (tomato.seeds, tomato.on_hand, tomato.to_buy, tomato.packets) == (30, None, 30, None)


def test_another_lot_or_variety_is_another_tin() -> None:
    found = needs(sowing(lot="A"), sowing(lot="B"), sowing(lot="A", variety="Ember"), sowing())
    assert [(need.lot, need.variety) for need in found] == [
        ("A", "Longstalk Winter"),
        ("B", "Longstalk Winter"),
        ("A", "Ember"),
        (None, "Longstalk Winter"),
    ]


def test_seed_to_use_up_is_not_bought() -> None:
    (need,) = needs(sowing(seeds=1500, seeds_per_cell=30), sowing(cells=2, seeds_per_cell=30))
    assert (need.seeds, need.on_hand, need.to_buy) == (1560, None, 60)


def test_more_on_hand_than_wanted_leaves_nothing_to_buy() -> None:
    (need,) = needs(sowing(cells=2, seeds_per_cell=30, on_hand=500, packet=100))
    assert (need.to_buy, need.packets) == (0, 0)


def told(*sowings: Sowing) -> Reckoned:
    return reckon(plan(*sowings))


def test_two_numbers_for_one_tin_are_told_of() -> None:
    found = told(sowing(lot="A", on_hand=900), sowing(lot="A", on_hand=300, line=9))
    assert found.seed_needs[0].on_hand == 900
    assert (
        "on_hand of lot A is given as 300 and 900; 900 is taken, for all sowings together" in of_sowings(found)[0].text
    )


def test_seed_that_is_short_is_told_of_with_the_packets() -> None:
    found = told(sowing(cells=50, seeds_per_cell=30, on_hand=1000, packet=250, lot="HB-2231", line=12))
    (notice,) = of_sowings(found)
    assert notice.line == 12
    assert notice.text == (
        "Onion, bulb 'Longstalk Winter': the plan takes 1,500 seeds of lot HB-2231 and 1,000 are on hand: 500 short,"
        " 2 x 250 seeds to buy"
    )


def test_treated_seed_stays_treated_in_the_list() -> None:
    assert needs(sowing(treated=True), sowing())[0].treated
    assert not needs(sowing(tray=POT_18))[0].treated
