"""Lengths, volumes and temperatures as a grower writes them, and the exact sizes of the units.

Text comes in, millimetres, millilitres or degrees Celsius go out. What a sheet shows is said by `words`, not here.
Fractions are kept whole until the last step, so that `3 1/2 in` is 88.9 mm and not a hair less.
"""

import math
import re
import unicodedata
from fractions import Fraction

# International yard and pound agreement, 1959: 1 yd = 0.9144 m and 1 lb = 0.45359237 kg, both exactly.
MM_PER_INCH = 25.4
GRAMS_PER_OUNCE = 28.349523125
LITRES_PER_CUBIC_FOOT = 28.316846592

LENGTHS_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction("25.4"),
    "ft": Fraction("304.8"),
}
VOLUMES_ML = {
    "ml": Fraction(1),
    "cl": Fraction(10),
    "l": Fraction(1000),
    "cu in": Fraction("16.387064"),
}
_LENGTH_NAMES = {
    "millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm", "metre": "m", "meter": "m",
    "inch": "in", "inches": "in", '"': "in", "foot": "ft", "feet": "ft", "'": "ft",
}  # fmt: skip
_VOLUME_NAMES = {
    "millilitre": "ml", "milliliter": "ml", "litre": "l", "liter": "l", "in3": "cu in", "cubic inch": "cu in",
    "cubic inches": "cu in",
}  # fmt: skip
_QUOTES = str.maketrans({"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "⁄": "/"})
# Twelve digits are more than any tray needs, and keep every result finite.
LARGEST = 10**12
_NUMBER = r"(?:\d{1,12}[ -]+\d{1,6}/\d{1,6}|\d{1,6}/\d{1,6}|\d{1,12}(?:\.\d{1,12})?|\.\d{1,12})"
_MEASURE = re.compile(rf"({_NUMBER})\s*([^\d.,/-]*)")
_FEET_AND_INCHES = re.compile(rf"({_NUMBER})\s*(?:ft|foot|feet|')\s*({_NUMBER})\s*(?:in|inch|inches|\")")
_TEMPERATURE = re.compile(r"([+-]?\d{1,6}(?:\.\d{1,12})?)\s*(?:°|º|deg(?:rees?)?)?\s*([a-z]*)")
_DECIMAL_COMMA = re.compile(r"\d+,\d+")

_LENGTH_HELP = "76 mm, 2.4 m, 3 1/2 in or 8 ft"
_VOLUME_HELP = "80 ml or 0.5 l"
_TEMPERATURE_HELP = "18 C or 65 F"


def parse_length(value: str | float) -> float:
    """A length in millimetres: mm, cm, m, in, ft, with fractions; a bare number is millimetres.

    Raises ValueError, saying what would be right, for anything else, and for less than nothing.
    """
    if not isinstance(value, str):
        return _bare(value, "length", "millimetres")
    text = _plain(value, "length", _LENGTH_HELP)
    if both := _FEET_AND_INCHES.fullmatch(text):
        feet, inches = (_number(part, value) for part in both.groups())
        return float(feet * LENGTHS_MM["ft"] + inches * LENGTHS_MM["in"])
    return _measure(value, text, "length", _LENGTH_HELP, LENGTHS_MM, _LENGTH_NAMES)


def parse_volume(value: str | float) -> float:
    """A volume in millilitres: ml, cl, l or cu in; a bare number is ml. Raises ValueError as `parse_length`."""
    if not isinstance(value, str):
        return _bare(value, "volume", "millilitres")
    text = _plain(value, "volume", _VOLUME_HELP)
    return _measure(value, text, "volume", _VOLUME_HELP, VOLUMES_ML, _VOLUME_NAMES)


def parse_temperature(value: str | float) -> float:
    """A temperature in degrees Celsius from `18 C`, `18 °C` or `65 F`.

    Raises ValueError for anything else; a bare number is not guessed at, as 65 may be meant either way.
    """
    text = _plain(str(value), "temperature", _TEMPERATURE_HELP)
    found = _TEMPERATURE.fullmatch(text)
    if not found:
        raise ValueError(f"'{value}' is not a temperature; write it like {_TEMPERATURE_HELP}")
    degrees, scale = Fraction(found[1]), found[2]
    if scale in {"c", "celsius"}:
        return float(degrees)
    if scale in {"f", "fahrenheit"}:
        return float((degrees - 32) * 5 / 9)
    if scale:
        raise ValueError(f"'{value}': there is no temperature scale '{scale}' here; write it like {_TEMPERATURE_HELP}")
    raise ValueError(f"'{value}': say whether it is C or F, like {_TEMPERATURE_HELP}")


def _bare(value: float, what: str, unit: str) -> float:
    """A number without a unit, proved to be a finite one of nothing or more."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"{str(value).lower()} is not a {what}; write a number of {unit}, or text with a unit")
    if abs(value) >= LARGEST or not math.isfinite(value):
        raise ValueError(
            f"{str(value)[:20]} is not a {what} that can be; write a number of {unit}, or text with a unit"
        )
    if value < 0:
        raise ValueError(f"{value}: a {what} cannot be less than nothing")
    return float(value)


def _plain(text: str, what: str, help_text: str) -> str:
    """The text in small letters and plain quote marks, single fraction characters (½) written out."""
    spelled = "".join(_spelled(character) for character in text)
    plain = " ".join(spelled.translate(_QUOTES).casefold().split())
    if not plain:
        raise ValueError(f"the {what} is empty; write it like {help_text}")
    if comma := _DECIMAL_COMMA.search(plain):
        raise ValueError(f"'{text}': write the decimal point as a point, {comma[0].replace(',', '.')}, not a comma")
    if plain.startswith("-") and what != "temperature":
        raise ValueError(f"'{text}': a {what} cannot be less than nothing")
    return plain


def _spelled(character: str) -> str:
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character)
    return character


def _measure(
    value: str, text: str, what: str, help_text: str, sizes: dict[str, Fraction], names: dict[str, str]
) -> float:
    """One number with at most one unit, as the size of that unit gives it."""
    found = _MEASURE.fullmatch(text)
    if not found:
        raise ValueError(f"'{value}' is not a {what}; write it like {help_text}")
    word = found[2].strip()
    unit = names.get(word) or names.get(word.removesuffix("s")) or word or next(iter(sizes))
    if unit not in sizes:
        raise ValueError(f"'{value}': there is no unit '{word}' here; use {', '.join(sizes)}, like {help_text}")
    return float(_number(found[1], value) * sizes[unit])


def _number(text: str, value: str) -> Fraction:
    """`3`, `.5`, `1/2`, `3 1/2` or `3-1/2` as an exact number."""
    try:
        return sum((Fraction(part) for part in re.split(r"[ -]+", text)), Fraction(0))
    except ZeroDivisionError:
        raise ValueError(f"'{value}': nothing can be divided by 0") from None
