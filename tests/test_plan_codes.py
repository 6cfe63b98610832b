"""The two characters of the map: readable, never twice, and unmoved by what is added at the end."""

import re

import plans
import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.plan.codes import make_codes, plain_words
from traysheets.plan.read import plan_from_toml
from traysheets.trade.trays import Tray

NAMES = st.lists(st.text(max_size=12) | st.sampled_from(["Longstalk Winter", "Lion", "L", ""]), max_size=60)


def codes(*varieties: str, given: tuple[str, ...] = ()) -> list[str]:
    return list(make_codes([(variety, "Onion") for variety in varieties], given))


@pytest.mark.parametrize(
    ("variety", "code"),
    [
        ("Longstalk Winter", "LW"),
        ("the long white one", "TL"),
        ("Lion", "LI"),
        ("2nd Early", "2E"),
        ("Été d'Or", "ED"),
        ("Łódzka", "LO"),
        ("Ærø Gul", "AG"),
        ("Straße", "ST"),
        ("Желтый шар", "ZS"),
        ("Ήλιος", "IL"),
        ("שמש", "ON"),
        ("L", "2L"),
    ],
)
def test_a_code_calls_the_variety_to_mind(variety: str, code: str) -> None:
    assert codes(variety) == [code]


def test_when_the_best_is_taken_the_letters_follow_then_digits() -> None:
    assert codes(*["Ab Cd"] * 8) == ["AC", "AB", "AD", "BC", "BD", "CD", "2A", "3A"]
    assert codes("Ab", "Ab", "Ab") == ["AB", "2A", "3A"]
    assert codes("Ab Cd", "Ab Cd", given=("AC", "AD")) == ["AB", "BC"]


def test_the_words_of_a_name_are_spelled_in_plain_letters() -> None:
    assert plain_words("Crème d’été, O'Neil & 3 Söhne") == ["CREME", "DETE", "ONEIL", "3", "SOHNE"]
    assert plain_words("Ψυχή Θεός Щука Ёлка Жёлтая") == ["PSYCHI", "THEOS", "SHCHUKA", "ELKA", "ZHELTAYA"]


def test_names_of_other_scripts_get_codes_that_say_nothing() -> None:
    assert list(make_codes([("שמש", "בצל"), ("日の出", "葱")], [])) == ["AA", "AB"]


@given(NAMES, st.lists(st.sampled_from(["LW", "LI", "A1", "ON"])))
def test_no_code_stands_twice(names: list[str], taken: list[str]) -> None:
    made = codes(*names, given=tuple(taken))
    assert len({*made, *taken}) == len(made) + len(set(taken))
    assert all(re.fullmatch("[A-Z0-9]{2}", code) for code in made)


@given(NAMES, NAMES)
def test_what_is_added_at_the_end_moves_nothing(names: list[str], more: list[str]) -> None:
    assert codes(*names, *more)[: len(names)] == codes(*names)


def test_more_sowings_than_codes_of_two_characters() -> None:
    """36 x 36 pairs, less the 26 x 10 of a letter and a digit, less the one that is given."""
    made = codes(*["Longstalk Winter"] * 1400, given=("LW",))
    assert len(set(made)) == 1400
    assert [len(code) for code in made] == [2] * 1035 + [3] * 365


def test_no_code_that_is_made_looks_like_a_cell() -> None:
    assert codes("Amber 2nd", "B 4") == ["AM", "2B"]
    made = codes(*["A 1"] * 1400)
    cells = {Tray.cell_name(plans.tray("large", 200, 200, 1, 1), cell) for cell in range(40_000)}
    assert not cells.intersection(made)


def test_a_code_of_the_growers_own_that_looks_like_a_cell_is_told_of() -> None:
    plan = plan_from_toml(sowings("Longstalk Winter") + 'code = "A2"\n', "plan.toml")
    assert [(notice.line, notice.text) for notice in plan.notices] == [
        (1, "the code A2 may be taken for the name of a cell on the map; two letters are safer")
    ]
    assert plan_from_toml(sowings("Longstalk Winter") + 'code = "2A"\n', "plan.toml").notices == ()


def sowings(*varieties: str) -> str:
    return "".join(
        f'[[sowing]]\ncrop = "Onion"\nvariety = "{variety}"\ntray = "pot-18"\ncells = 1\nsow = 2027-03-06\n'
        for variety in varieties
    )


def test_codes_given_in_the_plan_are_kept_wherever_they_stand() -> None:
    plan = plan_from_toml(sowings("Longstalk Winter", "Amber Vault") + 'code = "lw"\n', "plan.toml")
    assert [sowing.code for sowing in plan.sowings] == ["LO", "LW"]


def test_a_sorted_plan_has_the_same_codes_where_no_two_names_want_the_same() -> None:
    names = ["Longstalk Winter", "Amber Vault", "Pale Needle", "Copper Bell", "Dusky Round"]

    def by_variety(order: list[str]) -> dict[str, str]:
        return {sowing.variety: sowing.code for sowing in plan_from_toml(sowings(*order), "plan.toml").sowings}

    assert by_variety(names) == by_variety(sorted(names))
