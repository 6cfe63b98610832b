"""Words and habits of languages: plural forms, numbers, days, lengths.

The habits themselves are those of the Unicode CLDR, charts "Language Plural Rules" and "Numbers" (from memory).
"""

from datetime import date

import pytest

from traysheets.base.errors import TraysheetsError
from traysheets.base.words import Words, inches, languages, sentence, words_for

SATURDAY = date(2027, 3, 6)
FORMS = {"one": "{n} A", "many": "{n} B", "other": "{n} C"}


def words(language: str, **entries: object) -> Words:
    return Words(language, {"test": entries})


def form(language: str, n: float, forms: dict[str, str] = FORMS) -> str:
    return words(language, entry=forms)("test.entry", n=n)[-1]


# ---- words


def test_values_are_put_in_by_name() -> None:
    said = words("en", plain="as it is", two="{what} of {n}")
    assert said("test.plain") == "as it is"
    assert said("test.two", what="a box", n=1200.5) == "a box of 1,200.5"


def test_a_word_that_is_missing_is_a_fault_of_ours() -> None:
    with pytest.raises(KeyError):
        words_for("en")("maps.no_such_word")


def test_what_looks_like_a_place_in_a_value_is_left_alone() -> None:
    assert words("en", entry="lot {lot}")("test.entry", lot="{n}") == "lot {n}"


def test_there_is_no_language_without_a_file() -> None:
    known = ", ".join(languages())
    for wrong in ("xx", "EN", "../languages/en", ""):
        with pytest.raises(TraysheetsError) as caught:
            words_for(wrong)
        assert str(caught.value) == f"there are no words for the language '{wrong}'; there are: {known}"


def test_words_are_read_once() -> None:
    assert words_for("de") is words_for("de")


# ---- plural forms


@pytest.mark.parametrize(
    ("language", "one", "many"),
    [
        ("en", (1,), ()),
        ("de", (1,), ()),
        ("es", (1, 1.0), (1_000_000,)),
        ("fr", (0, 1, 1.5), (1_000_000,)),
        ("pt", (0, 1, 1.5), (1_000_000,)),
    ],
)
def test_the_form_follows_the_number(language: str, one: tuple[float, ...], many: tuple[float, ...]) -> None:
    """CLDR, "Language Plural Rules", cardinal numbers (from memory)."""
    assert {form(language, n) for n in one} == {"A"}
    assert {form(language, n) for n in many} <= {"B"}
    assert {form(language, n) for n in (2, 7, 25, 2.5, 1360)} == {"C"}


def test_a_form_that_is_left_out_is_the_usual_one() -> None:
    assert form("fr", 1_000_000, {"one": "A", "other": "C"}) == "C"


def test_without_a_number_the_form_is_the_usual_one() -> None:
    said = words("en", entry={"one": "tray {numbers}", "other": "trays {numbers}"})
    assert said("test.entry", numbers="1–4") == "trays 1–4"
    assert said("test.entry", n="1", numbers="1") == "trays 1"


# ---- numbers


@pytest.mark.parametrize(
    ("language", "thousands", "decimals", "percent"),
    [
        ("en", "13,600", "1.5", "85.5%"),
        ("de", "13.600", "1,5", "85,5\N{NO-BREAK SPACE}%"),
        ("es", "13.600", "1,5", "85,5\N{NO-BREAK SPACE}%"),
        ("fr", "13\N{NARROW NO-BREAK SPACE}600", "1,5", "85,5\N{NO-BREAK SPACE}%"),
        ("pt", "13.600", "1,5", "85,5%"),
    ],
)
def test_numbers_have_the_marks_of_the_language(language: str, thousands: str, decimals: str, percent: str) -> None:
    """CLDR, "Number Symbols" and "Number Patterns" (from memory)."""
    said = words_for(language)
    assert (said.number(13600), said.number(1.5), said.percent(0.8551)) == (thousands, decimals, percent)


def test_numbers_to_so_many_places() -> None:
    said = words_for("de")
    assert [said.number(2.345, places) for places in (None, 0, 1, 3)] == ["2,345", "2", "2,3", "2,345"]
    assert said.number(1.0) == "1"


# ---- days


@pytest.mark.parametrize(
    ("language", "long", "short", "no_year"),
    [
        ("en", "Saturday 6 March 2027", "6 Mar 2027", "6 Mar"),
        ("de", "Samstag, 6. März 2027", "6. März 2027", "6. März"),
        ("es", "sábado 6 de marzo de 2027", "6 mar 2027", "6 mar"),
        ("fr", "samedi 6 mars 2027", "6 mars 2027", "6 mars"),
        ("pt", "sábado, 6 de março de 2027", "6 mar. 2027", "6 mar."),
    ],
)
def test_days_are_written_as_the_language_writes_them(language: str, long: str, short: str, no_year: str) -> None:
    """6 March 2027 is a Saturday (Gregorian calendar). Names and their order: CLDR, "Date Patterns" (from memory)."""
    said = words_for(language)
    assert (said.day(SATURDAY), said.short_day(SATURDAY), said.day_of_year(SATURDAY)) == (long, short, no_year)
    assert said.day_heading(SATURDAY) == long[0].upper() + long[1:]


@pytest.mark.parametrize(
    ("language", "long", "short"),
    [
        ("de", "Montag, 1. März 2027", "1. März"),
        ("en", "Monday 1 March 2027", "1 Mar"),
        ("es", "lunes 1 de marzo de 2027", "1 mar"),
        ("fr", "lundi 1er mars 2027", "1er mars"),
        ("pt", "segunda-feira, 1º de março de 2027", "1º mar."),
    ],
)
def test_the_first_of_a_month_is_an_ordinal_where_usage_has_it(language: str, long: str, short: str) -> None:
    """French `1er` and Brazilian `1º` alone (common usage, no source); every other day is a plain number."""
    said, first = words_for(language), date(2027, 3, 1)
    assert (said.day(first), said.day_of_year(first)) == (long, short)
    for day in range(2, 32):
        assert "er " not in said.day_of_year(date(2027, 3, day))
        assert "º" not in said.day(date(2027, 3, day))


def test_letters_of_a_pattern_that_are_quoted_are_no_day() -> None:
    said = words("pt", first="1º", long="d 'de' MMMM 'de' y")
    said.entries["day"] = said.entries["test"]
    assert said.written(date(2027, 3, 1), "test.long") == "1º de março de 2027"


def test_a_sentence_begins_with_a_capital() -> None:
    assert [sentence(text) for text in ("été", "Été", "6 mars", "")] == ["Été", "Été", "6 mars", ""]


# ---- lengths


@pytest.mark.parametrize(
    ("mm", "said"), [(25.4, "1"), (88.9, "3 1/2"), (28.6, "1 1/8"), (3.175, "1/8"), (0.4, "0"), (279.4, "11")]
)
def test_inches_to_the_nearest_eighth(mm: float, said: str) -> None:
    """1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert inches(mm) == said


def test_inches_to_the_nearest_sixteenth() -> None:
    assert (inches(1.5875, 16), inches(3.175, 16)) == ("1/16", "1/8")


def test_lengths_in_the_units_of_the_plan() -> None:
    assert words_for("en").length(28.6, "metric") == "28.6 mm"
    assert [words_for(code).length(28.6, "metric") for code in ("de", "es", "fr", "pt")] == ["28,6 mm"] * 4
    inch = {"en": "1 1/8 in", "de": "1 1/8 Zoll", "es": "1 1/8 pulg.", "fr": "1 1/8 po", "pt": "1 1/8 pol."}
    assert {code: words_for(code).length(28.6, "inch") for code in inch} == inch


@pytest.mark.parametrize(
    ("inches", "said"), [(0.25, "6.4 mm"), (2.25, "57.2 mm"), (1.125, "28.6 mm"), (3, "76.2 mm"), (0, "0 mm")]
)
def test_halves_of_a_tenth_are_rounded_up(inches: float, said: str) -> None:
    """1 in = 25.4 mm exactly (1959): 6.35, 57.15, 28.575, 76.2."""
    assert words_for("en").length(inches * 25.4, "metric") == said
