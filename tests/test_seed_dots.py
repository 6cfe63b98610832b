"""Where seeds lie: counted, evenly spread, on regular figures. Distances are checked with scipy's own search trees."""

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import cKDTree

from traysheets.sheets.seed_dots import Ground, closest_mm, in_hole, spread, stations

DENSEST = math.sqrt(2 / math.sqrt(3))
"""Spacing of the densest packing of points, hexagonal (Thue, Toth), for one point a unit of area."""

sides = st.floats(5, 120)


def nearest(points):
    """Distance of every point to its nearest neighbour, by scipy."""
    tree = cKDTree(np.array(points))
    return tree.query(np.array(points), k=2)[0][:, 1]


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 120), sides, sides)
def test_as_many_as_asked_and_all_on_the_ground(number, width, height):
    points = spread(number, Ground(width, height))
    assert len(points) == number
    assert all(0 < x < width and 0 < y < height for x, y in points)


@pytest.mark.parametrize("number", [2, 5, 12, 20, 25, 30, 60, 120, 300])
def test_spread_is_even_but_no_lattice(number):
    ground = Ground(32.0, 25.0)
    alone = math.sqrt(32 * 25 / number)
    distances = nearest(spread(number, ground))
    assert distances.min() > 0.55 * DENSEST * alone
    if number > 12:
        assert distances.std() > 0.01 * alone


@pytest.mark.parametrize("number", [12, 25, 60])
def test_every_quarter_gets_its_share(number):
    points = spread(number, Ground(30.0, 30.0))
    for left in (0, 15):
        for top in (0, 15):
            inside = sum(1 for x, y in points if left <= x < left + 15 and top <= y < top + 15)
            assert abs(inside - number / 4) <= max(2, number * 0.08)


def test_round_ground_keeps_its_seeds_inside_the_circle():
    ground = Ground(40.0, 28.0, (20.0, 8.0, 20.0))
    points = spread(40, ground)
    assert len(points) == 40
    assert all(math.hypot(x - 20, y - 8) < 20 and y > 0 for x, y in points)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 50), st.floats(0, 50)), min_size=2, max_size=40, unique=True))
def test_closest_agrees_with_scipy(points):
    assert closest_mm(points) == pytest.approx(nearest(points).min(), abs=1e-9)


def test_one_point_has_no_neighbour():
    assert closest_mm([(1.0, 1.0)]) == math.inf


@given(st.integers(1, 9), sides, sides)
def test_stations_are_inside_and_about_the_middle(number, width, height):
    points = stations(number, width, height)
    assert len(points) == number
    assert all(0.05 * width <= x <= 0.95 * width and 0.05 * height <= y <= 0.95 * height for x, y in points)
    assert sum(x for x, _ in points) / number == pytest.approx(width / 2)
    assert sum(y for _, y in points) / number == pytest.approx(height / 2)


def distances(points):
    return sorted(math.dist(one, other) for one, other in combinations(points, 2))


def test_two_stand_in_line_along_the_longer_side():
    (x1, y1), (x2, y2) = stations(2, 60, 40)
    assert y1 == y2
    assert x2 - x1 > 20
    (x1, y1), (x2, y2) = stations(2, 40, 60)
    assert x1 == pytest.approx(x2)


def test_three_are_an_equilateral_triangle():
    a, b, c = distances(stations(3, 60, 40))
    assert a == pytest.approx(b)
    assert b == pytest.approx(c)


def test_four_are_a_square():
    *sides_mm, across, other = distances(stations(4, 60, 40))
    assert sides_mm == pytest.approx([sides_mm[0]] * 4)
    assert across == pytest.approx(other)
    assert across == pytest.approx(sides_mm[0] * math.sqrt(2))


def test_five_are_a_quincunx():
    *corners, centre = stations(5, 60, 40)
    assert centre == pytest.approx((30, 20))
    assert [math.dist(centre, corner) for corner in corners] == pytest.approx([math.dist(centre, corners[0])] * 4)


@pytest.mark.parametrize("number", [6, 7, 8, 9])
def test_more_stand_as_far_apart_as_their_neighbours(number):
    found = nearest(stations(number, 50, 50))
    assert found.max() / found.min() < 1.13
    assert found.min() >= 0.29 * 50


@pytest.mark.parametrize("number", range(1, 20))
def test_seeds_in_a_hole_keep_their_distance(number):
    points = in_hole(number)
    assert len(points) == number
    if number > 1:
        assert nearest(points).min() == pytest.approx(1.0)


def test_on_a_ground_that_has_no_room_nothing_lies():
    assert spread(3, Ground(10, 10, circle=(50, 50, 1))) == ()
