"""The aftercare list and its calendar: every piece of work on its day, in words, with where the plants stand."""

import io
from dataclasses import replace
from datetime import date, timedelta

import rfc5545
import vobject
from hypothesis import given, settings
from list_jobs import UNKNOWN, faults, job, jobs, row_with, rows, texts
from plans import BEET, CELL_72, ONION, POT_18, SATURDAY, sowing

from traysheets.export.calendar import write_calendar
from traysheets.page.calendar import Event
from traysheets.page.marks import Page, Place
from traysheets.plan.model import Pin, Repeat
from traysheets.sheets.aftercare import aftercare_events, aftercare_pages
from traysheets.sheets.chores import chores, undated_chores
from traysheets.sheets.job import Job
from traysheets.sheets.standing_places import places, trays
from traysheets.sheets.steps import Task, steps

ONIONS = sowing(ONION, cells=8, seeds_per_cell=25, variety="Longstalk", code="LW", germination=0.85, soil_temp_c=20.0)
BEETS = sowing(BEET, "stations", cells=20, seeds_per_station=2, variety="Dusky", germination=0.8, soil_temp_c=15.0)


def pages(*sowings: object, **other: object) -> list[Page]:
    return list(aftercare_pages(job(*sowings, **other)))


def days_of(made: Job) -> list[tuple[Task, date]]:
    return [(chore.step.task, chore.step.first) for chore in chores(made)]


def test_the_work_on_onions_by_hand() -> None:
    """Sown on 6 March at 20 °C: 5 days in the handbook table, looked for from 0.8 x 5 = 4 to 1.4 x 5 = 7 days.

    A clump is not thinned. Trimmed after six weeks; planted out from 8 weeks to 12 (crop table), hardened off a week
    before.
    """
    assert days_of(job(ONIONS)) == [
        (Task.EMERGE, date(2027, 3, 10)),
        (Task.TRIM, date(2027, 4, 17)),
        (Task.HARDEN_OFF, date(2027, 4, 24)),
        (Task.PLANT_OUT, date(2027, 5, 1)),
    ]


def test_the_work_on_beet_by_hand() -> None:
    """Sown on 6 March at 15 °C: 10 days in the handbook table, looked for from 8 to 14 days.

    Thinned 10 days after those 10 (common practice, no source), planted out from 4 weeks to 5.
    """
    assert days_of(job(BEETS)) == [
        (Task.EMERGE, date(2027, 3, 14)),
        (Task.THIN, date(2027, 3, 26)),
        (Task.HARDEN_OFF, date(2027, 3, 27)),
        (Task.PLANT_OUT, date(2027, 4, 3)),
    ]


def test_a_row_says_what_to_do_to_what_and_where() -> None:
    """200 seeds at 85 %: 170 seedlings on the mean."""
    assert rows(pages(ONIONS)[0])[0] == [
        "Look for seedlings",
        "about 170 of 200 seeds, leave all",
        "until 13 Mar",
        "LW",
        "27-001-K",
        "Longstalk",
        "Onion, bulb",
        "tray 1: A1–B2",
    ]


def test_thinning_says_to_how_many() -> None:
    """60 holes with two clusters at 80 %: 0.96 each, 57.6 filled on the mean."""
    page = pages(BEETS)[0]
    assert {"Thin", "to 1 in every hole, 3 a cell"} <= set(texts(page))
    assert "in about 58 of 60 holes" in texts(page)
    single = sowing(BEET, "single", cells=8, seeds_per_cell=2, variety="Dusky", soil_temp_c=15.0)
    assert "to 1 a cell" in texts(pages(single)[0])


def test_a_soil_that_nobody_gave_stands_beside_the_days_that_rest_on_it() -> None:
    """The middle of 18 to 29 °C for onions is 23.5 °C, which is 74.3 °F."""
    assumed = replace(ONIONS, soil_temp_c=None)
    assert rows(pages(assumed)[0])[0][1:4] == [
        "about 170 of 200 seeds, leave all",
        "until 12 Mar",
        "soil of 23.5 °C assumed",
    ]
    assert "soil of 74.3 °F assumed" in texts(pages(assumed, units="inch")[0])
    assert not any("assumed" in text for text in texts(pages(ONIONS)[0]))


def test_plants_of_a_cell_go_out_in_one_piece() -> None:
    row = next(row for row in rows(pages(ONIONS)[0]) if row[0] == "Plant out")
    assert row[1:3] == ["each cell in one piece", "until 29 May"]


def test_planting_out_that_waits_for_the_last_frost_says_so() -> None:
    tender = replace(BEETS, crop=replace(BEET, tender=True))
    row = next(row for row in rows(pages(tender, last_frost=date(2027, 5, 5))[0]) if row[0] == "Plant out")
    assert row[1:3] == ["each cell in one piece", "not before the last frost"]


def test_weeks_and_days_head_the_rows() -> None:
    """ISO 8601: 10 March 2027 is the Wednesday of week 10."""
    shown = texts(pages(ONIONS)[0])
    assert "Week 10 of 2027  ·  8 Mar to 14 Mar 2027" in shown
    assert shown.index("Wednesday 10 March 2027") < shown.index("Look for seedlings")


def test_the_week_of_a_turn_of_the_year_is_named_by_its_own_year() -> None:
    """ISO 8601: 1 January 2027 is a Friday of week 53 of 2026."""
    late = sowing(ONION, cells=1, seeds_per_cell=25, sow=date(2026, 12, 28), soil_temp_c=20.0)
    assert "Week 53 of 2026  ·  28 Dec 2026 to 3 Jan 2027" in texts(pages(late)[0])


def test_heads_are_said_again_where_a_day_goes_on() -> None:
    many = [sowing(ONION, cells=1, seeds_per_cell=25, variety=f"Onion {i}", soil_temp_c=20.0) for i in range(40)]
    second = texts(pages(*many)[1])
    assert {"Week 10 of 2027, continued", "Wednesday 10 March 2027, continued"} <= set(second)


def test_every_row_has_a_box_to_tick_and_a_sign() -> None:
    page = pages(ONIONS, BEETS)[0]
    stamps = [mark.stamp.name for mark in page.marks if isinstance(mark, Place)]
    assert stamps.count("box to tick") == len(rows(page)) == 8
    assert stamps.count("sign: thin") == 1


def test_cautions_stand_where_the_work_is() -> None:
    shown = texts(pages(ONIONS)[0])
    assert any(text.startswith("Knives and scissors") for text in shown)
    assert any(text.startswith("Wet flats are heavy") for text in shown)
    assert any("heat mats" in text for text in shown)


def test_a_plan_of_which_nothing_is_known_has_a_page_that_says_so() -> None:
    page = pages(sowing(UNKNOWN, "single", cells=1, seeds_per_cell=1, germination=0.8))[0]
    assert "Nothing to do after sowing is known." in texts(page)


def test_thinning_of_no_known_day_stands_on_the_list_and_not_in_the_calendar() -> None:
    """No table has the days until the crop comes up: the work is told all the same, with the sign that it is time."""
    unknown = sowing(UNKNOWN, "single", cells=4, seeds_per_cell=3, germination=0.8)
    page = pages(unknown)[0]
    assert "Nothing to do after sowing is known." not in texts(page)
    assert "On no known day" in texts(page)
    assert {"Thin", "to 1 a cell", "when the seedlings have true leaves"} <= {*rows(page)[0]}
    assert list(aftercare_events(job(unknown))) == []
    assert not faults(pages(unknown, ONIONS)[0])
    both = texts(pages(unknown, ONIONS)[0])
    assert both.index("On no known day") > max(both.index(text) for text in both if text.startswith("Week "))


def test_a_clump_and_a_single_seed_are_not_thinned_on_any_day() -> None:
    for one in (sowing(UNKNOWN, cells=4, seeds_per_cell=9), sowing(UNKNOWN, "single", cells=4, seeds_per_cell=1)):
        assert "On no known day" not in texts(pages(one)[0])


def test_where_a_batch_stands_is_told_in_few_words() -> None:
    """Two trays of 18 filled, five pots of the next, and a pot between others."""
    made = job(sowing(ONION, cells=41, seeds_per_cell=25), sowing(BEET, "stations", cells=13, seeds_per_station=2))
    assert places(made, made.batch(0)) == ("trays 1–2: all", "tray 3: A1–A5")
    assert places(made, made.batch(1)) == ("tray 3: A6–C6",)
    assert trays(made, made.batches) == "1–3"


def test_filled_trays_with_another_between_them_are_not_drawn_together() -> None:
    filled = tuple(Pin(number, 0, 17) for number in (1, 2, 4, 5, 7))
    made = job(sowing(ONION, trays=5, seeds_per_cell=25, at=filled))
    assert places(made, made.batch(0)) == ("trays 1–2: all", "trays 4–5: all", "tray 7: all")


def test_one_tray_alone_and_one_cell_alone() -> None:
    made = job(sowing(ONION, cells=18, seeds_per_cell=25), sowing(BEET, "stations", cells=1, seeds_per_station=2))
    assert places(made, made.batch(0)) == ("tray 1: all",)
    assert places(made, made.batch(1)) == ("tray 2: A1",)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_all_pages_are_sound(made: Job) -> None:
    for page in aftercare_pages(made):
        assert faults(page) == []


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_every_step_of_every_batch_has_its_row_and_its_event(made: Job) -> None:
    expected = sum(len(steps(batch)) - 1 for batch in made.batches)
    shown = [row for page in aftercare_pages(made) for row in rows(page)]
    events = list(aftercare_events(made))
    undated = undated_chores(made)
    assert len(events) == expected
    assert len(shown) == expected + len(undated)
    assert all(row[0] == made.words("steps.thin") for row in shown[expected:])
    for chore, row, event in zip(chores(made), shown[:expected], events, strict=True):
        assert made.codes[chore.batch.index] in row
        assert row[0] == chore.what == event.kind
        assert event.first == chore.step.first
    assert [event.first for event in events] == sorted(event.first for event in events)


# ---- the calendar


def events_of(*sowings: object, **other: object) -> list[Event]:
    return list(aftercare_events(job(*sowings, **other)))


def test_an_event_says_what_and_where() -> None:
    event = events_of(ONIONS, grower="Millbrook Lane Growers")[0]
    assert event.title == "Look for seedlings: Longstalk (Onion, bulb)"
    assert event.text == "about 170 of 200 seeds, leave all\nuntil 13 Mar\nBatch 27-001-K"
    assert event.where == "tray 1: A1–B2"
    assert (event.first, event.last, event.made) == (date(2027, 3, 10), date(2027, 3, 13), SATURDAY)


def test_planting_out_stands_on_its_first_day() -> None:
    event = events_of(ONIONS)[-1]
    assert (event.first, event.last) == (date(2027, 5, 1), date(2027, 5, 1))


def test_an_event_keeps_its_name_when_the_plan_changes() -> None:
    """RFC 5545, 3.8.4.7: a UID is lasting. Another day, or more cells, is the same work; another grower is not."""
    later = sowing(ONION, cells=9, seeds_per_cell=25, soil_temp_c=20.0, sow=SATURDAY + timedelta(days=7))
    uids = [[event.uid for event in events_of(one)] for one in (ONIONS, later)]
    assert uids[0] == uids[1]
    assert uids[0] != [event.uid for event in events_of(ONIONS, grower="Quill Farm Nursery")]


def test_a_whole_calendar_is_read_by_others() -> None:
    repeated = sowing(BEET, "stations", cells=5, tray=CELL_72, soil_temp_c=15.0, repeat=Repeat(7, 5))
    found = events_of(ONIONS, repeated, sowing(ONION, trays=2, seeds_per_cell=25, tray=POT_18, variety="Ψηλό, Åse; \\"))
    file = io.BytesIO()
    write_calendar(found, file, "Spring")
    calendar = rfc5545.read(file.getvalue())
    assert [rfc5545.text(event.one("SUMMARY")) for event in calendar.inside] == [event.title for event in found]
    read = vobject.readOne(file.getvalue().decode()).vevent_list
    assert [one.dtstart.value for one in read] == [event.first for event in found]
    assert [one.dtend.value for one in read] == [event.last + timedelta(days=1) for event in found]


def test_only_chosen_days_are_cared_for() -> None:
    repeated = sowing(ONION, cells=2, seeds_per_cell=25, repeat=Repeat(14, 3), soil_temp_c=20.0, variety="Up")
    day = SATURDAY + timedelta(days=14)
    found = events_of(repeated, days=(day, day))
    assert {event.made for event in found} == {day}
    assert "27-002-9" in row_with(pages(repeated, days=(day, day)), "Up")
