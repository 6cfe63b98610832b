"""Chances of a stand: the binomial against scipy in both directions, published worked examples, and the boundary."""

import random

import pytest
from scipy.stats import binom

from traysheets.plan.model import Method
from traysheets.reckon.binomial import SLACK, at_least, fewest_groups, most_reached, reaches
from traysheets.reckon.stand import Stand, cell_full, fewest_seeds, stand, stand_chance, station_filled


def cases(number: int, most_trials: int) -> list[tuple[int, float, int]]:
    """Trials, chance, and a number near enough the mean for its tail to say something, and now and then far off."""
    chosen = random.Random(7)
    found = []
    for _ in range(number):
        trials = round(most_trials ** chosen.random())
        chance = chosen.choice([chosen.uniform(0.01, 0.999), 0.5, 0.9, 0.99, 0.9999, 1.0])
        spread = (trials * chance * (1 - chance)) ** 0.5 * chosen.choice([1, 3, 8]) + 1
        found.append((trials, chance, min(trials + 1, max(0, round(chosen.gauss(trials * chance, spread))))))
    return found


@pytest.mark.parametrize(("number", "most_trials"), [(400, 500), (200, 100_000)])
def test_tails_are_those_of_scipy(number: int, most_trials: int) -> None:
    for trials, chance, wanted in cases(number, most_trials):
        exact = binom.sf(wanted - 1, trials, chance)
        assert at_least(trials, chance, wanted) == pytest.approx(exact, rel=1e-9, abs=1e-11), (trials, chance, wanted)


@pytest.mark.parametrize("chance", [0.5, 0.7, 0.99])
def test_ten_million_trials_are_still_exact(chance: float) -> None:
    trials = 10_000_000
    wanted = round(trials * chance) - 700
    assert at_least(trials, chance, wanted) == pytest.approx(binom.sf(wanted - 1, trials, chance), abs=1e-11)


def test_cells_for_plants_are_the_fewest_by_scipy() -> None:
    chosen = random.Random(11)
    for _ in range(300):
        group, chance = chosen.choice([1, 2, 3, 9, 25]), chosen.uniform(0.2, 0.995)
        wanted, confidence = chosen.randint(1, 800), chosen.choice([0.5, 0.8, 0.9, 0.95, 0.999])
        groups = fewest_groups(group, chance, wanted, confidence)
        assert binom.sf(wanted - 1, groups * group, chance) >= confidence - SLACK
        assert binom.sf(wanted - 1, (groups - 1) * group, chance) < confidence - SLACK


def test_plants_reached_are_the_most_by_scipy() -> None:
    chosen = random.Random(13)
    for _ in range(300):
        trials, chance = chosen.randint(1, 4000), chosen.uniform(0.05, 0.999)
        confidence = chosen.choice([0.5, 0.8, 0.9, 0.95, 0.999])
        low = most_reached(trials, chance, confidence)
        assert binom.sf(low - 1, trials, chance) >= confidence - SLACK
        assert binom.sf(low, trials, chance) < confidence - SLACK


def test_there_and_back_reaches_what_was_wanted() -> None:
    for plants in (1, 7, 120, 5000):
        places = Stand(3, 0.8775)
        cells = places.cells_for(plants, 0.9)
        assert places.low(cells, 0.9) >= plants > places.low(cells - 1, 0.9)


def test_a_sowing_of_a_million_cells_is_found_exactly() -> None:
    plants = 850_000
    cells = fewest_groups(1, 0.85, plants, 0.9)
    assert binom.sf(plants - 1, cells, 0.85) >= 0.9 > binom.sf(plants - 1, cells - 1, 0.85)


def test_nothing_wanted_is_certain_and_more_than_all_is_impossible() -> None:
    assert at_least(10, 0.5, 0) == 1.0
    assert at_least(10, 0.5, 11) == 0.0
    assert at_least(10, 1.0, 10) == 1.0
    assert most_reached(12, 1.0, 0.9) == 12
    assert fewest_groups(3, 1.0, 7, 0.9) == 3
    assert most_reached(1, 0.3, 0.9) == 0


@pytest.mark.parametrize(
    ("germination", "seeds", "filled"),
    [
        (0.75, 4, 0.99609375),  # "at least one" with p = 3/4 and n = 4: 255/256, a textbook example of probability
        (2 / 3, 2, 8 / 9),  # 1 - (1/3)^2, likewise
        (0.9, 2, 0.99),
        (0.5, 1, 0.5),
        (1.0, 3, 1.0),
    ],
)
def test_station_filled_by_worked_examples(germination: float, seeds: int, filled: float) -> None:
    assert station_filled(germination, seeds) == pytest.approx(filled, abs=1e-15)


@pytest.mark.parametrize(
    ("germination", "seeds", "exactly"),
    [(0.9, 2, 0.99), (0.7, 2, 0.91), (0.2, 3, 0.488), (0.95, 2, 0.9975), (0.6, 3, 0.936)],
)
def test_a_chance_that_is_exactly_the_one_wanted_reaches_it(germination: float, seeds: int, exactly: float) -> None:
    """By hand: 1 - 0.1^2 = 0.99 and so on; floats give a hair less for all but the first."""
    filled = station_filled(germination, seeds)
    assert filled <= exactly
    assert reaches(filled, exactly)
    assert fewest_seeds(germination, exactly, 1, 4) == seeds
    assert fewest_groups(1, filled, 1, exactly) == 1
    assert most_reached(1, filled, exactly) == 1
    assert not reaches(filled, exactly + 1e-6)


@pytest.mark.parametrize(("germination", "seeds"), [(0.95, 1), (0.9, 1), (0.89, 2), (0.68, 3), (0.5, 4), (0.1, 4)])
def test_fewest_seeds_that_reach_nine_in_ten(germination: float, seeds: int) -> None:
    """By hand: 1 - 0.32^2 = 0.8976 and 1 - 0.32^3 = 0.967; 1 - 0.5^4 = 0.9375; at 0.1 not even four do."""
    assert fewest_seeds(germination, 0.9, 1, 4) == seeds


def test_a_cell_of_three_stations_with_two_beet_clusters() -> None:
    """By hand: 1 - 0.35^2 = 0.8775; 0.8775^3 = 0.675680484375; 10 cells bring 30 x 0.8775 = 26.325 plants."""
    places = stand(Method.STATIONS, 0.65, 2, 3)
    assert places.chance == pytest.approx(0.8775)
    assert stand_chance(Method.STATIONS, places) == pytest.approx(0.675680484375)
    assert cell_full(0.8775, 3) == pytest.approx(0.675680484375)
    assert places.expected(10) == pytest.approx(26.325)
    assert places.low(10, 0.9) == binom.ppf(0.1, 30, 0.8775)


def test_a_clump_counts_every_seed_and_a_single_cell_one_plant() -> None:
    clump = stand(Method.CLUMP, 0.7, 30, 1)
    assert (clump.places, clump.chance, stand_chance(Method.CLUMP, clump)) == (30, 0.7, None)
    single = stand(Method.SINGLE, 0.7, 2, 1)
    assert single.places == 1
    assert stand_chance(Method.SINGLE, single) == pytest.approx(0.91)
