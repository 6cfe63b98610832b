"""What counts of seedlings say, held against scipy's binomial, the textbook's Wilson interval, and simulated seed."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.stats import binom, binomtest

from traysheets.plan.model import Method
from traysheets.reckon.seen import Count, Line, range_of, seen, sow_again, verdict
from traysheets.reckon.stand import stand

SHARES = st.floats(0.01, 0.99)


# ---- a count against what was expected


@given(places=st.integers(1, 400), filled=SHARES, part=st.floats(0, 1))
def test_the_chance_of_a_count_is_scipys_tail(places: int, filled: float, part: float) -> None:
    up = round(places * part)
    found = verdict(up, places, filled)
    tail = binom.sf(up - 1, places, filled) if up > places * filled else binom.cdf(up, places, filled)
    assert math.isclose(found.chance, tail, rel_tol=1e-6, abs_tol=1e-18)
    assert found.expected == pytest.approx(binom.mean(places, filled))


@given(places=st.integers(1, 400), filled=SHARES)
def test_the_range_leaves_at_most_one_in_forty_beyond_either_end(places: int, filled: float) -> None:
    low, high = range_of(places, filled, 0.025)
    assert binom.cdf(low - 1, places, filled) <= 0.025 + 1e-8
    assert binom.sf(high, places, filled) <= 0.025 + 1e-8
    assert binom.cdf(low, places, filled) > 0.025 - 1e-8, "a count more would be beyond"
    assert binom.sf(high - 1, places, filled) > 0.025 - 1e-8


def test_31_of_70_expected_is_low() -> None:
    found = verdict(31, 100, 0.7)
    assert (found.line, found.expected, found.low, found.high) == (Line.LOW, 70.0, 61, 79)


@pytest.mark.parametrize(
    ("up", "line"), [(60, Line.LOW), (61, Line.IN_LINE), (70, Line.IN_LINE), (79, Line.IN_LINE), (80, Line.HIGH)]
)
def test_inside_the_range_is_in_line(up: int, line: Line) -> None:
    assert verdict(up, 100, 0.7).line is line


def test_a_small_difference_is_in_line_however_many_were_counted() -> None:
    found = verdict(8200, 10_000, 0.85)
    assert found.chance < 1e-12
    assert found.line is Line.IN_LINE
    assert verdict(7900, 10_000, 0.85).line is Line.LOW


def test_before_all_can_be_up_few_are_early_and_many_are_high() -> None:
    assert verdict(10, 100, 0.7, complete=False).line is Line.EARLY
    assert verdict(70, 100, 0.7, complete=False).line is Line.EARLY
    assert verdict(90, 100, 0.7, complete=False).line is Line.HIGH


def test_certain_and_dead_seed() -> None:
    assert (verdict(20, 20, 1.0).line, verdict(20, 20, 1.0).chance) == (Line.IN_LINE, 1.0)
    assert (verdict(18, 20, 1.0).line, verdict(18, 20, 1.0).chance) == (Line.LOW, 0.0)
    assert (verdict(0, 20, 0.0).line, verdict(0, 20, 0.0).chance) == (Line.IN_LINE, 1.0)
    assert (verdict(3, 20, 0.0).line, verdict(3, 20, 0.0).chance) == (Line.HIGH, 0.0)


def test_more_than_the_places_is_high() -> None:
    found = verdict(130, 100, 0.9)
    assert (found.line, found.up) == (Line.HIGH, 130)


# ---- the germination of a lot


@given(places=st.integers(1, 2000), part=st.floats(0, 1))
def test_with_one_seed_a_place_it_is_wilsons_interval(places: int, part: float) -> None:
    up = round(places * part)
    found = seen([Count(places, 1, up)])
    assert found is not None
    scipys = binomtest(up, places).proportion_ci(0.95, method="wilson")
    assert found.germination == pytest.approx(up / places)
    assert (found.low, found.high) == pytest.approx((scipys.low, scipys.high), abs=1e-7)


@pytest.mark.parametrize(
    ("up", "places", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_newcombes_worked_examples_of_the_score_interval(up: int, places: int, low: float, high: float) -> None:
    """R. G. Newcombe (1998), Statistics in Medicine 17, 857-872, table I, method 3 (from memory)."""
    found = seen([Count(places, 1, up)])
    assert found is not None
    assert (found.low, found.high) == pytest.approx((low, high), abs=5e-5)


@given(places=st.integers(1, 500), part=st.floats(0, 1), seeds=st.integers(1, 4))
def test_with_more_seeds_a_place_it_is_that_of_the_filled_share_solved_for_g(
    places: int, part: float, seeds: int
) -> None:
    up = round(places * part)
    found, of_places = seen([Count(places, seeds, up)]), seen([Count(places, 1, up)])
    assert found is not None
    assert of_places is not None
    assert 1 - (1 - found.germination) ** seeds == pytest.approx(up / places)
    for own, filled in ((found.low, of_places.low), (found.high, of_places.high)):
        assert 1 - (1 - own) ** seeds == pytest.approx(filled, abs=1e-6)


def count(places: int, seeds: int, part: float) -> Count:
    return Count(places, seeds, round(places * part))


COUNTS = st.lists(st.builds(count, st.integers(1, 300), st.integers(1, 4), st.floats(0, 1)), min_size=1, max_size=5)


@given(COUNTS)
def test_the_pooled_germination_is_the_likeliest(counts: list[Count]) -> None:
    def unlikelihood(g: float) -> float:
        return -sum(float(binom.logpmf(c.up, c.places, 1 - (1 - g) ** c.seeds)) for c in counts)

    found = seen(counts)
    assert found is not None
    best = minimize_scalar(unlikelihood, bounds=(1e-9, 1 - 1e-9), method="bounded", options={"xatol": 1e-10})
    at = min(max(found.germination, 1e-9), 1 - 1e-9)
    assert unlikelihood(at) <= best.fun + 1e-5


@given(COUNTS)
def test_the_interval_holds_the_figure_and_the_order_of_batches_is_nothing(counts: list[Count]) -> None:
    found = seen(counts)
    assert found is not None
    assert 0 <= found.low <= found.germination + 1e-9
    assert found.germination <= found.high + 1e-9 <= 1 + 1e-8
    shares = [count.germination for count in counts]
    assert min(shares) - 1e-9 <= found.germination <= max(shares) + 1e-9
    again = seen(counts[::-1])
    assert again is not None
    assert (again.germination, again.low, again.high) == pytest.approx((found.germination, found.low, found.high))


def test_pooled_over_batches_of_one_seed_a_place_it_is_all_seedlings_over_all_seeds() -> None:
    counts = [Count(200, 1, 170), Count(100, 1, 76)]
    found = seen(counts)
    assert found is not None
    assert found.germination == pytest.approx(246 / 300)
    assert found.words == "82 % seen in 2 batches"
    assert found.origin == "82 % seen in 2 batches, 77 to 86 %"
    assert (found.batches, found.seeds) == (2, 300)
    assert [count.germination for count in counts] == pytest.approx([0.85, 0.76])


def test_the_interval_holds_the_truth_about_as_often_as_it_says() -> None:
    chance = random.Random(7)
    truth, sown = 0.8, ((40, 1), (30, 2), (20, 3))
    held = 0
    for _ in range(400):
        ups = [sum(chance.random() < 1 - (1 - truth) ** n for _ in range(places)) for places, n in sown]
        found = seen([Count(places, n, up) for (places, n), up in zip(sown, ups, strict=True)])
        assert found is not None
        held += found.low <= truth <= found.high
    assert 0.92 <= held / 400 <= 0.98


def test_nothing_counted_shows_nothing() -> None:
    assert seen([]) is None
    assert seen([Count(0, 1, 0)]) is None


def test_more_seedlings_than_seeds_are_all_of_them() -> None:
    found = seen([Count(50, 1, 90)])
    assert found is not None
    assert found.germination == 1.0


# ---- sowing again


def test_what_is_missing_is_sown_again_with_the_chance_wanted() -> None:
    cell = stand(Method.SINGLE, 0.6, 2, 1)
    again = sow_again(100, 80, cell, 2, 0.9, days_needed=35, days_left=50)
    assert again is not None
    assert again.cells is not None
    assert (again.missing, again.days_short) == (20, 0)
    assert again.seeds == 2 * again.cells
    filled = 1 - 0.4**2
    assert binom.sf(19, again.cells, filled) >= 0.9 > binom.sf(19, again.cells - 1, filled)


def test_too_late_is_said_in_days() -> None:
    again = sow_again(100, 80, stand(Method.CLUMP, 0.6, 25, 1), 25, 0.9, days_needed=56, days_left=37)
    assert again is not None
    assert again.days_short == 19


def test_without_a_day_of_planting_out_there_is_time_as_far_as_is_known() -> None:
    again = sow_again(100, 80, stand(Method.CLUMP, 0.6, 25, 1), 25, 0.9, None, None)
    assert again is not None
    assert again.days_short is None


def test_dead_seed_is_not_sown_again() -> None:
    again = sow_again(100, 0, stand(Method.CLUMP, 0.0, 25, 1), 25, 0.9, 10, 50)
    assert again is not None
    assert (again.missing, again.cells, again.seeds) == (100, None, None)


@pytest.mark.parametrize("up", [100, 101])
def test_when_none_is_missing_nothing_is_sown(up: int) -> None:
    assert sow_again(100, up, stand(Method.SINGLE, 0.6, 2, 1), 2, 0.9, 10, 50) is None
