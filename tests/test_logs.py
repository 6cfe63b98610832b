"""The record sheets: figures of the reckoning, lines that fit the method and are high enough to write on, every cell of
a small batch in its place, codes that scan.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import mark_pages
import pytest
from eyes import blurred, decode_qr, render
from hypothesis import given, settings
from list_jobs import LONG, UNKNOWN, faults, job, jobs, texts
from plans import BEET, CELL_72, CELL_200, ONION, POT_3IN, SATURDAY, TOMATO, sowing, tray

from traysheets.arrange.model import Run
from traysheets.base.limits import MOST_LETTERS_IN_BATCH
from traysheets.base.words import languages
from traysheets.page.lettering import ELLIPSIS
from traysheets.page.marks import Line, Link, Page, Place, Rect
from traysheets.page.reach import box, text_boxes
from traysheets.plan.model import Repeat, Sowing
from traysheets.sheets import measures, phrases
from traysheets.sheets.job import Job
from traysheets.sheets.links import batch_text
from traysheets.sheets.log_cells import MOST_CELLS
from traysheets.sheets.log_lines import Group, Noted, groups, grown, lines, parted
from traysheets.sheets.log_table import LEAST_LINE_MM
from traysheets.sheets.logs import log_pages
from traysheets.trade.papers import PAPERS

ONIONS = sowing(ONION, cells=8, seeds_per_cell=25, variety="Longstalk", germination=0.85, soil_temp_c=20.0, lot="HB-1")
BEETS = sowing(BEET, "stations", cells=20, seeds_per_station=2, variety="Dusky", germination=0.8, soil_temp_c=15.0)
TOMATOES = sowing(TOMATO, "single", cells=30, seeds_per_cell=1, tray=CELL_72, variety="Ember", soil_temp_c=25.0)
CELL_NAME = re.compile("[A-Z]{1,2}[0-9]{1,2}")


def pages(*sowings: Sowing, **other: object) -> list[Page]:
    return list(log_pages(job(*sowings, **other)))


def signs(page: Page) -> list[str]:
    """The signs of a page from the top down: what there are lines for."""
    found = [mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name.startswith("sign: ")]
    return [mark.stamp.name.removeprefix("sign: ") for mark in sorted(found, key=lambda mark: mark.y_mm)]


def noted(batch_job: Job) -> list[Noted]:
    return [group.noted for group in groups(batch_job.batches[0], batch_job.words)]


def boxes(page: Page) -> list[Rect]:
    """The boxes of cells on a page."""
    return [mark for mark in page.marks if isinstance(mark, Rect) and mark.stroke]


def cell_names(found: Iterable[Page]) -> list[str]:
    return [text for page in found for text in texts(page) if CELL_NAME.fullmatch(text)]


# ---- what there are lines for


def test_a_clump_is_counted_and_trimmed_but_not_thinned() -> None:
    """Onions of 6 March at 20 °C: days by hand as in the aftercare tests; 200 seeds at 85 %."""
    (page,) = pages(ONIONS)
    assert signs(page) == ["sow", "emerge", "count", "trim", "harden_off", "plant_out", "sold", "lost", "remarks"]
    shown = texts(page)
    planned = ["Saturday 6 March 2027", "10 Mar to 13 Mar 2027", "about 170 seedlings", "Saturday 17 April 2027"]
    assert [text for text in shown if text in planned] == planned
    assert shown.count("of 200 seeds") >= 2


def test_stations_are_thinned_and_counted_by_holes() -> None:
    """60 holes with two clusters at 80 %: 0.96 each, 57.6 filled on the mean; at least 56 with 90 % (scipy)."""
    (page,) = pages(BEETS)
    assert "thin" in signs(page)
    assert "trim" not in signs(page)
    assert {"Friday 26 March 2027", "to 1 in every hole, 3 a cell", "about 58 holes with a plant"} <= set(texts(page))
    assert {"56 or more, 90% sure", "of 60 holes"} <= set(texts(page))


def test_one_seed_a_cell_is_not_thinned_and_two_are() -> None:
    assert Noted.THINNED not in noted(job(TOMATOES))
    two = sowing(TOMATO, "single", cells=30, seeds_per_cell=2, tray=CELL_72, soil_temp_c=25.0)
    assert Noted.THINNED in noted(job(two))
    assert "to 1 a cell" in texts(pages(two)[0])


def test_what_no_table_knows_is_left_to_be_written() -> None:
    """No emergence, no weeks to transplant: the lines are there, with nothing planned but the sowing."""
    made = job(sowing(UNKNOWN, "single", cells=4, seeds_per_cell=2, germination=0.8))
    found = {group.noted: group.planned for group in groups(made.batches[0], made.words)}
    assert found[Noted.FIRST_UP] == found[Noted.HARDENED_OFF] == found[Noted.PLANTED_OUT] == ()
    assert found[Noted.THINNED] == ("to 1 a cell",)
    assert found[Noted.SOWN] == ("Saturday 6 March 2027",)


@pytest.mark.parametrize(
    ("sown", "counted", "thinned"),
    [
        (ONIONS, "of 200 seeds", None),
        (BEETS, "of 60 holes", "holes"),
        (sowing(TOMATO, "single", cells=1, seeds_per_cell=2, tray=POT_3IN), "of 1 cell", "cells"),
    ],
)
def test_every_number_says_what_it_is_of(sown: Sowing, counted: str, thinned: str | None) -> None:
    """What is sown, goes out, is sold or lost is noted in cells, as the book has it; what needs no number has none."""
    made = job(sown)
    of = {group.noted: group.number_of for group in groups(made.batches[0], made.words)}
    assert [of[noted] for noted in (Noted.SOWN, Noted.PLANTED_OUT, Noted.SOLD, Noted.LOST)] == ["cells"] * 4
    assert of[Noted.COUNT] == counted
    assert of.get(Noted.THINNED) == thinned
    assert {of[noted] for noted in (Noted.FIRST_UP, Noted.HARDENED_OFF, Noted.REMARKS)} == {""}


def test_what_a_number_is_of_stands_on_each_of_its_lines() -> None:
    """On A4 all on one line; 20 beets on A5 have it over two."""
    (page,) = pages(BEETS)
    alike = groups(job(BEETS).batches[0], job(BEETS).words)
    assert texts(page).count("cells") >= sum(group.lines for group in alike if group.number_of == "cells")
    narrow = [text for page in pages(BEETS, paper="a5") for text in texts(page)]
    assert narrow.count("of 60") == narrow.count("holes") - 1 >= 2


def test_further_lines_go_to_what_comes_up_again() -> None:
    shown = groups(job(ONIONS).batches[0], job(ONIONS).words)
    more = grown(shown, 30)
    assert lines(more) == 30
    once = {Noted.SOWN, Noted.FIRST_UP, Noted.TRIMMED, Noted.HARDENED_OFF}
    assert all(group.lines == 1 for group in more if group.noted in once)
    assert all(group.lines >= 2 for group in more if group.noted not in once)
    assert grown(shown, 1) == shown


def test_lines_are_parted_without_losing_any() -> None:
    shown = (Group(Noted.SOWN, 1), Group(Noted.COUNT, 3, ("about 4",)), Group(Noted.REMARKS, 2))
    assert parted(shown, 2) == (
        (Group(Noted.SOWN, 1), Group(Noted.COUNT, 1, ("about 4",))),
        (Group(Noted.COUNT, 2, ("about 4",)), Group(Noted.REMARKS, 2)),
    )
    assert parted(shown, 9) == (shown, ())


# ---- facts


def test_the_facts_are_filled_in() -> None:
    """200 seeds at 340 to the gram (7 CFR 201.46) weigh 0.588 g; 170 come up on the mean, 163 with 90 % (scipy)."""
    shown = texts(pages(ONIONS)[0])
    facts = {"Longstalk", "27-001-K", "Onion, bulb", "25 seeds, scattered", "8", "tray 1: A1–B2", "HB-1", "200"}
    assert facts <= set(shown)
    assert {"0.588 g", "85%", "about 170", "163 or more, 90% sure"} <= set(shown)


def test_assumed_germination_says_so() -> None:
    shown = texts(pages(sowing(ONION, cells=8, seeds_per_cell=25))[0])
    assert shown[shown.index("70%") :].index("assumed (legal minimum)") < 9


def test_inch_plans_cover_in_inches() -> None:
    assert "1/4 in" in texts(pages(sowing(ONION, cells=8, seeds_per_cell=25, cover_mm=6.0), units="inch")[0])


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_every_batch_has_its_sheet_and_the_figures_of_the_reckoning(made: Job) -> None:
    titles = [title for page in log_pages(made) if page.title for title in page.title.split(" · ")]
    assert titles == [f"{made.codes[batch.index]} {batch.sowing.variety}" for batch in made.batches]
    if made.choices.paper.name in {"a3", "tabloid"}:
        return
    firsts = [page for page in log_pages(made) if page.title]
    for batch, page in zip(made.batches, firsts, strict=True):
        shown = " ".join(text for text, _ in text_boxes(page.marks))
        words = made.words
        expected = words("records.about", n=round(batch.plants_expected))
        figures = [words.number(batch.cells), words.percent(batch.germination.value), expected]
        figures += [phrases.in_every_cell(batch, words), words.number(batch.seeds_total + batch.seeds_spare)]
        figures += [measures.grams(batch.seed_grams.value, words)] if batch.seed_grams else []
        assert all(figure in shown for figure in figures)


# ---- good to write on


def rules(page: Page) -> list[tuple[float, float, float]]:
    """Level lines over half of a page and more: where they are, and from where to where."""
    level = [mark for mark in page.marks if isinstance(mark, Line) and mark.y1_mm == mark.y2_mm]
    return sorted((mark.y1_mm, mark.x1_mm, mark.x2_mm) for mark in level if mark.x2_mm - mark.x1_mm > 50)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_lines_are_high_enough_to_write_on_with_wet_hands(made: Job) -> None:
    for page in log_pages(made):
        for edge in {right for _, _, right in rules(page)}:
            at = [y for y, _, right in rules(page) if right == edge]
            assert min(after - before for before, after in pairwise(at)) >= LEAST_LINE_MM - 0.001


def test_there_are_lines_enough_on_every_paper() -> None:
    """Counted, sold, lost and remarked on more than once."""
    for paper in PAPERS:
        shown = pages(BEETS, paper=paper)
        counted = [text for page in shown for text in texts(page) if text in {"of 60", "of 60 holes"}]
        assert len(counted) >= 3, paper


def test_large_paper_bears_two_sheets_to_be_cut_apart() -> None:
    for paper, number in {"a4": 2, "letter": 2, "legal": 2, "a3": 1, "tabloid": 1}.items():
        shown = pages(ONIONS, TOMATOES, paper=paper)
        assert len(shown) == number, paper
    (both,) = pages(ONIONS, TOMATOES, paper="a3")
    assert both.title == "27-001-K Longstalk · 27-002-9 Ember"
    assert both.width_mm == 420
    across = [text for text, (left, _, right, _) in text_boxes(both.marks) if left < 210 < right]
    assert across == []


def test_a_sheet_that_is_not_full_leaves_the_last_half_free() -> None:
    last = pages(ONIONS, TOMATOES, BEETS, paper="a3")[-1]
    assert max(right for _, (_, _, right, _) in text_boxes(last.marks)) < 210


@settings(max_examples=120, deadline=None)
@given(jobs())
def test_nothing_meets_and_nothing_is_cut_but_names(made: Job) -> None:
    for page in log_pages(made):
        assert faults(page) == []
        for text, _ in text_boxes(page.marks):
            assert ELLIPSIS not in text or text.rstrip(ELLIPSIS)[:12] in LONG


@pytest.mark.parametrize("language", languages())
def test_the_longest_days_go_onto_the_narrowest_paper(language: str) -> None:
    """Every month, every day of the week."""
    for month in range(1, 13):
        for day in range(3, 10):
            beets = sowing(BEET, "stations", cells=8, seeds_per_station=2, soil_temp_c=15.0, sow=date(2027, month, day))
            (first, *_) = pages(beets, paper="a5", language=language)
            assert not [text for text in texts(first) if ELLIPSIS in text]


# ---- cell by cell


def test_the_cells_of_a_small_batch_stand_as_in_the_tray() -> None:
    """8 pots in rows of 6: A1 to A6 over B1 and B2, the rest of row B greyed out."""
    (page,) = pages(ONIONS)
    assert cell_names([page]) == ["A1", "A2", "A3", "A4", "A5", "A6", "B1", "B2"]
    found = boxes(page)
    assert [rect.fill for rect in found].count("#FFFFFF") == 8
    assert len(found) == 12
    assert len({round(rect.y_mm, 3) for rect in found}) == 2
    assert all(rect.width_mm >= 9.6 and rect.height_mm >= 9 for rect in found)


STRIP_25 = tray("strip-25", 4, 25, 20, 23, outer_mm=(600, 120))


def rows_of(found: list[Rect]) -> list[int]:
    """How many boxes stand on each line, from the top."""
    return [len([rect for rect in found if rect.y_mm == y]) for y in sorted({rect.y_mm for rect in found})]


def test_a_wide_tray_is_shown_as_it_is_where_two_figures_go_into_a_box() -> None:
    """25 columns over 196.4 mm are 7.9 mm each: written by hand, two figures take about 6 mm (judgement, no source)."""
    (page,) = pages(sowing(TOMATO, "single", cells=68, seeds_per_cell=1, tray=STRIP_25))
    found = boxes(page)
    assert rows_of(found) == [25, 25, 25]
    assert min(rect.width_mm for rect in found) > 7.8


def test_on_small_paper_the_lines_of_a_broken_row_stand_together() -> None:
    found = boxes(pages(sowing(TOMATO, "single", cells=68, seeds_per_cell=1, tray=STRIP_25), paper="a5")[-1])
    assert rows_of(found) == [13, 12, 13, 12, 13, 12]
    tops = sorted({rect.y_mm for rect in found})
    assert [round(low - high, 2) for high, low in pairwise(tops)] == [10.0, 11.6, 10.0, 11.6, 10.0]


def test_a_batch_parted_over_many_trays_has_all_its_places_told() -> None:
    made = job(sowing(TOMATO, "single", cells=60, seeds_per_cell=1, tray=CELL_72))
    (batch,) = made.batches
    runs = tuple(Run(number, batch.index, 3, 12) for number in range(101, 106))
    made = replace(made, arranged=replace(made.arranged, runs={batch.index: runs}))
    shown = " ".join(text for text in texts(next(iter(log_pages(made)))) if "A4–B3" in text)
    assert all(f"tray {number}: A4–B3" in shown for number in range(101, 106))


@settings(max_examples=100, deadline=None)
@given(jobs())
def test_every_cell_of_a_small_batch_has_one_box(made: Job) -> None:
    if made.choices.paper.name in {"a3", "tabloid"}:
        return
    shown: list[list[Page]] = []
    for page in log_pages(made):
        shown = [*shown, [page]] if page.title else [*shown[:-1], [*shown[-1], page]]
    for batch, sheet in zip(made.batches, shown, strict=True):
        white = [rect for page in sheet for rect in boxes(page) if rect.fill == "#FFFFFF"]
        assert len(white) == (batch.cells if batch.cells <= MOST_CELLS else 0)
        if white and batch.tray.cells > 1:
            runs: tuple[Run, ...] = made.arranged.runs[batch.index]
            names = [batch.tray.cell_name(cell) for run in runs for cell in range(run.first, run.last + 1)]
            assert sorted(set(names) & set(cell_names(sheet))) == sorted(set(names))
        for page in sheet:
            assert not _meeting(boxes(page))


def _meeting(found: list[Rect]) -> list[tuple[Rect, Rect]]:
    """Boxes that lie over one another."""
    edges = [(rect, box(rect)) for rect in found]
    return [
        (one, other)
        for i, (one, a) in enumerate(edges)
        for other, b in edges[i + 1 :]
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.3 and min(a[3], b[3]) - max(a[1], b[1]) > 0.3
    ]


def test_boxes_that_meet_are_seen() -> None:
    assert len(_meeting([Rect(0, 0, 10, 10), Rect(5, 5, 10, 10), Rect(15, 5, 10, 10)])) == 1


def test_many_cells_are_not_asked_for_one_by_one() -> None:
    assert cell_names(pages(sowing(ONION, cells=73, seeds_per_cell=5, tray=CELL_72))) == []
    assert len(cell_names(pages(sowing(ONION, cells=72, seeds_per_cell=5, tray=CELL_72)))) == 72


def test_long_rows_are_broken_where_boxes_would_be_too_narrow() -> None:
    """20 cells a row on paper 148 mm wide: over two lines of ten."""
    shown = pages(sowing(ONION, cells=25, seeds_per_cell=5, tray=CELL_200), paper="a5")
    found = [rect for page in shown for rect in boxes(page)]
    assert len({round(rect.y_mm, 3) for rect in found}) == 3
    assert min(rect.width_mm for rect in found) >= 9.6


def test_pots_of_their_own_are_named_by_the_numbers_of_their_trays() -> None:
    (page,) = pages(sowing(ONION, cells=5, seeds_per_cell=25, tray=POT_3IN))
    assert len(boxes(page)) == 5
    assert "trays 1–5" in texts(page)
    assert {"1", "2", "3", "4", "5"} <= set(texts(page))


# ---- codes, colour, days


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("url", [None, "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"])
def test_the_code_leads_to_the_record(paper: str, url: str | None) -> None:
    """Read by zxing-cpp at 300 dpi in grey, sharp and out of focus by 0.4 of a module."""
    made = job(ONIONS, paper=paper, record_url=url)
    (page, *_) = log_pages(made)
    picture = render(mark_pages.pdf_of([page]), dpi=300, grey=True)
    wanted = {batch_text(made, made.batches[0])}
    assert decode_qr(picture) == wanted
    assert decode_qr(blurred(picture, 0.4 * 0.5 / 25.4 * 300)) == wanted
    links = [mark.url for mark in page.marks if isinstance(mark, Link)]
    assert links == ([url.replace("{batch}", "27-001-K")] if url else [])


def test_grey_sheets_have_no_colour() -> None:
    def colours(page: Page) -> set[str]:
        return set(re.findall("#[0-9A-F]{6}", repr(page)))

    grey = {colour for page in pages(ONIONS, BEETS, grey=True) for colour in colours(page)}
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in grey)
    assert "#109EEB" in colours(pages(ONIONS)[0])


def test_only_the_chosen_days_are_logged() -> None:
    repeated = sowing(ONION, cells=2, seeds_per_cell=25, repeat=Repeat(14, 3))
    day = SATURDAY + timedelta(days=14)
    (page,) = pages(repeated, days=(day, day))
    assert page.title == "27-002-9 Longstalk Winter"
    assert "Saturday 20 March 2027" in texts(page)


def test_what_does_not_go_on_a_sheet_goes_on_on_a_second() -> None:
    """On A5 there is no room for both lines and cells; the second page counts and sells on."""
    first, second = pages(ONIONS, paper="a5")
    assert cell_names([first]) == []
    assert len(cell_names([second])) == 8
    assert any(text.endswith("Longstalk, continued") for text in texts(second))
    assert signs(second) == ["count", "sold", "lost", "remarks"]
    assert ("page 1 of 2" in texts(first), "page 2 of 2" in texts(second)) == (True, True)


def test_plan_is_told_on_every_page() -> None:
    shown = pages(ONIONS, title="Spring", grower="Millbrook Lane Growers", paper="a3")
    assert "Spring · 2027 · Millbrook Lane Growers" in texts(shown[0])


def test_the_longest_code_of_the_growers_own_is_whole_where_it_leaves_no_room_for_the_crop() -> None:
    url = "https://records.example.org/a/long/path/{batch}"
    made = job(sowing(ONION, cells=8, seeds_per_cell=25), paper="a5", record_url=url)
    for code, crop in (("27-001-K", True), ("W" * MOST_LETTERS_IN_BATCH, False)):
        shown = texts(next(log_pages(replace(made, codes={0: code}))))
        assert (code in shown, "Onion, bulb" in shown) == (True, crop)
