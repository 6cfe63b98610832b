"""What a stick of every stock looks like: nothing too small, nothing touching, quiet zones kept, all in its place."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import combinations

import pytest
import stick_jobs as sj

from traysheets.base.words import words_for
from traysheets.page.lettering import width_mm
from traysheets.page.marks import Line, Mark, Page, Path, Place, Stamp, Text
from traysheets.page.proof import overlaps, prove
from traysheets.page.reach import Box, box, text_boxes
from traysheets.reckon.model import Figure, Source
from traysheets.sheets import stick_layout
from traysheets.sheets.stick_checks import checked_design
from traysheets.sheets.stick_design import letter
from traysheets.sheets.stick_facts import Piece, pieces
from traysheets.sheets.stick_lines import LEAST_PT, Column, set_column
from traysheets.sheets.stick_places import widest_place
from traysheets.sheets.sticks import stick_pages
from traysheets.trade.stocks import Stock

NAMES = {
    "short": sj.SHORT,
    "usual": sj.USUAL,
    "long": sj.LONG,
    "greek": sj.GREEK,
    "cyrillic": sj.CYRILLIC,
    "accents": sj.ACCENTS,
}
STAKES = [name for name, stock in sj.STOCKS.items() if stock.point == "right"]
every_stock = pytest.mark.parametrize("stock", sj.STOCKS.values(), ids=list(sj.STOCKS))
every_name = pytest.mark.parametrize("names", NAMES.values(), ids=list(NAMES))
treated_or_not = pytest.mark.parametrize("treated", [False, True], ids=["untreated", "treated"])


def page_of(stock: Stock | str, names: tuple[str, str, str] = sj.USUAL, **other: object) -> Page:
    """The first page of a batch with two sticks, or as many as it has runs."""
    return next(stick_pages(sj.job([sj.batch(0, names, **{"sticks": "run"} | other)], stock)))


def label_marks(page: Page) -> list[Mark]:
    """The marks of the first label of a page, its own place lettered beside its stamp included."""
    (placed, *_) = (mark for mark in page.marks if isinstance(mark, Place))
    beside = [mark for mark in page.marks if isinstance(mark, Text) and mark.text.startswith("tray")][:1]
    moved = [Text(it.x_mm - placed.x_mm, it.y_mm - placed.y_mm, it.text, it.face, it.size_pt) for it in beside]
    return [*placed.stamp.marks, *moved]


def codes(marks: list[Mark]) -> list[Box]:
    return [box(mark) for mark in marks if isinstance(mark, Place)]


def texts(marks: list[Mark]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def names_of(marks: list[Mark]) -> list[Text]:
    """The lines of the variety: the only bold text beside what to do and treated seed, and always first."""
    found = texts(marks)
    first = found[0]
    return [it for it in found if (it.face, it.size_pt, it.x_mm) == (first.face, first.size_pt, first.x_mm)]


def dark(marks: list[Mark]) -> Iterator[Box]:
    """Around the dark modules of every code."""
    for mark in marks:
        if isinstance(mark, Place):
            (path,) = (inner for inner in mark.stamp.marks if isinstance(inner, Path))
            left, top, right, bottom = box(path)
            yield mark.x_mm + left, mark.y_mm + top, mark.x_mm + right, mark.y_mm + bottom


def gap(one: Box, other: Box) -> float:
    """How far two boxes are apart, the larger of across and down; negative when they meet."""
    across = max(one[0], other[0]) - min(one[2], other[2])
    down = max(one[1], other[1]) - min(one[3], other[3])
    return max(across, down)


def test_a_gap_is_seen_and_so_is_none() -> None:
    assert gap((0, 0, 2, 2), (3, 1, 4, 4)) == 1
    assert gap((0, 0, 2, 2), (1, 1, 4, 4)) == -1


@every_stock
@every_name
@treated_or_not
def test_a_stick_is_well_made(stock: Stock, names: tuple[str, str, str], treated: bool) -> None:
    page = page_of(stock, names, treated=treated)
    prove(page)
    assert overlaps(page) == []
    marks, (width, height) = label_marks(page), stock.label_mm
    for text, ink in text_boxes(marks):
        if text in {it.text for it in texts(marks)}:
            edge = min(ink[0], ink[1], width - ink[2], height - ink[3])
            assert edge >= 1.2, f"{text} stands {edge:.2f} mm from the edge"
    for it in texts(marks):
        assert it.size_pt >= 6, it
        assert it.face != "code" or it.size_pt >= 7, it
        ink = next(iter(text_boxes([it])))[1]
        assert all(gap(ink, code) > -0.01 for code in codes(marks)), f"{it.text} stands in a quiet zone"
    if treated:
        assert any("treated" in it.text for it in texts(marks))


@every_stock
@every_name
def test_variety_code_and_qr_stand_on_every_stock(stock: Stock, names: tuple[str, str, str]) -> None:
    marks = label_marks(page_of(stock, names))
    said = " ".join(it.text for it in names_of(marks))
    assert said.replace("- ", "-").rstrip("…").rstrip() in names[0]
    assert "27-014-K" in [it.text for it in texts(marks) if it.face == "code"]
    assert codes(marks)


@every_stock
def test_the_variety_is_the_largest(stock: Stock) -> None:
    marks = label_marks(page_of(stock))
    first, *others = (it.size_pt for it in texts(marks) if it not in names_of(marks)[1:])
    assert first > max(others)


@every_stock
def test_the_code_can_be_typed_from_eight_points(stock: Stock) -> None:
    (code,) = (it for it in texts(label_marks(page_of(stock))) if it.face == "code")
    assert code.size_pt >= 8


@every_stock
@pytest.mark.parametrize("url", [sj.URL, None], ids=["address", "short text"])
def test_modules_keep_to_the_rules(stock: Stock, url: str | None) -> None:
    """Modules and quiet zones as the standard (ISO/IEC 18004: four modules) and measurements of reading ask for."""
    page = next(stick_pages(sj.job([sj.batch(0)], stock, record_url=url)))
    marks, (width, height) = label_marks(page), stock.label_mm
    least = 0.38 if stock.name == "letter-80" else 0.42
    for placed, around in zip((mark for mark in marks if isinstance(mark, Place)), dark(marks), strict=True):
        (path,) = (mark for mark in placed.stamp.marks if isinstance(mark, Path))
        assert least <= path.unit_mm <= 0.8
        quiet = (2 if stock.point == "right" else 4) * path.unit_mm
        assert min(around[0], around[1], width - around[2], height - around[3]) >= quiet - 1e-6
        for text, ink in text_boxes([mark for mark in marks if isinstance(mark, Text)]):
            assert gap(ink, around) >= 4 * path.unit_mm - 0.01, text


@pytest.mark.parametrize("name", STAKES)
@every_name
def test_a_stake_bears_two_codes_above_the_line_of_insertion(name: str, names: tuple[str, str, str]) -> None:
    stock = sj.STOCKS[name]
    marks = label_marks(page_of(stock, names, treated=True))
    soil = stock.label_mm[0] * 2 / 3
    first, second = dark(marks)
    assert gap(first, second) >= 8
    assert max(box(mark)[2] for mark in marks if isinstance(mark, Place | Text)) <= soil
    (line,) = (mark for mark in marks if isinstance(mark, Line) and mark.dash_mm)
    assert line.x1_mm == line.x2_mm == pytest.approx(soil)


@pytest.mark.parametrize("name", STAKES)
def test_the_corner_without_a_finder_is_on_the_side_of_the_soil(name: str) -> None:
    for mark in label_marks(page_of(name)):
        if isinstance(mark, Place):
            (path,) = (inner for inner in mark.stamp.marks if isinstance(inner, Path))
            assert mark.turns == 0
            left, top, right, bottom = box(path)
            corners = {(x, y): 0.0 for x in "lr" for y in "tb"}
            for _, x, y, w, h in path.d:
                x, y, w, h = (float(part) * path.unit_mm for part in (x, y, w, h))
                for at in corners:
                    reach = 7 * path.unit_mm + 1e-6
                    near_x = x + w <= left + reach if at[0] == "l" else x >= right - reach
                    near_y = y + h <= top + reach if at[1] == "t" else y >= bottom - reach
                    corners[at] += w * h if near_x and near_y else 0
            finder = 33 * path.unit_mm**2
            assert all(corners[at] == pytest.approx(finder) for at in corners if at != ("r", "b"))
            assert corners["r", "b"] != pytest.approx(finder)


@every_stock
def test_sticks_side_by_side_look_alike(stock: Stock) -> None:
    """Varieties of usual length have the same places and sizes, whatever else is printed with them."""
    other = ("Shortstalk Summer", "Bunching onion", "HB-2232")
    pair = sj.job([sj.batch(0), sj.batch(1, other, sticks=stock.labels)], stock, codes={0: "27-014-K", 1: "27-015-9"})
    pages = list(stick_pages(pair))
    stamps = list(dict.fromkeys(mark.stamp for page in pages for mark in page.marks if isinstance(mark, Place)))
    here, there = [stamp for stamp in stamps if stamp.name != "outlines"]
    assert codes(list(here.marks)) == codes(list(there.marks))
    alone = label_marks(page_of(stock))
    assert [it for it in texts(list(here.marks)) if not it.text.startswith("tray")] == [
        it for it in texts(alone) if not it.text.startswith("tray")
    ]


def test_what_to_do_in_words() -> None:
    """As growers say it: clumps are not thinned, stations and single cells to one (common practice, no source)."""
    said = {
        "clump 25": "25 a cell, do not thin",
        "stations 3x2": "thin to 3, one a hole",
        "stations 3x1": "3 a cell",
        "single 2": "thin to 1 a cell",
        "single 1": "1 a cell",
    }
    for what, words in said.items():
        page = next(stick_pages(sj.job([sj.batch(0, what=what)], "letter-10")))
        assert words in [it.text for it in texts(label_marks(page)) if it.face == "bold"]


def test_a_large_label_says_it_all() -> None:
    said = [it.text for it in texts(label_marks(page_of("letter-10", treated=True, cells=8)))]
    assert said[0] == "Longstalk Winter"
    for fact in (
        "Bunching onion",
        "27-014-K",
        "treated seed",
        "25 a cell, do not thin",
        "sown 6 Mar 2027",
        "plant out from 1 May",
        "lot HB-2231",
        "tray 1, A1–B2",
    ):
        assert fact in said


def test_facts_that_are_not_known_are_not_said() -> None:
    said = [it.text for it in texts(label_marks(page_of("letter-10", plant_out=None, lot=None)))]
    assert not [text for text in said if "plant out" in text or text.startswith("lot")]


def test_planting_out_in_another_year_names_the_year() -> None:
    marks = label_marks(page_of("letter-10", plant_out=Figure(date(2028, 4, 1), Source.PLAN)))
    assert "plant out from 1 Apr 2028" in [it.text for it in texts(marks)]


def test_the_smallest_label_keeps_to_the_order_of_importance() -> None:
    """variety, code, treated, crop, what to do, sown, plant out, lot, place."""
    untreated = [it.text for it in texts(label_marks(page_of("letter-80")))]
    assert untreated == ["Longstalk Winter", "Bunching onion", "27-014-K", "25 a cell, do not thin", "·", "sown 6 Mar"]
    treated = [it.text for it in texts(label_marks(page_of("letter-80", treated=True)))]
    assert treated == ["Longstalk Winter", "Bunching onion", "27-014-K", "treated seed"]


def test_treated_seed_has_a_drawn_sign_before_the_word() -> None:
    marks = label_marks(page_of("a4-21", treated=True))
    (word,) = (it for it in texts(marks) if it.text == "treated seed")
    (triangle,) = (mark for mark in marks if isinstance(mark, Path) and mark.fill == "#000000")
    left, top, right, bottom = box(triangle)
    assert right < word.x_mm
    assert top < word.y_mm < bottom + 0.5
    strokes = [mark for mark in marks if isinstance(mark, Line) and mark.stroke == "#FFFFFF"]
    assert all(left < line.x1_mm < right for line in strokes)
    assert len(strokes) == 2


def test_long_names_are_condensed_then_broken_then_cut() -> None:
    condensed = names_of(label_marks(page_of("a4-21", sj.ACCENTS)))
    assert [it.face for it in condensed] == ["condensed-bold"]
    broken = names_of(label_marks(page_of("a4-21", sj.LONG)))
    assert len(broken) == 2
    assert not broken[-1].text.endswith("…")
    endless = ("An " + "endlessly " * 28 + "long one", "Onion", "A")
    cut = names_of(label_marks(page_of("a4-21", endless)))
    assert cut[-1].text.endswith("…")
    assert {it.size_pt for it in cut} == {6}


def test_labels_do_not_reach_into_each_other() -> None:
    page = next(stick_pages(sj.job([sj.batch(0, sj.LONG, sticks=80)], "letter-80")))
    places = [mark for mark in page.marks if isinstance(mark, Place)]
    boxes = [box(mark) for mark in places]
    assert all(gap(one, other) >= -1e-6 for one, other in combinations(boxes, 2))


def test_the_place_is_as_wide_as_any_of_the_batch() -> None:
    """The room kept for it holds the place of every stick, whatever its row letter."""
    batch = sj.batch(0, cells=18, sticks="cell")
    page = next(stick_pages(sj.job([batch], "a4-65")))
    prove(page)
    right = sj.STOCKS["a4-65"].label_mm[0] - 1.2
    stock = sj.STOCKS["a4-65"]
    places = [mark for mark in page.marks if isinstance(mark, Text) and mark.text.startswith("tray")]
    for label, it in enumerate(places):
        x = it.x_mm - stock.corner_mm(label)[0]
        assert x + width_mm(it.text, it.face, it.size_pt) <= right


def test_a_stamp_is_the_size_of_its_label() -> None:
    page = page_of("roll-25x54")
    (placed,) = (mark for mark in page.marks if isinstance(mark, Place))
    assert isinstance(placed.stamp, Stamp)
    assert (page.width_mm, page.height_mm) == (placed.stamp.width_mm, placed.stamp.height_mm) == (25, 54)


# ---- the letters of the map


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "pt"])
@pytest.mark.parametrize("stock", ["letter-30", "stake-20x100-a4", "stake-20x100-letter", "a4-21"])
@pytest.mark.parametrize("treated", [False, True], ids=["plain", "treated"])
def test_the_letters_of_the_map_stay_before_the_crop(stock: str, language: str, treated: bool) -> None:
    one = sj.batch(0, ("Roundhead", "Cabbage", "HB-7"), code="TO", treated=treated)
    job = replace(sj.job([one], stock), words=words_for(language))
    made = checked_design(job)
    lettering = letter(made, one.sowing.variety, pieces(job, one, widest_place(job, one)))
    said = {it.kind: it.text for it in lettering.settings}
    assert said["crop"] == "TO · Cabbage"
    assert ("treated" in said) == treated
    assert lettering.left_out == lettering.cut == ()
    assert all(it.size_pt >= LEAST_PT for it in lettering.settings)


def test_of_a_column_without_room_for_a_letter_every_fact_is_left_out() -> None:
    facts = [Piece("sown", "Sow 6 March"), Piece("crop", "Onion")]
    assert set_column(facts, stick_layout.Box(0, 0, 30, 1), 6.0) == Column((), ("sown", "crop"))
