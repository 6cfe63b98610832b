"""The seed list and the buying list: their figures against the reckoning and against sums done by hand."""

from dataclasses import replace
from datetime import date, timedelta

import plans
import pytest
from hypothesis import given, settings
from list_jobs import LONG, UNKNOWN, faults, job, jobs, row_with, rows, texts
from plans import BEET, CELL_72, ONION, POT_18, SATURDAY, TOMATO, sowing

from traysheets.arrange.model import Run
from traysheets.page.lettering import ELLIPSIS
from traysheets.page.marks import Line, Page, Place
from traysheets.page.reach import text_boxes
from traysheets.plan.model import Repeat
from traysheets.reckon.model import Batch
from traysheets.reckon.seeds import set_out
from traysheets.sheets import measures
from traysheets.sheets.buying import grams_to_buy, needed_by
from traysheets.sheets.cups import Cups, cups
from traysheets.sheets.guide import guide_pages
from traysheets.sheets.job import Job
from traysheets.sheets.seeds import day_list, seed_pages, working_order

CLUMPS = sowing(ONION, cells=8, seeds_per_cell=25, lot="HB-1", variety="Longstalk", code="LW", packet=250)
PLUGS = sowing(ONION, cells=18, seeds_per_cell=5, tray=CELL_72, lot="HB-2", variety="Plain Hedge", code="PH")


def pages_of_day(made: Job, day: date = SATURDAY) -> list[Page]:
    title = made.words("seeds.title", day=made.words.day(day))
    found: list[Page] = []
    for page in seed_pages(made):
        if page.title == title or (found and not page.title):
            found.append(page)
        elif found:
            break
    return found


def buying_pages(made: Job) -> list[Page]:
    found = list(seed_pages(made))
    return found[next(i for i, page in enumerate(found) if page.title == "Seed to buy") :]


def batch_of(made: Job, index: int = 0) -> Batch:
    return made.reckoned.batches[index]


# ---- cups


def test_a_clump_of_many_seeds_has_a_cup_for_each_cell() -> None:
    made = job(CLUMPS)
    assert cups(batch_of(made), made.arranged.runs[0]) == (Cups(8, 25, 1),)


def test_other_seed_has_a_cup_for_each_row_that_it_is_sown_in() -> None:
    """18 cells from D12 on in rows of 12: one cell of row D, all of row E, five of row F; five seeds in each."""
    made = job(PLUGS)
    assert cups(batch_of(made), [Run(1, 0, 3 * 12 + 11, 18)]) == (Cups(1, 60, 12), Cups(1, 25, 5), Cups(1, 5, 1))


def test_a_station_sowing_has_the_seeds_of_all_holes_in_its_cups() -> None:
    """22 pots of 3 holes with 2 seeds, 6 pots a row: three rows of 36 seeds and four pots of 24."""
    made = job(sowing(BEET, "stations", cells=22, seeds_per_station=2, tray=POT_18))
    assert cups(batch_of(made), made.arranged.runs[0]) == (Cups(3, 36, 6), Cups(1, 24, 4))


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_cups_hold_what_is_sown_and_serve_every_cell(made: Job) -> None:
    for batch in made.batches:
        found = cups(batch, made.arranged.runs[batch.index])
        assert sum(some.number * some.seeds for some in found) == batch.seeds_total
        assert sum(some.number * some.cells for some in found) == batch.cells


# ---- the list of a day


def test_a_row_says_what_to_set_out() -> None:
    """200 seeds at 340 to the gram (7 CFR 201.46) weigh 0.588 g."""
    row = row_with(pages_of_day(job(CLUMPS)), "Longstalk")
    assert row == [
        "LW", "Longstalk", "Onion, bulb", "lot HB-1", "open 1 packet of 250", "200", "seeds", "0.588 g",
        "8 cups of 25", "one for each cell", "tray 1: A1–B2",
    ]  # fmt: skip


def test_spare_seed_is_set_out_and_told() -> None:
    row = row_with(pages_of_day(job(sowing(ONION, cells=8, seeds_per_cell=25, spare=0.1, variety="Up"))), "Up")
    assert row[row.index("220") : row.index("220") + 3] == ["220", "seeds", "20 of them spare"]


def test_what_does_not_fill_a_cell_is_told() -> None:
    row = row_with(pages_of_day(job(sowing(ONION, seeds=260, seeds_per_cell=25, variety="Up"))), "Up")
    assert {"250", "10 cups of 25"} <= set(row)
    assert "of 260 planned, 10 left over" in " ".join(row)


def test_what_is_left_over_is_not_taken_for_what_is_left_in_the_packets() -> None:
    """Of 150 on hand and a packet of 250, 202 are left when 198 are set out: 2 is said to be of the 200 planned."""
    made = job(sowing(ONION, seeds=200, seeds_per_cell=3, packet=250, on_hand=150, variety="Up"))
    row = " ".join(row_with(pages_of_day(made), "Up"))
    assert "open what is on hand, 150, and 1 packet of 250" in row
    assert "198 seeds of 200 planned, 2 left over" in row


def test_clusters_are_counted_as_such() -> None:
    """A beet or chard 'seed' is a cluster of several (7 CFR 201.56 tests them so), and called a seed on every sheet."""
    made = job(sowing(BEET, "stations", cells=4, seeds_per_station=2, variety="Dusky"))
    row = row_with(pages_of_day(made), "Dusky")
    assert row[row.index("24") : row.index("24") + 2] == ["24", "seeds"]
    assert "a cluster is one seed" in " ".join(row)
    assert "24 seeds in all" in {text for page in guide_pages(made) for text, _ in text_boxes(page.marks)}


def test_seed_that_no_table_weighs_is_counted() -> None:
    page = pages_of_day(job(sowing(UNKNOWN, "single", cells=4, seeds_per_cell=1, variety="Up", germination=0.8)))[0]
    assert {"count, no", "weight known"} <= set(texts(page))
    assert "1 seed lot · 4 seeds" in texts(page)


def test_inch_plans_weigh_in_ounces_too() -> None:
    """0.5882 g / 28.349523125 = 0.0207 oz."""
    row = row_with(pages_of_day(job(CLUMPS, units="inch")), "Longstalk")
    assert row[row.index("0.588 g") + 1] == "0.021 oz"


def test_one_packet_is_open_at_a_time() -> None:
    """Sowings of one lot stand together, in the order of the trays, and open its packets once for them all."""
    other = sowing(TOMATO, "single", cells=3, seeds_per_cell=1, tray=CELL_72, lot="T-1", variety="Ember")
    again = sowing(
        ONION, cells=10, seeds_per_cell=5, tray=CELL_72, lot="HB-1", variety="Longstalk", code="L2", packet=250
    )
    made = job(CLUMPS, other, again)
    assert [[batch.index for batch in packet] for packet in working_order(made, made.batches)] == [[0, 2], [1]]
    shown = [text for row in rows(pages_of_day(made)[0]) for text in row if "packet" in text]
    assert shown == ["open 1 packet of 250", "same packet as above"]


def test_packets_are_counted_over_all_sowings_of_a_lot() -> None:
    again = sowing(ONION, cells=15, seeds_per_cell=5, tray=CELL_72, lot="HB-1", variety="Longstalk", packet=250)
    assert "open 2 packets of 250" in texts(pages_of_day(job(CLUMPS, again))[0])


@pytest.mark.parametrize(
    ("on_hand", "told"),
    [
        (150, "open what is on hand, 150, and 1 packet of 100"),
        (250, "open what is on hand, 250"),
        (200, "open 3 packets of 100"),
        (None, "open 3 packets of 100"),
    ],
)
def test_a_tin_that_holds_no_whole_packets_is_opened_first(on_hand: int | None, told: str) -> None:
    """220 wanted: 150 in the tin leave 70, a packet of 100, which is what the buying list has."""
    made = job(sowing(ONION, cells=44, seeds_per_cell=5, tray=CELL_72, variety="Up", packet=100, on_hand=on_hand))
    row = row_with(pages_of_day(made), "Up")
    assert told in " ".join(row)


def test_what_is_on_hand_goes_to_the_sowings_in_the_order_of_their_days() -> None:
    """150 on hand, 100 sown each time: 50 are left for the second, none for the third."""
    monthly = sowing(ONION, cells=20, seeds_per_cell=5, tray=CELL_72, variety="Up", packet=60, on_hand=150)
    made = job(replace(monthly, repeat=Repeat(28, 3)))
    days = (SATURDAY + timedelta(weeks=weeks) for weeks in (0, 4, 8))
    told = [" ".join(row_with(pages_of_day(made, day), "Up")) for day in days]
    assert "open what is on hand, 150" in told[0]
    assert "open what is on hand, 50, and 1 packet of 60" in told[1]
    assert "open 2 packets of 60" in told[2]


def test_treated_seed_is_cautioned_where_it_is_handled() -> None:
    treated = sowing(ONION, cells=8, seeds_per_cell=25, treated=True, variety="Dressed")
    page = pages_of_day(job(treated))[0]
    assert "TREATED SEED: WEAR GLOVES" in texts(page)
    assert any(text.startswith("Treated seed: wear gloves") for text in texts(page))
    assert any("safety sheet and local rules" in text for text in texts(page))
    assert "TREATED" in texts(buying_pages(job(treated))[0])
    assert not any("reated" in text for page in seed_pages(job(CLUMPS)) for text in texts(page))


def test_potting_mix_is_cautioned_on_every_day() -> None:
    page = pages_of_day(job(CLUMPS))[0]
    assert any("dust" in text and "wash hands" in text and "Legionella" in text for text in texts(page))
    assert any("safety sheet and local rules" in text for text in texts(page))


def test_the_head_says_the_day_the_amounts_and_the_time() -> None:
    """8 pots at 120 / 18 s (common practice, no source): 53 s, told as a minute."""
    shown = texts(pages_of_day(job(CLUMPS))[0])
    assert {"Sow Saturday 6 March 2027", "1 seed lot · 200 seeds · 0.588 g", "tray 1 · about 1 min"} <= set(shown)


def test_every_sowing_day_has_its_list() -> None:
    made = job(sowing(ONION, cells=2, seeds_per_cell=25, repeat=Repeat(14, 3)))
    titles = [page.title for page in seed_pages(made) if page.title]
    assert titles == [
        "Seeds for Saturday 6 March 2027",
        "Seeds for Saturday 20 March 2027",
        "Seeds for Saturday 3 April 2027",
        "Seed to buy",
    ]


def test_chosen_days_leave_other_days_out_but_buy_for_the_whole_plan() -> None:
    repeated = sowing(ONION, cells=2, seeds_per_cell=25, repeat=Repeat(14, 3), variety="Up")
    day = SATURDAY + timedelta(days=14)
    made = job(repeated, days=(day, day))
    assert [page.title for page in seed_pages(made) if page.title] == [
        "Seeds for Saturday 20 March 2027",
        "Seed to buy",
    ]
    assert "150" in row_with(buying_pages(made), "Up")


def test_a_long_name_is_whole_on_the_list() -> None:
    shown = " ".join(texts(pages_of_day(job(sowing(ONION, cells=2, seeds_per_cell=25, variety=LONG)))[0]))
    assert ELLIPSIS not in shown
    assert "Far Valley" in shown


def test_grey_sheets_tell_varieties_by_hatch_alone() -> None:
    """Second look of a day is the diagonal hatch, whatever the paper's colours."""
    pair = (CLUMPS, sowing(ONION, cells=2, seeds_per_cell=25, variety="Other", code="OT"))
    for grey, second in ((False, "#E17D27 diagonal"), (True, "#FFFFFF diagonal")):
        page = pages_of_day(job(*pair, grey=grey))[0]
        stamps = [mark.stamp.name for mark in page.marks if isinstance(mark, Place)]
        assert second in stamps


# ---- the buying list


def need_row(made: Job, variety: str) -> list[str]:
    return row_with(buying_pages(made), variety)


def test_a_buying_row_says_wanted_on_hand_and_to_buy() -> None:
    """700 wanted, 250 in the tin: 450 to buy, two packets of 250, 450 / 340 = 1.32 g."""
    made = job(sowing(ONION, cells=28, seeds_per_cell=25, variety="Up", lot="HB-1", on_hand=250, packet=250))
    assert need_row(made, "Up") == [
        "Up", "Onion, bulb", "HB-1", "700", "250", "450", "2 of 250", "1.32 g", "6 Mar 2027",
    ]  # fmt: skip


def test_where_the_plan_does_not_say_what_is_on_hand_there_is_a_line_to_write_on() -> None:
    made = job(sowing(ONION, cells=8, seeds_per_cell=25, variety="Up"))
    assert need_row(made, "Up") == ["Up", "Onion, bulb", "any lot", "200", "200", "0.588 g", "6 Mar 2027"]
    dashed = [mark for mark in buying_pages(made)[0].marks if isinstance(mark, Line) and mark.dash_mm]
    assert len(dashed) == 1


def test_seed_is_needed_by_the_day_the_tin_runs_out() -> None:
    """Three sowings of 50: 120 in the tin last for two of them."""
    repeated = {"cells": 2, "seeds_per_cell": 25, "repeat": Repeat(14, 3)}
    for on_hand, day in ((None, 0), (0, 0), (49, 0), (50, 14), (120, 28), (150, None)):
        made = job(sowing(ONION, on_hand=on_hand, **repeated))
        expected = None if day is None else SATURDAY + timedelta(days=day)
        assert needed_by(made, made.reckoned.seed_needs[0]) == expected


def test_seed_to_use_up_is_not_bought() -> None:
    made = job(sowing(ONION, seeds=500, seeds_per_cell=25, variety="Up"))
    assert needed_by(made, made.reckoned.seed_needs[0]) is None
    assert "The seed on hand is enough for the whole plan." in texts(buying_pages(made)[0])


def test_the_soonest_needed_comes_first_and_enough_last() -> None:
    later = sowing(ONION, cells=1, seeds_per_cell=25, variety="Later", sow=SATURDAY + timedelta(days=7))
    full = sowing(ONION, cells=1, seeds_per_cell=25, variety="Full", on_hand=100)
    made = job(later, full, CLUMPS)
    shown = [text for text in texts(buying_pages(made)[0]) if text in {"Later", "Full", "Longstalk"} or "nough" in text]
    assert shown == ["Longstalk", "Later", "Enough on hand", "Full"]


# ---- everything against the reckoning


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_all_pages_are_sound(made: Job) -> None:
    for page in seed_pages(made):
        assert faults(page) == []


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_the_figures_are_those_of_the_reckoning(made: Job) -> None:
    shown = [row for page in seed_pages(made) for row in rows(page)]
    ordered = [batch for day in sorted({b.sow for b in made.batches}) for packet in working_order(
        made, [b for b in made.batches if b.sow == day]) for batch in packet]  # fmt: skip
    for batch, row in zip(ordered, shown, strict=False):
        assert batch.sowing.code in row
        assert made.words.number(set_out(batch)) in row
        assert batch.seed_grams is None or measures.grams(batch.seed_grams.value, made.words) in row
    needs = {made.words.number(need.seeds) for need in made.reckoned.seed_needs}
    bought = shown[len(ordered) :]
    assert len(bought) == len(made.reckoned.seed_needs)
    assert needs <= {text for row in bought for text in row}
    for need in made.reckoned.seed_needs:
        weight = grams_to_buy(need)
        assert weight is None or weight == pytest.approx(need.grams and need.grams * need.to_buy / need.seeds)


def test_pages_come_one_at_a_time() -> None:
    made = job(*(sowing(ONION, cells=1, seeds_per_cell=25, sow=SATURDAY + timedelta(days=day)) for day in range(300)))
    pages = seed_pages(made)
    assert next(pages).title == "Seeds for Saturday 6 March 2027"
    assert day_list(made, plans.SATURDAY).head.name == "Seeds"
