"""Batch codes: the check character against the standard's figures and another implementation, and what people type."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from traysheets.book.codes import ALPHABET, MISREAD, check_character, is_valid, make_code, make_codes, read_typed

CODES = st.builds(lambda season, number: make_code(season, number), st.integers(2000, 2099), st.integers(1, 99_999))


@pytest.mark.parametrize(
    ("text", "check"),
    [
        ("123AB", "X"),  # a software manual's worked example
        ("DADPIDA3897722461", "J"),  # documented examples of a general-purpose library
        ("A12425GABC1234002", "M"),
        ("B26014", "C"),  # reckoned by hand
    ],
)
def test_check_character_of_worked_examples(text: str, check: str) -> None:
    """ISO/IEC 7064:2003, hybrid system MOD 37,36."""
    assert check_character(text) == check


@given(st.text(ALPHABET, min_size=1, max_size=24))
def test_check_character_as_another_implementation_has_it(text: str) -> None:
    """python-stdnum, stdnum.iso7064.mod_37_36."""
    assert check_character(text) == mod_37_36.calc_check_digit(text)
    assert mod_37_36.is_valid(text + check_character(text))


@given(st.text(ALPHABET, min_size=2, max_size=12), st.data())
def test_every_single_slip_is_caught(text: str, data: st.DataObject) -> None:
    """The standard promises all single substitutions; swaps are caught nearly always, which is not promised here."""
    code = text + check_character(text)
    at = data.draw(st.integers(0, len(code) - 1))
    other = data.draw(st.sampled_from([character for character in ALPHABET if character != code[at]]))
    assert not is_valid(code[:at] + other + code[at + 1 :])


def test_a_code_is_season_number_and_check() -> None:
    assert make_code(2027, 14) == "27-014-Y"
    assert make_code(2027, 1234) == f"27-1234-{check_character('271234')}"


def test_numbers_whose_check_reads_badly_are_skipped() -> None:
    skipped = [number for number in range(1, 100) if make_code(2027, number) is None]
    assert skipped
    assert all(check_character(f"27{number:03}") in MISREAD for number in skipped)
    codes = make_codes(2027, 500)
    assert len(set(codes)) == 500
    assert all(re.fullmatch(r"27-\d{3}-[0-9A-Z]", code) and code[-1] not in MISREAD for code in codes)


@given(CODES.filter(bool))
def test_a_code_is_read_however_it_is_typed(code: str) -> None:
    assert is_valid(code)
    sloppy = code.lower().replace("0", "o").replace("1", "l").replace("5", "s").replace("2", "z").replace("-", " ")
    assert read_typed(code) == read_typed(f"  {sloppy} ") == read_typed(code.replace("-", "")) == code


@pytest.mark.parametrize("typed", ["", "27", "27-014-K", "27-014", "ONION", "27-0l4-Yes", "２７", "--"])
def test_what_is_no_code_is_not_read(typed: str) -> None:
    assert read_typed(typed) is None


@pytest.mark.parametrize("code", ["", "A", "é27", "27 014 Y"])
def test_what_is_no_code_is_not_valid(code: str) -> None:
    assert not is_valid(code)
