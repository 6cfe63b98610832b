"""Cutting out: those of many marks that are seen through a window, so that a page holds no more than it shows.

Letters are seen whole or not at all; all else is cut by the clip that a window is drawn with.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from traysheets.page.lettering import SLACK_MM
from traysheets.page.marks import Clip, Mark, Place, Stamp, Text
from traysheets.page.reach import Box, box


class CutOut:
    """Cuts windows out of drawings. What it cuts out of a stamp it keeps, so that like parts are stored once."""

    def __init__(self) -> None:
        self._parts: dict[tuple[Stamp, Box], Stamp] = {}

    def marks(self, marks: Iterable[Mark], window: Box) -> Iterator[Mark]:
        """The marks that reach into a window. Of an upright stamp that is seen in part, a stamp of that part."""
        for mark in marks:
            reach = box(mark)
            if not _meets(reach, window):
                continue
            if _holds(window, reach) or (isinstance(mark, Place) and mark.turns):
                yield mark
            elif isinstance(mark, Place):
                part = self._part(mark.stamp, _seen_from(mark, window))
                if part.marks:
                    yield replace(mark, stamp=part)
            elif isinstance(mark, Clip):
                yield replace(mark, marks=tuple(self.marks(mark.marks, window)))
            elif not isinstance(mark, Text):
                yield mark

    def _part(self, stamp: Stamp, window: Box) -> Stamp:
        key = stamp, window
        if key not in self._parts:
            seen = tuple(self.marks(stamp.marks, window))
            self._parts[key] = Stamp(f"part of {stamp.name}", stamp.width_mm, stamp.height_mm, seen)
        return self._parts[key]


def _seen_from(place: Place, window: Box) -> Box:
    """A window as it lies over a stamp, in the stamp's own place; rounded, so that like windows are one."""
    left, top, right, bottom = window
    x, y = place.x_mm, place.y_mm
    return round(left - x, 4), round(top - y, 4), round(right - x, 4), round(bottom - y, 4)


def _meets(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and one[2] >= other[0] and one[1] <= other[3] and one[3] >= other[1]


def _holds(window: Box, reach: Box) -> bool:
    return (
        reach[0] >= window[0] - SLACK_MM
        and reach[1] >= window[1] - SLACK_MM
        and reach[2] <= window[2] + SLACK_MM
        and reach[3] <= window[3] + SLACK_MM
    )
