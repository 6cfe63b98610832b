"""Rows: placings of one stamp side by side, as a tray has cells, which a look over the page takes as one mark.

A page of two hundred cells is then looked over as the twenty rows that it is. What prints a page knows no rows.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby
from math import isfinite
from operator import sub
from typing import NamedTuple, TypeAlias

from traysheets.page.marks import Mark, Place, Stamp

_LEAST = 3
"""Fewer placings are looked over as quickly one by one."""


class Row(NamedTuple):
    """Upright placings of one stamp at one height, from left to right; `least_step_mm` is the nearest two lie apart."""

    places: list[Place]
    least_step_mm: float


Looked: TypeAlias = Mark | Row
"""A mark, or a row of them."""


def in_rows(marks: Iterable[Mark]) -> list[Looked]:
    """The marks in their order, those that follow each other as a row made one."""
    found: list[Looked] = []
    for _, group in groupby(marks, _row_of):
        together = list(group)
        row = _row(together) if len(together) >= _LEAST else None
        found += [row] if row else together
    return found


def one_by_one(marks: Iterable[Looked]) -> Iterator[Mark]:
    """The marks themselves, those of rows as well."""
    for mark in marks:
        if isinstance(mark, Row):
            yield from mark.places
        else:
            yield mark


def stamps_of(marks: Iterable[Looked]) -> Iterable[Stamp]:
    """The stamps that are placed, each once."""
    placings = (mark.places[0] if isinstance(mark, Row) else mark for mark in marks)
    return {mark.stamp: None for mark in placings if isinstance(mark, Place)}


def _row_of(mark: Mark) -> tuple[int, float] | int:
    """What is the same for neighbours in a row: the stamp and the height. Nothing else is in one."""
    return (id(mark.stamp), mark.y_mm) if type(mark) is Place and not mark.turns else id(mark)


def _row(marks: list[Mark]) -> Row | None:
    """Marks alike as a row; None where they do not go from left to right, or a place is no number."""
    places = [mark for mark in marks if isinstance(mark, Place)]
    lefts = [place.x_mm for place in places]
    if len(places) < len(marks) or not isfinite(sum(lefts)):
        return None
    least = min(map(sub, lefts[1:], lefts))
    return Row(places, least) if least >= 0 else None
