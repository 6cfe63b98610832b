"""Numbers as people type them."""

import pytest

from traysheets.base.errors import BookError
from traysheets.book.numbers import read_count


@pytest.mark.parametrize(
    "typed", ["1000", "1,000", "1.000", "1 000", "1'000", "1’000", "1\u00a0000", "1\u202f000", " 1000 "]
)
def test_thousands_may_be_parted_in_any_way(typed: str) -> None:
    """The marks are those of the CLDR for the languages of the sheets and of Switzerland, and blanks (from memory)."""
    assert read_count(typed) == 1000


@pytest.mark.parametrize(
    ("typed", "number"), [("0", 0), ("007", 7), ("31", 31), ("-3", -3), ("−3", -3), ("-0", 0), ("12,345,678", 12345678)]
)
def test_whole_numbers_are_read(typed: str, number: int) -> None:
    assert read_count(typed) == number


@pytest.mark.parametrize("typed", ["", " ", "\t\n"])
def test_nothing_is_no_number(typed: str) -> None:
    assert read_count(typed) is None


@pytest.mark.parametrize("digits", [12, 4000, 100_000])
def test_a_number_without_end_is_read_as_one_too_large(digits: int) -> None:
    found = read_count("9" * digits)
    assert found is not None
    assert found >= 999_999_999_999


@pytest.mark.parametrize(
    "typed",
    [
        "1,5",
        "1.5",
        "1,0000",
        "10,00",
        "0,125",
        "1,000.000",
        "12 34",
        "3 1",
        "- 3",
        "-",
        "many",
        "1e3",
        "0x1f",
        "３",
        "1_000",
    ],
)
def test_what_is_no_whole_number_is_asked_for_again(typed: str) -> None:
    with pytest.raises(BookError) as error:
        read_count(typed)
    (problem,) = error.value.problems
    assert (problem.key, dict(problem.values)) == ("entry.not_whole", {"typed": typed})
    assert typed in problem.text


def test_what_is_shown_of_a_wrong_one_is_short_and_can_be_printed() -> None:
    with pytest.raises(BookError) as error:
        read_count("\x1b[2J" + "x" * 10_000)
    assert dict(error.value.problems[0].values) == {"typed": f"?[2J{'x' * 16}…"}
