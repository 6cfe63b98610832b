"""Lengths and paths as PDF writes them (ISO 32000-1, 8.5.2): millimetres become points, and y is turned to run up."""

from collections.abc import Callable, Iterable
from functools import lru_cache
from math import sqrt
from typing import Any

POINTS_PER_MM = 72 / 25.4
HUNDREDTHS_PER_MM = 100 * POINTS_PER_MM

_ARC = 4 / 3 * (sqrt(2) - 1)
"""How far the control points of a cubic quarter circle stand off, for a radius of one."""


def number(value: float, decimals: int = 2) -> str:
    """A number in short: at most so many decimals, no trailing zeros."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


@lru_cache(maxsize=65536)
def hundredths(count: int) -> str:
    """So many hundredths as a number."""
    return number(count / 100)


def points(length_mm: float) -> str:
    """A length in points, to a hundredth, which is 0.0035 mm."""
    return hundredths(round(length_mm * HUNDREDTHS_PER_MM))


def path_pieces(d: Iterable[tuple[Any, ...]]) -> str:
    """The pieces of a path in mm."""
    return " ".join([_PIECES[piece[0]](*piece[1:]) for piece in d])


def _rect(x: float, y: float, width: float, height: float) -> str:
    return f"{points(x)} {points(-y)} {points(width)} {points(-height)} re"


def _curve(x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> str:
    return f"{points(x1)} {points(-y1)} {points(x2)} {points(-y2)} {points(x)} {points(-y)} c"


_PIECES: dict[Any, Callable[..., str]] = {
    "M": lambda x, y: f"{points(x)} {points(-y)} m",
    "L": lambda x, y: f"{points(x)} {points(-y)} l",
    "C": _curve,
    "Z": lambda: "h",
    "R": _rect,
}
"""How the pieces of a path are written, by their verb."""


def grid_piece(verb: str, *numbers: int) -> str:
    """A piece of a path on a grid: whole numbers, or it is a fault of ours."""
    if verb == "R":
        x, y, width, height = numbers
        return f"{x:d} {-y:d} {width:d} {-height:d} re"
    if verb == "Z":
        return "h"
    shown = " ".join([f"{-part if i % 2 else part:d}" for i, part in enumerate(numbers)])
    return f"{shown} {verb.lower()}"


def rect_path(x: float, y: float, width: float, height: float, radius: float) -> str:
    """A rectangle, its corners rounded."""
    if not radius:
        return _rect(x, y, width, height)
    r = min(radius, width / 2, height / 2)
    off = r * (1 - _ARC)
    right, bottom = x + width, y + height
    x0, x1, x2, x3, x4, x5 = map(points, (x, x + off, x + r, right - r, right - off, right))
    y0, y1, y2, y3, y4, y5 = map(points, (-y, -y - off, -y - r, r - bottom, off - bottom, -bottom))
    return (
        f"{x2} {y0} m {x3} {y0} l {x4} {y0} {x5} {y1} {x5} {y2} c {x5} {y3} l {x5} {y4} {x4} {y5} {x3} {y5} c"
        f" {x2} {y5} l {x1} {y5} {x0} {y4} {x0} {y3} c {x0} {y2} l {x0} {y1} {x1} {y0} {x2} {y0} c h"
    )


def circle_path(x: float, y: float, radius: float) -> str:
    """A circle about its centre."""
    return rect_path(x - radius, y - radius, 2 * radius, 2 * radius, radius)
