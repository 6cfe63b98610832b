"""Where a drawing is parted over several pages, as sums; and which of its marks a page then holds."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import SheetError
from traysheets.page.marks import Circle, Clip, Line, Mark, Place, Rect, Stamp, Text
from traysheets.sheets.cut_out import CutOut
from traysheets.sheets.seams import Side, pieces

LEAST_OVERLAP_MM = 10.0

WINDOW = (10.0, 10.0, 30.0, 30.0)


def cut(*marks: Mark) -> list[Mark]:
    return list(CutOut().marks(marks, WINDOW))


def test_what_is_outside_is_left_out_and_letters_are_whole_or_not_there():
    inside, across = Text(12, 20, "AB"), Text(28, 20, "ABCDEFG")
    assert cut(inside, across, Rect(31, 31, 5, 5, fill="#000000")) == [inside]
    reaching = Rect(5, 5, 100, 8, fill="#000000")
    assert cut(reaching) == [reaching]


def test_a_stamp_seen_whole_stays_and_one_seen_in_part_becomes_its_part():
    dots = tuple(Circle(x, 5, 1, fill="#000000") for x in (2, 8, 14, 18))
    stamp = Stamp("row", 20, 10, (*dots, Text(15, 8, "out")))
    assert cut(Place(stamp, 10, 10)) == [Place(stamp, 10, 10)]
    (part,) = cut(Place(stamp, 22, 12))
    assert isinstance(part, Place)
    assert (part.x_mm, part.y_mm) == (22, 12)
    assert part.stamp.marks == dots[:2]
    assert cut(Place(stamp, 29.5, 12)) == []


def test_parts_that_are_alike_are_one_stamp_and_turned_stamps_stay_whole():
    stamp = Stamp("row", 20, 10, (Circle(2, 5, 1, fill="#000000"),))
    one, other, _ = CutOut().marks((Place(stamp, 22, 12), Place(stamp, 22, 12), Place(stamp, 25, 12, turns=1)), WINDOW)
    assert isinstance(one, Place)
    assert isinstance(other, Place)
    assert one.stamp is other.stamp
    assert cut(Place(stamp, 25, 12, turns=1)) == [Place(stamp, 25, 12, turns=1)]


def test_what_a_clip_shows_is_cut_out_too():
    (found,) = cut(Clip(0, 0, 20, 20, (Text(12, 15, "in"), Text(2, 15, "out"), Line(0, 0, 50, 50))))
    assert isinstance(found, Clip)
    assert found.marks == (Text(12, 15, "in"), Line(0, 0, 50, 50))


# ---- seams

TEN_CELLS = tuple((5.0 + 50 * i, 50.0 + 50 * i) for i in range(10))


def seams(*cells, whole=(0.0, 500.0), letters=(), room=200.0):
    """Where a side is parted, and the flaps at the seams."""
    found = pieces(Side(whole, cells, letters, room))
    return [piece.own[1] for piece in found[:-1]], {round(piece.seen[1] - piece.own[1], 3) for piece in found[:-1]}


def test_a_side_is_parted_in_the_middle_of_gaps_into_pieces_as_even_as_they_can_be():
    assert seams(*TEN_CELLS, room=225.0) == ([152.5, 302.5], {10.0})
    assert seams(*TEN_CELLS, room=265.0) == ([252.5], {10.0})


def test_flaps_give_way_before_there_is_a_piece_more():
    assert seams(*TEN_CELLS, room=260.0) == ([252.5], {7.5})
    assert seams(*TEN_CELLS, room=257.5) == ([252.5], {5.0})
    assert len(seams(*TEN_CELLS, room=257.0)[0]) == 2


def test_a_cell_longer_than_the_room_is_parted_clear_of_its_letters():
    found, _ = seams((10.0, 490.0), letters=((20.0, 40.0), (240.0, 260.0), (450.0, 480.0)), room=300.0)
    assert len(found) == 1
    assert not 240 < found[0] < 260


def test_letters_that_lie_over_a_gap_keep_the_seam_away():
    found, _ = seams(*TEN_CELLS, letters=((100.0, 200.0),))
    assert not [seam for seam in found if 100 < seam < 200]


def test_letters_longer_than_a_page_are_refused():
    with pytest.raises(SheetError, match=r"letters longer than the 200 mm of a page cannot be parted"):
        seams((0.0, 500.0), letters=((0.0, 500.0),))


@given(
    cells=st.lists(st.floats(5, 120), min_size=1, max_size=30),
    gap=st.floats(0.5, 10),
    room=st.floats(140, 400),
)
def test_whatever_the_cells_pieces_fit_the_room_and_cut_no_cell(cells, gap, room):
    starts = [sum(cells[:i]) + gap * (i + 1) for i in range(len(cells))]
    spans = tuple((start, start + cell) for start, cell in zip(starts, cells, strict=True))
    found = pieces(Side((0.0, spans[-1][1] + gap), spans, (), room))
    assert found[0].own[0] == 0
    assert found[-1].own[1] == spans[-1][1] + gap
    for before, after in pairwise(found):
        assert before.own[1] == after.own[0]
        assert before.seen[1] - after.seen[0] >= LEAST_OVERLAP_MM - 1e-9
        assert not [span for span in spans if span[0] < before.own[1] < span[1]]
    assert all(piece.seen[1] - piece.seen[0] <= room + 0.01 for piece in found)
