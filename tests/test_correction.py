"""Sheets corrected for a printer: the PDF read back, put through that printer as sums, comes out where it was meant."""

import io
from collections.abc import Iterator

import pytest
import readback
import stick_jobs as sj
from hypothesis import given
from hypothesis import strategies as st
from map_jobs import one_tray

from traysheets.base.errors import SheetError
from traysheets.export.pdf import write_pdf
from traysheets.page.correction import Correction
from traysheets.page.marks import BLACK, Document, Link, Page, Place, Rect, Stamp
from traysheets.plan.model import PrinterTruth
from traysheets.sheets.maps import map_pages
from traysheets.sheets.printer_truth import correction, printer_notices
from traysheets.sheets.sticks import stick_pages

WITHIN_MM = 0.02
PRINTERS = [
    Correction(198.6 / 200, 199.4 / 200, 0.8, -1.2),
    Correction(201.5 / 200, 200.8 / 200, -0.7, 1.5),
    Correction(shift_right_mm=1.0),
]
every_printer = pytest.mark.parametrize("printer", PRINTERS, ids=["short", "long", "shifted"])


def on_paper(x: float, y: float, page: tuple[float, float], printer: Correction) -> tuple[float, float]:
    """Where a printer puts a point of a page, worked out on the paper itself.

    A sheet wider than high is turned a quarter to the left (anti-clockwise) onto the upright paper, as RFC 8011,
    5.2.10, defines `landscape` (from memory); there it is stretched and shifted, and then looked at as the page again.
    """
    width, height = page
    if width > height:
        x, y = y, width - x
        x, y = x * printer.scale_across + printer.shift_right_mm, y * printer.scale_down + printer.shift_down_mm
        return width - y, x
    return x * printer.scale_across + printer.shift_right_mm, y * printer.scale_down + printer.shift_down_mm


def printed(pages: Iterator[Page], printer: Correction | None) -> list[readback.SeenPage]:
    file = io.BytesIO()
    write_pdf(Document("corrected", pages, correction=printer), file)
    return readback.read_back(file.getvalue())


def full_sheet(name: str) -> list[Page]:
    """A stock's page full of sticks."""
    stock = sj.STOCKS[name]
    return list(stick_pages(sj.job([sj.batch(0, sj.SHORT, sticks=stock.labels)], stock)))


def label_corners(seen: readback.SeenPage, page: Page) -> list[tuple[float, float]]:
    """Where the stamps of the labels stand: those that the page places itself, in its order."""
    placed = [mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name != "outlines"]
    of_label = seen.places[0].name
    found = [(place.x_mm, place.y_mm) for place in seen.places if place.name == of_label]
    assert len(found) == len(placed)
    return found


@every_printer
@pytest.mark.parametrize("name", [name for name, stock in sj.STOCKS.items() if stock.labels > 1])
def test_labels_land_where_the_stock_has_them(name: str, printer: Correction) -> None:
    stock, (page,) = sj.STOCKS[name], full_sheet(name)
    (seen,) = printed(iter([page]), printer)
    for label, corner in enumerate(label_corners(seen, page)):
        landed = on_paper(*corner, stock.page_mm, printer)
        assert landed == pytest.approx(stock.corner_mm(label), abs=WITHIN_MM)


@pytest.mark.parametrize("name", [name for name, stock in sj.STOCKS.items() if stock.labels > 1])
def test_without_a_correction_they_lie_in_the_file_as_in_the_table_and_land_beside_it(name: str) -> None:
    stock, (page,) = sj.STOCKS[name], full_sheet(name)
    (seen,) = printed(iter([page]), None)
    corners = label_corners(seen, page)
    assert corners == [pytest.approx(stock.corner_mm(label), abs=WITHIN_MM) for label in range(stock.labels)]
    landed = on_paper(*corners[-1], stock.page_mm, PRINTERS[0])
    assert landed != pytest.approx(stock.corner_mm(stock.labels - 1), abs=0.5)


@pytest.mark.parametrize("name", [name for name, stock in sj.STOCKS.items() if stock.labels == 1])
def test_a_roll_is_left_as_it_is_as_another_printer_prints_it(name: str) -> None:
    (page,) = full_sheet(name)
    (corrected,), (plain,) = printed(iter([page]), PRINTERS[0]), printed(iter([page]), None)
    assert corrected.marks == plain.marks
    job = sj.job([sj.batch(0)], name, printer=PrinterTruth(0.99))
    assert [notice.text for notice in printer_notices(job, ("sticks",))] == [
        f"sticks on '{name}' are not corrected for the printer: [printer] is true of sheets, not of rolls"
    ]


@every_printer
@pytest.mark.parametrize("scale", ["fit", "1:1"])
def test_every_mark_of_a_map_comes_out_true(scale: str, printer: Correction) -> None:
    """Of the page as it fits, which lies turned, and of tiles."""
    job = one_tray("cell-72", (40, "single 1"), (20, "stations 3x2"), scale=scale)
    pages = list(map_pages(job))[:2]
    for page, seen, plain in zip(pages, printed(iter(pages), printer), printed(iter(pages), None), strict=True):
        size = page.width_mm, page.height_mm
        for corrected, meant in zip(seen.lines, plain.lines, strict=True):
            for ends in ("x1_mm", "y1_mm"), ("x2_mm", "y2_mm"):
                landed = on_paper(*(getattr(corrected, end) for end in ends), size, printer)
                assert landed == pytest.approx(tuple(getattr(meant, end) for end in ends), abs=WITHIN_MM)


def test_links_move_with_what_they_stand_on() -> None:
    printer = Correction(0.99, 0.98, 1.0, 2.0)
    page = Page(210, 297, (Rect(20, 30, 40, 50, BLACK), Link(20, 30, 40, 50, "https://example.org")))
    (seen,) = printed(iter([page]), printer)
    (link,), (rect,) = seen.links, seen.rects
    sides = (link.x_mm, link.y_mm, link.width_mm, link.height_mm)
    assert sides == pytest.approx((rect.x_mm, rect.y_mm, rect.width_mm, rect.height_mm), abs=WITHIN_MM)
    assert sides == pytest.approx((19 / 0.99, 28 / 0.98, 40 / 0.99, 50 / 0.98), abs=WITHIN_MM)


measures = st.floats(0.9, 1.1)
shifts = st.floats(-25, 25)


@given(measures, measures, shifts, shifts, st.sampled_from([(210, 297), (297, 210), (215.9, 215.9)]), st.floats(0, 1))
def test_correcting_undoes_the_printer(across, down, right, below, size, part) -> None:
    printer, (width, height) = Correction(across, down, right, below), size
    point = width * part, height * (1 - part)
    assert on_paper(*printer.corrected(*size).point(*point), size, printer) == pytest.approx(point)
    assert printer.printed(*size).point(*point) == pytest.approx(on_paper(*point, size, printer))


def test_what_would_leave_the_page_is_refused_with_the_side_and_what_to_look_at() -> None:
    page = Page(210, 297, (Rect(10, 10, 190, 20, BLACK),), title="Tray 3")
    with pytest.raises(SheetError) as refused:
        printed(iter([page]), Correction(shift_right_mm=12))
    assert str(refused.value) == (
        "page 'Tray 3': corrected for the printer, marks would reach 2.0 mm off the left of the page and be cut off; "
        "check the shifts and lengths under [printer], or choose other paper or another scale"
    )
    with pytest.raises(SheetError, match=r"3\.1 mm off the right of the page"):
        printed(iter([page]), Correction(scale_across=200 / 213.1 * 1))
    with pytest.raises(SheetError, match=r"5\.0 mm off the top of the page"):
        printed(iter([page]), Correction(shift_down_mm=15))


def test_what_counts_is_ink_and_not_the_room_of_a_stamp() -> None:
    label = Stamp("label", 210, 50, (Rect(10, 10, 190, 20, BLACK),))
    assert len(printed(iter([Page(210, 297, (Place(label, 0, 0),), margin_mm=0)]), Correction(0.99, 0.99, 3, 3))) == 1
    turned = Page(210, 297, (Place(Stamp("s", 40, 10, (Rect(0, 4, 40, 2, BLACK),)), 12, 3, turns=1),), margin_mm=0)
    assert len(printed(iter([turned]), Correction(shift_right_mm=5, shift_down_mm=2.9))) == 1
    with pytest.raises(SheetError, match=r"0\.2 mm off the top"):
        printed(iter([turned]), Correction(shift_right_mm=5, shift_down_mm=3.2))


def test_a_stamp_that_leaves_no_ink_is_never_too_large() -> None:
    clear = Stamp("clear", 210, 297, (Link(0, 0, 210, 297, "https://records.example.org"),))
    assert len(printed(iter([Page(210, 297, (Place(clear, 0, 0),), margin_mm=0)]), Correction(0.9, 0.9, 20, 20))) == 1


def test_a_page_without_marks_is_never_too_large() -> None:
    assert len(printed(iter([Page(210, 297, ())]), Correction(0.9, 0.9, 20, 20))) == 1


def test_a_printer_nobody_measured_needs_no_correction() -> None:
    assert correction(PrinterTruth()) is None
    assert correction(PrinterTruth(0.993, 1, 0.8, 0)) == Correction(0.993, 1, 0.8, 0)


def test_marks_brought_near_the_edge_are_told_of_for_every_page_that_is_printed() -> None:
    job = sj.job([sj.batch(0)], "a4-21", printer=PrinterTruth(shift_right_mm=3.0))
    said = [notice.text for notice in printer_notices(job, ("maps", "sticks"))]
    assert said == [
        f"the correction under [printer] moves marks on {name} to 3.3 mm from the edge of the page; "
        "the corner marks of the printer check page show whether the printer reaches that far"
        for name in ("a4 paper", "the stock 'a4-21'")
    ]
    assert len(printer_notices(job, ("maps", "records"))) == 1
    assert len(printer_notices(job, ("sticks",))) == 1
    assert printer_notices(job, ("records",)) == ()


def test_a_usual_correction_goes_without_saying() -> None:
    usual = PrinterTruth(198.6 / 200, 199.4 / 200, 0.5, -0.5)
    assert printer_notices(sj.job([sj.batch(0)], "a4-21", printer=usual), ("maps", "sticks")) == ()
    assert printer_notices(sj.job([sj.batch(0)]), ("maps", "sticks")) == ()
