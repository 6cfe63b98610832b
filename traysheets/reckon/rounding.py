"""Rounding to whole seeds, days, packets and parts of a hundred, proof against the last bit of a float."""

import math

# 0.1 x 30 is a hair over 3 in floating point; what is within this of a whole number is that number.
HAIR = 1e-9


def up(value: float) -> int:
    """The least whole number that is not below `value`."""
    return math.ceil(value - HAIR)


def down(value: float) -> int:
    """The largest whole number that is not above `value`."""
    return math.floor(value + HAIR)


def nearest(value: float) -> int:
    """The nearest whole number, halves upwards."""
    return down(value + 0.5)


def middle(span: tuple[float, float]) -> float:
    """Half way between least and most."""
    return (span[0] + span[1]) / 2


def percent(fraction: float) -> str:
    """A fraction as `85 %`, to a tenth where it has one."""
    return f"{round(fraction * 100, 1):g} %"
