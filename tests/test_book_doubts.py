"""What about an entry contradicts the others: it is asked about, not stored; who is sure has it stored all the same."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import books
import pytest
from books import CLUMP, a_note, add, entry, kept
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import BookError, DoubtfulEntry
from traysheets.base.words import languages, words_for
from traysheets.book.diary import add_entry, read_history
from traysheets.book.doubts import doubts
from traysheets.book.entries import MAY_HAVE_NUMBER, Entry, Kind, in_force
from traysheets.book.model import Kept

POTS, HOLES, CELLS = 0, 1, 2
"""Eight pots of 25 seeds, ten pots of 3 holes with 2 seeds each, 72 cells of one seed."""

SOWN = entry(1, "sown", None, "2027-03-06")


def batch(at: int, *, cluster: bool = False) -> Kept:
    one = kept(at)
    return replace(one, facts=json.dumps({**one.told, "cluster": cluster}))


def doubted(at: int, entries: list[Entry], *args: Any, cluster: bool = False, **other: Any) -> list[str]:
    note = a_note(*args, **other)
    return [problem.text for problem in doubts(note, batch(at, cluster=cluster), entries, books.TODAY)]


# ---- what is not sown yet


@pytest.mark.parametrize("kind", sorted(set(Kind) - {Kind.SOWN, Kind.REMARK, Kind.EMERGED}))
def test_what_can_only_be_done_to_what_was_sown(kind: Kind) -> None:
    number = 1 if kind in MAY_HAVE_NUMBER else None
    assert doubted(POTS, [], kind, number, "2027-03-05") == [
        f"{kind.words} on 2027-03-05, before the sowing day 2027-03-06; if it was sown earlier, note that first"
    ]
    assert doubted(POTS, [], kind, number, "2027-03-06") == [
        f"{kind.words} on 2027-03-06, but it is not noted as sown; if it was sown, note that first"
    ]
    assert doubted(POTS, [entry(1, "sown", None, "2027-03-21")], kind, number) == [
        f"{kind.words} on 2027-03-20, before the sowing on 2027-03-21"
    ]
    assert doubted(POTS, [entry(1, "sown", None, "2027-03-19")], kind, number) == []


def test_what_is_not_noted_as_sown_is_asked_about_once() -> None:
    lost = entry(1, "lost", 2, "2027-03-20")
    assert doubted(POTS, [lost], "sold", 2, "2027-04-01") == []
    assert doubted(POTS, [entry(1, "emerged", 150)], "lost", 2, "2027-04-01") == []
    assert doubted(POTS, [lost], "remark", remark="", corrects=1) == []


def test_plants_on_the_very_day_of_the_sowing() -> None:
    for kind, number in (("emerged", 3), ("thinned", None), ("planted_out", 2)):
        words = kind.replace("_", " ")
        assert doubted(POTS, [SOWN], kind, number, "2027-03-06") == [f"{words} on 2027-03-06, the very day it was sown"]
    assert doubted(POTS, [], "emerged", 3, "2027-03-06") == ["emerged on 2027-03-06, the very day it was sown"]
    assert doubted(POTS, [SOWN], "emerged", 0, "2027-03-06") == doubted(POTS, [SOWN], "lost", 1, "2027-03-06") == []
    parts = [entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", 8, "2027-03-20")]
    assert doubted(POTS, parts, "emerged", 60) == [], "of the first part they may be"


def test_fewer_that_came_up_than_were_left_after_thinning() -> None:
    thinned = entry(2, "thinned", 40, "2027-03-28")
    assert doubted(POTS, [SOWN, thinned], "emerged", 0, "2027-04-01") == [
        "0 came up in all by 2027-04-01, but 40 were left after thinning on 2027-03-28"
    ]
    assert doubted(POTS, [SOWN, thinned], "emerged", 40, "2027-04-01") == []
    lost = entry(3, "lost", 8, "2027-03-30")
    assert doubted(POTS, [SOWN, thinned, lost], "emerged", 0, "2027-04-01") == []


def test_seedlings_before_the_sowing() -> None:
    assert doubted(POTS, [], "emerged", 3, "2027-03-05") == [
        "emerged on 2027-03-05, before the sowing day 2027-03-06; if it was sown earlier, note that first"
    ]
    assert doubted(POTS, [], "emerged", 3) == []
    assert doubted(POTS, [SOWN], "emerged", 3) == []
    assert doubted(POTS, [SOWN], "remark") == doubted(POTS, [], "remark") == []


def test_what_grew_before_it_was_to_be_sown_is_asked_about_once() -> None:
    seen = entry(1, "emerged", 150, "2027-03-04")
    assert doubted(POTS, [seen], "thinned", None, "2027-03-05") == []
    assert doubted(POTS, [seen], "sold", 2, "2027-04-01") == []


def test_a_sowing_noted_too_late_is_asked_about() -> None:
    seen = entry(1, "emerged", 150)
    assert doubted(POTS, [seen], "sown", None, "2027-03-19") == []
    assert doubted(POTS, [seen], "sown", None, "2027-03-20") == ["emerged on 2027-03-20, the very day it was sown"]
    assert doubted(POTS, [seen], "sown", None, "2027-03-25") == [
        "emerged on 2027-03-20, before the sowing on 2027-03-25"
    ]


# ---- sown again


def test_all_sown_twice() -> None:
    said = ["all 8 cells are noted as sown already, on 2027-03-06"]
    assert doubted(POTS, [SOWN], "sown") == doubted(POTS, [SOWN], "sown", 8) == said


def test_a_further_part_is_noted_as_all_so_far() -> None:
    part = entry(1, "sown", 4, "2027-03-06")
    assert doubted(POTS, [part], "sown", 8) == doubted(POTS, [part], "sown") == doubted(POTS, [part], "sown", 5) == []
    assert doubted(POTS, [part], "sown", 4) == [
        "4 cells are noted as sown by 2027-03-06; the number is all that were sown so far, so with 4 more it is 8"
    ]
    assert doubted(POTS, [SOWN], "sown", 6) == [
        "8 cells are noted as sown by 2027-03-06; the number is all that were sown so far, and 6 is fewer"
    ]


# ---- more carried off than there is


@pytest.mark.parametrize("kind", ["planted_out", "sold", "lost"])
def test_more_carried_off_than_is_on_hand(kind: str) -> None:
    gone = entry(2, "sold", 5, "2027-04-01")
    assert doubted(POTS, [SOWN, gone], kind, 3, "2027-05-02") == []
    words = kind.replace("_", " ")
    assert doubted(POTS, [SOWN, gone], kind, 4, "2027-05-02") == [f"{words} on 2027-05-02: 4 cells, but 3 on hand"]
    gone = entry(2, "sold", 8, "2027-04-01")
    assert doubted(POTS, [SOWN, gone], kind, 1, "2027-05-02") == [f"{words} on 2027-05-02: 1 cell, but 0 on hand"]


def test_of_a_part_sown_no_more_can_go_than_that_part() -> None:
    part = entry(1, "sown", 4, "2027-03-06")
    assert doubted(POTS, [part], "lost", 5) == ["lost on 2027-03-20: 5 cells, but 4 on hand"]


def test_single_cells_that_stayed_empty_cannot_be_planted_out() -> None:
    entries = [SOWN, entry(2, "emerged", 60, "2027-03-20")]
    assert doubted(CELLS, entries, "planted_out", 61, "2027-05-02") == [
        "planted out on 2027-05-02: 61 cells, but 60 on hand"
    ]


def test_a_loss_noted_for_an_earlier_day_is_held_against_what_went_later() -> None:
    entries = [SOWN, entry(2, "planted_out", 6, "2027-05-02")]
    assert doubted(POTS, entries, "lost", 2, "2027-04-01") == []
    assert doubted(POTS, entries, "lost", 3, "2027-04-01") == ["planted out on 2027-05-02: 6 cells, but 5 on hand"]


# ---- counts


def test_more_seedlings_than_seeds() -> None:
    assert doubted(POTS, [SOWN], "emerged", 200) == []
    assert doubted(POTS, [SOWN], "emerged", 201) == ["201 seedlings on 2027-03-20; seeds sown by then: 200"]
    assert doubted(POTS, [entry(1, "sown", 3, "2027-03-06")], "emerged", 76) == [
        "76 seedlings on 2027-03-20; seeds sown by then: 75"
    ]


def test_a_seed_that_is_a_cluster_brings_several() -> None:
    part = [entry(1, "sown", 3, "2027-03-06")]
    assert doubted(POTS, part, "emerged", 375, cluster=True) == []
    assert doubted(POTS, part, "emerged", 376, cluster=True) == [
        "376 seedlings on 2027-03-20; seeds sown by then: 75, which bring 375 at most"
    ]


def test_a_batch_printed_before_that_was_kept_may_be_of_clusters() -> None:
    assert doubts(a_note("emerged", 600), kept(POTS), [SOWN], books.TODAY) == ()


def test_a_hole_or_a_cell_holds_one_plant_however_many_seeds_bring_it() -> None:
    assert doubted(HOLES, [entry(1, "sown", 4, "2027-03-06")], "emerged", 13, cluster=True) == [
        "13 holes with a plant on 2027-03-20; holes sown by then: 12"
    ]
    assert doubted(CELLS, [entry(1, "sown", 1, "2027-03-06")], "thinned", 2) == [
        "2 cells with a plant on 2027-03-20; cells sown by then: 1"
    ]


def test_what_was_sown_later_brings_nothing_yet() -> None:
    entries = [entry(1, "sown", 3, "2027-03-06"), entry(2, "sown", None, "2027-03-21")]
    assert doubted(POTS, entries, "emerged", 76) == ["76 seedlings on 2027-03-20; seeds sown by then: 75"]
    assert doubted(POTS, entries, "emerged", 76, "2027-03-21") == []


def test_a_count_that_falls() -> None:
    entries = [SOWN, entry(2, "emerged", 7, "2027-03-20")]
    assert doubted(POTS, entries, "emerged", 7) == doubted(POTS, entries, "emerged", 8) == []
    assert doubted(POTS, entries, "emerged", 0) == [
        "0 counted on 2027-03-20, but 7 on 2027-03-20, and nothing noted as gone in between"
    ]
    assert doubted(POTS, entries, "thinned", 3, "2027-04-01") == [], "that is what thinning is"


def test_a_loss_explains_a_count_that_falls_as_far_as_it_goes() -> None:
    entries = [SOWN, entry(2, "emerged", 180, "2027-03-20"), entry(3, "lost", 2, "2027-03-22")]
    assert doubted(POTS, entries, "emerged", 130, "2027-03-25") == []
    assert doubted(POTS, entries, "emerged", 129, "2027-03-25") == [
        "129 counted on 2027-03-25, but 180 on 2027-03-20, and what is noted as gone in between held 50 at most"
    ]


# ---- corrections


def test_a_correction_is_judged_in_place_of_what_it_corrects() -> None:
    entries = [SOWN, entry(2, "sold", 8, "2027-04-01"), entry(3, "emerged", 150)]
    assert doubted(POTS, entries, "sold", 7, "2027-04-02", corrects=2) == []
    assert doubted(POTS, entries, "emerged", 90, corrects=3) == []
    assert doubted(POTS, entries, "sown", None, "2027-03-07", corrects=1) == []
    assert doubted(POTS, entries, "sown", 7, "2027-03-06", corrects=1) == ["sold on 2027-04-01: 8 cells, but 7 on hand"]


def test_striking_out_what_others_rest_on_is_asked_about() -> None:
    entries = [entry(1, "sown", None, "2027-03-01"), entry(2, "emerged", 150, "2027-03-05")]
    assert doubted(POTS, entries, "remark", remark="", corrects=2) == []
    assert doubted(POTS, entries, "remark", remark="", corrects=1) == [
        "emerged on 2027-03-05, before the sowing day 2027-03-06; if it was sown earlier, note that first"
    ]


def test_the_same_words_about_two_entries_are_said_once() -> None:
    entries = [
        entry(1, "sown", 0, "2027-03-01"),
        entry(2, "emerged", 1, "2027-03-01"),
        entry(3, "sown", 1, "2027-03-01"),
    ]
    assert doubted(POTS, entries, "emerged", 1, "2027-03-01", corrects=3) == [
        "1 seedling on 2027-03-01; seeds sown by then: 0"
    ], "the count before is doubtful now, and so is the new one"


def test_what_was_doubtful_before_is_not_asked_again() -> None:
    entries = [entry(1, "emerged", 150), entry(2, "emerged", 20, "2027-03-21"), entry(3, "sold", 8, "2027-04-01"),
               entry(4, "sold", 8, "2027-04-02")]  # fmt: skip
    assert doubted(POTS, entries, "trimmed", None, "2027-05-02") == []
    assert doubted(POTS, entries, "remark") == []


def test_all_doubts_come_at_once() -> None:
    assert len(doubted(POTS, [], "emerged", 300, "2027-03-05")) == 2


@given(
    noted=st.lists(
        st.tuples(st.sampled_from(list(Kind)), st.integers(0, 300), st.integers(0, 30), st.booleans()), max_size=8
    ),
    at=st.integers(0, 2),
)
def test_whatever_was_noted_doubts_are_of_the_last_and_can_be_said(
    noted: list[tuple[Kind, int, int, bool]], at: int
) -> None:
    entries: list[Entry] = []
    for id, (kind, number, day, corrects) in enumerate(noted, start=1):
        note = a_note(kind, number if kind in MAY_HAVE_NUMBER else None, f"2027-03-{day + 1:02}",
                      corrects=id - 1 if corrects and id > 1 else None)  # fmt: skip
        found = doubts(note, batch(at), entries, books.TODAY)
        assert len(set(found)) == len(found)
        for problem in found:
            for language in languages():
                said = words_for(language)(problem.key, **dict(problem.values))
                assert "{" not in said
        entries.append(entry(id, note.kind, note.number, str(note.day), corrects=note.corrects))
    assert in_force(entries) is not None


# ---- in the book


def test_a_doubtful_entry_is_not_stored_until_somebody_is_sure(file: Path) -> None:
    add(file, "sown", day="2027-03-06", sure=False)
    before = file.read_bytes()
    note = a_note("sold", 9 - 1, "2027-03-05")
    with pytest.raises(DoubtfulEntry) as error:
        add_entry(file, note, books.TODAY, books.NOW)
    assert error.value.doubts == ("sold on 2027-03-05, before the sowing on 2027-03-06",)
    assert [problem.key for problem in error.value.problems] == ["doubts.before_sowing"]
    assert isinstance(error.value, BookError)
    assert file.read_bytes() == before
    stored = add_entry(file, replace(note, sure=True), books.TODAY, books.NOW)
    assert read_history(file, CLUMP).entries[1] == stored


def test_what_was_stored_by_who_was_sure_is_given_back_to_who_is_not(file: Path) -> None:
    """The same form sent again, as when the answer was lost."""
    note = a_note("sold", 3, sure=True)
    stored = add_entry(file, note, books.TODAY, books.NOW)
    assert add_entry(file, replace(note, sure=False), books.TODAY, books.NOW) == stored


def test_what_is_wrong_is_said_before_what_is_doubtful(file: Path) -> None:
    with pytest.raises(BookError) as error:
        add(file, "sold", 9, sure=False)
    assert not isinstance(error.value, DoubtfulEntry)
    with pytest.raises(BookError, match="too large"):
        add(file, "sold", 9, sure=True)


def test_doubts_come_whole_from_another_process() -> None:
    problems = doubts(a_note("sold", 3), kept(), [], books.TODAY)
    error = DoubtfulEntry(problems)
    kind, values = error.__reduce__()
    assert kind(*values).doubts == error.doubts


SELL = """
import sys
from pathlib import Path
from books import NOW, TODAY, a_note
from traysheets.base.errors import DoubtfulEntry
from traysheets.book.diary import add_entry
for number in range(4):
    try:
        add_entry(Path(sys.argv[1]), a_note("sold", 1, key=f"{sys.argv[2]}-{number}"), TODAY, NOW)
        print("sold")
    except DoubtfulEntry:
        print("doubted")
"""


def test_entries_at_once_are_judged_one_after_the_other(file: Path) -> None:
    """Three sellers of four each, of eight pots: no more than eight are sold without anybody being asked."""
    add(file, "sown", day="2027-03-06")
    code = f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r})\n{SELL}"
    runs = [
        subprocess.Popen([sys.executable, "-c", code, str(file), name], stdout=subprocess.PIPE, text=True)
        for name in "abc"
    ]
    told = [line for run in runs for line in run.communicate(timeout=120)[0].split()]
    assert sorted(told) == ["doubted"] * 4 + ["sold"] * 8
    assert sum(one.number or 0 for one in read_history(file, CLUMP).entries if one.kind is Kind.SOLD) == 8
