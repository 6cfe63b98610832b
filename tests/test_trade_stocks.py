"""Label stocks, papers and scales: every label on its page and apart from the next; the standards' own sizes."""

from dataclasses import replace
from itertools import pairwise

import pytest

from traysheets.trade.papers import PAPERS, SCALES
from traysheets.trade.stocks import Stock, built_in_stocks, misfits

STOCKS = built_in_stocks()
UNPRINTED_MM = 6.35  # a quarter of an inch, which every printer can leave


@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS)
def test_every_label_lies_on_its_page_and_apart_from_the_next(stock: Stock) -> None:
    assert misfits(stock) == ()
    corners = [stock.corner_mm(label) for label in range(stock.labels)]
    assert len(set(corners)) == stock.labels
    for left, top in corners:
        assert left >= 0
        assert top >= 0
        assert left + stock.label_mm[0] <= stock.page_mm[0] + 0.05
        assert top + stock.label_mm[1] <= stock.page_mm[1] + 0.05
    for first, second in pairwise(corners):
        apart = (abs(b - a) for a, b in zip(first, second, strict=True))
        assert any(gap >= size - 0.05 for gap, size in zip(apart, stock.label_mm, strict=True))


@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS)
def test_grids_stand_in_the_middle_of_the_page(stock: Stock) -> None:
    # Common practice, no source: a sheet of labels can be turned round in the printer.
    last = stock.corner_mm(stock.labels - 1)
    for first, begin, size, page in zip(stock.first_mm, last, stock.label_mm, stock.page_mm, strict=True):
        assert first == pytest.approx(page - begin - size, abs=0.1)


@pytest.mark.parametrize(
    ("name", "labels", "size_in"),
    [("letter-30", 30, (2.625, 1)), ("letter-80", 80, (1.75, 0.5)), ("letter-10", 10, (4, 2))],
)
def test_letter_sheets(name: str, labels: int, size_in: tuple[float, float]) -> None:
    # Sizes and counts: common label geometry, from memory.
    stock = STOCKS[name]
    assert stock.labels == labels
    assert stock.label_mm == pytest.approx([side * 25.4 for side in size_in])
    assert stock.page_mm == (PAPERS["letter"].width_mm, PAPERS["letter"].height_mm)


@pytest.mark.parametrize(
    ("name", "labels", "size_mm"),
    [
        ("a4-21", 21, (63.5, 38.1)),
        ("a4-24", 24, (64, 33.9)),
        ("a4-40", 40, (45.7, 25.4)),
        ("a4-65", 65, (38.1, 21.2)),
    ],
)
def test_a4_sheets(name: str, labels: int, size_mm: tuple[float, float]) -> None:
    # Sizes and counts: common label geometry, from memory.
    stock = STOCKS[name]
    assert (stock.labels, stock.label_mm, stock.page_mm) == (labels, size_mm, (210, 297))


@pytest.mark.parametrize("size_mm", [(57, 32), (51, 25), (25, 54)])
def test_a_roll_is_a_page_the_size_of_its_label(size_mm: tuple[int, int]) -> None:
    stock = STOCKS[f"roll-{size_mm[0]}x{size_mm[1]}"]
    assert stock.page_mm == stock.label_mm == size_mm
    assert stock.labels == 1


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("wide", "long"), [(16, 127), (20, 100), (25, 150)])
def test_as_many_stakes_as_fit_are_cut_from_a_card(wide: int, long: int, paper: str) -> None:
    stock = STOCKS[f"stake-{wide}x{long}-{paper}"]
    sides = PAPERS[paper].width_mm, PAPERS[paper].height_mm
    fit = [
        int((across - 2 * UNPRINTED_MM) // long) * int((down - 2 * UNPRINTED_MM) // wide)
        for across, down in (sides, sides[::-1])
    ]
    assert stock.labels == max(fit)
    assert sorted(stock.page_mm) == list(sides)
    assert stock.label_mm == (long, wide)
    assert min(stock.first_mm) >= UNPRINTED_MM
    assert stock.point == "right"
    assert stock.cut


def test_labels_count_in_reading_order() -> None:
    stock = STOCKS["a4-21"]
    assert stock.corner_mm(0) == (7.25, 15.15)
    assert stock.corner_mm(4) == pytest.approx((73.25, 53.25))


@pytest.mark.parametrize(
    ("changes", "sentences"),
    [
        ({}, ()),
        (
            {"first_mm": (-1, 15.15)},
            ("the first label begins 1 mm off the left of the page",),
        ),
        (
            {"rows": 8},
            ("8 rows of labels reach 319.95 mm down, 22.95 mm off the bottom of the page",),
        ),
        (
            {"pitch_mm": (60, 38.1)},
            ("labels of 63.5 mm every 60 mm across would overlap: the pitch is at least a label",),
        ),
        (
            {"rows": 1, "columns": 1, "label_mm": (250, 38.1)},
            ("the label reaches 257.25 mm across, 47.25 mm off the right of the page",),
        ),
        ({"radius_mm": 30}, ("corners rounded by 30 mm are more than half the label",)),
    ],
)
def test_a_stock_that_cannot_be_is_seen(changes: dict[str, object], sentences: tuple[str, ...]) -> None:
    assert misfits(replace(STOCKS["a4-21"], **changes)) == sentences


@pytest.mark.parametrize(
    ("name", "width_mm", "height_mm"),
    [
        # ISO 216.
        ("a3", 297, 420),
        ("a4", 210, 297),
        ("a5", 148, 210),
        # ANSI/ASME Y14.1 sizes A and B.
        ("letter", 8.5 * 25.4, 11 * 25.4),
        ("tabloid", 11 * 25.4, 17 * 25.4),
        # Common US office size, no standard.
        ("legal", 8.5 * 25.4, 14 * 25.4),
    ],
)
def test_papers(name: str, width_mm: float, height_mm: float) -> None:
    paper = PAPERS[name]
    assert (paper.width_mm, paper.height_mm) == pytest.approx((width_mm, height_mm))


def test_scales() -> None:
    # ISO 5455 recommends 1:2, 1:5 and their tenfolds; 1:2.5, 1:3 and 1:4 are common drafting practice.
    assert {
        "1:1": 1.0,
        "1:2": 0.5,
        "1:2.5": 0.4,
        "1:3": pytest.approx(1 / 3),
        "1:4": 0.25,
        "1:5": 0.2,
        "1:10": 0.1,
    } == SCALES
    assert list(SCALES.values()) == sorted(SCALES.values(), reverse=True)
