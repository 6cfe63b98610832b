"""Seams: where a drawing too large for the paper is parted, along one of its sides. Only sums.

Every tile has a part that is its own, from seam to seam, and shows a flap of its neighbours beyond each seam.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import ceil
from typing import TypeAlias

from traysheets.base.errors import SheetError

Span: TypeAlias = tuple[float, float]
"""From and to, in mm along the side."""

FLAPS_MM = (10.0, 7.5, 5.0)
"""Widths of a flap, the best first: two of them, one from each side of a seam, are what neighbours share."""

_SLACK_MM = 0.001


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a drawing: where it begins and ends, the cells and the letters along it, and the room on a page."""

    whole: Span
    cells: tuple[Span, ...]
    letters: tuple[Span, ...]
    room_mm: float


@dataclass(frozen=True, slots=True)
class Piece:
    """What one tile holds along a side: its own from seam to seam, and all that is seen of the drawing on it."""

    own: Span
    seen: Span


@lru_cache(maxsize=256)
def pieces(side: Side) -> tuple[Piece, ...]:
    """The fewest pieces along a side, about equally long, with the widest flaps that make them no more.

    Seams run between cells; through a cell only where it alone is longer than the room, and then clear of letters.
    Raises SheetError when letters leave no place for a seam.
    """
    by_flap = {flap_mm: _seams(side, flap_mm, side.room_mm) for flap_mm in FLAPS_MM}
    fewest = min((len(seams) for seams in by_flap.values() if seams), default=0)
    if not fewest:
        raise SheetError(f"letters longer than the {side.room_mm:.0f} mm of a page cannot be parted over several pages")
    flap_mm = next(flap_mm for flap_mm, seams in by_flap.items() if len(seams) == fewest)
    return tuple(_pieces(_even(side, by_flap[flap_mm], flap_mm), flap_mm))


def _even(side: Side, seams: Sequence[float], flap_mm: float) -> Sequence[float]:
    """Seams as even as they can be: those for the least room, in whole millimetres, in which there are no more."""
    least_mm = ceil((side.whole[1] - side.whole[0]) / len(seams))
    tried = (_seams(side, flap_mm, room_mm) for room_mm in range(least_mm, int(side.room_mm)))
    return next((found for found in tried if len(found) == len(seams)), seams)


def _seams(side: Side, flap_mm: float, room_mm: float) -> tuple[float, ...]:
    """Both ends of the side and the seams between, each as far on as the room allows; none where it is too small."""
    start, end = side.whole
    found, reach = [start], start + room_mm
    while reach < end - _SLACK_MM:
        seam = _seam(side, found[-1], reach - flap_mm, side.room_mm - 2 * flap_mm)
        if seam <= found[-1]:
            return ()
        found.append(seam)
        reach = seam - flap_mm + room_mm
    return (*found, end)


def _seam(side: Side, after: float, limit: float, most_mm: float) -> float:
    """The last place for a seam up to the limit: in the middle of a gap between cells.

    Where there is none, through a cell of more than `most_mm`, clear of letters.
    """
    gaps = ((left[1] + right[0]) / 2 for left, right in pairwise(side.cells))
    good = [gap for gap in gaps if after < gap <= limit + _SLACK_MM and _clear(gap, side.letters)]
    whole = (cell for cell in side.cells if cell[1] - cell[0] <= most_mm)
    return max(good) if good else _moved_back(limit, (*side.letters, *whole))


def _clear(place: float, spans: Iterable[Span]) -> bool:
    return not any(left < place < right for left, right in spans)


def _moved_back(limit: float, spans: Sequence[Span]) -> float:
    """The last place up to the limit that no span goes over."""
    while not _clear(limit, spans):
        limit = min(left for left, right in spans if left < limit < right)
    return limit


def _pieces(seams: Sequence[float], flap_mm: float) -> Iterable[Piece]:
    start, end = seams[0], seams[-1]
    for left, right in pairwise(seams):
        seen = (left - (flap_mm if left > start else 0.0), right + (flap_mm if right < end else 0.0))
        yield Piece((left, right), seen)
