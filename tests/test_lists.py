"""How lists fall onto pages, and the parts of rows. Pages are written as letters: heads in capitals, + for again."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

import list_jobs
import pytest

from traysheets.base.errors import SheetError
from traysheets.base.words import words_for
from traysheets.page.marks import Page, Rect, Text
from traysheets.sheets import measures
from traysheets.sheets.frame import frame_on
from traysheets.sheets.list_parts import Column, Said, Stack, columns, few
from traysheets.sheets.lists import Strip, paginate
from traysheets.trade.papers import PAPERS

WORDS = words_for("en")
LEVELS = {"W": 1, "D": 2}


def strip(letter: str) -> Strip:
    """A head for W (outer) and D (inner), a row for all others; each ten high."""
    marks = lambda top: [Text(0, top, letter)]  # noqa: E731
    again = Strip(10, lambda top: [Text(0, top, f"{letter}+")]) if letter in LEVELS else None
    return Strip(10, marks, LEVELS.get(letter, 0), again)


def dealt(letters: str, rows: int) -> str:
    """The pages of strips in a room of so many, `/` between pages."""
    pages = paginate(map(strip, letters), 10 * rows)
    return "/".join(" ".join(_letters(page)) for page in pages)


def _letters(page: Iterable[Strip]) -> list[str]:
    return [mark.text for one in page for mark in one.marks(0) if isinstance(mark, Text)]


@pytest.mark.parametrize(
    ("letters", "rows", "pages"),
    [
        ("abc", 3, "a b c"),
        ("abcd", 3, "a b c/d"),
        ("WDab", 4, "W D a b"),
        ("WDabc", 4, "W D a b/W+ D+ c"),
        ("WaDb", 3, "W a/W+ D b"),
        ("WDaWDb", 5, "W D a/W D b"),
        ("WDaDb", 4, "W D a/W+ D b"),
        ("aWDb", 3, "a/W D b"),
        ("WDa", 1, "W D a"),
        ("", 3, ""),
    ],
)
def test_heads_stay_with_their_rows_and_are_said_again(letters: str, rows: int, pages: str) -> None:
    assert dealt(letters, rows) == pages


def test_every_row_stands_on_one_page_whatever_the_room() -> None:
    letters = "WDabcDdWDefghDijW" + "Dklmn"
    for rows in range(1, 12):
        assert [letter for letter in dealt(letters, rows) if letter.islower()] == [c for c in letters if c.islower()]


def test_columns_fill_the_field_with_gaps_between() -> None:
    frame = frame_on(PAPERS["a4"], landscape=False)
    found = list(columns(frame, 1.0, tick=8, name=0, note=0, day=20).values())
    assert found[0].left_mm == frame.left_mm
    assert found[-1].right_mm == pytest.approx(frame.right_mm)
    assert found[1].width_mm == pytest.approx(found[2].width_mm)
    gaps = [after.left_mm - before.right_mm for before, after in pairwise(found)]
    assert gaps == pytest.approx([3, 3, 3])


def test_texts_are_put_together_when_there_are_too_many() -> None:
    assert few(["a", "b"], 2) == ("a", "b")
    assert few(["a", "b", "c", "d"], 3) == ("a", "b", "c, d")


def test_a_long_name_is_wrapped_before_it_gets_too_small_to_read() -> None:
    marks = list(Stack([Said(list_jobs.LONG, "bold", 12, lines=3, readable_pt=9.5)], Column(0, 46)).marks(0))
    assert len(marks) == 3
    assert min(mark.size_pt for mark in marks) >= 9.5


def test_a_name_too_long_for_its_lines_ends_in_an_ellipsis() -> None:
    marks = list(Stack([Said(list_jobs.LONG * 3, "bold", 12, lines=2)], Column(0, 30)).marks(0))
    assert len(marks) == 2
    assert marks[-1].text.endswith("…")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0.00"),
        (0.0002, "0.0002"),
        (0.00000724, "0.000007"),
        (0.00061, "0.001"),
        (0.0594, "0.059"),
        (0.535, "0.535"),
        (5.294, "5.29"),
        (24.64, "24.6"),
        (136.4, "136"),
        (1360.2, "1,360"),
    ],
)
def test_measures_have_three_figures_that_count(value: float, text: str) -> None:
    assert measures.rounded(value, WORDS) == text


def test_ounces_and_square_feet_are_the_exact_ones() -> None:
    """1 oz = 28.349523125 g and 1 ft = 0.3048 m exactly: international yard and pound agreement, 1959."""
    assert measures.ounces(28.349523125 * 2, WORDS) == "2.00 oz"
    assert measures.square_feet(0.09290304 * 10, WORDS) == "10.0 sq ft"


@pytest.mark.parametrize(
    ("minutes", "text"),
    [(0.2, "1 min"), (45, "45 min"), (59.6, "1 h"), (60, "1 h"), (70.2, "1 h 10 min"), (1240, "20 h 40 min")],
)
def test_times_are_told_in_hours_and_minutes(minutes: float, text: str) -> None:
    assert measures.duration(minutes, WORDS) == text


def test_faults_of_a_page_are_found() -> None:
    plate, one, two = (
        Rect(14, 15, 20, 10, fill="#000000"),
        Text(10, 20, "One", size_pt=9),
        Text(11, 24, "Two", size_pt=6),
    )
    with pytest.raises(SheetError, match="'One' runs into 'Two'"):
        list_jobs.faults(Page(100, 100, (one, replace(two, y_mm=20))))
    assert list_jobs.faults(Page(100, 100, (one, two, plate))) == [
        "'Two' is set at 6 pt",
        "'One' runs into Rect",
        "'Two' runs into Rect",
    ]
