"""What a batch came to, in words: the same on a terminal and on a phone, in every language."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from books import CLUMP, SINGLE, add, batches, make_book

from traysheets.base.words import languages, words_for
from traysheets.bookkeeping import account
from traysheets.telling import counted, in_short, odds, on_hand

COUNTED = date(2027, 3, 21)
ENGLISH = words_for("en")


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (0.2, "20 %"),
        (0.0249, "one in 40"),
        (0.001, "one in 1,000"),
        (0.00095, "one in 1,000"),
        (0.000034, "one in 30,000"),
        (1e-6, "one in 1,000,000"),
        (1e-9, "less than one in a million"),
        (0.0, "less than one in a million"),
    ],
)
def test_odds_are_said_with_one_figure(chance: float, said: str) -> None:
    assert odds(chance, ENGLISH).replace("20%", "20 %") == said


@pytest.mark.parametrize(
    ("up", "day", "said"),
    [
        (165, "2027-03-20", "In line: 165 of 170 expected; 160 to 180 come by chance."),
        (153, "2027-03-20", "Low: 153 of 170 expected, fewer than chance alone brings (one in 1,000)."),
        (155, "2027-03-20", "Low: 155 of 170 expected, fewer than chance alone brings (one in 300)."),
        (153, "2027-03-19", "153 of 170 expected so far; more may still come."),
        (
            187,
            "2027-03-20",
            "High: 187 of 170 expected, more than chance alone brings (one in 6,000).",
        ),  # 5,754, by scipy
    ],
)
def test_a_count_in_words(file: Path, up: int, day: str, said: str) -> None:
    add(file, "emerged", up, day)
    assert counted(account(file, CLUMP, COUNTED), ENGLISH)[0] == said


def test_when_all_are_up_no_more_may_come(tmp_path: Path) -> None:
    book = tmp_path / "sure.book.sqlite"
    sure = {**json.loads(batches()[2].facts), "germination": 0.97}
    make_book(book, [*batches()[:2], replace(batches()[2], facts=json.dumps(sure))])
    for up, said in ((71, "71 of 70 expected so far; more may still come."), (72, "All are up: 72, of 70 expected.")):
        add(book, "emerged", up, "2027-03-15", batch=SINGLE)
        assert counted(account(book, SINGLE, COUNTED), ENGLISH)[0] == said


def test_what_is_missing_stands_behind_the_count(file: Path) -> None:
    assert counted(account(file, CLUMP, COUNTED), ENGLISH) == ()
    add(file, "emerged", 0)
    assert counted(account(file, CLUMP, COUNTED), ENGLISH)[1] == (
        "163 plants short of the 163 planned for; of this seed none came up, so sow another lot."
    )


def test_what_is_on_hand_in_words(file: Path) -> None:
    assert on_hand(account(file, CLUMP, COUNTED), ENGLISH) == "Not noted as sown: 8 cells."
    add(file, "sown", 6, "2027-03-06")
    assert on_hand(account(file, CLUMP, COUNTED), ENGLISH) == "On hand: 6 of 6 cells; 2 cells to sow."
    add(file, "sown", 8, "2027-03-07")
    add(file, "emerged", 160)
    add(file, "sold", 5, "2027-04-01")
    add(file, "lost", 1, "2027-04-02")
    assert on_hand(account(file, CLUMP, COUNTED), ENGLISH) == "On hand: 2 of 8 cells, 40 plants; 5 sold; 1 lost."
    add(file, "planted_out", 4, "2027-05-02")
    assert on_hand(account(file, CLUMP, COUNTED), ENGLISH) == (
        "On hand: 0 of 8 cells, 0 plants; 4 planted out; 5 sold; 1 lost."
        " 2 more are noted than there were: correct an entry."
    )


def test_an_unsown_batch_that_left_the_plan_says_so(file: Path) -> None:
    make_book(file, batches()[1:])
    assert in_short(account(file, CLUMP, COUNTED), ENGLISH) == "left the plan"
    add(file, "sown", 6, "2027-03-06")
    assert in_short(account(file, CLUMP, COUNTED), ENGLISH) == "6 cells"


def test_what_is_there_in_a_word(file: Path) -> None:
    said = [in_short(account(file, CLUMP, COUNTED), ENGLISH)]
    for kind, number in (("sown", 6), ("sown", 8), ("lost", 3), ("sold", 5)):
        add(file, kind, number)
        said.append(in_short(account(file, CLUMP, COUNTED), ENGLISH))
    assert said == ["8 cells to sow", "6 cells, 2 cells to sow", "8 cells", "5 of 8 cells", "all gone"]


@pytest.mark.parametrize("language", languages())
def test_every_language_tells_the_same_figures(file: Path, language: str) -> None:
    add(file, "sown", 6, "2027-03-06")
    add(file, "emerged", 100)
    add(file, "lost", 1)
    one, words = account(file, CLUMP, COUNTED), words_for(language)
    told = " ".join((on_hand(one, words), in_short(one, words), *counted(one, words)))
    for figure in ("5", "6", "83", "2", "100", "128"):
        assert figure in told
