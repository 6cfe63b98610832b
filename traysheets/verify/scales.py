"""The scale that a map says it has, held against its cells: how large its head says they are, and how they are drawn.

Told in any language of the sheets: the scale is the one thing of the form `1:2.5` at the foot of a page, and the size
of a cell a length in its head. Where one of them is not found, nothing is said.
"""

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TypeAlias

from traysheets.base.units import MM_PER_INCH
from traysheets.verify.report import Finding, Part

Size: TypeAlias = tuple[float, float]
"""Width and height in mm."""

_SCALE = re.compile(r"(?<![\d:])1:([1-9]\d?(?:[.,]\d)?)(?![\d:])")
_FRACTION = r"\d{1,2}/[1-9]\d?"
_LENGTH = rf"(\d{{1,4}}(?:[.,]\d{{1,3}})?(?:[ \u00a0]{_FRACTION})?|{_FRACTION})"
_SIZE = re.compile(rf"(?<![\d/.,]){_LENGTH}(?: × {_LENGTH})?[ \u00a0](mm|in)\b")
_MM = {"mm": 1.0, "in": MM_PER_INCH}
_SAME = 0.08
"""Parts of a size by which it may differ: the head rounds, to an eighth of an inch; scales differ by 0.2 at least."""
_SAME_MM = 0.5


def divided_by(text: str) -> float | None:
    """How many times smaller than true a page says it is; None where it says no scale, or several."""
    found = set(_SCALE.findall(text))
    return _number(found.pop()) if len(found) == 1 else None


def cells_mm(head: str) -> list[Size]:
    """The sizes that the head of a page speaks of: that of a cell, and for some kinds that of the tray before it."""
    return [
        (_number(across) * _MM[unit], _number(down or across) * _MM[unit])
        for across, down, unit in dict.fromkeys(_SIZE.findall(head))
    ]


def _number(text: str) -> float:
    """A number as sheets write it: `2.5`, `2,5`, `3 3/8`."""
    return sum(float(Fraction(part)) for part in text.replace(",", ".").split())


def scale_findings(foot: str, head: str, drawn_mm: Iterable[Size], number: int) -> Iterator[Finding]:
    """Whether cells are drawn at the scale a page says; `drawn_mm` are the sizes of all that is drawn on it."""
    divisor, true = divided_by(foot), cells_mm(head)
    if divisor is None or not true:
        return
    meant = [(across / divisor, down / divisor) for across, down in true]
    if not any(_same(size, it) for size in drawn_mm for it in meant):
        across, down = meant[-1]
        text = (
            f"it says its scale is 1:{divisor:g}, but no cell is drawn {across:.1f} x {down:.1f} mm large; "
            "print the sheet itself"
        )
        yield Finding(Part.SCALE, text, number)


def _same(size: Size, meant: Size) -> bool:
    return all(abs(a - b) <= max(_SAME_MM, _SAME * b) for a, b in zip(size, meant, strict=True))
