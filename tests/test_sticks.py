"""Which sticks there are, in which order, and where on the page each is printed."""

from datetime import date, timedelta

import plans
import pytest
import stick_jobs as sj

from traysheets.arrange.model import Run
from traysheets.page.marks import Page, Path, Place, Rect, Text
from traysheets.page.reach import text_boxes
from traysheets.sheets.job import Job
from traysheets.sheets.sticks import stick_count, stick_pages
from traysheets.trade.stocks import Stock


def sticks(page: Page) -> list[Place]:
    return [mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name != "outlines"]


def texts(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def outline(page: Page) -> Place:
    (found,) = (mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name == "outlines")
    return found


def codes_in_order(job: Job) -> list[str]:
    return [place.stamp.name for page in stick_pages(job) for place in sticks(page)]


def test_a_stick_a_run_a_stick_a_cell_or_a_number_in_all() -> None:
    runs = {0: (Run(1, 0, 0, 18), Run(2, 0, 0, 6)), 1: (Run(2, 1, 6, 5),), 2: (Run(2, 2, 11, 7), Run(3, 2, 0, 13))}
    batches = [
        sj.batch(0, cells=24, sticks="run"),
        sj.batch(1, cells=5, sticks="cell"),
        sj.batch(2, cells=20, sticks=4),
    ]
    job = sj.job(batches, "a4-21", runs=runs)
    assert stick_count(job) == 2 + 5 + 4
    assert codes_in_order(job) == ["27-014-K"] * 2 + ["27-015-9"] * 5 + ["27-016-X"] * 4


def test_every_run_and_every_cell_is_named_in_the_order_of_the_bench() -> None:
    runs = {0: (Run(3, 0, 0, 8), Run(12, 0, 17, 1)), 1: (Run(12, 1, 4, 4),)}
    batches = [sj.batch(0, cells=9, sticks="run"), sj.batch(1, cells=4, sticks="cell")]
    (page,) = stick_pages(sj.job(batches, "a4-21", runs=runs))
    assert texts(page)[:6] == [
        "tray 3, A1–B2",
        "tray 12, C6",
        "tray 12, A5",
        "tray 12, A6",
        "tray 12, B1",
        "tray 12, B2",
    ]


def test_a_number_of_sticks_has_a_place_only_when_there_is_one_run() -> None:
    one = sj.job([sj.batch(0, cells=8, sticks=2)], "a4-21")
    two = sj.job([sj.batch(0, cells=24, sticks=2)], "a4-21")
    (page_one,), (page_two,) = stick_pages(one), stick_pages(two)
    assert "tray 1, A1–B2" in stamp_texts(page_one)
    assert not [text for text in stamp_texts(page_two) if text.startswith("tray")]


def stamp_texts(page: Page) -> list[str]:
    return [mark.text for mark in sticks(page)[0].stamp.marks if isinstance(mark, Text)]


def test_only_what_is_sown_on_the_chosen_days_gets_sticks() -> None:
    later = plans.SATURDAY + timedelta(days=7)
    batches = [sj.batch(0), sj.batch(1, sow=later), sj.batch(2)]
    job = sj.job(batches, days=(later, date(2027, 12, 31)))
    assert codes_in_order(job) == ["27-015-9"]
    assert stick_count(job) == 1


def test_no_batch_no_page() -> None:
    job = sj.job([sj.batch(0)], days=(date(2030, 1, 1), date(2030, 1, 2)))
    assert stick_count(job) == 0
    assert list(stick_pages(job)) == []


def test_a_batch_is_drawn_once_and_placed_often() -> None:
    job = sj.job([sj.batch(0, sticks=50), sj.batch(1, sticks=50)], "letter-30")
    placed = [place.stamp for page in stick_pages(job) for place in sticks(page)]
    assert len(placed) == 100
    assert len(set(placed)) == 2


@pytest.mark.parametrize("name", sj.STOCKS)
def test_sticks_stand_where_the_stock_table_has_its_labels(name: str) -> None:
    stock = sj.STOCKS[name]
    job = sj.job([sj.batch(0, sticks=2 * stock.labels + 1)], stock)
    pages = list(stick_pages(job))
    assert [len(sticks(page)) for page in pages] == [stock.labels, stock.labels, 1]
    for label, place in enumerate(sticks(pages[0])):
        row, column = divmod(label, stock.columns)
        assert place.x_mm == pytest.approx(stock.first_mm[0] + column * stock.pitch_mm[0])
        assert place.y_mm == pytest.approx(stock.first_mm[1] + row * stock.pitch_mm[1])
        assert (place.stamp.width_mm, place.stamp.height_mm) == stock.label_mm
    assert {(page.width_mm, page.height_mm) for page in pages} == {stock.page_mm}


@pytest.mark.parametrize(("first", "counts"), [(1, [21, 4]), (5, [17, 8]), (21, [1, 21, 3])])
def test_a_part_used_sheet_is_begun_at_its_first_free_label(first: int, counts: list[int]) -> None:
    job = sj.job([sj.batch(0, sticks=25)], "a4-21", first_label=first)
    pages = list(stick_pages(job))
    assert [len(sticks(page)) for page in pages] == counts
    begins = [(sticks(page)[0].x_mm, sticks(page)[0].y_mm) for page in pages]
    stock = sj.STOCKS["a4-21"]
    assert begins == [stock.corner_mm(first - 1), *[stock.corner_mm(0)] * (len(pages) - 1)]


def test_outlines_are_drawn_when_asked_for_and_only_round_sticks() -> None:
    plain = list(stick_pages(sj.job([sj.batch(0, sticks=3)], "a4-21")))
    assert not [mark for mark in plain[0].marks if isinstance(mark, Place) and mark.stamp.name == "outlines"]
    job = sj.job([sj.batch(0, sticks=3)], "a4-21", outlines=True, first_label=2)
    (page,) = stick_pages(job)
    stock, drawn = sj.STOCKS["a4-21"], outline(page)
    corners = [(drawn.x_mm + rect.x_mm, drawn.y_mm + rect.y_mm) for rect in drawn.stamp.marks if isinstance(rect, Rect)]
    assert corners == [pytest.approx(stock.corner_mm(label)) for label in (1, 2, 3)]
    assert {rect.radius_mm for rect in drawn.stamp.marks if isinstance(rect, Rect)} == {stock.radius_mm}


def test_stakes_are_always_drawn_with_their_point_to_be_cut_along() -> None:
    (page,) = stick_pages(sj.job([sj.batch(0, sticks=2)], "stake-16x127-a4"))
    stock, drawn = sj.STOCKS["stake-16x127-a4"], outline(page)
    (path,) = drawn.stamp.marks
    assert isinstance(path, Path)
    assert path.stroke == "#000000"
    points = [step[1:] for step in path.d if step[0] in "ML"]
    assert len(points) == 10, "five corners a stake"
    assert points[0] == (0, 0)
    assert points[2] == (stock.label_mm[0], stock.label_mm[1] / 2), "the point, half-way up the right-hand end"
    assert points[1][0] > stock.label_mm[0] * 2 / 3, "the point is in the third that goes into the soil"


def test_full_pages_share_one_outline() -> None:
    stock = sj.STOCKS["stake-25x150-a4"]
    pages = list(stick_pages(sj.job([sj.batch(0, sticks=3 * stock.labels)], stock)))
    assert len({outline(page).stamp for page in pages}) == 1


@pytest.mark.parametrize("name", sj.STOCKS)
def test_the_margin_is_the_usual_one_unless_the_labels_reach_into_it(name: str) -> None:
    stock = sj.STOCKS[name]
    page = next(stick_pages(sj.job([sj.batch(0)], stock)))
    right = stock.page_mm[0] - stock.corner_mm(stock.labels - 1)[0] - stock.label_mm[0]
    assert page.margin_mm == pytest.approx(max(0, min(6.35, *stock.first_mm, right)), abs=0.01)


@pytest.mark.parametrize("name", sj.STOCKS)
def test_the_caption_stays_off_the_labels_and_inside_the_printable_area(name: str) -> None:
    stock = sj.STOCKS[name]
    page = next(stick_pages(sj.job([sj.batch(0, sticks=2), sj.batch(1, sj.SHORT, sticks=stock.labels)], stock)))
    captions = [mark for mark in page.marks if isinstance(mark, Text)]
    if stock.labels == 1:
        assert captions == []
        return
    (caption,) = captions
    assert caption.x_mm >= 6.35
    assert caption.size_pt >= 7
    (_, (_, top, _, bottom)), *_ = text_boxes([caption])
    foot = stock.corner_mm(stock.labels - 1)[1] + stock.label_mm[1]
    assert 6.35 < top < bottom < stock.first_mm[1] or foot < top < bottom < stock.page_mm[1] - 6.35


def test_a_caption_without_room_is_left_out() -> None:
    tight = Stock("tight", "tight", (210, 297), (60, 30), 9, 3, (10, 7), (64, 31.5))
    page = next(stick_pages(sj.job([sj.batch(0, sticks=3)], tight)))
    assert texts(page) == []


def test_the_caption_and_the_bookmark_say_what_is_on_the_page() -> None:
    batches = [sj.batch(0, sticks=25), sj.batch(1, sj.SHORT, sticks=2)]
    first, second = stick_pages(sj.job(batches, "a4-21"))
    assert texts(first) == [f"{WHOLE}Spring, first sowings  ·  sticks 1 to 21 of 27  ·  Longstalk Winter"]
    assert texts(second) == [
        f"{WHOLE}Spring, first sowings  ·  sticks 22 to 27 of 27  ·  Longstalk Winter to Short Stout"
    ]
    assert first.title == "Page 1: Longstalk Winter 27-014-K"
    assert second.title == "Page 2: Longstalk Winter 27-014-K to Short Stout 27-015-9"


WHOLE = "Print at 100\N{NO-BREAK SPACE}%.  ·  "


def test_card_says_how_to_print_it() -> None:
    (page,) = stick_pages(sj.job([sj.batch(0, sticks=1)], "stake-16x127-a4"))
    assert texts(page) == [
        "Print at 100\N{NO-BREAK SPACE}%, cut along the lines.  ·  Spring, first sowings  ·  stick 1 of 1"
        "  ·  Longstalk Winter"
    ]


def test_a_roll_is_bookmarked_where_a_batch_begins() -> None:
    batches = [sj.batch(0, sticks=2), sj.batch(1, sj.SHORT, sticks=2)]
    titles = [page.title for page in stick_pages(sj.job(batches, "roll-57x32"))]
    assert titles == ["Longstalk Winter 27-014-K", "", "Short Stout 27-015-9", ""]


def test_pages_come_one_at_a_time() -> None:
    pages = stick_pages(sj.job([sj.batch(0, sticks=10**9)], "letter-30"))
    assert next(pages).title == next(pages).title.replace("Page 2", "Page 1")
