"""Texts that meet: what the cutter finds is what comparing each with each finds, on any page."""

from collections.abc import Iterable, Iterator
from itertools import chain, combinations, count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from traysheets.base.errors import SheetError
from traysheets.page import qr
from traysheets.page.marks import Clip, Mark, Page, Place, Rect, Stamp, Text
from traysheets.page.overlapping import OVERLAP_MM, overlaps
from traysheets.page.proof import prove
from traysheets.page.reach import Box, box, turned

NAMES = count()
CODE = qr.code("27-014-K", 12).stamp

Found = tuple[str, Box, tuple[Stamp, ...]]


def text(x: float, y: float, size: float) -> Text:
    """A text like no other."""
    return Text(x, y, f"LW{next(NAMES)}", size_pt=size)


def flat(marks: Iterable[Mark], places: tuple[Place, ...] = ()) -> Iterator[tuple[str, Box, tuple[Place, ...]]]:
    """Every text and code by itself, where it lies on the page, and the stamps it is in."""
    for mark in marks:
        if isinstance(mark, Clip):
            yield from flat(mark.marks, places)
        elif isinstance(mark, Place) and not mark.stamp.reads:
            yield from flat(mark.stamp.marks, (*places, mark))
        elif isinstance(mark, Place | Text):
            reach = box(mark)
            for place in reversed(places):
                reach = turned(reach, place)
            yield mark.text if isinstance(mark, Text) else mark.stamp.reads, reach, places


def meet(one: Box, other: Box) -> bool:
    return all(min(one[i + 2], other[i + 2]) - max(one[i], other[i]) > OVERLAP_MM for i in (0, 1))


def each_with_each(page: Page) -> set[tuple[str, ...]]:
    return {
        tuple(sorted((one[0], other[0]))) for one, other in combinations(flat(page.marks), 2) if meet(one[1], other[1])
    }


SPOTS = st.sampled_from([20.0, 24.0, 33.0, 47.5, 60.0, 77.0, 92.0, 110.0, 140.0])
TEXTS = st.builds(text, SPOTS, SPOTS, st.sampled_from([5.0, 9.0, 14.0]))
PLAIN = TEXTS | st.builds(Rect, SPOTS, SPOTS, SPOTS, SPOTS)


def placed(marks: st.SearchStrategy[Mark]) -> st.SearchStrategy[Place]:
    stamps = st.builds(Stamp, st.just("stamp"), st.just(200.0), st.just(200.0), st.lists(marks, max_size=6).map(tuple))
    return st.builds(Place, stamps | st.just(CODE), SPOTS, SPOTS, st.integers(0, 3))


CLIPPED = st.builds(Clip, SPOTS, SPOTS, SPOTS, SPOTS, st.lists(PLAIN, max_size=3).map(tuple))
MARKS = PLAIN | CLIPPED | placed(PLAIN) | placed(PLAIN | placed(PLAIN))
PITCHES = st.sampled_from([0.0, 3.0, 9.0, 20.0, 60.0])
ROWS = st.builds(
    lambda first, pitch, times: [Place(first.stamp, first.x_mm + i * pitch, first.y_mm) for i in range(times)],
    placed(PLAIN | placed(PLAIN)), PITCHES, st.integers(2, 9),
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(st.lists(st.lists(MARKS, min_size=1, max_size=1) | ROWS, max_size=14).map(chain.from_iterable).map(tuple))
def test_nothing_is_missed_and_nothing_made_up(marks: tuple[Mark, ...]) -> None:
    page = Page(600, 600, marks, margin_mm=-600)
    assert {tuple(sorted(pair)) for pair in overlaps(page)} == each_with_each(page)


def test_pieces_that_no_cut_parts_are_compared() -> None:
    """Four boxes round a middle, each past the end of the next, as the sails of a windmill."""
    sails = (
        Place(CODE, 20, 20),
        Text(33, 25, "across the top, far enough"),
        Place(Stamp("upright", 60, 10, (Text(0, 8, "down the side, far enough"),)), 72, 26, turns=1),
        Text(33, 60, "along the foot", size_pt=9),
    )
    assert overlaps(Page(200, 200, sails)) == []


def test_rows_of_stamps_with_letters_round_them_do_not_meet() -> None:
    cell = Stamp("cell", 10, 10, (Text(2, 7, "LW", size_pt=8),))
    row = Stamp("row", 200, 10, tuple(Place(cell, 10 * i, 0) for i in range(20)))
    ground = Stamp("ground", 220, 120, tuple(Text(1, 17 + 10 * i, "ABCDEFGHIJ"[i], size_pt=8) for i in range(10)))
    rows = [Place(row, 15, 20 + 10 * i) for i in range(10)]
    assert overlaps(Page(300, 200, (Place(ground, 10, 10), *rows))) == []
    assert overlaps(Page(300, 200, (Place(ground, 14, 10), *rows))) == [("D", "LW"), ("G", "LW"), ("H", "LW")]


def test_cells_set_one_by_one_meet_each_other_and_what_lies_over_them() -> None:
    cell = Stamp("cell", 10, 10, (Text(2, 7, "LW", size_pt=8),))
    row = tuple(Place(cell, 20 + 10 * i, 20) for i in range(20))
    assert overlaps(Page(300, 200, (*row, Text(20, 40, "under them")))) == []
    assert overlaps(Page(300, 200, (*row, Text(102, 27, "over two")))) == [("LW", "over two")] * 2
    assert overlaps(Page(300, 200, (*row, Place(cell, 111, 20)))) == [("LW", "LW")]


def test_a_text_over_a_code_or_its_white_stops_the_page() -> None:
    code = Place(CODE, 20, 20)
    prove(Page(100, 80, (code, Text(33, 27, "beside"))))
    for words in (Text(21, 31.5, "in the white", size_pt=6), Text(15, 27, "across it")):
        with pytest.raises(SheetError, match=r"page 'Tray 3': '27-014-K' runs into '.*'"):
            prove(Page(100, 80, (code, words), "Tray 3"))


def test_texts_that_meet_inside_a_stamp_stop_the_page_and_are_told_once() -> None:
    card = Stamp("card", 40, 20, (Text(2, 8, "Longstalk"), Text(2, 9, "Winter")))
    with pytest.raises(SheetError) as caught:
        prove(Page(200, 80, (Place(card, 20, 20), Place(card, 70, 20)), "Sticks 2"))
    assert str(caught.value) == "page 'Sticks 2', card: 'Longstalk' runs into 'Winter'"


def test_a_code_that_is_spoiled_stops_the_page() -> None:
    ground, dark = CODE.marks
    spoiled = Stamp(CODE.name, CODE.width_mm, CODE.height_mm, (ground,), CODE.reads)
    with pytest.raises(SheetError) as caught:
        prove(Page(100, 80, (Place(spoiled, 20, 20),), "Tray 3"))
    assert str(caught.value) == (
        "page 'Tray 3', QR code 27-014-K: the code cannot be read: it is not black rectangles on white"
    )
    wrong = Stamp("QR code of another", CODE.width_mm, CODE.height_mm, (ground, dark), "27-015-K")
    with pytest.raises(SheetError, match=r"the code reads '27-014-K', and should read '27-015-K'"):
        prove(Page(100, 80, (Place(wrong, 20, 20),), "Tray 3"))
