"""Pictures of cells: seeds counted, letters never too small, what gives way first, nothing over anything else."""

from dataclasses import replace
from itertools import pairwise

import meant
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from readback import SeenText

from traysheets.page.hatches import HATCHES
from traysheets.page.marks import BLACK, WHITE, Circle, Clip, Line, Page, Place, Rect, Text
from traysheets.page.proof import overlaps
from traysheets.sheets.cell_parts import Box, Filling
from traysheets.sheets.cells import empty, faded, picture
from traysheets.sheets.looks import Look

LOOK = Look("#E17D27", "#F3CBA9", "diagonal")
CLUMP = Filling(LOOK, "CB", "25", 0, 25, "WW")
STATIONS = Filling(LOOK, "DR", "3 × 2", 3, 2, "WW")
POT = Box(34.4, 34.4)


def flat(shown):
    return list(meant.flat(shown.stamp.marks))


def seeds(shown):
    """Black dots of a picture, by its fill: holes are white."""
    return [mark for mark in flat(shown) if isinstance(mark, Circle) and mark.fill == BLACK and not mark.stroke]


def holes(shown):
    return [mark for mark in flat(shown) if isinstance(mark, Circle) and mark.fill == WHITE and mark.stroke]


def words(shown):
    return [mark.text for mark in flat(shown) if isinstance(mark, SeenText)]


def plates(shown):
    return [mark for mark in flat(shown) if isinstance(mark, Rect) and mark.fill == WHITE]


def sown(method_holes, number, box=POT):
    count = f"{method_holes} × {number}" if method_holes > 1 else str(number)
    return picture(box, replace(CLUMP, count=count, holes=method_holes, seeds=number))


@pytest.mark.parametrize("number", [1, 2, 5, 12, 20, 25, 30, 45])
def test_a_clump_has_a_dot_for_every_seed(number):
    shown = sown(0, number)
    assert len(seeds(shown)) == number
    assert words(shown) == ["CB", str(number)]


@pytest.mark.parametrize("number", range(1, 10))
@pytest.mark.parametrize("in_each", [1, 2, 3, 4])
def test_stations_have_their_holes_and_seeds(number, in_each):
    shown = sown(number, in_each)
    assert len(holes(shown)) == number
    assert len(seeds(shown)) == number * in_each
    for hole in holes(shown):
        inside = [s for s in seeds(shown) if (s.x_mm - hole.x_mm) ** 2 + (s.y_mm - hole.y_mm) ** 2 < hole.radius_mm**2]
        assert len(inside) == in_each


def test_a_single_seed_lies_in_the_very_middle():
    (hole,) = holes(sown(1, 1))
    assert (hole.x_mm, hole.y_mm) == pytest.approx((POT.width_mm / 2, POT.height_mm / 2))


def test_seed_on_top_has_its_places_and_no_holes():
    """Seed that is not covered lies where its hole would be, all else the same: as the guide draws it."""
    sunk, bare = (picture(POT, replace(STATIONS, on_top=on_top)) for on_top in (False, True))
    assert len(holes(sunk)) == 3
    assert holes(bare) == []
    assert seeds(bare) == seeds(sunk)


def test_stations_stand_at_their_true_places_where_the_letters_leave_room():
    """The triangle is about the middle of the pot itself, not of what the band leaves."""
    found = holes(sown(3, 2))
    assert sum(hole.x_mm for hole in found) / 3 == pytest.approx(POT.width_mm / 2)
    assert sum(hole.y_mm for hole in found) / 3 == pytest.approx(POT.height_mm / 2)


@pytest.mark.parametrize("box", [POT, Box(30.5, 19.0), Box(21.2, 24.0), Box(90, 90, True), Box(43, 43, True)])
@pytest.mark.parametrize(("group", "number"), [(0, 7), (0, 25), (1, 2), (2, 2), (4, 2), (5, 1), (6, 2), (9, 1)])
def test_seeds_are_clear_of_plates_hatch_and_edge(box, group, number):
    shown = sown(group, number, box)
    dots = [*seeds(shown), *holes(shown)]
    assert dots
    for dot in dots:
        assert dot.radius_mm < dot.x_mm < box.width_mm - dot.radius_mm
        assert dot.y_mm < box.height_mm - dot.radius_mm
        assert all(dot.y_mm - dot.radius_mm > plate.y_mm + plate.height_mm for plate in plates(shown))
        if box.round:
            off_mm = ((dot.x_mm - box.width_mm / 2) ** 2 + (dot.y_mm - box.height_mm / 2) ** 2) ** 0.5
            assert off_mm + dot.radius_mm < box.radius_mm


def hatched_to_mm(shown):
    """How far down the hatch of a cell with seeds reaches: the clip inside the cell's own."""
    ground = next(mark.stamp for mark in shown.stamp.marks if isinstance(mark, Place))
    (outer,) = (mark for mark in ground.marks if isinstance(mark, Clip))
    return next(mark.height_mm for mark in outer.marks if isinstance(mark, Clip))


def test_no_hatch_runs_under_seeds():
    shown = sown(0, 25)
    assert hatched_to_mm(shown) < min(dot.y_mm - dot.radius_mm for dot in seeds(shown))


def level(box, filling):
    """What a picture shows: 3 seeds, 2 code and count, 1 the code, 0 neither."""
    shown = picture(box, filling)
    return 3 if seeds(shown) else len(words(shown))


@pytest.mark.parametrize("filling", [CLUMP, STATIONS, replace(CLUMP, code="X12", code_like="X12")])
@pytest.mark.parametrize("round_", [False, True])
def test_dots_give_way_first_and_the_code_last(filling, round_):
    sides_mm = [60, 40, 34, 28, 22, 19, 15, 12, 10, 8, 7, 6, 5, 4, 3, 2]
    levels = [level(Box(side, side, round_), filling) for side in sides_mm]
    assert all(larger >= smaller for larger, smaller in pairwise(levels))
    assert levels[0] == 3
    assert levels[-1] == 0
    assert {1, 2, 3} <= set(levels)


def test_too_many_seeds_to_count_give_way_to_the_number():
    shown = sown(0, 2000)
    assert not seeds(shown)
    assert words(shown) == ["CB", "2000"]


@settings(max_examples=150, deadline=None)
@given(
    st.floats(2, 120),
    st.floats(2, 120),
    st.booleans(),
    st.sampled_from(["LW", "II", "WW", "X12", "JQ", "ÄÖ"]),
    st.integers(0, 9),
    st.integers(1, 40),
    st.sampled_from(HATCHES),
)
def test_every_picture_is_sound(width, height, round_, code, group, number, hatch):
    """Letters of 7 pt or more inside the cell, none over another; as many dots as seeds, where there are any."""
    box = Box(width, width if round_ else height, round_)
    count = f"{group} × {number}" if group > 1 else str(number)
    shown = picture(box, Filling(replace(LOOK, hatch=hatch), code, count, group, number, "WW"))
    for mark in flat(shown):
        if isinstance(mark, SeenText):
            assert mark.size_pt >= 7
            assert mark.x_mm > 0
            assert mark.x_mm + mark.width_mm < box.width_mm
            assert 0 < mark.y_mm < box.height_mm
    assert overlaps(Page(200, 200, (Place(shown.stamp, 10, 10),))) == []
    assert shown.says_code == (code in words(shown))
    if seeds(shown):
        assert len(seeds(shown)) == number * max(group, 1)


def test_an_empty_cell_bears_a_dash_and_no_code():
    shown = empty(POT)
    assert words(shown) == []
    (dash,) = (mark for mark in flat(shown) if isinstance(mark, Line))
    assert dash.y1_mm == dash.y2_mm == POT.height_mm / 2


def test_a_faded_cell_keeps_its_code_in_grey_without_hatch_or_seeds():
    shown = faded(POT, "CB", "WW")
    (text,) = (mark for mark in shown.stamp.marks if isinstance(mark, Text))
    assert text.text == "CB"
    assert text.colour not in (BLACK, WHITE)
    assert not seeds(shown)
    assert {mark.fill for mark in flat(shown) if isinstance(mark, Rect)} <= {WHITE, None}


def test_batches_of_one_look_share_ground_and_seeds():
    one, other = picture(POT, CLUMP), picture(POT, replace(CLUMP, code="ZZ"))
    shared = {mark.stamp for mark in one.stamp.marks if isinstance(mark, Place)}
    assert shared == {mark.stamp for mark in other.stamp.marks if isinstance(mark, Place)}
    assert len(shared) == 2
