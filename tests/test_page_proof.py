"""The proof of a page: everything that would print wrong is found, said in words, and all at once."""

import math
from dataclasses import replace

import pytest
from mark_pages import every_mark, pdf_of

from traysheets.base.errors import SheetError
from traysheets.page.marks import BLACK, Circle, Clip, Line, Link, Mark, Page, Path, Place, Rect, Stamp, Text
from traysheets.page.proof import overlaps, prove
from traysheets.page.reach import box, text_boxes

NAN, INF = float("nan"), float("inf")


def page(*marks: Mark, margin_mm: float = 6.35) -> Page:
    return Page(100, 80, marks, "Tray 3", margin_mm)


def complaint(*marks: Mark) -> str:
    with pytest.raises(SheetError) as caught:
        prove(page(*marks))
    return str(caught.value)


def test_of_many_marks_those_that_reach_outside_are_told_alone() -> None:
    inside, outside = Rect(10, 10, 5, 5, fill=BLACK), Rect(6, 20, 5, 5, fill=BLACK)
    assert complaint(inside, outside, inside) == complaint(outside)
    assert complaint(inside, outside).count("reaches over") == 1


def test_a_good_page_passes() -> None:
    """Else a SheetError were raised: of any mark of the language, and of one that fills its page to the edge."""
    prove(every_mark())
    prove(page(Rect(6.35, 6.35, 87.3, 67.3, fill=BLACK)))
    prove(page(Rect(0, 0, 100, 80, fill=BLACK), margin_mm=0))


@pytest.mark.parametrize(
    "mark",
    [
        Rect(6, 10, 5, 5, fill=BLACK),
        Rect(6.4, 10, 5, 5, stroke=BLACK, stroke_mm=0.4),
        Line(10, 10, 94, 10),
        Line(10, 73.6, 50, 73.6, stroke_mm=0.5),
        Circle(90, 20, 4, fill=BLACK),
        Path((("M", 10, 10), ("C", 10, 10, 95, 20, 30, 30)), stroke=BLACK),
        Path((("R", 10, 10, 20, 2),), fill=BLACK, unit_mm=4),
        Text(80, 20, "Longstalk Winter"),
        Text(20, 20, "Longstalk Winter", anchor="end"),
        Text(20, 73, "jumpy"),
        Clip(90, 20, 5, 5, ()),
        Link(0, 0, 5, 5, "https://example.org"),
        Place(Stamp("card", 30, 20, ()), 65, 10),
        Place(Stamp("card", 30, 20, ()), 25, 10, turns=1),
        Rect(NAN, 10, 5, 5, fill=BLACK),
        Rect(10, 10, NAN, 5, fill=BLACK),
        Circle(20, 20, NAN, fill=BLACK),
        Line(10, 10, 20, INF),
        Text(10, NAN, "x"),
        Place(Stamp("card", 30, NAN, ()), 10, 10),
    ],
    ids=lambda mark: f"{type(mark).__name__}",
)
def test_what_reaches_outside_is_refused(mark: Mark) -> None:
    assert "reaches over" in complaint(mark)


def test_how_far_it_reaches_is_said() -> None:
    assert complaint(Rect(6, 10, 5, 5, fill=BLACK)) == (
        "page 'Tray 3': a rect reaches over (6.00, 10.00) to (11.00, 15.00) mm, "
        "outside (6.35, 6.35) to (93.65, 73.65) mm"
    )


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        (Rect(20, 10, -5, 5, fill=BLACK), "a rect has a negative size"),
        (Rect(20, 10, 5, 5, radius_mm=-1), "a rect has a negative size"),
        (Circle(20, 20, -1), "a circle has a negative size"),
        (Line(20, 20, 30, 30, stroke_mm=-1), "a line has a negative size"),
        (Link(20, 20, 5, -5, "x"), "a link has a negative size"),
        (Rect(20, 10, 5, 5, fill="red"), "a rect has the colour 'red', which is not #RRGGBB"),
        (Text(20, 20, "Snow ☃"), "the text 'Snow ☃' has characters our fonts lack: '☃' (U+2603, SNOWMAN)"),
        (Text(20, 20, "x", size_pt=0), "the text 'x' cannot be set at 0 pt"),
        (Text(20, 20, "x", size_pt=NAN), "the text 'x' cannot be set at nan pt"),
        (
            Text(20, 20, "x", anchor="left"),
            "the text 'x' has a face, anchor or colour we do not know: regular, left, #000000",
        ),
        (
            Text(20, 20, "x", face="slanted"),
            "the text 'x' has a face, anchor or colour we do not know: slanted, start, #000000",
        ),
    ],
)
def test_what_cannot_be_printed_is_said(mark: Mark, words: str) -> None:
    assert complaint(mark) == f"page 'Tray 3': {words}"


def test_marks_in_a_clip_may_go_over_its_edge_but_must_be_sound() -> None:
    prove(page(Clip(10, 10, 5, 5, (Rect(-50, -50, 200, 200, fill=BLACK),))))
    assert "our fonts lack" in complaint(Clip(10, 10, 5, 5, (Text(10, 10, "☃"),)))
    assert "reaches over" in complaint(Clip(10, 10, 5, 5, (Line(0, 0, NAN, 0),)))


def test_a_stamp_holds_all_its_marks() -> None:
    edge = Rect(0, 0, 20, 10, stroke=BLACK, stroke_mm=0.8)
    prove(page(Place(Stamp("card", 20, 10, (edge,)), 20, 20)))
    words = complaint(Place(Stamp("card", 20, 10, (Text(15, 5, "Longstalk"),)), 20, 20))
    assert words.startswith("page 'Tray 3', card: the text 'Longstalk' reaches over (15.00, 2.59)")


def test_a_faulty_stamp_is_refused_each_time_and_named_once() -> None:
    stamp = Stamp("card", 20, 10, (Place(Stamp("inner", 5, 5, (Rect(0, 0, 9, 1, fill=BLACK),)), 1, 1),))
    for _ in range(2):
        words = complaint(Place(stamp, 20, 20), Place(stamp, 50, 20))
        assert words.startswith("page 'Tray 3', card, inner: a rect reaches over")
        assert "\n" not in words


def test_all_problems_are_told_at_once() -> None:
    assert len(complaint(Text(20, 20, "☃"), Rect(0, 0, 1, 1), Circle(20, 20, -1)).splitlines()) == 3


@pytest.mark.parametrize(("width", "height"), [(0, 80), (NAN, 80), (100, -1), (100, INF)])
def test_a_page_needs_a_size(width: float, height: float) -> None:
    with pytest.raises(SheetError, match="cannot be"):
        prove(Page(width, height, ()))


def test_texts_that_touch_are_found() -> None:
    one, other = Text(20, 20, "Longstalk", size_pt=10), Text(20, 23, "Winter", size_pt=10)
    assert overlaps(page(one, other)) == [("Longstalk", "Winter")]
    assert overlaps(page(one, replace(other, y_mm=24))) == []
    assert overlaps(page(one, replace(other, y_mm=20, x_mm=30))) == [("Longstalk", "Winter")]
    assert overlaps(page(one, replace(other, y_mm=20, x_mm=40))) == []


def test_of_a_row_of_stamps_those_that_reach_outside_are_told_alone() -> None:
    dot = Stamp("dot", 5, 5, (Rect(0, 0, 5, 5, fill=BLACK),))
    row = [Place(dot, x, 20) for x in (60, 70, 80, 92)]
    assert complaint(*row) == complaint(row[-1])
    assert complaint(*row).count("reaches over") == 1


def test_a_row_with_a_place_that_is_no_number_is_none() -> None:
    dot = Stamp("dot", 5, 5, (Rect(0, 0, 5, 5, fill=BLACK),))
    row = [Place(dot, x, 20) for x in (60, math.nan, 80)]
    assert complaint(*row) == complaint(row[1])


def test_texts_in_turned_stamps_are_found_too() -> None:
    tall = Place(Stamp("card", 30, 10, (Text(2, 6, "sideways"),)), 40, 20, turns=1)
    ((_, (left, top, right, bottom)),) = text_boxes([tall])
    assert right - left < bottom - top
    assert overlaps(page(tall, Text(left - 1, top + 2, "across"))) == [("sideways", "across")]
    assert overlaps(page(tall, Text(left - 1, top - 1, "across"))) == []


def test_turned_boxes() -> None:
    card = Stamp("card", 30, 10, ())
    assert [box(Place(card, 50, 50, turns)) for turns in range(4)] == [
        (50, 50, 80, 60),
        (40, 50, 50, 80),
        (20, 40, 50, 50),
        (50, 20, 60, 50),
    ]


def test_what_is_wrong_is_told_with_its_sheet_and_page() -> None:
    good, bad = Page(100, 80, (Text(20, 20, "Longstalk"),)), Page(100, 80, (Text(20, 20, "☃"),), "Tray 3")
    with pytest.raises(SheetError) as caught:
        pdf_of([good, bad], "Tray maps: Spring")
    assert str(caught.value).startswith(
        "Tray maps: Spring, page 2 'Tray 3': the text '☃' has characters our fonts lack"
    )
