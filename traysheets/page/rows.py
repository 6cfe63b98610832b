"""Rows: placings of one stamp side by side, as a tray has cells, which a look over the page takes as one mark.

A page of two hundred cells is then looked over as the twenty rows that it is. What prints a page knows no rows.
"""

from collections.abc import Iterable, Iterator, Sequence
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


_PLACED = (Place, Row)

Looked: TypeAlias = Mark | Row
"""A mark, or a row of them."""


def in_rows(marks: Iterable[Mark]) -> list[Looked]:
    """The marks in their order, those that follow each other as a row made one."""
    found: list[Looked] = []
    row: list[Place] = []
    stamp, height_mm = None, 0.0
    for mark in marks:
        if type(mark) is Place and not mark.turns:
            if mark.stamp is not stamp or mark.y_mm != height_mm:
                found += _ended(row)
                row, stamp, height_mm = [], mark.stamp, mark.y_mm
            row.append(mark)
        else:
            found += _ended(row)
            row, stamp = [], None
            found.append(mark)
    return [*found, *_ended(row)]


def one_by_one(marks: Iterable[Looked]) -> Iterator[Mark]:
    """The marks themselves, those of rows as well."""
    for mark in marks:
        if isinstance(mark, Row):
            yield from mark.places
        else:
            yield mark


def stamps_of(marks: Iterable[Looked]) -> Iterable[Stamp]:
    """The stamps that are placed, each once."""
    placed = [mark for mark in marks if isinstance(mark, _PLACED)]
    return dict.fromkeys([(mark if isinstance(mark, Place) else mark.places[0]).stamp for mark in placed])


def _ended(places: list[Place]) -> Sequence[Looked]:
    """Placings of one stamp at one height as a row, where they go from left to right and each place is a number."""
    if len(places) < _LEAST:
        return places
    lefts = [place.x_mm for place in places]
    least = min(map(sub, lefts[1:], lefts))
    return [Row(places, least)] if isfinite(sum(lefts)) and least >= 0 else places
