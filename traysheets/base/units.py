"""Lengths, volumes and temperatures as a grower writes them, and the exact sizes of the units.

Text comes in, millimetres, millilitres or degrees Celsius go out. What a sheet shows is said by `words`, not here.
Fractions are kept whole until the last step, so that `3 1/2 in` is 88.9 mm and not a hair less.
"""

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from traysheets.base.limits import LARGEST_QUANTITY
from traysheets.base.quoting import quoted

# International yard and pound agreement, 1959: 1 yd = 0.9144 m and 1 lb = 0.45359237 kg, both exactly.
_INCH_MM = Fraction("914.4") / 36
_FOOT_MM = 12 * _INCH_MM
MM_PER_INCH = float(_INCH_MM)
GRAMS_PER_OUNCE = float(Fraction("453.59237") / 16)
LITRES_PER_CUBIC_FOOT = float(_FOOT_MM**3 / 10**6)


@dataclass(frozen=True, slots=True)
class _Quantity:
    """What is measured: its units and their sizes, other names of the units, and how to write it right."""

    name: str
    base_unit: str
    example: str
    sizes: Mapping[str, Fraction]
    names: Mapping[str, str]


_LENGTH = _Quantity(
    name="length",
    base_unit="millimetres",
    example="76 mm, 2.4 m, 3 1/2 in or 8 ft",
    sizes={"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": _INCH_MM, "ft": _FOOT_MM},
    names={
        "millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm", "metre": "m", "meter": "m",
        '"': "in", "inch": "in", "inches": "in", "'": "ft", "foot": "ft", "feet": "ft",
    },
)  # fmt: skip
_VOLUME = _Quantity(
    name="volume",
    base_unit="millilitres",
    example="80 ml or 0.5 l",
    sizes={
        "ml": Fraction(1), "cl": Fraction(10), "l": Fraction(1000),
        "cu in": _INCH_MM**3 / 1000, "cu ft": _FOOT_MM**3 / 1000,
    },
    names={
        "millilitre": "ml", "milliliter": "ml", "cm3": "ml", "cc": "ml", "litre": "l", "liter": "l",
        "in3": "cu in", "cubic inch": "cu in", "cubic inches": "cu in",
        "ft3": "cu ft", "cubic foot": "cu ft", "cubic feet": "cu ft",
    },
)  # fmt: skip
_TEMPERATURE_EXAMPLE = "18 C or 65 F"

_PLAIN = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "⁄": "/", "³": "3", "−": "-", "º": "°", "℃": "°c", "℉": "°f"}
)
_NUMBER = r"(?:\d{1,12}[ -]+\d{1,6}/\d{1,6}|\d{1,6}/\d{1,6}|\d{1,12}(?:\.\d{1,12})?|\.\d{1,12})"
_MEASURE = re.compile(rf"({_NUMBER})\s*((?:[^\d\s.,/-][^\d.,/-]*3?)?)\.?")
_FEET_AND_INCHES = re.compile(rf"({_NUMBER})\s*(?:ft|foot|feet|')\s*({_NUMBER})\s*(?:in|inch|inches|\")")
_TEMPERATURE = re.compile(r"([+-]?\d{1,6}(?:\.\d{1,12})?)\s*(?:°|deg(?:rees?)?)?\s*([a-z]*)")
_COMMA_IN_NUMBER = re.compile(r"\d+,\d+")


def parse_length(value: str | float) -> float:
    """A length in millimetres: mm, cm, m, in, ft, with fractions; a bare number is millimetres.

    Raises ValueError, saying what would be right, for anything else, and for less than nothing.
    """
    if isinstance(value, str) and (both := _FEET_AND_INCHES.fullmatch(_plain(value))):
        feet, inches = (_number(part, value) for part in both.groups())
        return float(feet * _LENGTH.sizes["ft"] + inches * _LENGTH.sizes["in"])
    return _measure(value, _LENGTH)


def parse_volume(value: str | float) -> float:
    """A volume in millilitres: ml, cl, l, cu in, cu ft; a bare number is ml. Raises ValueError as `parse_length`."""
    return _measure(value, _VOLUME)


def parse_temperature(value: str | float) -> float:
    """A temperature in degrees Celsius from `18 C`, `18 °C` or `65 F`.

    Raises ValueError for anything else; a bare number is not guessed at, as 65 may be meant either way.
    """
    text = _plain(str(value))
    _refuse_comma(value, text)
    found = _TEMPERATURE.fullmatch(text)
    if not found:
        raise ValueError(f"{quoted(value)} is not a temperature; write it like {_TEMPERATURE_EXAMPLE}")
    degrees, scale = Fraction(found[1]), found[2]
    if scale in {"c", "celsius"}:
        return float(degrees)
    if scale in {"f", "fahrenheit"}:
        return float((degrees - 32) * 5 / 9)
    wrong = f"there is no scale {quoted(scale)} here" if scale else "say whether it is C or F"
    raise ValueError(f"{quoted(value)}: {wrong}; write it like {_TEMPERATURE_EXAMPLE}")


def _measure(value: str | float, quantity: _Quantity) -> float:
    """A number, or text of one number with at most one unit, in the quantity's base unit."""
    if not isinstance(value, str):
        return _bare(value, quantity)
    text = _plain(value)
    _refuse_comma(value, text)
    if text.startswith("-"):
        raise ValueError(f"{quoted(value)}: a {quantity.name} cannot be less than nothing")
    found = _MEASURE.fullmatch(text)
    if not found:
        raise ValueError(f"{quoted(value)} is not a {quantity.name}; write it like {quantity.example}")
    number, word = _number(found[1], value), found[2].strip()
    if not word and "/" in text:
        # A fraction of a millimetre is hardly meant: the inches were forgotten.
        raise ValueError(f"{quoted(value)}: say in which unit, like {quantity.example}")
    return float(number * _size(word, value, quantity))


def _size(word: str, value: str, quantity: _Quantity) -> Fraction:
    """The size of the unit a word names, the base unit when there is none."""
    unit = quantity.names.get(word) or quantity.names.get(word.removesuffix("s")) or word or next(iter(quantity.sizes))
    if unit not in quantity.sizes:
        units = ", ".join(quantity.sizes)
        raise ValueError(f"{quoted(value)}: there is no unit {quoted(word)} here; use one of {units}")
    return quantity.sizes[unit]


def _bare(value: float, quantity: _Quantity) -> float:
    """A number without a unit, proved to be finite and not less than nothing."""
    if (
        isinstance(value, bool)
        or not isinstance(value, int | float)
        or abs(value) >= LARGEST_QUANTITY
        or not math.isfinite(value)
    ):
        right = f"a number of {quantity.base_unit}, or text with a unit like {quantity.example}"
        raise ValueError(f"{quoted(value)} is not a {quantity.name}; write {right}")
    if value < 0:
        raise ValueError(f"{quoted(value)}: a {quantity.name} cannot be less than nothing")
    return float(value)


def _number(text: str, value: str) -> Fraction:
    """`3`, `.5`, `1/2`, `3 1/2` or `3-1/2` as an exact number."""
    try:
        return sum((Fraction(part) for part in re.split(r"[ -]+", text)), Fraction(0))
    except ZeroDivisionError:
        raise ValueError(f"{quoted(value)}: nothing can be divided by 0") from None


def _plain(text: str) -> str:
    """The text in small letters, with plain quote marks and single spaces, fraction characters (½) written out."""
    spelled = "".join(_spelled(character) for character in text)
    return " ".join(spelled.translate(_PLAIN).casefold().split())


def _spelled(character: str) -> str:
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character)
    return character


def _refuse_comma(value: object, text: str) -> None:
    """A comma may stand for a decimal or for thousands, by country; it is not guessed at."""
    if comma := _COMMA_IN_NUMBER.search(text):
        point = comma[0].replace(",", ".")
        raise ValueError(f"{quoted(value)}: write decimals with a point, {point}, and thousands without a mark")
