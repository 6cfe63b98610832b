"""The overview: its figures against the reckoning and by hand, its drawings read back as trays, bars and days."""

from dataclasses import replace
from datetime import date, timedelta

import plans
import pytest
from hypothesis import given, settings
from list_jobs import faults, job, job_of, jobs, row_with, rows, texts
from plans import BEET, CELL_72, ONION, POT_18, SATURDAY, sowing
from scipy.stats import binom

from traysheets.base.bundle import bundled
from traysheets.base.words import words_for
from traysheets.page.lettering import cap_height_mm
from traysheets.page.marks import Circle, Line, Page, Path, Place, Rect, Text
from traysheets.plan.model import Amount, Pace, Repeat, Wanted
from traysheets.plan.read import read_plan
from traysheets.reckon.totals import compare, totals
from traysheets.sheets.bars import BAR_FILL, panels, weeks_of
from traysheets.sheets.job import Job
from traysheets.sheets.overview import overview_pages, tiles
from traysheets.sheets.timescale import TimeScale, month_names, scale_over, week_numbers

WORDS = words_for("en")
ONIONS = sowing(
    ONION, cells=36, seeds_per_cell=25, variety="Longstalk", code="LW", germination=0.85, soil_temp_c=20.0, tray=POT_18
)
BEETS = sowing(BEET, "stations", cells=18, variety="Dusky", code="DR", seeds_per_station=2, soil_temp_c=15.0)


def pages(*sowings: object, **other: object) -> list[Page]:
    return list(overview_pages(job(*sowings, **other)))


def stamps(page: Page, name: str) -> list[Place]:
    return [mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name == name]


# ---- figures


def figures(made: Job) -> dict[str, tuple[str, str]]:
    whole = totals(made.batches, [tray.kind for tray in made.trays])
    return {tile.what: (tile.figure, tile.more) for tile in tiles(made, whole)}


def test_the_figures_by_hand() -> None:
    """36 pots of 25 seeds and 18 of 3 x 2 in 18-pot flats of 540 x 279 mm and 500 ml.

    Seeds 900 + 108; grams 900 / 340 + 108 / 60 (7 CFR 201.46); mix 54 x 0.5 l x 1.15 for pressing (common practice, no
    source), 31.05 l / 28.3168 = 1.10 cu ft; bench 3 x 0.15066 m2 = 0.452, / 0.09290304 = 4.87 sq ft; work
    36 x 120 / 18 s + 18 x 3 x 4.5 s (common practice, no source) = 483 s.
    """
    assert figures(job(ONIONS, BEETS)) == {
        "sowings": ("2", "on 1 day"),
        "trays": ("3", "3\N{NO-BREAK SPACE}pot\N{NON-BREAKING HYPHEN}18"),
        "cells": ("54", ""),
        "seeds": ("1,008", ""),
        "grams of seed": ("4.45", "0.157 oz"),
        "litres of potting mix": ("31.0", "1.10 cu ft"),
        "m² of trays in all": ("0.452", "4.87 sq ft"),
        "minutes of sowing": ("8", "by one pair of hands"),
    }


def test_inch_plans_put_their_own_units_first() -> None:
    shown = figures(job(ONIONS, BEETS, units="inch"))
    assert shown["cubic feet of potting mix"] == ("1.10", "31.0 litres")
    assert shown["sq ft of trays in all"] == ("4.87", "0.452 m²")


def test_helpers_share_the_work() -> None:
    assert figures(job(ONIONS, BEETS, pace=Pace(helpers=2)))["minutes of sowing"] == ("8", "4 min for 2 helpers")


def test_spare_seed_empty_cells_and_unweighed_seed_are_told() -> None:
    unknown = sowing(plans.crop("Skirret"), "single", cells=5, seeds_per_cell=1, germination=0.8, tray=CELL_72)
    shown = figures(job(sowing(ONION, cells=10, seeds_per_cell=20, spare=0.1), unknown))
    assert shown["seeds"] == ("205", "and 20 spare")
    assert shown["cells"] == ("15", "75 cells left empty")
    assert shown["grams of seed"][1] == "without 1 of unknown weight"


def test_figures_stand_large_on_the_first_page() -> None:
    page = pages(ONIONS, BEETS)[0]
    large = {mark.text for mark in page.marks if isinstance(mark, Text) and mark.size_pt >= 25}
    assert {"2", "3", "54", "1,008", "4.45", "31.0", "0.452", "8"} <= large


# ---- the same plants one a cell


def test_the_comparison_draws_every_tray_to_one_scale() -> None:
    """36 x 25 seeds and 18 x 3 holes, a cell each: 954 cells, 14 trays of 72 beside 3 of 18 pots."""
    page = pages(ONIONS, BEETS, compare=CELL_72)[0]
    planned, other = stamps(page, "pot-18"), stamps(page, "cell-72")
    assert (len(planned), len(other)) == (3, 14)
    scale = {round(place.stamp.width_mm / 540, 9) for place in planned + other}
    scale |= {round(place.stamp.height_mm / 279, 9) for place in planned + other}
    assert len(scale) == 1
    assert {"3 trays", "14 trays", "954 cells · 2.11 m² · 1 h 12 min"} <= set(texts(page))


def test_no_tray_of_the_comparison_lies_on_another() -> None:
    page = pages(ONIONS, BEETS, sowing(ONION, cells=300, seeds_per_cell=3, tray=CELL_72), compare=CELL_72)[0]
    drawn = stamps(page, "pot-18") + stamps(page, "cell-72")
    for i, one in enumerate(drawn):
        for other in drawn[:i]:
            across = abs(one.x_mm - other.x_mm) >= one.stamp.width_mm
            assert across or abs(one.y_mm - other.y_mm) >= one.stamp.height_mm


def test_very_many_trays_are_drawn_by_tens() -> None:
    """20,000 clumps of 25: 500,000 cells, 6,945 trays of 72, drawn as 695; 1,112 trays of 18 pots as 112."""
    page = pages(sowing(ONION, cells=20_000, seeds_per_cell=25), compare=CELL_72)[0]
    assert (len(stamps(page, "cell-72")), len(stamps(page, "pot-18"))) == (695, 112)
    assert any("Each tray drawn stands for 10." in text for text in texts(page))


def test_round_cells_are_drawn_round() -> None:
    """Of 39 mm, to scale, less 0.15 mm that keep them apart."""
    (place, *_) = stamps(pages(ONIONS, compare=replace(CELL_72, name="rounds", shape="round"))[0], "rounds")
    cells = [mark for mark in place.stamp.marks if isinstance(mark, Circle)]
    assert [cell.radius_mm * 2 + 0.15 for cell in cells] == [pytest.approx(39 * place.stamp.width_mm / 540)] * 72


def test_without_a_comparison_there_is_none() -> None:
    assert "The same plants, one a cell" not in texts(pages(ONIONS)[0])


# ---- benches


def bars_of(page: Page) -> list[float]:
    """Heights of the bars with room, of all benches in turn."""
    paths = [mark for mark in page.marks if isinstance(mark, Path) and mark.fill == BAR_FILL]
    return [float(piece[4]) for path in paths for piece in path.d if piece[0] == "R"]


def test_bars_are_as_high_as_trays_are_many() -> None:
    """Two flats of onions from week 9 to 21 (12 weeks after 6 March), one of beet to week 14 (5 weeks after)."""
    page = pages(ONIONS, BEETS, benches=(plans.bench(),))[0]
    heights = bars_of(page)
    assert [round(height / heights[-1] * 2) for height in heights] == [3] * 6 + [2] * 7
    assert {"light shelf", "holds 4 trays: flat of 18 pots", "fullest: week 9, 3 trays"} <= set(texts(page))
    assert stamps(page, "no room") == []


def test_where_a_bench_is_full_is_a_dashed_line() -> None:
    """The bench holds four, the fullest week has three: the line is a third higher than the highest bar."""
    page = pages(ONIONS, BEETS, benches=(plans.bench(),))[0]
    line = next(mark for mark in page.marks if isinstance(mark, Line) and mark.dash_mm)
    foot = next(
        mark.y1_mm for mark in page.marks
        if isinstance(mark, Line) and not mark.dash_mm and mark.x1_mm == line.x1_mm and mark.y1_mm > line.y1_mm
    )  # fmt: skip
    assert (foot - line.y1_mm) / max(bars_of(page)) == pytest.approx(4 / 3)


@pytest.mark.parametrize("flats", range(1, 13))
def test_counts_stand_clear_of_the_line(flats: int) -> None:
    """Whatever part of a bench for twelve is filled, the dashed line runs through no figure."""
    bench = plans.bench(length_mm=2400, depth_mm=900)
    page = pages(replace(ONIONS, amount=Amount(Wanted.TRAYS, flats), own_trays=True), benches=(bench,))[0]
    line = next(mark for mark in page.marks if isinstance(mark, Line) and mark.dash_mm)
    counts = [mark for mark in page.marks if isinstance(mark, Text) and mark.text == str(flats) and mark.x_mm > 60]
    assert counts
    for count in counts:
        above, below = count.y_mm - cap_height_mm(count.face, count.size_pt), count.y_mm
        assert line.y1_mm < above - 0.5 or line.y1_mm > below + 0.5


def test_kinds_that_mix_on_a_bench_are_drawn_by_the_room_they_take() -> None:
    """A shelf of 1200 x 600 mm holds 4 flats or 15 x 7 = 105 loose pots: two flats and 21 pots fill 0.7 of it.

    The pots, of beet, leave after week 14 (5 weeks after 6 March), and half of it stays filled until week 21.
    """
    pots = replace(BEETS, amount=Amount(Wanted.CELLS, 21), tray=plans.POT_3IN)
    page = pages(ONIONS, pots, benches=(plans.bench(),))[0]
    line = next(mark for mark in page.marks if isinstance(mark, Line) and mark.dash_mm)
    heights = bars_of(page)
    assert [round(height / heights[0] * 0.7, 6) for height in heights] == [0.7] * 6 + [0.5] * 7
    foot = next(
        mark.y1_mm for mark in page.marks
        if isinstance(mark, Line) and not mark.dash_mm and mark.x1_mm == line.x1_mm and mark.y1_mm > line.y1_mm
    )  # fmt: skip
    assert heights[0] / (foot - line.y1_mm) == pytest.approx(0.7)
    shown = texts(page)
    assert {"full", "23", "2", "fullest: week 9, 23 trays"} <= set(shown)
    assert {"mixed kinds; of the main one it", "holds 105: square pot, 76 mm"} <= set(shown)


def test_trays_without_room_are_hatched_and_told() -> None:
    """A shelf of 560 x 300 mm holds one flat; three stand there until week 14, two after."""
    page = pages(ONIONS, BEETS, benches=(plans.bench(length_mm=560, depth_mm=300),))[0]
    assert len(stamps(page, "no room")) == 13
    assert {"no room for 2 of them (hatched)", "too full in 13 weeks"} <= set(texts(page))


def test_hatched_bars_are_seen_without_colour() -> None:
    page = pages(ONIONS, benches=(plans.bench(length_mm=560, depth_mm=300),), grey=True)[0]
    assert not [mark for mark in page.marks if isinstance(mark, Path) and mark.fill == BAR_FILL]
    assert len(stamps(page, "no room")) == 13


def test_without_benches_all_trays_are_shown() -> None:
    shown = texts(pages(ONIONS, BEETS)[0])
    assert {"All trays", "fullest: week 9, 3 trays"} <= set(shown)


def test_trays_on_no_bench_are_shown_apart() -> None:
    mat = replace(BEETS, place="heat mat")
    shelf = replace(ONIONS, place="light shelf")
    made = job(shelf, mat, benches=(plans.bench(),))
    assert [(panel.name, panel.peak_trays) for panel in panels(weeks_of(made), WORDS)] == [
        ("light shelf", 2),
        ("Elsewhere", 1),
    ]


def test_a_bench_too_small_and_a_bench_unused() -> None:
    small, unused = plans.bench("small", 100, 100), plans.bench("far", 9000, 900)
    made = job(replace(ONIONS, place="small"), benches=(small, unused))
    shown = texts(next(iter(overview_pages(made))))
    assert {"too small for a tray: flat of 18 pots", "not used"} <= set(shown)


def test_benches_hold_the_whole_plan_whatever_days_are_chosen() -> None:
    later = replace(BEETS, sow=SATURDAY + timedelta(days=7))
    page = pages(ONIONS, later, benches=(plans.bench(),), days=(SATURDAY, SATURDAY))[0]
    assert {"Trays on the benches, week by week, of the whole plan", "fullest: week 10, 3 trays"} <= set(texts(page))
    assert "36" in texts(page)


# ---- the timeline


def timeline_page(made: Job) -> Page:
    return next(page for page in overview_pages(made) if "Small figures: days of the month" in texts(page))


def day_at(page: Page, x_mm: float) -> date:
    """The day at a place of the timeline, read off two week numbers, which stand in the middle of their weeks."""
    weeks = [
        mark for mark in page.marks
        if isinstance(mark, Text) and mark.anchor == "middle" and mark.text.isdigit() and mark.size_pt == 7
    ]  # fmt: skip
    weeks = [mark for mark in weeks if mark.y_mm == max(other.y_mm for other in weeks)]
    first, last = weeks[0], weeks[-1]
    week_mm = (last.x_mm - first.x_mm) / (int(last.text) - int(first.text))
    monday = date.fromisocalendar(2027, int(first.text), 1)
    return monday + timedelta(days=round((x_mm - first.x_mm) / week_mm * 7 + 3.5))


def boxes(page: Page, fill: str, code: str) -> list[tuple[date, date]]:
    """First and last days of the boxes of a fill in the row of a code."""
    y = next(mark.y_mm for mark in page.marks if isinstance(mark, Text) and mark.text == code)
    found = [mark for mark in page.marks if isinstance(mark, Rect) and mark.fill == fill and 0 < mark.y_mm - y < 4]
    return [(day_at(page, m.x_mm), day_at(page, m.x_mm + m.width_mm) - timedelta(days=1)) for m in found]


def test_a_line_shows_when_seedlings_come_and_plants_go() -> None:
    """Onions of 6 March at 20 °C: seedlings 4 to 7 days after (table: 5 days), out from 8 to 12 weeks after."""
    page = timeline_page(job(ONIONS, BEETS))
    assert boxes(page, BAR_FILL, "LW") == [(date(2027, 3, 10), date(2027, 3, 13))]
    assert boxes(page, "#000000", "LW") == [(date(2027, 5, 1), date(2027, 5, 29))]


def test_a_row_says_cells_seeds_and_days() -> None:
    """Seedlings on the 10th, trimmed on 17 April, hardened off on 24 April, out on 1 May."""
    row = row_with([timeline_page(job(ONIONS, BEETS))], "Longstalk")
    assert row == ["LW", "Longstalk", "27-001-K · Onion, bulb", "36", "900", "10", "17", "24", "1"]


def test_sowings_of_a_day_stand_under_its_band() -> None:
    page = timeline_page(job(ONIONS, BEETS, replace(ONIONS, sow=date(2027, 4, 1), code="XX")))
    shown = texts(page)
    assert (
        shown.index("Saturday 6 March 2027")
        < shown.index("DR")
        < shown.index("Thursday 1 April 2027")
        < shown.index("XX")
    )
    assert "2 sowings  ·  trays 1–3  ·  8 min" in shown


def test_every_sowing_has_its_line_once_on_however_many_pages() -> None:
    made = job(sowing(ONION, cells=1, seeds_per_cell=25, repeat=Repeat(1, 90), soil_temp_c=20.0))
    found = [text for page in overview_pages(made) for row in rows(page) for text in row if "Onion, bulb" in text]
    assert sorted(found) == sorted(f"{made.codes[i]} · Onion, bulb" for i in range(90))


def test_the_scale_is_said_again_on_every_page_of_the_timeline() -> None:
    found = pages(sowing(ONION, cells=1, seeds_per_cell=25, repeat=Repeat(1, 90), soil_temp_c=20.0))
    assert len(found) > 2
    assert all("plant out" in texts(page) for page in found[1:])


def test_a_short_timeline_goes_on_the_first_page() -> None:
    assert len(pages(ONIONS, BEETS)) == 1


# ---- scales of time


def shown_on(scale: TimeScale) -> tuple[list[str], list[str]]:
    months = [mark.text for mark in month_names(scale, 0, WORDS) if isinstance(mark, Text)]
    return months, [mark.text for mark in week_numbers(scale, 0) if isinstance(mark, Text)]


def test_a_scale_has_whole_weeks() -> None:
    scale = scale_over(date(2027, 3, 6), date(2027, 3, 21), 10, 60)
    assert (scale.first, scale.weeks, scale.week_mm) == (date(2027, 3, 1), 3, 20)
    assert scale.x_mm(date(2027, 3, 8)) == pytest.approx(30)
    assert scale.end == date(2027, 3, 22)


def test_weeks_are_numbered_over_the_turn_of_a_year() -> None:
    """ISO 8601: 2026 has 53 weeks, and 4 January 2027 is in week 1."""
    months, weeks = shown_on(scale_over(date(2026, 12, 14), date(2027, 1, 17), 0, 100))
    assert weeks == ["51", "52", "53", "1", "2"]
    assert months == ["Dec 2026", "Jan 2027"]


def test_long_scales_name_fewer_weeks_and_then_years_alone() -> None:
    """104 weeks over 120 mm: every fourth is numbered, but for the first, which would reach over the edge."""
    months, weeks = shown_on(scale_over(date(2027, 1, 4), date(2028, 12, 31), 0, 120))
    assert len(weeks) == 25
    assert len(months) == 8
    months, weeks = shown_on(scale_over(date(2027, 1, 4), date(2046, 12, 31), 0, 120))
    assert months == ["2027", "2030", "2035", "2040", "2045"]
    assert weeks == []


def test_a_scale_of_any_length_is_drawn() -> None:
    for years in (1, 3, 10, 100, 1000, 7000):
        scale = scale_over(date(1600, 1, 1), date(1600 + years, 1, 1), 0, 100)
        months, _ = shown_on(scale)
        assert len(months) < 20


# ---- everything


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_all_pages_are_sound(made: Job) -> None:
    for page in overview_pages(made):
        assert faults(page) == []


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_the_pages_say_what_was_reckoned(made: Job) -> None:
    found = list(overview_pages(made))
    shown = set(texts(found[0]))
    whole = totals(made.batches, [tray.kind for tray in made.trays])
    minutes = max(round(whole.minutes), 1)  # never none
    assert {made.words.number(n) for n in (whole.trays, whole.cells, whole.seeds, minutes)} <= shown
    if made.plan.compare:
        other = compare(made.batches, made.plan.compare, made.plan.pace)
        everywhere = {text for page in found for text in texts(page)}
        assert made.words("overview.trays", n=other.trays) in everywhere
    for batch in made.batches:
        row = next(
            row for page in found for row in rows(page)
            if any(text.startswith(made.codes[batch.index]) for text in row)
        )  # fmt: skip
        assert {made.words.number(batch.cells), made.words.number(batch.seeds_total)} <= set(row)


# ---- three sowings of the sample, traced by hand


def season(*varieties: str) -> Job:
    """The season sample cut to these varieties."""
    plan = read_plan(bundled("sample_plans") / "season.toml")
    return job_of(replace(plan, sowings=tuple(one for one in plan.sowings if one.variety in varieties)))


def test_three_sowings_of_the_season_traced_by_hand() -> None:
    """Every figure from the plan, the tables and a pocket calculator; the exact tails from scipy.

    Ashford Grey, an onion: 54 cells of 28 = 1,512 seeds; 340 to the gram (7 CFR 201.46), 4.447 g; three 18-pot flats.
    Lapwing, a beet: 240 plants at 3 stations x 2 seeds and 82 %: p = 1 - 0.18^2 = 0.9676; 84 cells, 504 clusters at 60
    to the gram (7 CFR 201.46), 8.4 g; five flats, six pots of the last left empty.
    Merle, a lettuce, six times: 200 plants at 90 %, one seed a cell: 229 cells and seeds, 890 to the gram
    (7 CFR 201.46), 0.2573 g; two trays of 128 each time, 27 cells left empty.
    """
    assert binom.sf(239, 3 * 84, 0.9676) >= 0.9 > binom.sf(239, 3 * 83, 0.9676)
    assert binom.sf(199, 229, 0.9) >= 0.9 > binom.sf(199, 228, 0.9)
    made = season("Ashford Grey", "Lapwing", "Merle")
    shown = figures(made)
    assert shown["sowings"] == ("8", "on 7 days")
    assert shown["cells"] == ("1,512", "168 cells left empty")  # 54 + 84 + 6 x 229; 6 pots + 6 x 27 cells
    assert shown["seeds"] == ("3,390", "")  # 1,512 + 504 + 6 x 229
    assert shown["trays"][0] == "20"  # 3 + 5 + 6 x 2
    assert shown["grams of seed"][0] == "14.4"  # 4.447 + 8.4 + 6 x 0.2573 = 14.391
    assert shown["litres of potting mix"] == ("114", "4.03 cu ft")  # (138 x 0.5 + 1,374 x 0.022) x 1.15 = 114.11
    # 8 x 0.543 x 0.279 + 12 x 0.54 x 0.279 = 3.0199; in the week of 12 April all 8 and 6 of the 12: 2.1159
    assert shown["m² of trays in all"] == ("3.02", "32.5 sq ft · at most 2.12 m² at once")
    assert shown["minutes of sowing"][0] == "128"  # 54 x 6.667 s + 84 x 3 x 4.5 s + 1,374 x 4.5 s = 7,677 s


def test_the_days_of_three_sowings_traced_by_hand() -> None:
    """Days to emergence from the handbook table, its rate (1 / days) interpolated between temperatures.

    Onion at 18 °C: 7 days at 15, 5 at 20: 1 / (0.4 / 7 + 0.6 / 5) = 5.645; 0.8 x that, 4 days down, to 1.4 x, 8 up,
    after 13 February. Out 8 to 12 weeks after sowing, trimmed after 6, hardened off a week before planting out.
    Beet at 16 °C: 10 at 15, 6 at 20: 1 / (0.8 / 10 + 0.2 / 6) = 8.824, 7 to 13 days after 13 March; thinned on day
    9 + 10; out 4 to 5 weeks after.
    Lettuce at 16 °C: 4 at 15, 3 at 20: 1 / (0.8 / 4 + 0.2 / 3) = 3.75, 3 to 6 days; out 3 to 6 weeks after 13 March.
    """
    page = timeline_page(season("Ashford Grey", "Lapwing", "Merle"))
    assert row_with([page], "Ashford Grey")[3:] == ["54", "1,512", "17", "27", "3", "10"]
    assert row_with([page], "Lapwing")[3:] == ["84", "504", "20", "1", "10"]
    assert row_with([page], "Merle")[3:] == ["229", "229", "16", "27", "3"]
    assert boxes(page, BAR_FILL, "AG") == [(date(2027, 2, 17), date(2027, 2, 21))]
    assert boxes(page, BAR_FILL, "LA") == [(date(2027, 3, 20), date(2027, 3, 26))]
    assert boxes(page, BAR_FILL, "ML")[0] == (date(2027, 3, 16), date(2027, 3, 19))
    assert boxes(page, "#000000", "AG") == [(date(2027, 4, 10), date(2027, 5, 8))]
    assert boxes(page, "#000000", "LA") == [(date(2027, 4, 10), date(2027, 4, 17))]
    assert boxes(page, "#000000", "ML")[0] == (date(2027, 4, 3), date(2027, 4, 24))


def test_the_comparison_of_three_sowings_traced_by_hand() -> None:
    """One a cell: 1,512 seeds of onion, 84 x 3 holes of beet, 1,374 of lettuce; trays of 72 shared on a day in a place.

    Onion alone on its day: 21. Beet and lettuce stand in the tunnel and share 13 March: 252 + 229 = 481 cells, 7.
    Lettuce on five more days: 229 cells, 4 each. In all 48 trays.
    """
    shown = {text for page in overview_pages(season("Ashford Grey", "Lapwing", "Merle")) for text in texts(page)}
    assert {"20 trays", "48 trays"} <= shown
    # 1,512 + 252 + 1,374 cells; 48 x 0.54 x 0.279 m2; 3,138 x 4.5 s
    assert "3,138 cells · 7.23 m² · 3 h 55 min" in shown
