"""The pictures of the guide: seeds counted, sizes against the tables, depths on rulers, what changes with the batch."""

import math
from dataclasses import replace
from itertools import combinations

import guide_jobs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from traysheets.page.marks import WHITE, Circle, Line, Mark, Path, Stamp
from traysheets.sheets.lesson import Covering, Lesson, Vessel, fill_gap_mm, lesson
from traysheets.sheets.pictures import cut, six
from traysheets.sheets.pictures.from_above import cell_from_above, part_from_above
from traysheets.sheets.pictures.pen import COLOURED, GREY, Pen
from traysheets.sheets.pictures.seeds import TURNS, outline, seed, seed_kind
from traysheets.sheets.pictures.strewn import MOST_SEEDS, rightly, wrongly
from traysheets.sheets.pictures.tally import tally
from traysheets.trade.crops import crops

CROPS = crops()


def taught(*args: object, **other: object) -> Lesson:
    return lesson(guide_jobs.batch(0, *args, **other))  # type: ignore[arg-type]


def seeds_in(stamp: Stamp) -> int:
    return len(guide_jobs.placed(stamp, "seed"))


# ---- as many seeds as are sown

WHAT = [f"stations {k}x{n}" for k in range(1, 10) for n in (1, 3)]
WHAT += ["single 1", "single 2", "clump 1", "clump 2", "clump 25", "clump 60", "clump 131"]


@pytest.mark.parametrize("what", WHAT)
def test_a_cell_is_drawn_with_as_many_seeds_as_are_sown(what: str) -> None:
    it = taught("pot-18", 8, what)
    cell = cell_from_above(it, rightly(it), 1.0, COLOURED, "right")
    assert seeds_in(cell) == it.seeds_in_cell
    assert len(rightly(it).holes) == it.holes


@pytest.mark.parametrize("what", WHAT)
def test_the_tally_has_a_dot_for_every_seed_and_a_ring_for_every_hole(what: str) -> None:
    it = taught("pot-18", 8, what)
    counted = tally(it, 90, COLOURED)
    if it.seeds_in_cell == 1:
        assert counted is None
        return
    assert counted is not None
    circles = [mark for mark, within in guide_jobs.walk(counted.marks) if isinstance(mark, Circle) and "dots" in within]
    rings = [circle for circle in circles if circle.stroke]
    assert len(circles) - len(rings) == it.seeds_in_cell
    assert len(rings) == it.holes


def test_nobody_is_asked_to_count_thousands() -> None:
    it = taught("flat-1020", 1, "clump 20000")
    assert tally(it, 90, COLOURED) is None
    assert len(rightly(it).seeds) == MOST_SEEDS


# ---- at their real size


def extent(path: Path) -> tuple[float, float]:
    """Width and height of a shape, its curves followed point by point (cubic Bezier curves by their polynomial)."""
    points: list[tuple[float, float]] = []
    for verb, *numbers in path.d:
        ends = list(zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True))
        if verb == "C":
            p = (points[-1], *ends)
            parts = [
                ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3) for t in (i / 50 for i in range(51))
            ]
            points += [tuple(sum(w * q[k] for w, q in zip(part, p, strict=True)) for k in (0, 1)) for part in parts]  # type: ignore[misc]
        elif ends:
            points += ends
    xs, ys = zip(*points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("crop", ["Onion", "Beet", "Lettuce", "Carrot", "Tomato", "Cabbage", "Pumpkin", "Thyme"])
@pytest.mark.parametrize("factor", [1.0, 4.0])
def test_seeds_are_as_large_as_the_table_of_crops_says(crop: str, factor: float) -> None:
    known = CROPS[crop].seed_mm
    assert known is not None
    length, width = known.value
    drawn_seed = outline(seed_kind(CROPS[crop]), factor, 0, COLOURED, Pen(0, 0), edged=False)[0]
    assert isinstance(drawn_seed, Path)
    assert extent(drawn_seed) == pytest.approx((length * factor, width * factor), rel=0.03)


@pytest.mark.parametrize("turn", range(TURNS))
def test_a_seed_lies_where_it_is_put_whichever_way_round(turn: int) -> None:
    assert guide_jobs.middle(seed(seed_kind(CROPS["Lettuce"]), 2.0, 30, 20, turn, COLOURED)) == pytest.approx((30, 20))


@pytest.mark.parametrize("kind", guide_jobs.TRAYS)
def test_a_cell_at_real_size_is_as_large_as_in_the_table_of_trays(kind: str) -> None:
    it = taught(kind, 1)
    cell = cell_from_above(it, rightly(it), 1.0, COLOURED, "right")
    assert (cell.width_mm, cell.height_mm) == guide_jobs.TRAYS[kind].cell_mm


def test_an_unknown_seed_is_as_large_as_its_weight_makes_a_ball() -> None:
    """400 seeds a gram at the density of water, 1.1 mg/mm3 here: 2.27 mm3, a ball of 1.6 mm (worked by hand)."""
    onion = CROPS["Onion"]
    fact = onion.seeds_per_gram
    assert fact is not None
    kind = seed_kind(replace(onion, seed_mm=None, seeds_per_gram=replace(fact, value=400.0)))
    assert (kind.length_mm, kind.width_mm, kind.measured) == (1.6, 1.6, False)


def test_families_have_shapes_of_their_own() -> None:
    shapes = {name: seed_kind(CROPS[name]).shape for name in ("Cabbage", "Onion", "Tomato", "Lettuce", "Basil", "Beet")}
    assert list(shapes.values()) == ["round", "angular", "flat", "drop", "oval", "cluster"]


# ---- right, and wrong


def closest(points: tuple[tuple[float, float], ...]) -> float:
    return min(math.dist(one, other) for one, other in combinations(points, 2))


def test_a_clump_is_spread_out_when_right_and_heaped_when_wrong() -> None:
    it = taught("pot-18", 8, "clump 25")
    right, (wrong,) = rightly(it), wrongly(it)
    assert closest(right.seeds) > 3 * it.seed.length_mm
    assert closest(wrong.seeds) < it.seed.length_mm
    assert len(wrong.seeds) == 25


def test_stations_have_their_seeds_in_every_hole_when_right_and_all_in_one_when_wrong() -> None:
    it = taught("pot-18", 8, "stations 3x2", "Beet")
    right, (wrong,) = rightly(it), wrongly(it)

    def in_holes(seeds: tuple[tuple[float, float], ...]) -> list[int]:
        nearest = [min(range(3), key=lambda i: math.dist(s, (right.holes[i].x_mm, right.holes[i].y_mm))) for s in seeds]
        return [nearest.count(i) for i in range(3)]

    assert in_holes(right.seeds) == [2, 2, 2]
    assert sorted(in_holes(wrong.seeds)) == [0, 0, 6]
    for hole in right.holes:
        near = [s for s in right.seeds if math.dist(s, (hole.x_mm, hole.y_mm)) < hole.radius_mm]
        assert len(near) == 2


def test_a_single_seed_lies_in_the_middle_when_right_and_in_a_corner_or_not_alone_when_wrong() -> None:
    it = taught("cell-72", 8, "single 1", "Cabbage")
    corner, several = wrongly(it)
    assert rightly(it).seeds == ((39 / 2, 39 / 2),)
    assert max(corner.seeds[0]) < 39 / 5
    assert len(several.seeds) >= 5


@settings(max_examples=150, deadline=None)
@given(
    kind=st.sampled_from(sorted(guide_jobs.TRAYS)),
    what=st.sampled_from(["single 1", "single 4", "clump 1", "clump 3", "clump 80"])
    | st.builds("stations {}x{}".format, st.integers(1, 9), st.integers(1, 12)),
    crop=st.sampled_from(["Onion", "Beet", "Pumpkin", "Thyme", "Carrot"]),
)
def test_seeds_lie_inside_the_cell_and_apart_whatever_is_sown(kind: str, what: str, crop: str) -> None:
    """Where seeds would not lie apart at their size they are drawn smaller, and that is kept."""
    it = taught(kind, 1, what, crop)
    width, height = it.cell_mm
    for strewn in (rightly(it), *wrongly(it)):
        assert all(0 <= x <= width and 0 <= y <= height for x, y in strewn.seeds)
        if it.round:
            assert all(math.dist(s, (width / 2, height / 2)) <= width / 2 for s in strewn.seeds)
    right = rightly(it)
    if len(right.seeds) > 1:
        size = right.seed_scale * (it.seed.length_mm + it.seed.width_mm) / 2
        assert closest(right.seeds) >= 0.99 * size


def test_seeds_keep_their_real_size_where_growers_sow_them() -> None:
    """Usual sowings (common practice, no source): none of them is so crowded that its seed must be drawn smaller."""
    usual = (
        ("pot-18-3in", "clump 30", "Onion"),
        ("cell-72", "clump 6", "Onion"),
        ("pot-18", "stations 3x3", "Beet"),
        ("cell-200", "single 1", "Cabbage"),
        ("cell-512", "single 1", "Lettuce"),
        ("pot-9cm", "single 2", "Pumpkin"),
    )
    assert [rightly(taught(kind, 1, what, crop)).seed_scale for kind, what, crop in usual] == [1.0] * len(usual)


def test_a_large_cell_shows_a_part_at_its_real_size() -> None:
    it = taught("flat-1020", 1, "clump 400")
    part = part_from_above(it, rightly(it), 40, COLOURED, "part")
    seen = guide_jobs.placed(part, "seed")
    assert part.width_mm == 40
    assert 0 < len(seen) < 20
    assert seen[0].stamp.width_mm == pytest.approx(math.hypot(3, 2), abs=0.3)


# ---- how deep


def drawn(it: Lesson, unit_mm: float = 1.0, units: str = "metric") -> dict[str, Stamp]:
    return {stamp.name: stamp for stamp in six.six_pictures(it, unit_mm, units, COLOURED)}


def cut_in(picture: Stamp, name: str) -> tuple[Mark, ...]:
    """The marks of the cut in a picture, in mm from its corner."""
    (place,) = guide_jobs.placed(picture, name)
    return tuple(mark for mark, _ in guide_jobs.walk(place.stamp.marks))


def arrow_mm(marks: tuple[Mark, ...]) -> float:
    """From tip to tip of the double arrow: the filled triangles of three corners."""
    tips = [mark.d[0][2] for mark in marks if isinstance(mark, Path) and len(mark.d) == 4 and mark.fill]
    return abs(float(tips[0]) - float(tips[1]))


def ticks_mm(marks: tuple[Mark, ...]) -> list[float]:
    """Where the ticks of the ruler lie below its zero."""
    lines = [mark for mark in marks if isinstance(mark, Line) and mark.y1_mm == mark.y2_mm]
    ends = [mark for mark in lines if mark.x2_mm == cut.RULER_MM and mark.x1_mm > 0]
    zero = next(mark for mark in lines if mark.x1_mm == 0 and mark.x2_mm == cut.RULER_MM)
    return [mark.y1_mm - zero.y1_mm for mark in ends]


@pytest.mark.parametrize("depth", [2.0, 6.0, 12.0, 15.0])
def test_a_cover_is_drawn_at_its_real_depth_beside_a_ruler_of_millimetres(depth: float) -> None:
    marks = cut_in(drawn(taught("pot-18", 8, "clump 25", cover_mm=depth))["cover"], "cut: cover")
    assert arrow_mm(marks) == pytest.approx(depth)
    assert ticks_mm(marks)[:5] == pytest.approx([1, 2, 3, 4, 5])


@pytest.mark.parametrize("depth", [6.0, 12.0])
def test_a_hole_is_drawn_at_its_real_depth_open_and_closed(depth: float) -> None:
    pictures = drawn(taught("pot-18", 8, "stations 3x2", "Carrot", cover_mm=depth))
    assert arrow_mm(cut_in(pictures["sow"], "cut: hole")) == pytest.approx(depth)
    assert arrow_mm(cut_in(pictures["cover"], "cut: cover")) == pytest.approx(depth)


def test_the_room_below_the_rim_is_drawn_at_its_real_depth() -> None:
    it = taught("pot-18", 8)
    assert arrow_mm(cut_in(drawn(it)["fill"], "cut: rim")) == pytest.approx(it.gap_mm)


def test_real_size_does_not_grow_with_the_picture() -> None:
    it = taught("pot-18", 8)
    for unit in (0.7, 1.0, 1.45):
        assert arrow_mm(cut_in(drawn(it, unit)["cover"], "cut: cover")) == pytest.approx(6.0)


def test_a_ruler_in_inches_has_a_tick_every_eighth() -> None:
    marks = cut_in(drawn(taught("pot-18", 8), units="inch")["cover"], "cut: cover")
    assert ticks_mm(marks)[:3] == pytest.approx([25.4 / 8, 25.4 / 4, 25.4 * 3 / 8])


@pytest.mark.parametrize("depth", [50.0, 500.0])
def test_a_depth_too_large_for_its_frame_is_drawn_smaller_with_its_ruler(depth: float) -> None:
    it = taught("pot-18", 1, "single 1", "Broad bean", cover_mm=depth)
    marks = cut_in(drawn(it)["sow"], "cut: hole")
    factor = cut.factor_for(depth, it.seed.width_mm, cut.Frame(0, 0, 20, 26.5, "metric"))
    assert factor < 1
    assert arrow_mm(marks) == pytest.approx(depth * factor)
    steps = ticks_mm(marks)
    assert steps[0] >= 0.9
    assert steps[0] / factor == pytest.approx(round(steps[0] / factor))


# ---- pictures change with the batch


def changed(one: Lesson, other: Lesson) -> list[str]:
    """The pictures that differ between two lessons."""
    first, second = shapes(one), shapes(other)
    return [name for name in six.NAMES if first[name] != second[name]]


def shapes(it: Lesson) -> dict[str, list[str]]:
    """The marks of each picture as text, stamps taken apart: stamps are compared by identity."""
    return {
        name: [repr(mark) for mark, _ in guide_jobs.walk(stamp.marks) if not hasattr(mark, "stamp")]
        for name, stamp in drawn(it).items()
    }


SCATTERED = taught("pot-18", 8, "clump 25", cover_mm=6.0)
IN_HOLES = taught("pot-18", 8, "stations 3x2", "Beet", cover_mm=12.0)


def test_a_deeper_cover_changes_how_high_to_fill_and_the_cover() -> None:
    assert changed(SCATTERED, taught("pot-18", 8, "clump 25", cover_mm=12.0)) == [
        "fill",
        "press level",
        "sow",
        "cover",
        "water",
        "stick",
    ]
    assert changed(SCATTERED, taught("pot-18", 8, "clump 25", cover_mm=4.0)) == ["cover"]


def test_a_deeper_hole_changes_sowing_and_closing() -> None:
    assert changed(IN_HOLES, taught("pot-18", 8, "stations 3x2", "Beet", cover_mm=8.0)) == ["sow", "cover"]


def test_another_number_of_holes_or_seeds_changes_sowing_and_closing() -> None:
    assert changed(IN_HOLES, taught("pot-18", 8, "stations 5x2", "Beet", cover_mm=12.0)) == ["sow", "cover"]
    assert changed(IN_HOLES, taught("pot-18", 8, "stations 3x1", "Beet", cover_mm=12.0)) == ["sow", "cover"]


def test_seed_that_stays_bare_is_neither_covered_nor_washed_away() -> None:
    bare = taught("pot-18", 8, "clump 25", cover_mm=0.0)
    assert bare.covering is Covering.BARE
    assert {"cover", "water"} <= set(changed(SCATTERED, bare))
    assert not guide_jobs.placed(drawn(bare)["cover"], "cut: cover")


def test_an_unknown_depth_sends_to_the_packet() -> None:
    unknown = taught("pot-18", 8, "clump 25", cover_mm=None)
    assert unknown.covering is Covering.PACKET
    assert not guide_jobs.placed(drawn(unknown)["cover"], "cut: cover")


def test_treated_seed_is_sown_with_gloves() -> None:
    treated = taught("pot-18", 8, "clump 25", treated=True)
    assert changed(SCATTERED, treated) == ["sow"]
    assert COLOURED.glove in repr(shapes(treated)["sow"])
    assert COLOURED.glove not in repr(shapes(SCATTERED)["sow"])


def test_fine_seed_is_misted() -> None:
    assert "water" in changed(SCATTERED, taught("pot-18", 8, "clump 25", "Thyme"))


def test_a_stick_in_every_cell_changes_the_last_picture() -> None:
    assert changed(SCATTERED, taught("pot-18", 8, "clump 25", sticks="cell")) == ["stick"]


def test_blocks_are_pressed_not_filled() -> None:
    block = taught("block-2in", 8, "stations 3x2", "Beet", cover_mm=12.0)
    assert block.vessel is Vessel.BLOCK
    assert block.gap_mm == 0
    assert not guide_jobs.placed(drawn(block)["fill"], "cut: rim")


def test_vessels_are_called_by_their_size_and_family() -> None:
    kinds = {
        "pot-18": "pot",
        "pot-9cm-round": "pot",
        "cell-72": "cell",
        "cell-32": "cell",
        "flat-1020": "tray",
        "block-1.5in": "block",
    }
    assert {kind: str(taught(kind, 1).vessel) for kind in kinds} == kinds


def test_how_high_to_fill_leaves_room_for_water_and_cover() -> None:
    """An eighth of the depth, 3 to 8 mm; more where the cover is laid on top; never more than half of the depth."""
    depths = {kind: fill_gap_mm(guide_jobs.TRAYS[kind], None) for kind in ("pot-18", "cell-72", "cell-512")}
    assert depths == {"pot-18": 8.0, "cell-72": 7.0, "cell-512": 3.0}
    assert fill_gap_mm(guide_jobs.TRAYS["pot-18"], 12.0) == 14.0
    assert fill_gap_mm(guide_jobs.TRAYS["cell-512"], 40.0) == 12.0


def test_seed_of_which_nothing_is_known_has_a_usual_size() -> None:
    kind = seed_kind(replace(CROPS["Onion"], seed_mm=None, seeds_per_gram=None))
    assert (kind.length_mm, kind.width_mm, kind.measured) == (2.2, 1.6, False)


def test_pictures_for_a_printer_without_colour_have_none() -> None:
    for stamp in six.six_pictures(taught("pot-18", 8, treated=True), 1.0, "metric", GREY):
        for mark, _ in guide_jobs.walk(stamp.marks):
            for colour in (getattr(mark, "fill", None), getattr(mark, "stroke", None)):
                assert colour is None or colour[1:3] == colour[3:5] == colour[5:7]


def test_like_lessons_share_their_stamps() -> None:
    assert six.six_pictures(SCATTERED, 1.0, "metric", COLOURED) is six.six_pictures(
        taught("pot-18", 3, "clump 25"), 1.0, "metric", COLOURED
    )


# ---- seed that is laid on the ground


@pytest.mark.parametrize("what", ["single 1", "stations 3x3"])
@pytest.mark.parametrize("factor", [0.3, 1.0])
def test_no_hole_is_drawn_where_seed_is_laid_on_the_ground(what: str, factor: float) -> None:
    def discs(cover_mm: float) -> int:
        taught = lesson(guide_jobs.batch(0, "pot-18", 8, what, "Celery", cover_mm))
        cell = cell_from_above(taught, rightly(taught), factor, COLOURED, "cell")
        counted = [cell, *filter(None, [tally(taught, 60.0, COLOURED)])]
        marks = [mark for stamp in counted for mark, _ in guide_jobs.walk(stamp.marks)]
        return sum(isinstance(mark, Circle) and mark.fill == WHITE for mark in marks)

    assert discs(0.0) == 0
    assert discs(3.0) > 0
