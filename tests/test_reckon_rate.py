"""How many seeds go in a cell, which germination is reckoned with, and where each of these comes from."""

import pytest
from plans import BEET, CELL_72, CELL_200, ONION, POT_3IN, POT_18, TOMATO, crop, sowing

from traysheets.plan.read import plan_from_toml
from traysheets.reckon.model import Figure, Source
from traysheets.reckon.rate import clump_seeds, crowding, germination, pots_3in, rate
from traysheets.reckon.reckon import reckon
from traysheets.reckon.seen import Count, seen
from traysheets.trade.crops import GENERAL_MINIMUM, Fact, find_crop
from traysheets.trade.trays import Tray, built_in_trays


def test_a_tested_germination_goes_before_any_minimum() -> None:
    assert germination(sowing(ONION, germination=0.85)) == Figure(0.85, Source.TESTED)


def test_what_the_book_has_seen_is_said_as_such() -> None:
    shown = seen([Count(100, 1, 81)])
    found = germination(sowing(ONION, germination_seen=True), shown)
    assert found == Figure(0.81, Source.SEEN, "81 % seen in 1 batch, 72 to 87 %")


def test_what_the_book_has_seen_is_taken_only_where_the_plan_asks() -> None:
    shown = seen([Count(100, 1, 81)])
    assert germination(sowing(ONION), shown).source is Source.LEGAL_MINIMUM
    assert germination(sowing(ONION, germination=0.85), shown) == Figure(0.85, Source.TESTED)
    assert germination(sowing(ONION, germination_seen=True), None).source is Source.LEGAL_MINIMUM


@pytest.mark.parametrize(("name", "minimum"), [("Onion", 0.70), ("Beet", 0.65), ("Carrot", 0.55), ("Tomato", 0.75)])
def test_the_federal_minimum_is_7_cfr_201_31(name: str, minimum: float) -> None:
    known = find_crop(name)
    assert known is not None
    found = germination(sowing(known))
    assert (found.value, found.source) == (minimum, Source.LEGAL_MINIMUM)
    assert "7 CFR 201.31" in found.origin


def test_a_state_minimum_where_the_federal_table_is_silent() -> None:
    basil = find_crop("Basil")
    assert basil is not None
    assert germination(sowing(basil)).source is Source.STATE_MINIMUM


def test_the_general_minimum_for_a_crop_no_table_lists() -> None:
    found = germination(sowing(crop("Sea kale")))
    assert found == Figure(GENERAL_MINIMUM.value, Source.GENERAL_MINIMUM, GENERAL_MINIMUM.origin)
    assert found.value == 0.5, "New Hampshire Agr 2203.01: other vegetables and herbs, 50 %"


@pytest.mark.parametrize(
    ("figure", "found"),
    [
        ("germination = 0.6", Figure(0.6, Source.OWN_MINIMUM, "plan file")),
        ('like = "Basil"\ngermination = 0.6', Figure(0.6, Source.OWN_MINIMUM, "plan file")),
        ("", Figure(GENERAL_MINIMUM.value, Source.GENERAL_MINIMUM, GENERAL_MINIMUM.origin)),
    ],
)
def test_a_figure_of_the_growers_own_is_not_called_legal(figure: str, found: Figure[float]) -> None:
    head = f'[[crop]]\nname = "Oca"\n{figure}\n[[sowing]]\ncrop = "Oca"\nvariety = "Red"\n'
    plan = plan_from_toml(f'{head}tray = "cell-72"\ncells = 4\nsow = 2027-03-06\n', "plan.toml")
    assert germination(plan.sowings[0]) == found
    assert reckon(plan).batches[0].germination_assumed


def test_a_crop_of_the_growers_own_keeps_the_minimum_of_the_one_it_is_like() -> None:
    head = '[[crop]]\nname = "Oca"\nlike = "Basil"\n[[sowing]]\ncrop = "Oca"\nvariety = "Red"\n'
    plan = plan_from_toml(f'{head}tray = "cell-72"\ncells = 4\nsow = 2027-03-06\n', "plan.toml")
    assert germination(plan.sowings[0]).source is Source.STATE_MINIMUM


@pytest.mark.parametrize(
    ("tray", "seeds"),
    [
        (POT_3IN, 25),  # the middle of 20 to 30, the common practice for a 3 in pot
        (POT_18, 35),  # 25 x 86^2 / 73^2 = 34.7
        (CELL_72, 6),  # 25 x 39^2 / 73^2 = 7.1, but 6 is the most in a plug
        (CELL_200, 2),  # 25 x 22.5^2 / 73^2 = 2.4
    ],
)
def test_onion_clumps_go_by_the_area_of_the_top(tray: Tray, seeds: int) -> None:
    found = clump_seeds(ONION, tray)
    assert (found.value, found.source) == (seeds, Source.CROP_TABLE)


def test_a_clump_has_one_seed_at_least() -> None:
    tiny = built_in_trays()["cell-512"]
    assert clump_seeds(crop(clump_seeds_3in=(5, 15)), tiny).value == 1


def test_a_pot_is_measured_against_the_tray_table() -> None:
    assert pots_3in(built_in_trays()["pot-3in"]) == 1


def test_a_crop_known_for_plugs_is_sown_no_thicker_in_a_pot() -> None:
    spinach = crop("Spinach", clump_seeds_cell=(3, 5))
    assert clump_seeds(spinach, CELL_72).value == clump_seeds(spinach, POT_18).value == 4


def test_a_clump_of_a_crop_no_table_has_in_clumps() -> None:
    assert clump_seeds(crop("Cucumber"), POT_18) == Figure(3, Source.COMMON_PRACTICE)


def test_stations_take_the_fewest_seeds_that_reach_the_confidence() -> None:
    found = rate(sowing(BEET, "stations", germination=0.65, confidence=0.9))
    assert found.seeds_per_station == Figure(3, Source.RECKONED)  # 1 - 0.35^2 = 0.8775, 1 - 0.35^3 = 0.957
    assert found.seeds_per_cell.value == 9
    assert found.stations == 3
    easier = rate(sowing(BEET, "stations", germination=0.65, confidence=0.8))
    assert easier.seeds_per_station == Figure(2, Source.RECKONED)


def test_what_the_plan_says_is_what_is_sown() -> None:
    assert rate(sowing(BEET, "stations", seeds_per_station=7, stations=2)).seeds_per_cell.value == 14
    assert rate(sowing(ONION, seeds_per_cell=25)).seeds_per_cell == Figure(25, Source.PLAN)
    assert rate(sowing(TOMATO, "single", seeds_per_cell=1)).seeds_per_cell == Figure(1, Source.PLAN)


def test_stations_not_told_are_the_crops_own_or_three() -> None:
    assert rate(sowing(BEET, "stations", stations=None)).stations == 3
    two = crop("Chervil", stations=Fact(2, "a table"))
    assert rate(sowing(two, "stations", stations=None)).stations == 2
    assert rate(sowing(crop("Chervil"), "stations", stations=None)).stations == 3


@pytest.mark.parametrize(("chance", "seeds"), [(0.95, 1), (0.7, 2), (0.4, 2)])
def test_a_single_cell_takes_the_fewest_inside_the_usual_range(chance: float, seeds: int) -> None:
    """Tomato: 1 to 2 a cell in the crop table, so never more than 2 however poor the seed."""
    assert rate(sowing(TOMATO, "single", germination=chance)).seeds_per_cell.value == seeds


def test_a_single_cell_of_a_crop_without_a_range_takes_up_to_four() -> None:
    assert rate(sowing(crop("Sea kale"), "single", germination=0.5)).seeds_per_cell.value == 4


def test_what_is_usual_in_a_cell_follows_its_top() -> None:
    assert crowding(ONION, POT_3IN) == 30
    assert crowding(ONION, POT_18) == 41  # 30 x 86^2 / 73^2 = 41.6
    assert crowding(ONION, CELL_200) == 6  # as many as are usual in a plug
    assert crowding(crop("Sea kale"), CELL_200) == 2  # 30 x 22.5^2 / 73^2 = 2.8
