"""What a page was meant to show, laid out flat, and where a page that was read back differs from it.

The same shapes as `readback` gives, made from the marks of a page with nothing written in between.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import astuple, replace
from itertools import zip_longest
from typing import Any

from readback import IDENTITY, Matrix, SeenPage, SeenText, apply, moved, recognised, times, turns

from traysheets.page.lettering import shown, width_mm
from traysheets.page.marks import Circle, Clip, Line, Link, Mark, Page, Path, Place, Rect, Text

NO_BREAK = "\u00a0"
"""In a PDF font it is one with the space."""


def flat(marks: Iterable[Mark], m: Matrix = IDENTITY) -> Iterator[Any]:
    """Marks as they are to be seen on the page: stamps and clips opened, texts from their start, in mm of the page."""
    for mark in marks:
        if isinstance(mark, Text):
            yield _flat_text(mark, m)
        elif isinstance(mark, Clip):
            yield from flat(mark.marks, m)
        elif isinstance(mark, Place):
            a, b = ((1, 0), (0, 1), (-1, 0), (0, -1))[mark.turns % 4]
            yield from flat(mark.stamp.marks, times((a, b, -b, a, mark.x_mm, mark.y_mm), m))
        elif not isinstance(mark, Link):
            yield recognised(moved(_as_path(mark), m, 1.0))


def _flat_text(mark: Text, m: Matrix) -> SeenText:
    wide = width_mm(mark.text, mark.face, mark.size_pt)
    x, y = apply(m, mark.x_mm - wide * {"start": 0, "middle": 0.5, "end": 1}[mark.anchor], mark.y_mm)
    return SeenText(x, y, shown(mark.text).replace(NO_BREAK, " "), mark.face, mark.size_pt, mark.colour, wide, turns(m))


def _as_path(mark: Rect | Line | Circle | Path) -> Path:
    if isinstance(mark, Path):
        d = tuple((verb, *(float(number) * mark.unit_mm for number in numbers)) for verb, *numbers in mark.d)
        return replace(mark, d=d, unit_mm=1)
    if isinstance(mark, Line):
        d = (("M", mark.x1_mm, mark.y1_mm), ("L", mark.x2_mm, mark.y2_mm))
        return Path(d, None, mark.stroke, mark.stroke_mm, mark.dash_mm)
    if isinstance(mark, Circle):
        r = mark.radius_mm
        mark = Rect(mark.x_mm - r, mark.y_mm - r, 2 * r, 2 * r, mark.fill, mark.stroke, mark.stroke_mm, r)
    return Path(outline(mark), mark.fill, mark.stroke, mark.stroke_mm)


def outline(rect: Rect) -> tuple[tuple[Any, ...], ...]:
    """The ends of a rounded rectangle's pieces; where its curves are drawn towards does not matter to what it is."""
    x, y, right, bottom = rect.x_mm, rect.y_mm, rect.x_mm + rect.width_mm, rect.y_mm + rect.height_mm
    r = min(rect.radius_mm, rect.width_mm / 2, rect.height_mm / 2)
    if not r:
        return (("R", x, y, rect.width_mm, rect.height_mm),)
    corners = ((right - r, y, right, y + r), (right, bottom - r, right - r, bottom))
    corners += ((x + r, bottom, x, bottom - r), (x, y + r, x + r, y))
    d: list[tuple[Any, ...]] = [("M", x + r, y)]
    for x1, y1, x2, y2 in corners:
        d += [("L", x1, y1), ("C", x1, y1, x2, y2, x2, y2)]
    return (*d, ("Z",))


def differences(page: Page, seen: SeenPage, within_mm: float = 0.01) -> list[str]:
    """Where what is seen is not what was meant, mark by mark in the order painted; empty when all agree."""
    wrong = []
    sizes = (page.width_mm, page.height_mm), (seen.width_mm, seen.height_mm)
    if not _near(*sizes, within_mm):
        wrong.append(f"page: {sizes[0]} is {sizes[1]}")
    for meant, found in zip_longest(_painted(flat(page.marks)), _painted(seen.marks)):
        if type(meant) is not type(found) or not _near(astuple(meant), astuple(found), within_mm):
            wrong.append(f"{meant} is {found}")
    return wrong


def _painted(marks: Iterable[Any]) -> list[Any]:
    """Marks that show; how wide a stroke would be, and what it would be dashed with, counts only where there is one."""
    marks = [mark for mark in marks if isinstance(mark, SeenText | Line) or mark.fill or mark.stroke]
    unstroked = [mark if getattr(mark, "stroke", True) else replace(mark, stroke_mm=0) for mark in marks]
    return [replace(mark, dash_mm=()) if isinstance(mark, Path) and not mark.stroke else mark for mark in unstroked]


def _near(one: Any, other: Any, within: float) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= within
    if isinstance(one, Sequence) and isinstance(other, Sequence) and not isinstance(one, str):
        return len(one) == len(other) and all(_near(a, b, within) for a, b in zip(one, other, strict=True))
    return bool(one == other)
