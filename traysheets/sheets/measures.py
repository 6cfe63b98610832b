"""Weights, volumes, areas and times in words, in the plan's units and as exact as a grower can use them."""

from math import floor, log10

from traysheets.base.units import GRAMS_PER_OUNCE
from traysheets.base.words import Words

SQUARE_METRES_PER_SQUARE_FOOT = 0.3048**2
"""International yard and pound agreement, 1959: 1 ft = 0.3048 m, exactly."""

_FIGURES = 3
_MOST_DECIMALS = 3


def rounded(value: float, words: Words) -> str:
    """A measure with three figures that count, three decimals at most: `0.059`, `5.29`, `24.6`, `136`, `1,360`.

    What would come out as nothing so has as many decimals as its first figure takes: `0.0002`.
    """
    before = floor(log10(value)) + 1 if value > 0 else 1
    most = _MOST_DECIMALS if value == 0 or round(value, _MOST_DECIMALS) else 1 - before
    return words.number(value, min(max(_FIGURES - before, 0), most))


def grams(value: float, words: Words) -> str:
    """A weight in grams: `5.29 g`."""
    return words("measures.grams", n=rounded(value, words))


def ounces(value_grams: float, words: Words) -> str:
    """The same in ounces: `0.187 oz`."""
    return words("measures.ounces", n=rounded(value_grams / GRAMS_PER_OUNCE, words))


def square_metres(value: float, words: Words) -> str:
    """An area in square metres: `1.36 m²`."""
    return words("measures.square_metres", n=rounded(value, words))


def square_feet(value_m2: float, words: Words) -> str:
    """The same in square feet: `14.6 sq ft`."""
    return words("measures.square_feet", n=rounded(value_m2 / SQUARE_METRES_PER_SQUARE_FOOT, words))


def area(value_m2: float, words: Words, units: str) -> str:
    """An area in the plan's units."""
    return square_feet(value_m2, words) if units == "inch" else square_metres(value_m2, words)


def whole_minutes(minutes: float) -> int:
    """A time of work to the minute: none for no work, else 1 or more."""
    return max(round(minutes), 1) if minutes else 0


def seeds(sown: int, spare: int, words: Words) -> str:
    """A number of seeds, and those set aside beside them: `3,390`, `40 and 6 spare`."""
    return f"{words.number(sown)} {words('overview.spare', n=spare)}" if spare else words.number(sown)


def duration(minutes: float, words: Words) -> str:
    """A time of work, to the minute and never none: `45 min`, `2 h`, `1 h 10 min`."""
    hours, rest = divmod(max(whole_minutes(minutes), 1), 60)
    if not hours:
        return words("measures.minutes", n=rest)
    return words("measures.hours_minutes" if rest else "measures.hours", n=hours, rest=rest)


def temperature(celsius: float, words: Words, units: str) -> str:
    """A temperature in the plan's units, three figures that count: `23.5 °C`, `74.3 °F`."""
    key, degrees = ("fahrenheit", celsius * 9 / 5 + 32) if units == "inch" else ("celsius", celsius)
    return words(f"records.{key}", n=float(f"{degrees:.3g}"))
