"""Codes for plans of many batches: what is said stays short, and what is compared grows no faster than the plan."""

from datetime import date
from itertools import islice

import pytest
from test_book_allot import PLAN, printed, wanted

from traysheets.book.allot import allot
from traysheets.book.codes import codes_from
from traysheets.book.model import Identity

LATER = date(2027, 4, 3)
MANY = 300


def test_of_many_batches_that_one_may_be_five_are_named_and_the_others_counted() -> None:
    codes = tuple(islice(codes_from(2027), 1207))
    held = printed(codes, [wanted("A", lot=str(at)) for at in range(1207)])
    (notice,) = allot(held, [wanted("A", sow=LATER)], 2027, PLAN).notices
    assert notice.text == (
        "this batch gets a new code; the book holds 27-001-7 sown 2027-03-06, 27-002-5 sown 2027-03-06,"
        " 27-003-3 sown 2027-03-06, 27-004-1 sown 2027-03-06, 27-005-0 sown 2027-03-06 and 1,202 more,"
        " of the same variety, which the plan no longer has; if it is one of them, write its code as batch"
    )
    (notice,) = allot(held[:5], [wanted("A", sow=LATER)], 2027, PLAN).notices
    assert "27-005-0 sown 2027-03-06, of the same variety" in notice.text


def test_own_codes_under_new_names_are_not_each_held_against_every_batch(monkeypatch: pytest.MonkeyPatch) -> None:
    codes = tuple(islice(codes_from(2027), MANY))
    held = printed(codes, [wanted(f"Old {at}") for at in range(MANY)])
    plan = [wanted(f"New {at}", own=code) for at, code in enumerate(codes)]
    plan += [wanted(f"Other {at}", sow=LATER) for at in range(MANY)]
    asked = []
    same_day = Identity.same_day.fget
    assert same_day
    monkeypatch.setattr(Identity, "same_day", property(lambda one: asked.append(one) or same_day(one)))
    found = allot(held, plan, 2027, PLAN)
    assert found.codes[:MANY] == codes
    assert len(asked) < 5 * len(plan)
