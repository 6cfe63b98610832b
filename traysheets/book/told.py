"""What was printed of a batch, read back from the JSON the book keeps of it. What is not of its kind is left out.

The facts are written by sheets, and read long after by rooms that know no plan; a book from elsewhere, or a damaged
one, may hold anything there. A fact that cannot be meant counts as not kept, so that no reader has to ask.
"""

import json
import math
import re
from collections.abc import Callable
from datetime import date
from typing import Any

from traysheets.base.limits import (
    FIRST_SEASON,
    HIGHEST_CONFIDENCE,
    LAST_SEASON,
    MOST_CELLS,
    MOST_SEEDS,
    MOST_TRAYS,
    MOST_WEEKS,
)

_CELL = re.compile(r"[A-Z]{1,3}[1-9][0-9]{0,3}")


def told_in(text: str) -> dict[str, Any]:
    """The facts by name; none when the text cannot be read."""
    try:
        told = json.loads(text, parse_float=_finite, parse_constant=_finite)
    except (ValueError, RecursionError):
        return {}
    if not isinstance(told, dict):
        return {}
    return {key: value for key, value in told.items() if value is None or _KINDS.get(key, _anything)(value)}


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text} is no number that JSON has")
    return number


def _anything(value: object) -> bool:
    return True


def _is_day(value: object) -> bool:
    try:
        return isinstance(value, str) and FIRST_SEASON <= date.fromisoformat(value).year <= LAST_SEASON
    except ValueError:
        return False


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _number(least: float, most: float) -> Callable[[object], bool]:
    def fits(value: object) -> bool:
        return isinstance(value, int | float) and not isinstance(value, bool) and least <= value <= most

    return fits


def _whole(least: int, most: int) -> Callable[[object], bool]:
    fits = _number(least, most)

    def is_whole(value: object) -> bool:
        return isinstance(value, int) and fits(value)

    return is_whole


def _are_steps(value: object) -> bool:
    return isinstance(value, list) and all(map(_is_step, value))


def _is_step(step: object) -> bool:
    if not (isinstance(step, dict) and _is_text(step.get("step")) and _is_day(step.get("first"))):
        return False
    last = step.get("last")
    return (last is None or _is_day(last)) and all(_is_text(step.get(key, "")) for key in ("what", "details"))


def _are_runs(value: object) -> bool:
    return isinstance(value, list) and all(map(_is_run, value))


def _is_run(run: object) -> bool:
    is_cell = (isinstance(run, dict) and _CELL.fullmatch(str(run.get(end))) for end in ("first", "last"))
    return isinstance(run, dict) and _whole(1, 100 * MOST_TRAYS)(run.get("tray")) and all(is_cell)


_KINDS: dict[str, Callable[[object], bool]] = {
    **dict.fromkeys(
        ("sow", "emerge_from", "emerge_to", "thin", "trim", "harden_off", "plant_out", "plant_out_last"), _is_day
    ),
    **dict.fromkeys(("code", "crop", "lead", "stands", "language", "notes"), _is_text),
    "germination": _number(0, 1),
    "confidence": _number(0.0001, HIGHEST_CONFIDENCE),
    "plants_expected": _number(0, 100 * MOST_SEEDS),
    "plants_wanted": _whole(0, MOST_SEEDS),
    "days_to_raise": _whole(-7 * MOST_WEEKS, 100 * MOST_WEEKS),
    "stations": _whole(1, MOST_CELLS),
    "steps": _are_steps,
    "runs": _are_runs,
}
"""By name: whether a value can be what it is to be. Facts that are only shown as they are need none."""
