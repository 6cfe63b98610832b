"""The reader that turns PDF files back into marks is itself tested to fail: whatever is a little off must be seen."""

from dataclasses import replace

import pytest
from eyes import decode_qr, decode_qr_opencv
from mark_pages import PLAIN, every_mark, pdf_of
from meant import differences, flat
from PIL import Image
from readback import read_back

from traysheets.page.marks import BLACK, Circle, Clip, Line, Mark, Page, Path, Place, Rect, Stamp, Text


def page(*marks: Mark) -> Page:
    return Page(130, 80, marks, margin_mm=-30)


MOVED: list[tuple[Mark, Mark]] = [
    (Rect(10, 10, 30, 12, fill=BLACK), Rect(10.02, 10, 30, 12, fill=BLACK)),
    (Rect(10, 10, 30, 12, fill=BLACK), Rect(10, 10, 30, 12.02, fill=BLACK)),
    (Rect(10, 10, 30, 12, fill=BLACK), Rect(10, 10, 30, 12, fill="#000001")),
    (Rect(10, 10, 30, 12, fill=BLACK), Rect(10, 10, 30, 12, stroke=BLACK)),
    (Rect(10, 10, 30, 12, fill=BLACK), Rect(10, 10, 30, 12, fill=BLACK, radius_mm=1)),
    (Rect(10, 10, 30, 12, stroke=BLACK), Rect(10, 10, 30, 12, stroke=BLACK, stroke_mm=0.28)),
    (Line(10, 10, 30, 12), Line(10, 10, 30.02, 12)),
    (Line(10, 10, 30, 12), Line(10, 10, 30, 12, dash_mm=(1, 1))),
    (Circle(20, 20, 5, fill=BLACK), Circle(20, 20, 5.02, fill=BLACK)),
    (Circle(20, 20, 5, fill=BLACK), Rect(15, 15, 10, 10, fill=BLACK)),
    (PLAIN[7], replace(PLAIN[7], fill=None)),
    (PLAIN[8], replace(PLAIN[8], dash_mm=(2, 1.1))),
    (PLAIN[9], replace(PLAIN[9], unit_mm=0.76)),
    (Text(20, 20, "LW"), Text(20, 20, "LM")),
    (Text(20, 20, "LW"), Text(20.02, 20, "LW")),
    (Text(20, 20, "LW"), Text(20, 20, "LW", size_pt=9.1)),
    (Text(20, 20, "LW"), Text(20, 20, "LW", face="bold")),
    (Text(20, 20, "LW"), Text(20, 20, "LW", anchor="middle")),
    (Place(Stamp("s", 9, 9, (PLAIN[7],)), 20, 20), Place(Stamp("s", 9, 9, (PLAIN[7],)), 20, 20, turns=2)),
]


@pytest.mark.parametrize(("meant", "drawn"), MOVED)
def test_a_small_change_is_seen(meant: Mark, drawn: Mark) -> None:
    wide = [
        mark if not isinstance(mark, Place) else replace(mark, stamp=Stamp("s", 40, 40, mark.stamp.marks))
        for mark in (meant, drawn)
    ]
    (seen,) = read_back(pdf_of([page(wide[1])]))
    assert differences(page(wide[1]), seen) == []
    assert len(differences(page(wide[0]), seen)) == 1


def test_a_mark_too_few_or_too_many_is_seen() -> None:
    marks = (Line(10, 10, 20, 20), Line(10, 12, 20, 22))
    (seen,) = read_back(pdf_of([page(*marks)]))
    assert len(differences(page(marks[0]), seen)) == 1
    assert len(differences(page(*marks, Line(1, 1, 2, 2)), seen)) == 1
    assert len(differences(page(*reversed(marks)), seen)) == 2


def test_another_page_size_is_seen() -> None:
    (seen,) = read_back(pdf_of([page()]))
    (wrong,) = differences(Page(131, 80, ()), seen)
    assert wrong.startswith("page: (131, 80) is (130.0")


def test_what_is_read_is_told_by_kind() -> None:
    (seen,) = read_back(pdf_of([every_mark()]))
    assert seen.rects[0] == Rect(
        pytest.approx(10, abs=0.01),
        pytest.approx(10, abs=0.01),
        pytest.approx(30, abs=0.01),
        pytest.approx(12, abs=0.01),
        "#81DFFF",
        stroke_mm=pytest.approx(0.35, abs=0.01),
    )
    assert {text.turns for text in seen.texts} == {0, 1, 2, 3}
    assert {text.face for text in seen.texts} == {"regular", "bold", "condensed", "condensed-bold", "code"}
    assert len(seen.places) == 3 + 16 + 4 * 2
    assert [place.turns for place in seen.places[-8::2]] == [0, 1, 2, 3]
    assert len(seen.clips) == 1 + 16
    assert len(seen.links) == 2
    assert "27-014-K" in seen.words


def test_stamps_and_clips_are_laid_out_flat() -> None:
    card = Stamp("card", 20, 10, (Clip(0, 0, 20, 10, (Rect(2, 3, 4, 1, fill=BLACK),)),))
    outer = Stamp("outer", 30, 30, (Place(card, 10, 0, turns=1),))
    assert list(flat([Place(outer, 100, 100)])) == [Rect(106, 102, 1, 4, fill=BLACK)]
    assert list(flat([Path((("R", 1, 2, 3, 4),), fill=BLACK, unit_mm=2)])) == [Rect(2, 4, 6, 8, fill=BLACK)]


def test_blank_paper_holds_no_codes() -> None:
    blank = Image.new("RGB", (600, 600), "white")
    assert decode_qr(blank) == set()
    assert decode_qr_opencv(blank) == set()
