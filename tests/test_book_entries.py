"""Entries as values: which of them count, what stands of a batch, what may be noted, and what is still to be done."""

from dataclasses import replace
from datetime import timedelta

import books
import pytest
from books import a_note, entry, kept
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import BookError
from traysheets.base.words import words_for
from traysheets.book.checks import check, tidied
from traysheets.book.entries import (
    CARRIED_OFF,
    GROWN,
    MAY_HAVE_NUMBER,
    NEEDS_NUMBER,
    Entry,
    Kind,
    Note,
    Standing,
    in_force,
    latest,
    parts_sown,
    sowings,
    standing,
)
from traysheets.book.measures import places_of

CLUMP, STATIONS, SINGLE = 0, 1, 2


def ids(entries: tuple[Entry, ...]) -> list[int]:
    return [one.id for one in entries]


# ---- which entries count


def test_entries_count_in_the_order_of_their_days() -> None:
    found = in_force([entry(1, "emerged", 9, "2027-03-20"), entry(2, "emerged", 5, "2027-03-18"), entry(3, "remark")])
    assert ids(found) == [2, 1, 3]


def test_a_corrected_entry_counts_no_more_and_its_correction_does() -> None:
    found = in_force([entry(1, "sold", 9), entry(2, "sold", 6, corrects=1), entry(3, "sold", 5, corrects=2)])
    assert ids(found) == [3]


def test_a_remark_strikes_out_what_it_corrects_and_says_nothing_else() -> None:
    assert ids(in_force([entry(1, "sold", 9), entry(2, "remark", corrects=1), entry(3, "lost", 1)])) == [3]


def test_the_latest_count_is_the_latest_day_not_the_latest_written() -> None:
    entries = [entry(1, "emerged", 9, "2027-03-20"), entry(2, "emerged", 5, "2027-03-18")]
    found = latest(entries, Kind.EMERGED)
    assert found is not None
    assert found.number == 9
    assert latest(entries, Kind.SOLD) is None


def test_the_latest_that_has_a_number() -> None:
    entries = [entry(1, "thinned", 28, "2027-03-20"), entry(2, "thinned", None, "2027-03-25")]
    found, counted = latest(entries, Kind.THINNED), latest(entries, Kind.THINNED, counted=True)
    assert found is not None
    assert counted is not None
    assert (found.id, counted.id) == (2, 1)


# ---- what stands


def test_before_anything_is_noted_nothing_is_there_and_all_is_to_be_sown() -> None:
    assert standing(8, [], one_a_cell=False) == Standing(0, None, None, 0, 0, 0, cells=0, plants=None, over=0, to_sow=8)


@pytest.mark.parametrize("kind", sorted(GROWN))
def test_what_is_noted_of_grown_plants_tells_that_all_was_sown(kind: Kind) -> None:
    found = standing(8, [entry(1, kind, 0 if kind in NEEDS_NUMBER else None)], one_a_cell=False)
    assert (found.cells_sown, found.cells, found.to_sow) == (8, 8, 0)


def test_what_the_plan_has_beyond_what_was_sown_is_to_be_sown() -> None:
    some = [entry(1, "sown", 4)]
    assert standing(22, some, one_a_cell=False).to_sow == 18
    assert standing(22, some, one_a_cell=False, planned=0).to_sow == 0, "the plan no longer has it"
    assert standing(22, [*some, entry(2, "sown", None, "2027-03-25")], one_a_cell=False).to_sow == 0


def test_sown_without_a_number_is_all_that_was_printed_then() -> None:
    sown = entry(1, "sown", measure=replace(kept().measure, cells=8))
    found = standing(9, [sown], one_a_cell=False, planned=9)
    assert (found.cells_sown, found.to_sow) == (8, 1)


def test_the_parts_sown_are_those_that_brought_more() -> None:
    entries = [
        entry(1, "sown", 4, "2027-03-06"), entry(2, "sown", 4, "2027-03-07"), entry(3, "sown", None, "2027-03-16"),
        entry(4, "sown", 6, "2027-03-18"),
    ]  # fmt: skip
    assert [(str(one.day), one.cells) for one in sowings(entries, 8)] == [
        ("2027-03-06", 4), ("2027-03-07", 4), ("2027-03-16", 8), ("2027-03-18", 6),
    ]  # fmt: skip
    assert [one.cells for one in parts_sown(entries, 8)] == [4, 8]


def test_what_is_carried_off_adds_up_and_plants_go_with_their_cells() -> None:
    entries = [entry(1, "emerged", 160), entry(2, "planted_out", 3), entry(3, "sold", 2), entry(4, "lost", 1)]
    found = standing(8, entries, one_a_cell=False)
    assert (found.planted_out, found.sold, found.lost, found.gone) == (3, 2, 1, 6)
    assert (found.cells, found.plants, found.over) == (2, 40, 0)


def test_counts_so_far_do_not_add_up() -> None:
    entries = [entry(1, "emerged", 90, "2027-03-15"), entry(2, "emerged", 160, "2027-03-20")]
    assert standing(8, entries, one_a_cell=False).plants == 160


def test_after_thinning_what_was_left_counts() -> None:
    entries = [entry(1, "emerged", 29), entry(2, "thinned", 27, "2027-04-01")]
    found = standing(10, entries, one_a_cell=False)
    assert (found.up, found.thinned, found.plants) == (29, 27, 27)


def test_a_single_cell_without_a_plant_is_none() -> None:
    entries = [entry(1, "emerged", 65), entry(2, "planted_out", 60, "2027-05-02")]
    found = standing(72, entries, one_a_cell=True)
    assert (found.cells, found.plants) == (5, 5)


def test_cells_really_sown_take_the_place_of_those_planned() -> None:
    found = standing(72, [entry(1, "sown", 60), entry(2, "lost", 10)], one_a_cell=True)
    assert (found.cells_sown, found.cells, found.plants) == (60, 50, None)


def test_more_carried_off_than_there_were_leaves_none_and_says_how_many() -> None:
    found = standing(8, [entry(1, "planted_out", 8), entry(2, "sold", 3)], one_a_cell=False)
    assert (found.cells, found.over) == (0, 3)


KINDS = st.sampled_from(list(Kind))


@given(
    cells=st.integers(1, 100),
    noted=st.lists(st.tuples(KINDS, st.integers(0, 100), st.integers(0, 30), st.booleans()), max_size=12),
    one_a_cell=st.booleans(),
)
def test_nothing_is_ever_below_none(cells: int, noted: list[tuple[Kind, int, int, bool]], one_a_cell: bool) -> None:
    entries = [
        entry(at, kind, number if kind in MAY_HAVE_NUMBER else None, str(books.SOW + timedelta(days=days)),
              corrects=at - 1 if corrects and at > 1 else None)
        for at, (kind, number, days, corrects) in enumerate(noted, start=1)
    ]  # fmt: skip
    found = standing(cells, entries, one_a_cell=one_a_cell)
    assert min(found.cells, found.gone, found.over, found.plants or 0) >= 0
    assert not (found.cells and found.over)
    assert found.plants is None or found.plants <= max(found.up or 0, found.thinned or 0)
    assert standing(cells, entries[::-1], one_a_cell=one_a_cell) == found


# ---- what may be noted


@pytest.mark.parametrize(
    ("at", "cells", "places", "called"),
    [(CLUMP, 8, 200, "seeds"), (STATIONS, 10, 30, "holes"), (SINGLE, 72, 72, "cells")],
)
def test_what_a_batch_can_hold(at: int, cells: int, places: int, called: str) -> None:
    found = places_of(kept(at))
    assert (found.cells, found.places, found.called) == (cells, places, called)


def complaints(note: Note, at: int = CLUMP) -> list[str]:
    try:
        check(note, kept(at), books.TODAY)
    except BookError as error:
        return [problem.text for problem in error.problems]
    return []


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_may_be_noted(kind: Kind) -> None:
    assert complaints(a_note(kind, 8 if kind in MAY_HAVE_NUMBER else None)) == []


@pytest.mark.parametrize("kind", sorted(MAY_HAVE_NUMBER - NEEDS_NUMBER))
def test_some_kinds_may_leave_the_number_out(kind: Kind) -> None:
    assert complaints(a_note(kind)) == []


@pytest.mark.parametrize(
    ("kind", "number", "said"),
    [
        ("emerged", None, "'emerged' needs a number: how many seedlings"),
        ("planted_out", None, "'planted out' needs a number: how many cells"),
        ("emerged", -1, "the number is -1; it must be 0 or more"),
        ("emerged", 1001, "the number is too large: 27-001-7 has 200 seeds; at most 1,000 are taken"),
        ("sold", 9, "the number is too large: 27-001-7 has 8 cells; at most 8 are taken"),
        ("trimmed", 3, "'trimmed' takes no number; write it into the remark"),
        ("sold", 999_999_999_999, "the number is too large: 27-001-7 has 8 cells; at most 8 are taken"),
        ("emerged", 2**70, "the number is too large: 27-001-7 has 200 seeds; at most 1,000 are taken"),
        ("emerged", True, "the number must be a whole one, in figures, such as 31, not “True”"),
        ("emerged", 1.5, "the number must be a whole one, in figures, such as 31, not “1.5”"),
    ],
)
def test_wrong_numbers_are_said(kind: str, number: int | None, said: str) -> None:
    assert complaints(a_note(kind, number)) == [said]


def test_wrong_numbers_of_holes_and_cells_are_said_in_their_words() -> None:
    assert complaints(a_note("emerged", 31), STATIONS) == [
        "the number is too large: 27-002-5 has 30 holes; at most 30 are taken"
    ]
    assert complaints(a_note("emerged"), STATIONS) == ["'emerged' needs a number: how many holes with a plant"]
    assert complaints(a_note("emerged", 73), SINGLE) == [
        "the number is too large: 27-003-3 has 72 cells; at most 72 are taken"
    ]


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2027-06-02", None),
        ("2027-06-03", "the day 2027-06-03 is still to come; an entry is of what was done, and today is 2027-06-01"),
        ("2026-12-05", None),
        (
            "2026-12-04",
            "the day 2026-12-04 is too early for 27-001-7, which was to be sown 2027-03-06;"
            " it can be noted from 2026-12-05 on, a remark on any day",
        ),
    ],
)
def test_days_out_of_the_season_are_said(day: str, said: str | None) -> None:
    assert complaints(a_note("sown", day=day)) == ([said] if said else [])


def test_a_remark_may_be_of_any_day_until_today() -> None:
    assert complaints(a_note(day="2025-11-25")) == complaints(a_note(day="1900-01-01")) == []
    assert complaints(a_note(day="1899-12-31")) != []
    assert complaints(a_note(day="2027-06-03")) != []


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"who": "x" * 61}, "the name has 61 characters; at most 60 are kept"),
        ({"remark": "x" * 2001}, "the remark has 2,001 characters; at most 2,000 are kept"),
        ({"remark": "a\x1b[2Jb"}, "the remark has a character that cannot be written, U+001B; leave it out"),
        ({"remark": "a\ud800"}, "the remark has a character that cannot be written, U+D800; leave it out"),
        ({"who": "Ann\nBob"}, "the name has a character that cannot be written, U+000A; leave it out"),
        ({"who": "\0"}, "the name has a character that cannot be written, U+0000; leave it out"),
        ({"remark": ""}, "a remark needs words"),
    ],
)
def test_wrong_texts_are_said(fields: dict[str, str], said: str) -> None:
    assert complaints(a_note(**fields)) == [said]


@pytest.mark.parametrize("text", ["two\nlines", "naïve, 日本語, עברית", "🐌 ate it", "x" * 2000])
def test_any_words_may_be_noted(text: str) -> None:
    assert complaints(a_note(remark=text)) == []


def test_everything_wrong_is_said_at_once() -> None:
    assert len(complaints(a_note("emerged", -1, "2028-01-01", who="\0"))) == 3


def test_striking_out_needs_no_words() -> None:
    assert complaints(a_note("remark", remark="", corrects=1)) == []


def test_white_space_around_and_kinds_of_line_breaks_are_nothing() -> None:
    note = tidied(a_note(who="  Ann ", remark=" one\r\ntwo\rthree \n"))
    assert (note.who, note.remark) == ("Ann", "one\ntwo\nthree")


def test_the_kinds_are_those_that_the_words_of_records_know() -> None:
    assert all(words_for("en")(f"records.noted_{kind}") for kind in Kind)
    assert set(CARRIED_OFF) < NEEDS_NUMBER
