"""Arranging: groups, pins, whole trays, shared rests and tray numbers, as pictures in letters."""

import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layouts import SIX, TEN, at, batch, cut_batches, pictures, pieces, reckoned, sown
from plans import CELL_72, CELL_200, POT_18, sowing

from traysheets.arrange.arrange import arrange
from traysheets.base.errors import PlanError
from traysheets.plan.model import Pin, Repeat

SUNDAY = date(2027, 3, 7)


def laid(*cells: int) -> list[str]:
    return pictures(arrange(sown(*cells)))


# Sharing


def test_one_batch_in_one_tray() -> None:
    assert laid(4) == ["1 AAA/A.."]


def test_batches_that_fit_stand_one_after_another() -> None:
    assert laid(2, 3) == ["1 AAB/BB."]


def test_a_batch_that_fits_nowhere_whole_gets_a_tray_when_there_is_one() -> None:
    assert laid(4, 4) == ["1 AAA/A..", "2 BBB/B.."]


def test_plan_order_is_kept_where_no_cut_is_saved_by_leaving_it() -> None:
    assert laid(3, 3, 2, 4) == ["1 AAA/BBB", "2 CCD/DDD"]


def test_plan_order_gives_way_to_fewer_cuts() -> None:
    assert laid(3, 4, 3, 2) == ["1 AAA/CCC", "2 BBB/BDD"]


def test_one_cut_where_the_trays_leave_no_other_way() -> None:
    assert laid(4, 4, 4) == ["1 AAA/ABB", "2 BBC/CCC"]


def test_a_batch_fills_whole_trays_and_only_its_rest_shares() -> None:
    assert laid(14, 4) == ["1 AAA/AAA", "2 AAA/AAA", "3 AAB/BBB"]


def test_one_batch_cut_in_three_is_better_than_two_cut_in_two() -> None:
    """Three trays of six hold 5 + 5 + 5 + 3 cells with one batch in every tray; poured in plan order they cut two."""
    arranged = arrange(sown(5, 5, 5, 3))
    assert cut_batches(sown(5, 5, 5, 3), arranged) == 1
    assert pieces(arranged) == 6


def test_runs_of_a_batch_in_tray_order() -> None:
    runs = arrange(sown(14, 4)).runs[0]
    assert [(run.tray, run.first, run.last) for run in runs] == [(1, 0, 5), (2, 0, 5), (3, 0, 1)]


def test_no_batches_take_no_trays() -> None:
    assert arrange(reckoned()).trays == ()


# Common practice, no source: 1,500 onion seeds at 30 a cell are 50 cells, at 20 a cell 75, one a cell 1,500.


@pytest.mark.parametrize(("cells", "kind", "trays"), [(50, POT_18, 3), (75, POT_18, 5), (1500, CELL_200, 8)])
def test_fifteen_hundred_onions(cells: int, kind: object, trays: int) -> None:
    assert len(arrange(reckoned(batch(0, cells, tray=kind))).trays) == trays


# Groups


def test_other_kinds_days_and_places_share_no_tray() -> None:
    given = reckoned(
        batch(0, 2), batch(1, 2, tray=TEN), batch(2, 2, sow=SUNDAY), batch(3, 2, place="heat mat"), batch(4, 2)
    )
    assert pictures(arrange(given)) == ["1 AAE/E..", "2 BB.../.....", "3 DD./...", "4 CC./..."]


def test_trays_of_its_own() -> None:
    given = reckoned(batch(0, 2), batch(1, 2, own_trays=True), batch(2, 2), batch(3, 2, own_trays=True))
    assert pictures(arrange(given)) == ["1 AAC/C..", "2 BB./...", "3 DD./..."]


def test_trays_are_numbered_by_sowing_day_then_plan_order() -> None:
    given = reckoned(batch(0, 2, sow=SUNDAY), batch(1, 2, tray=TEN), batch(2, 2))
    assert [(tray.number, tray.sow, tray.kind.name) for tray in arrange(given).trays] == [
        (1, date(2027, 3, 6), "ten"),
        (2, date(2027, 3, 6), "six"),
        (3, SUNDAY, "six"),
    ]


# Pins


def test_pinned_cells_come_first() -> None:
    given = sown(2, 2, pins={1: (at(1, "A1-A2"),)})
    assert pictures(arrange(given)) == ["1 BBA/A.."]


def test_a_batch_goes_on_beside_its_pinned_cells() -> None:
    given = sown(1, 4, pins={1: (at(1, "A3"),)})
    assert pictures(arrange(given)) == ["1 BBB/BA."]


def test_a_batch_goes_on_before_its_pinned_cells_when_there_is_the_room() -> None:
    given = sown(2, 4, pins={0: (at(1, "B3"),), 1: (at(1, "B2"),)})
    assert pictures(arrange(given)) == ["1 ABB/BBA"]


def test_free_cells_between_pins_hold_runs_in_one_piece_where_they_can() -> None:
    """Stretches of two and three cells are free; B takes three, C two."""
    given = sown(1, 3, 2, kind=SIX, pins={0: (at(1, "A3"),)})
    assert pictures(arrange(given)) == ["1 CCA/BBB"]


def test_pinned_numbers_belong_to_their_group_and_others_take_the_lowest_free() -> None:
    given = sown(6, 6, 2, 6, pins={2: (at(2, "A1-A2"),)})
    assert pictures(arrange(given)) == ["1 AAA/AAA", "2 CC./...", "3 BBB/BBB", "4 DDD/DDD"]


def test_pins_in_two_trays() -> None:
    given = sown(6, pins={0: (at(1, "A1-A2"), at(2, "B2-B3"))})
    assert pictures(arrange(given)) == ["1 AAA/AAA", "2 .../.AA"] or pictures(arrange(given)) == [
        "1 AAA/A..",
        "2 .../.AA",
    ]


def test_a_pin_far_beyond_is_kept_and_noticed() -> None:
    arranged = arrange(sown(2, 6, pins={0: (at(40, "A1-A2"),)}))
    assert pictures(arranged) == ["1 BBB/BBB", "40 AA./..."]
    assert [(note.line, note.text) for note in arranged.notices] == [
        (10, "'at' names tray 40, but the plan takes only 2: some lower numbers stay unused")
    ]


def problems(*batches: object) -> list[str]:
    with pytest.raises(PlanError) as caught:
        arrange(reckoned(*batches))  # type: ignore[arg-type]
    return [str(problem) for problem in caught.value.problems]


def test_more_cells_pinned_than_sown() -> None:
    assert problems(batch(0, 2, at=(at(1, "A1-B1"),))) == [
        "plan.toml:10: 'at' keeps 4 cells for Variety A, but the sowing takes only 2; keep fewer, or sow more"
    ]


@pytest.mark.parametrize(
    ("other", "why"),
    [
        ({"tray": TEN}, "stand in different kinds of tray (six and ten)"),
        ({"sow": SUNDAY}, "are sown on different days (2027-03-06 and 2027-03-07)"),
        ({"place": "heat mat"}, "stand in different places ('' and 'heat mat')"),
        ({"own_trays": True}, "share no tray, since 'own_trays' is set"),
    ],
)
def test_a_tray_pinned_by_two_groups(other: dict[str, object], why: str) -> None:
    first = batch(0, 2, at=(at(3, "A1"),))
    second = batch(1, 2, at=(at(3, "B1"),), **other)
    assert problems(first, second) == [
        f"plan.toml:20: 'at' names tray 3, which line 10 (Variety A) has already; they {why}; "
        "give one of them another tray number"
    ]


def test_every_wrong_pin_is_told_at_once() -> None:
    wrong = problems(
        batch(0, 2, at=(at(3, "A1"),)), batch(1, 1, at=(at(3, "B1-B3"),), place="x"), batch(2, 0, at=(at(4, "A1"),))
    )
    assert [text.split(":")[1] for text in wrong] == ["20", "20", "30"]


def test_repeats_cannot_all_stand_in_one_pinned_tray() -> None:
    asked = sowing(cells=2, tray=SIX, at=(at(1, "A1"),), repeat=Repeat(1, 2), line=7)
    assert problems(batch(0, 2, asked), batch(1, 2, asked, sow=SUNDAY)) == [
        "plan.toml:7: 'at' keeps cells in tray 1 for every repeat of Longstalk Winter, but repeats are sown on "
        "different days and share no tray; leave 'at' out, or write each repeat as a sowing of its own"
    ]


# Whatever is asked for


@st.composite
def plans_with_pins(draw: st.DrawFn) -> list[tuple[int, tuple[Pin, ...], bool]]:
    """Batches of one kind and day: cells, pins that do not overlap, trays of their own or not."""
    asked: list[tuple[int, tuple[Pin, ...], bool]] = []
    end = dict.fromkeys((1, 2, 9), 0)
    for _ in range(draw(st.integers(1, 12))):
        cells, pins, own = draw(st.integers(1, 30)), [], draw(st.integers(0, 9)) == 0
        for number in draw(st.sets(st.sampled_from(sorted(end)), max_size=0 if own else 2)):
            first = end[number] + draw(st.integers(0, 3))
            last = first + draw(st.integers(1, 4)) - 1
            if last < TEN.cells and sum(pin.cells for pin in pins) + last - first < cells:
                pins.append(Pin(number, first, last))
                end[number] = last + 1
        asked.append((cells, tuple(pins), own))
    return asked


@settings(deadline=None, max_examples=200)
@given(plans_with_pins())
def test_nothing_is_lost_or_doubled(asked: list[tuple[int, tuple[Pin, ...], bool]]) -> None:
    given_plan = reckoned(
        *(batch(index, cells, tray=TEN, at=pins, own_trays=own) for index, (cells, pins, own) in enumerate(asked))
    )
    arranged = arrange(given_plan)
    owners = [owner for tray in arranged.trays for owner in tray.cell_batches() if owner is not None]
    assert [owners.count(index) for index in range(len(asked))] == [cells for cells, _, _ in asked]
    shared = {pin.tray for _, pins, own in asked if not own for pin in pins}
    own_trays = sum(-(-cells // 10) for cells, _, own in asked if own)
    shared_cells = sum(cells for cells, _, own in asked if not own)
    assert len(arranged.trays) == own_trays + max(len(shared), -(-shared_cells // 10))


@settings(deadline=None, max_examples=60)
@given(st.lists(st.integers(1, 40), min_size=1, max_size=7), st.randoms(use_true_random=False))
def test_order_in_the_plan_changes_neither_trays_nor_cuts(cells: list[int], draw: object) -> None:
    shuffled = list(cells)
    draw.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = sown(*cells, kind=POT_18), sown(*shuffled, kind=POT_18)
    first, second = arrange(one), arrange(other)
    assert (len(first.trays), cut_batches(one, first)) == (len(second.trays), cut_batches(other, second))


@pytest.mark.parametrize("kind", [SIX, POT_18, CELL_72, CELL_200], ids=lambda kind: kind.name)
def test_a_large_plan_holds(kind: object) -> None:
    """More rests than are searched exactly, in every shape: the proof inside raises when a cell is lost."""
    cells = [1 + index * index * 7 % (2 * kind.cells) for index in range(300)]  # type: ignore[attr-defined]
    arranged = arrange(reckoned(*(batch(index, count, tray=kind) for index, count in enumerate(cells))))
    assert len(arranged.trays) == -(-sum(cells) // kind.cells)  # type: ignore[attr-defined]


LAYOUT = """
from layouts import batch, pictures, reckoned, sown, SIX, TEN, at
from traysheets.arrange.arrange import arrange
cells = [1 + index * 7 % 11 for index in range(40)]
pins = {i: (at(i + 1, "A2-A3", TEN),) for i, n in enumerate(cells) if i % 9 == 4 and n > 2}
given = reckoned(*(batch(i, n, tray=TEN, place=f"p{i % 3}", at=pins.get(i, ())) for i, n in enumerate(cells)))
print(pictures(arrange(given)))
"""


def test_the_same_layout_whatever_the_hash_seed() -> None:
    tests = Path(__file__).parent
    shown = {
        subprocess.run(
            [sys.executable, "-c", LAYOUT],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join([str(tests), *sys.path])},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("0", "1", "4711")
    }
    assert len(shown) == 1
