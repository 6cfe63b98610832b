"""What was really sown is what is reckoned with: a part of a batch, later than planned, before the plan was edited."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import books
import pytest
from books import CLUMP, SINGLE, STATIONS, add, make_book
from scipy.stats import binom
from test_bookkeeping import COUNTED, printed

from traysheets.base.words import words_for
from traysheets.book.diary import read_histories
from traysheets.bookkeeping import account, counts_in
from traysheets.reckon.seen import Line, lot_key


def test_a_part_sown_is_all_that_is_reckoned_with(file: Path) -> None:
    """Of ten pots of 3 holes with 2 seeds each four are sown: 12 holes, 91 % of them filled (1 - 0.3^2)."""
    add(file, "sown", 4, "2027-03-06", batch=STATIONS)
    add(file, "emerged", 7, batch=STATIONS)
    one = account(file, STATIONS, COUNTED)
    assert one.count is not None
    assert (one.count.places, one.count.expected, one.count.line) == (12, pytest.approx(12 * 0.91), Line.LOW)
    assert one.again is not None
    assert one.again.missing == low(12, 0.91) - 7, "what is still to be sown is not missing"
    assert (one.standing.cells, one.standing.to_sow, one.places.places) == (4, 6, 12)


def low(places: int, filled: float) -> int:
    """The most that are reached nine times in ten, by scipy."""
    return max(n for n in range(places + 1) if binom.sf(n - 1, places, filled) >= 0.9)


def test_of_the_plants_wanted_a_part_owes_its_share(tmp_path: Path) -> None:
    file = tmp_path / "wanted.sqlite"
    make_book(file, printed(1, plants_wanted=25))
    add(file, "sown", 4, "2027-03-06", batch=STATIONS)
    add(file, "emerged", 9, batch=STATIONS)
    again = account(file, STATIONS, COUNTED).again
    assert again is not None
    assert again.missing == 1, "10 of 25, as 4 of 10 cells are sown"


def test_a_count_is_of_what_was_sown_by_then(file: Path) -> None:
    add(file, "sown", 4, "2027-03-06", batch=STATIONS)
    add(file, "emerged", 11, "2027-03-20", batch=STATIONS)
    add(file, "sown", 10, "2027-03-21", batch=STATIONS)
    count = account(file, STATIONS, COUNTED).count
    assert count is not None
    assert (count.places, count.line) == (12, Line.IN_LINE)
    add(file, "emerged", 12, "2027-03-28", batch=STATIONS)
    count = account(file, STATIONS, date(2027, 3, 28)).count
    assert count is not None
    assert (count.places, count.line) == (30, Line.EARLY), "the later part is not up yet"


def test_what_was_sown_late_comes_up_late(file: Path) -> None:
    add(file, "sown", None, "2027-03-10")
    add(file, "emerged", 20, "2027-03-21")
    one = account(file, CLUMP, COUNTED)
    assert one.count is not None
    assert (one.count.line, one.again) == (Line.EARLY, None)
    assert counts_in(read_histories(file)) == {}
    emerge = next(step for step in one.steps if step.step == "emerge")
    assert (emerge.first, emerge.last) == (date(2027, 3, 17), date(2027, 3, 24))


def reprinted(file: Path, **identity: object) -> None:
    """Print the plan again, its first batch edited."""
    every = books.batches()
    one = replace(every[0].identity, **identity)  # type: ignore[arg-type]
    make_book(file, [replace(every[0], identity=one), *every[1:]])


def test_an_edited_plan_does_not_change_what_was_sown(file: Path) -> None:
    add(file, "sown", None, "2027-03-06")
    add(file, "emerged", 165)
    before = account(file, CLUMP, COUNTED)
    reprinted(file, cells=9, seeds_per_cell=30)
    after = account(file, CLUMP, COUNTED)
    assert (after.count, after.measure, after.entries) == (before.count, before.measure, before.entries)
    assert (after.standing.cells_sown, after.standing.to_sow, before.standing.to_sow) == (8, 1, 0)
    assert counts_in(read_histories(file))[lot_key("Onion", "Amber Vault", "L1")][0].places == 200
    add(file, "sold", 8, "2027-04-01", sure=False)
    reprinted(file, cells=6)
    add(file, "lost", 8, "2027-04-01", corrects=3, sure=False)


def test_a_correction_is_measured_as_what_it_corrects_and_a_new_sowing_by_the_plan_of_then(file: Path) -> None:
    add(file, "sown", None, "2027-03-06")
    reprinted(file, cells=9)
    add(file, "sown", None, "2027-03-07", corrects=1, sure=False)
    assert account(file, CLUMP, COUNTED).standing.cells_sown == 8
    add(file, "remark", None, "2027-03-07", remark="", corrects=2)
    add(file, "sown", None, "2027-03-07", sure=False)
    assert account(file, CLUMP, COUNTED).standing.cells_sown == 9


def test_what_was_only_counted_is_measured_by_what_was_printed_then(file: Path) -> None:
    add(file, "emerged", 165)
    reprinted(file, cells=9)
    count = account(file, CLUMP, COUNTED).count
    assert count is not None
    assert count.places == 200


def words_of(file: Path, code: str, step: str) -> str:
    return next(due.details for due in account(file, code, COUNTED).steps if due.step == step)


STEPS = [
    {"step": "sow", "first": "2027-03-06", "what": "Sow", "details": "Cover: 6 mm."},
    {"step": "emerge", "first": "2027-03-13", "last": "2027-03-20", "what": "Look for seedlings"},
]


@pytest.mark.parametrize(
    ("at", "code", "language", "details", "sown", "said", "to_sow"),
    [
        (0, CLUMP, "en", "About 170 of 200 seeds should come up. Leave them all: do not thin. Soil: 18 °C.", 3,
         "About 64 of 75 seeds should come up. Leave them all: do not thin. Soil: 18 °C.",
         "Still to sow: 5 of 8 cells. Cover: 6 mm."),
        (1, STATIONS, "en", "About 27 of 30 holes should show a seedling.", 4,
         "About 11 of 12 holes should show a seedling.", "Still to sow: 6 of 10 cells. Cover: 6 mm."),
        (2, SINGLE, "en", "About 65 of 72 cells should show a seedling.", 1,
         "About 1 of 1 cell should show a seedling.", "Still to sow: 71 of 72 cells. Cover: 6 mm."),
        (1, STATIONS, "de", "Etwa 27 von 30 Löcher sollten einen Sämling zeigen.", 4,
         None, "Noch zu säen: 6 von 10 Zellen. Cover: 6 mm."),
    ],
)  # fmt: skip
def test_steps_tell_of_the_part_that_was_sown(
    tmp_path: Path, at: int, code: str, language: str, details: str, sown: int, said: str | None, to_sow: str
) -> None:
    file = tmp_path / "part.sqlite"
    places = {0: 170, 1: 27.3, 2: 64.8}[at]
    if said is None:
        words = words_for(language)
        details = words("records.emerge_cells", n=27, all=words("records.holes", n=30))
        said = words("records.emerge_cells", n=11, all=words("records.holes", n=12))
    steps = [STEPS[0], {**STEPS[1], "details": details}]
    make_book(file, printed(at, steps=steps, language=language, plants_expected=places))
    assert words_of(file, code, "emerge") == details
    add(file, "sown", sown, "2027-03-06", batch=code)
    assert (words_of(file, code, "emerge"), words_of(file, code, "sow")) == (said, to_sow)
