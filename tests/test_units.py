"""Lengths, volumes and temperatures: exact sizes of the units, every way a grower writes them, and what is refused."""

import math
import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base import units
from traysheets.base.units import parse_length, parse_temperature, parse_volume


def test_sizes_of_the_international_yard_and_pound_agreement_1959() -> None:
    # 1 yd = 0.9144 m, 1 lb = 0.45359237 kg, exactly.
    assert Decimal(str(units.MM_PER_INCH)) == Decimal("914.4") / 36
    assert Decimal(str(units.GRAMS_PER_OUNCE)) == Decimal("453.59237") / 16
    assert Decimal(str(units.LITRES_PER_CUBIC_FOOT)) == (Decimal("9.144") / 3) ** 3


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("76 mm", 76),
        ("76mm", 76),
        ("76", 76),
        ("7.6 cm", 76),
        ("2.4 m", 2400),
        (".5 m", 500),
        ("3 in", 76.2),
        ("3 1/2 in", 88.9),
        ("3-1/2 in", 88.9),
        ("3½ in", 88.9),
        ("3 ⅛ in.", 79.375),
        ("1/2 in", 12.7),
        ('3 1/2"', 88.9),
        ("3.5″", 88.9),
        ("8 ft", 2438.4),
        ("8'", 2438.4),
        ("1 ft 6 in", 457.2),
        ("5' 6 1/2\"", 1689.1),
        ("  3   Inches ", 76.2),
        ("1 foot", 304.8),
        ("2.4 metres", 2400),
        ("12 millimeters", 12),
        ("0 mm", 0),
    ],
)
def test_lengths_as_growers_write_them(text: str, mm: float) -> None:
    assert parse_length(text) == mm


@pytest.mark.parametrize("number", [76, 76.2, 0])
def test_a_bare_number_is_millimetres(number: float) -> None:
    assert parse_length(number) == number


@given(st.integers(0, 500), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_mixed_inches_are_exact(whole: int, above: int, below: int) -> None:
    exact = (whole + Fraction(above, below)) * Fraction(254, 10)
    assert parse_length(f"{whole} {above}/{below} in") == float(exact)


@given(st.decimals(0, 99999, places=3), st.sampled_from([("mm", 1), ("cm", 10), ("m", 1000)]))
def test_decimal_lengths_are_exact(number: Decimal, unit: tuple[str, int]) -> None:
    assert parse_length(f"{number} {unit[0]}") == float(number * unit[1])


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        ("", "'' is not a length; write it like 76 mm, 2.4 m, 3 1/2 in or 8 ft"),
        ("wide", "'wide' is not a length; write it like 76 mm, 2.4 m, 3 1/2 in or 8 ft"),
        ("1e3 mm", "'1e3 mm' is not a length; write it like 76 mm, 2.4 m, 3 1/2 in or 8 ft"),
        ("NaN", "'NaN' is not a length; write it like 76 mm, 2.4 m, 3 1/2 in or 8 ft"),
        ("76 px", "'76 px': there is no unit 'px' here; use one of mm, cm, m, in, ft"),
        ("3 1/2", "'3 1/2': say in which unit, like 76 mm, 2.4 m, 3 1/2 in or 8 ft"),
        ("2,5 m", "'2,5 m': write decimals with a point, 2.5, and thousands without a mark"),
        ("-3 mm", "'-3 mm': a length cannot be less than nothing"),
        ("−3 mm", "'−3 mm': a length cannot be less than nothing"),
        ("1/0 in", "'1/0 in': nothing can be divided by 0"),
        (-3, "'-3': a length cannot be less than nothing"),
        (
            math.nan,
            "'nan' is not a length; write a number of millimetres, "
            "or text with a unit like 76 mm, 2.4 m, 3 1/2 in or 8 ft",
        ),
    ],
)
def test_what_is_not_a_length_is_refused_with_what_would_be_right(value: str | float, sentence: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(sentence)}$"):
        parse_length(value)


@pytest.mark.parametrize("value", [True, math.inf, -math.inf, 10**400, 1e300, "9" * 5000, "9" * 300 + " mm", "1\n2"])
def test_what_cannot_be_a_length_is_refused_on_one_short_line(value: str | float) -> None:
    with pytest.raises(ValueError, match="is not a length") as refused:
        parse_length(value)
    assert str(refused.value).isprintable()
    assert len(str(refused.value)) < 160


@given(st.text() | st.floats() | st.integers())
def test_a_length_is_finite_and_not_negative_or_refused(value: str | float) -> None:
    try:
        mm = parse_length(value)
    except ValueError:
        return
    assert 0 <= mm < math.inf


@pytest.mark.parametrize(
    ("value", "ml"),
    [
        ("80 ml", 80),
        ("80", 80),
        (80, 80),
        ("0.5 l", 500),
        ("2 litres", 2000),
        ("5 cl", 50),
        ("80 cc", 80),
        ("80 cm³", 80),
        ("5 cu in", 81.93532),
        ("5 in3", 81.93532),
        ("1 cubic foot", 28316.846592),
    ],
)
def test_volumes_are_millilitres(value: str | float, ml: float) -> None:
    assert parse_volume(value) == ml


def test_a_volume_in_gallons_is_refused_as_there_are_two() -> None:
    with pytest.raises(ValueError, match="there is no unit 'gal' here; use one of ml, cl, l, cu in, cu ft"):
        parse_volume("2 gal")


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("18 C", 18),
        ("18C", 18),
        ("18 °C", 18),
        ("18℃", 18),
        ("18 deg C", 18),
        ("-2.5 C", -2.5),
        # Fixed points of both scales: water freezes at 32 F and 0 C, boils at 212 F and 100 C; they meet at -40.
        ("32 F", 0),
        ("212 °F", 100),
        ("-40 F", -40),
        ("68 f", 20),
    ],
)
def test_temperatures_are_celsius(text: str, degrees: float) -> None:
    assert parse_temperature(text) == degrees


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        ("18", "'18': say whether it is C or F; write it like 18 C or 65 F"),
        (18, "'18': say whether it is C or F; write it like 18 C or 65 F"),
        ("18 K", "'18 K': there is no scale 'k' here; write it like 18 C or 65 F"),
        ("warm", "'warm' is not a temperature; write it like 18 C or 65 F"),
        (True, "'True' is not a temperature; write it like 18 C or 65 F"),
        ("18,5 C", "'18,5 C': write decimals with a point, 18.5, and thousands without a mark"),
    ],
)
def test_a_temperature_without_its_scale_is_not_guessed_at(value: str | float, sentence: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(sentence)}$"):
        parse_temperature(value)
