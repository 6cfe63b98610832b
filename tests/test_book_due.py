"""What is still to be done to a batch: by the days printed, by those it was really sown on, and by what is left."""

import json
from dataclasses import replace
from datetime import date

import books
import pytest
from books import entry, kept

from traysheets.book.due import Due, State, steps_of
from traysheets.book.entries import Entry
from traysheets.book.measures import standing_of

STEPS = [
    {"step": "sow", "first": "2027-03-06", "last": None, "what": "Sow", "details": "Cover: 6 mm."},
    {"step": "emerge", "first": "2027-03-13", "last": "2027-03-20", "what": "Look for seedlings", "details": ""},
    {"step": "thin", "first": "2027-03-28", "last": None, "what": "Thin", "details": ""},
    {"step": "harden_off", "first": "2027-04-24", "last": None, "what": "Harden off", "details": ""},
    {"step": "plant_out", "first": "2027-05-01", "last": "2027-05-29", "what": "Plant out", "details": ""},
]
ON_TIME = entry(9, "sown", None, "2027-03-06")


def steps(on: str, *entries: Entry, **facts: object) -> dict[str, Due]:
    batch = replace(kept(), facts=json.dumps({**kept().told, "steps": STEPS, **facts}))
    return {due.step: due for due in steps_of(batch, entries, standing_of(batch, entries), date.fromisoformat(on))}


def states(on: str, *entries: Entry, **facts: object) -> dict[str, str]:
    return {step: due.state.value for step, due in steps(on, *entries, **facts).items()}


def days(on: str, *entries: Entry, **facts: object) -> dict[str, str]:
    return {
        step: f"{due.first:%m-%d}{f' to {due.last:%m-%d}' if due.last else ''}"
        for step, due in steps(on, *entries, **facts).items()
    }


def test_what_is_not_sown_yet_waits_for_that() -> None:
    assert set(states("2027-03-05").values()) == {"coming"}
    assert states("2027-03-06") == {
        "sow": "now", "emerge": "coming", "thin": "coming", "harden_off": "coming", "plant_out": "coming",
    }  # fmt: skip
    late = dict.fromkeys(("emerge", "thin", "harden_off", "plant_out"), "after sowing")
    assert states("2027-03-07") == states("2027-03-28") == {"sow": "late", **late}
    assert [due.has_days for due in steps("2027-03-07").values()] == [True, *[False] * 4]


def test_a_sowing_that_is_overdue_is_late_by_its_days() -> None:
    one, many = steps("2027-03-07")["sow"], steps("2027-03-18")["sow"]
    assert (one.state, one.late_days, one.stands, one.is_due) == (State.LATE, 1, "late by 1 day", True)
    assert (many.late_days, many.stands) == (12, "late by 12 days")
    assert steps("2027-03-06")["sow"].stands == "now"


def test_steps_of_what_was_sown_come_by_their_days() -> None:
    assert states("2027-03-14", ON_TIME)["emerge"] == "now"
    found = steps("2027-06-01", ON_TIME)
    assert (found["sow"].stands, found["emerge"].stands, found["thin"].stands, found["plant_out"].stands) == (
        "done", "late by 73 days", "late by 65 days", "late by 3 days",
    )  # fmt: skip


def test_what_was_noted_is_done_and_all_before_it() -> None:
    assert states("2027-04-10", entry(1, "thinned", day="2027-03-30")) == {
        "sow": "done", "emerge": "done", "thin": "done", "harden_off": "coming", "plant_out": "coming",
    }  # fmt: skip


def test_an_early_count_leaves_the_last_one_to_do() -> None:
    assert states("2027-03-16", entry(1, "emerged", 20, "2027-03-15"))["emerge"] == "now"
    assert states("2027-03-24", entry(1, "emerged", 20, "2027-03-15"))["emerge"] == "late"
    assert states("2027-03-24", entry(1, "emerged", 20, "2027-03-20"))["emerge"] == "done"


def test_days_follow_the_day_of_the_sowing() -> None:
    later = days("2027-03-20", entry(1, "sown", None, "2027-03-16"))
    assert later == {
        "sow": "03-16", "emerge": "03-23 to 03-30", "thin": "04-07", "harden_off": "05-04",
        "plant_out": "05-11 to 06-08",
    }  # fmt: skip
    assert days("2027-03-20", entry(1, "sown", None, "2027-03-04"))["emerge"] == "03-11 to 03-18"
    assert days("2027-03-20") == days("2027-03-20", ON_TIME), "as printed until it is noted"
    parts = entry(1, "sown", 3, "2027-03-04"), entry(2, "sown", 8, "2027-03-16")
    assert (days("2027-03-20", *parts)["sow"], days("2027-03-20", parts[0])["sow"]) == ("03-04 to 03-16", "03-06")


def test_a_planting_out_that_waits_for_the_frost_is_put_off_only_by_plants_that_are_not_ready() -> None:
    """Planted out from 1 May, 56 days after 6 March: with 42 days to raise there are 14 to spare."""
    for day, out in (("2027-02-20", "05-01"), ("2027-03-16", "05-01"), ("2027-03-25", "05-06")):
        found = days("2027-03-30", entry(1, "sown", None, day), days_to_raise=42)
        assert found["plant_out"].startswith(out)
    assert found["harden_off"] == "04-29"
    assert days("2027-03-30", entry(1, "sown", None, "2027-03-09"), days_to_raise=None)["plant_out"].startswith("05-04")


def test_what_is_sown_in_parts_is_due_from_the_first_to_the_last() -> None:
    first, rest = entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", 8, "2027-03-16")
    assert days("2027-03-20", first, rest)["emerge"] == "03-13 to 03-30"
    assert states("2027-03-20", first) == {
        "sow": "late", "emerge": "now", "thin": "coming", "harden_off": "coming", "plant_out": "coming",
    }  # fmt: skip
    assert states("2027-03-20", first, rest)["sow"] == "done"


def test_what_was_done_to_the_first_part_is_not_done_to_one_sown_later() -> None:
    first, rest = entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", 8, "2027-04-06")
    thinned = entry(3, "thinned", None, "2027-03-30")
    assert states("2027-04-28", first, thinned)["thin"] == "done"
    found = steps("2027-04-28", first, rest, thinned)["thin"]
    assert (found.state, found.first, found.cells) == ("now", date(2027, 4, 28), 5)


def test_a_step_is_due_for_the_part_that_is_old_enough() -> None:
    parts = entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", 8, "2027-03-27")
    assert [steps(day, *parts)["thin"].cells for day in ("2027-03-27", "2027-03-28", "2027-04-17")] == [3, 3, 3]
    assert [steps(day, *parts)["thin"].cells for day in ("2027-04-18", "2027-05-30")] == [None, None]
    assert steps("2027-04-10", *parts)["thin"].stands == "late by 13 days"
    thinned = entry(3, "thinned", None, "2027-03-29")
    found = steps("2027-04-10", *parts, thinned)["thin"]
    assert (found.state, found.first, found.cells) == ("coming", date(2027, 4, 18), 5)
    assert steps("2027-04-12", *parts, entry(4, "thinned", None, "2027-04-11"))["thin"].state == "done"
    assert steps("2027-04-30", *parts)["harden_off"].cells == 3
    assert all(due.cells is None for due in steps("2027-04-30", ON_TIME).values())


def test_what_is_planted_out_is_of_the_part_sown_first() -> None:
    parts = entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", 8, "2027-03-27")
    some, first = entry(3, "planted_out", 1, "2027-05-02"), entry(3, "planted_out", 3, "2027-05-02")
    assert steps("2027-05-03", *parts)["plant_out"].cells == 3
    assert steps("2027-05-03", *parts, some)["plant_out"].cells == 2
    rest = steps("2027-05-03", *parts, first)["plant_out"]
    assert (rest.state, rest.first, rest.cells) == ("coming", date(2027, 5, 22), 5)
    assert steps("2027-05-23", *parts, some)["plant_out"].cells == 7


def test_a_step_of_one_day_is_late_when_its_week_is_over() -> None:
    assert [steps(f"2027-04-{day:02}", ON_TIME)["thin"].stands for day in (4, 5)] == ["now", "late by 8 days"]
    trim = [*STEPS, {"step": "trim", "first": "2027-04-02", "last": None, "what": "Trim", "details": ""}]
    assert [steps(f"2027-04-{day:02}", ON_TIME, steps=trim)["trim"].state for day in (9, 10)] == ["now", "late"]


def test_hardening_off_is_late_once_planting_out_begins() -> None:
    assert [steps(day, ON_TIME)["harden_off"].stands for day in ("2027-04-30", "2027-05-01")] == [
        "now", "late by 7 days",
    ]  # fmt: skip
    later = entry(1, "sown", None, "2027-03-16")
    assert [steps(day, later)["harden_off"].state for day in ("2027-05-10", "2027-05-11")] == ["now", "late"]
    alone = [step for step in STEPS if step["step"] != "plant_out"]
    assert [steps(day, ON_TIME, steps=alone)["harden_off"].state for day in ("2027-05-01", "2027-05-02")] == [
        "now", "late",
    ]  # fmt: skip


def test_planting_out_is_done_when_nothing_is_left() -> None:
    some = entry(1, "planted_out", 5, "2027-05-02")
    assert states("2027-05-03", some)["plant_out"] == "now"
    assert set(states("2027-05-03", some, entry(2, "sold", 3, "2027-05-03")).values()) == {"done"}


def test_a_part_carried_off_leaves_the_rest_to_be_looked_after() -> None:
    for kind in ("planted_out", "sold"):
        assert states("2027-05-03", ON_TIME, entry(1, kind, 2, "2027-05-02")) == {
            "sow": "done", "emerge": "late", "thin": "late", "harden_off": "late", "plant_out": "now",
        }  # fmt: skip


def test_of_a_batch_that_is_lost_nothing_is_to_be_done() -> None:
    assert set(states("2027-05-03", entry(1, "lost", 8, "2027-03-25")).values()) == {"done"}


def test_when_a_first_part_is_gone_the_rest_is_still_to_be_sown() -> None:
    assert states("2027-03-28", entry(1, "sown", 3, "2027-03-06"), entry(2, "lost", 3, "2027-03-25")) == {
        "sow": "late", **dict.fromkeys(("emerge", "thin", "harden_off", "plant_out"), "after sowing"),
    }  # fmt: skip


def test_a_batch_that_left_the_plan_unsown_has_nothing_to_be_done() -> None:
    batch = replace(kept(), in_plan=False)
    assert steps_of(batch, [], standing_of(batch, []), books.TODAY) == ()
    found = {
        due.step: due.state.value for due in steps_of(batch, [ON_TIME], standing_of(batch, [ON_TIME]), books.TODAY)
    }
    assert found == {"sow": "done", "emerge": "late", "plant_out": "late"}


def test_an_entry_struck_out_does_nothing() -> None:
    struck = (ON_TIME, entry(11, "thinned"), entry(12, "remark", corrects=11))
    assert states("2027-04-04", *struck)["thin"] == "now"


def test_a_batch_printed_before_steps_were_kept_has_those_of_its_days() -> None:
    assert states("2027-03-14", ON_TIME, steps=None) == {"sow": "done", "emerge": "now", "plant_out": "coming"}


@pytest.mark.parametrize("facts", ["{}", "[]", "nonsense", "null"])
def test_a_batch_of_which_nothing_was_kept_has_no_steps(facts: str) -> None:
    batch = replace(kept(), facts=facts)
    assert steps_of(batch, [], standing_of(batch, []), books.TODAY) == ()
