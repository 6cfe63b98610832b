"""Printed codes stay with their batches, whatever is done to the plan, and no code is given twice."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import PlanError
from traysheets.book.allot import allot
from traysheets.book.model import Identity, Printed, Wanted

PLAN = "plan.toml"
DAY = date(2027, 3, 6)


def wanted(variety: str = "Amber Vault", *, own: str | None = None, line: int = 1, **facts: object) -> Wanted:
    identity = Identity("Onion", variety, DAY, "L1", "clump", "pot-18", "", 8, 25)
    return Wanted(replace(identity, **facts), line, own)  # type: ignore[arg-type]


def printed(codes: tuple[str, ...], batches: list[Wanted]) -> list[Printed]:
    return [Printed(code, one.identity, PLAN, True) for code, one in zip(codes, batches, strict=True)]


def codes(before: list[Printed], batches: list[Wanted]) -> tuple[str, ...]:
    return allot(before, batches, 2027, PLAN).codes


def test_new_batches_get_codes_in_plan_order() -> None:
    assert codes([], [wanted("A"), wanted("B"), wanted("C")]) == ("27-001-7", "27-002-5", "27-003-3")


def test_sorting_and_cutting_moves_no_code() -> None:
    batches = [wanted("A"), wanted("B"), wanted("C")]
    before = printed(codes([], batches), batches)
    assert codes(before, [batches[2], batches[0]]) == ("27-003-3", "27-001-7")


def test_a_code_is_not_used_again_when_its_batch_is_gone() -> None:
    batches = [wanted("A"), wanted("B")]
    before = printed(codes([], batches), batches)
    assert codes(before, [wanted("C")]) == ("27-003-3",)


@pytest.mark.parametrize(
    "edit",
    [{"cells": 10}, {"seeds_per_cell": 30}, {"tray": "cell-72"}, {"place": "mat"}, {"lot": "L2"}, {"method": "single"}],
    ids=str,
)
def test_an_edited_batch_keeps_its_code(edit: dict[str, object]) -> None:
    batches = [wanted("A"), wanted("B")]
    before = printed(codes([], batches), batches)
    assert codes(before, [wanted("B"), wanted("A", **edit)]) == ("27-002-5", "27-001-7")


def test_on_another_day_it_is_another_batch_and_the_grower_is_told() -> None:
    before = printed(("27-001-7",), [wanted("A")])
    allotment = allot(before, [wanted("A", sow=date(2027, 3, 13), line=9)], 2027, PLAN)
    assert allotment.codes == ("27-002-5",)
    (notice,) = allotment.notices
    assert notice.line == 9
    assert notice.text == (
        "this batch gets a new code; the book holds 27-001-7 sown 2027-03-06, of the same variety, which the plan no"
        ' longer has; if it is the same batch, write batch = "27-001-7"'
    )


def test_of_two_that_could_be_meant_neither_code_is_taken() -> None:
    twins = [wanted("A", cells=8), wanted("A", cells=4)]
    before = printed(codes([], twins), twins)
    assert codes(before, [wanted("A", cells=5)]) == ("27-003-3",)


def test_twins_that_differ_are_told_apart() -> None:
    twins = [wanted("A", cells=8), wanted("A", cells=4)]
    before = printed(codes([], twins), twins)
    assert codes(before, [wanted("A", cells=4), wanted("A", cells=10)]) == ("27-002-5", "27-001-7")


def test_a_batch_that_left_the_plan_before_is_not_taken_for_an_edited_one() -> None:
    before = [replace(printed(("27-001-7",), [wanted("A")])[0], in_plan=False)]
    assert codes(before, [wanted("A", cells=9)]) == ("27-002-5",)
    assert codes(before, [wanted("A")]) == ("27-001-7",)


def test_a_batch_of_another_plan_in_the_book_keeps_its_code_from_this_one() -> None:
    before = [replace(printed(("27-001-7",), [wanted("A")])[0], plan="other.toml")]
    assert codes(before, [wanted("A", cells=9)]) == ("27-002-5",)


def test_the_growers_own_code_is_used_and_kept_from_others() -> None:
    assert codes([], [wanted("A"), wanted("B", own="27-001-7")]) == ("27-002-5", "27-001-7")


def test_a_printed_code_may_be_claimed_for_its_own_variety_on_another_day() -> None:
    before = printed(("27-001-7",), [wanted("A")])
    assert codes(before, [wanted("A", own="27-001-7", sow=date(2027, 3, 20))]) == ("27-001-7",)


def test_a_printed_code_is_refused_for_another_crop() -> None:
    before = printed(("27-001-7",), [wanted("A")])
    with pytest.raises(PlanError) as error:
        codes(before, [wanted("A", own="27-001-7", line=12, crop="Leek")])
    assert str(error.value) == (
        "plan.toml:12: the batch code '27-001-7' was printed for Onion 'A' sown 2027-03-06;"
        " a printed code is never used for another batch, so give a new one"
    )


def test_a_printed_code_is_refused_while_its_batch_is_still_in_the_plan() -> None:
    before = printed(("27-001-7",), [wanted("A")])
    with pytest.raises(PlanError) as error:
        codes(before, [wanted("A", line=5), wanted("A", own="27-001-7", sow=date(2027, 3, 20), line=12)])
    assert str(error.value) == (
        "plan.toml:12: the batch code '27-001-7' was printed for Onion 'A' sown 2027-03-06,"
        " which the plan still has in line 5; give a new one"
    )


def test_letters_of_a_variety_may_be_written_otherwise() -> None:
    before = printed(("27-001-7",), [wanted("Amber Vault")])
    assert codes(before, [wanted("AMBER vault")]) == ("27-001-7",)


def test_of_several_that_left_the_grower_is_to_choose() -> None:
    twins = [wanted("A", cells=8), wanted("A", cells=4)]
    before = printed(codes([], twins), twins)
    (notice,) = allot(before, [wanted("A", cells=5)], 2027, PLAN).notices
    assert notice.text.endswith(
        "the book holds 27-001-7 sown 2027-03-06, 27-002-5 sown 2027-03-06, of the same variety, which the plan"
        " no longer has; if it is one of them, write its code as batch"
    )


def test_an_edited_batch_does_not_take_the_code_of_one_that_left_and_was_like_it() -> None:
    """27-001-7 had 8 cells and is gone; 27-002-5 has 10 and is edited to 8: its sticks in the pots say 27-002-5."""
    gone = replace(printed(("27-001-7",), [wanted("A", cells=8)])[0], in_plan=False)
    stands = printed(("27-002-5",), [wanted("A", cells=10)])[0]
    assert codes([gone, stands], [wanted("A", cells=8)]) == ("27-002-5",)
    assert codes([gone, stands], [wanted("A", cells=8), wanted("A", cells=10)]) == ("27-001-7", "27-002-5")


def test_nor_when_two_are_edited_at_once() -> None:
    gone = replace(printed(("27-001-7",), [wanted("A", cells=8)])[0], in_plan=False)
    stand = printed(("27-002-5", "27-003-3"), [wanted("A", cells=10), wanted("A", cells=12)])
    assert codes([gone, *stand], [wanted("A", cells=8), wanted("A", cells=13)]) == ("27-004-1", "27-005-0")


def test_a_renamed_plan_keeps_its_codes_and_says_so() -> None:
    before = [replace(one, plan="old.toml") for one in printed(("27-001-7", "27-002-5"), [wanted("A"), wanted("B")])]
    allotment = allot(before, [wanted("B"), wanted("A")], 2027, PLAN)
    assert allotment.codes == ("27-002-5", "27-001-7")
    assert [(notice.line, notice.text) for notice in allotment.notices] == [
        (
            None,
            "2 batches keep their codes from old.toml, being the same in everything; "
            "if that is another plan, give this one a book of its own with --book",
        )
    ]


def test_a_mended_name_of_the_same_lot_and_day_may_keep_its_code() -> None:
    before = printed(("27-001-7",), [wanted("Beta")])
    allotment = allot(before, [wanted("Betta", line=4)], 2027, PLAN)
    (notice,) = allotment.notices
    assert (allotment.codes, notice.line) == (("27-002-5",), 4)
    assert notice.text == (
        "this batch gets a new code; the book holds 27-001-7 'Beta', of the same lot and day, which the plan no longer"
        ' has; if this is 27-001-7 renamed, write batch = "27-001-7"'
    )
    assert codes(before, [wanted("Betta", own="27-001-7")]) == ("27-001-7",)
    with pytest.raises(PlanError, match="which the plan still has"):
        codes(before, [wanted("Beta"), wanted("Betta", own="27-001-7")])


def test_a_mended_name_without_a_lot_is_asked_about_and_may_keep_its_code() -> None:
    batches = [wanted("Long Tom Hollow", lot=""), wanted("B", lot="", crop="Leek")]
    before = printed(("27-001-7", "27-002-5"), batches)
    mended = wanted("Long Tom Hollow Select", lot="", line=4)
    allotment = allot(before, [mended, batches[1]], 2027, PLAN)
    (notice,) = allotment.notices
    assert (allotment.codes, notice.line) == (("27-003-3", "27-002-5"), 4)
    assert notice.text == (
        "this batch gets a new code; the book holds 27-001-7 'Long Tom Hollow', of the same crop, day and method,"
        ' which the plan no longer has; if this is 27-001-7 renamed, write batch = "27-001-7"'
    )
    claimed = allot(before, [replace(mended, own_code="27-001-7"), batches[1]], 2027, PLAN)
    assert claimed.codes == ("27-001-7", "27-002-5")
    assert [(notice.text, notice.line) for notice in claimed.notices] == [
        (
            "27-001-7 goes on as 'Long Tom Hollow Select'; its sticks were printed for 'Long Tom Hollow',"
            " so print them again",
            4,
        )
    ]
    again = printed(claimed.codes, [mended, batches[1]])
    assert allot(again, [replace(mended, own_code="27-001-7"), batches[1]], 2027, PLAN).notices == ()


def test_a_mended_name_may_claim_its_code_after_it_was_printed_under_a_new_one() -> None:
    left = replace(printed(("27-001-7",), [wanted("Beta", lot="")])[0], in_plan=False)
    mended = wanted("Betta", lot="")
    before = [left, *printed(("27-002-5",), [mended])]
    assert codes(before, [mended]) == ("27-002-5",)
    assert codes(before, [replace(mended, own_code="27-001-7")]) == ("27-001-7",)


def test_nobody_says_another_name_of_a_batch_that_still_stands() -> None:
    """Edited it stands all the same: it must not lose its code to one that claims it."""
    before = printed(("27-001-7",), [wanted("A")])
    with pytest.raises(PlanError, match="which the plan still has in line 5; give a new one"):
        codes(before, [wanted("A", line=5, cells=9), wanted("B", own="27-001-7", line=12)])
    with pytest.raises(PlanError, match="give a new one"):
        codes([replace(before[0], plan="other.toml")], [wanted("B", own="27-001-7")])


def test_one_of_two_alike_may_be_renamed() -> None:
    twins = [wanted("A"), wanted("A")]
    before = printed(("27-001-7", "27-002-5"), twins)
    assert codes(before, [wanted("A"), wanted("B", own="27-001-7")]) == ("27-002-5", "27-001-7")


@pytest.mark.parametrize("lot", ["", "L1"])
def test_the_day_of_a_noted_sowing_put_into_the_plan_keeps_the_code(lot: str) -> None:
    before = printed(("27-001-7", "27-002-5"), [wanted("A", lot=lot), wanted("B", lot=lot)])
    done = date(2026, 11, 25)
    moved = [wanted("A", lot=lot, sow=done), wanted("B", lot=lot)]
    assert allot(before, moved, 2027, PLAN, {"27-001-7": done}).codes == ("27-001-7", "27-002-5")
    assert allot(before, moved, 2027, PLAN, {"27-001-7": date(2026, 11, 24)}).codes == ("27-003-3", "27-002-5")
    assert allot(before, moved, 2027, PLAN, {"27-002-5": done}).codes == ("27-003-3", "27-002-5")


def test_of_two_that_were_sown_on_that_day_none_is_taken() -> None:
    done = date(2026, 11, 25)
    before = printed(("27-001-7", "27-002-5"), [wanted("A"), wanted("A", sow=date(2027, 4, 1))])
    sown = {"27-001-7": done, "27-002-5": done}
    assert allot(before, [wanted("A", sow=done)], 2027, PLAN, sown).codes == ("27-003-3",)


def test_a_sowing_planned_for_the_day_on_which_another_was_noted_keeps_its_own_code() -> None:
    later = date(2027, 3, 13)
    before = printed(("27-001-7", "27-002-5"), [wanted("A"), wanted("A", sow=later)])
    assert allot(before, [wanted("A", sow=later)], 2027, PLAN, {"27-001-7": later}).codes == ("27-002-5",)


def test_a_wrong_check_character_in_a_code_of_ones_own_is_told() -> None:
    (notice,) = allot([], [wanted("A", own="27-001-8", line=3)], 2027, PLAN).notices
    assert notice.line == 3
    assert notice.text == "the batch code '27-001-8' has a wrong check character; 27-001-7 has the right one"
    assert allot([], [wanted("A", own="ONION-7-X")], 2027, PLAN).notices == ()


SOWINGS = st.builds(
    lambda variety, days, cells, lot: wanted(variety, sow=date(2027, 3, 1 + days), cells=cells, lot=lot),
    st.sampled_from("ABC"),
    st.integers(0, 2),
    st.integers(1, 3),
    st.sampled_from(["", "L1", "L2"]),
)


@given(st.lists(st.lists(SOWINGS, max_size=6), min_size=1, max_size=6))
def test_over_any_history_a_code_stays_with_variety_and_day_and_is_given_once(plans: list[list[Wanted]]) -> None:
    """Each plan is printed whole, then edited beyond all recognition, and printed again."""
    book: dict[str, Printed] = {}
    for plan in plans:
        given_codes = codes(list(book.values()), plan)
        assert len(set(given_codes)) == len(given_codes)
        for code, one in zip(given_codes, plan, strict=True):
            if code in book:
                assert book[code].identity.same_day == one.identity.same_day
        book = {code: replace(batch, in_plan=False) for code, batch in book.items()}
        book |= as_printed(given_codes, plan)


def as_printed(given_codes: tuple[str, ...], plan: list[Wanted]) -> dict[str, Printed]:
    """What the book keeps of a plan that is printed whole."""
    pairs = enumerate(zip(given_codes, plan, strict=True))
    return {code: Printed(code, one.identity, PLAN, True, position=at) for at, (code, one) in pairs}


@given(st.lists(SOWINGS, max_size=8), st.randoms(use_true_random=False))
def test_an_unedited_batch_keeps_its_code_in_any_order(plan: list[Wanted], random: object) -> None:
    first = codes([], plan)
    before = printed(first, plan)
    order = list(range(len(plan)))
    random.shuffle(order)  # type: ignore[attr-defined]
    again = codes(before, [plan[at] for at in order])
    kept = {(plan[at].identity, code) for at, code in zip(order, again, strict=True)}
    assert kept == {(one.identity, code) for one, code in zip(plan, first, strict=True)}


@given(st.lists(st.lists(SOWINGS, max_size=6), max_size=5), st.lists(SOWINGS, min_size=1, max_size=6), st.data())
def test_one_edit_moves_no_code(history: list[list[Wanted]], plan: list[Wanted], data: st.DataObject) -> None:
    """After any history: the edited batch keeps its code or gets a fresh one, the others keep theirs."""
    book: dict[str, Printed] = {}
    for once in [*history, plan]:
        given_codes = codes(list(book.values()), once)
        book = {code: replace(batch, in_plan=False) for code, batch in book.items()}
        book |= as_printed(given_codes, once)
    at = data.draw(st.integers(0, len(plan) - 1))
    edit = data.draw(st.sampled_from([{"cells": 77}, {"cells": 1}, {"lot": "L9"}, {"lot": "L1"}, {"method": "single"}]))
    edited = [*plan]
    edited[at] = replace(plan[at], identity=replace(plan[at].identity, **edit))  # type: ignore[arg-type]
    again = codes(list(book.values()), edited)
    if edited[at].identity not in {one.identity for place, one in enumerate(plan) if place != at}:
        assert again[at] == given_codes[at] or plan.count(plan[at]) > 1
        others = [place for place in range(len(plan)) if place != at and plan[place] != plan[at]]
        assert [again[place] for place in others] == [given_codes[place] for place in others]
    assert all(code not in book or book[code].in_plan for code in again)


def test_batches_alike_in_everything_keep_their_order_whatever_codes_they_have() -> None:
    """The second of two was printed when the first, of an earlier code, had left the plan for a time."""
    plan = [wanted("A"), wanted("B"), wanted("B")]
    before = list(as_printed(("27-004-1", "27-003-3", "27-001-7"), plan).values())
    assert codes(before[::-1], [wanted("A", cells=77), *plan[1:]]) == ("27-004-1", "27-003-3", "27-001-7")
