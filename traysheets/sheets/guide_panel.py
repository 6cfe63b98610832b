"""Right beside wrong: the cell with its seeds at its real size, a tally of them, and how it should not be.

A cell too small to be seen well is drawn larger as well, one too large for the page smaller, with a round part of it at
its real size. What lies where in the cell is `pictures/strewn.py`.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from traysheets.page.lettering import fits
from traysheets.page.marks import BLACK, Circle, Line, Mark, Path, Place, Stamp
from traysheets.sheets.guide_text import Room, Saying, in_one_face, lettered, levelled, set_in
from traysheets.sheets.lesson import Lesson
from traysheets.sheets.pictures import signs
from traysheets.sheets.pictures.from_above import cell_from_above, middle_of_part, part_from_above
from traysheets.sheets.pictures.pen import LINE_MM, THIN_MM, Pen, Tints
from traysheets.sheets.pictures.strewn import rightly, wrongly
from traysheets.sheets.pictures.tally import tally
from traysheets.trade.papers import SCALES

RIGHT, WRONG, LARGER, REAL = "right", "wrong", "right, larger", "right, real size"
"""Names of the stamps: the cell as it should be, as it should not; the first larger, or a part of it at real size."""

RULER_MM = 3.4
NOTE_MM = 4.8
_GAP_MM = 6.0
_TALLY_GAP_MM = 3.5
_LARGER_BELOW_MM = 45.0
_LARGER_BY = (5.0, 4.0, 3.0, 2.5, 2.0, 1.5)
_MOST_LARGER_MM = 80.0
_PART_MM, _PART_SHARE = 44.0, 0.8
_LEAST_PART_MM = 24.0
_ZOOM_MM = 5.0
_LEAST_NOTE_MM, _LONG_NOTE_MM = 18.0, 38.0
_RIGHT_SHARE, _WRONG_SHARE = 0.4, 0.3
"""Least part of the width that is left for what is right, and for what is wrong."""


@dataclass(frozen=True, slots=True)
class _Part:
    """A picture in the panel: its stamp, its corner, what is said below it, whether a ruler lies along it."""

    stamp: Stamp
    left_mm: float
    top_mm: float
    note: str = ""
    ruler: bool = False

    @property
    def right_mm(self) -> float:
        """Its right edge."""
        return self.left_mm + self.stamp.width_mm

    @property
    def bottom_mm(self) -> float:
        """Its lower edge, with the ruler and the words below it."""
        words = NOTE_MM if self.note else 0.0
        return self.top_mm + self.stamp.height_mm + words + (RULER_MM if self.ruler else 0.0)


@dataclass(frozen=True, slots=True)
class Captions:
    """What is said over what is right and what is wrong, and how large; `notes` says a scale below a picture."""

    right: Saying
    wrong: Saying
    notes: Callable[[str, float], Saying]
    height_mm: float
    size_pt: float
    note_pt: float


class Panel:
    """Right beside wrong, `width_mm` wide and at most `height_mm` high below the captions.

    `tally` says how many seeds there are beside what is right.
    """

    def __init__(self, lesson: Lesson, width_mm: float, height_mm: float, tints: Tints) -> None:
        self._lesson, self._width, self._high, self._tints = lesson, width_mm, height_mm, tints
        counted = tally(lesson, height_mm, tints)
        self._tally = counted if counted and counted.width_mm < 0.2 * width_mm else None
        self._parts = self._as_large_as_can_be()

    # ---- how large ----

    @property
    def factor(self) -> float:
        """The scale of the cell as it should be: 1 is real size."""
        return self._parts[0].stamp.width_mm / self._lesson.cell_mm[0]

    @property
    def larger_by(self) -> float | None:
        """How much larger a small cell is drawn beside its real size; None where it is not."""
        larger = next((part for part in self._parts if part.note == "larger"), None)
        return larger.stamp.width_mm / self._lesson.cell_mm[0] if larger else None

    def _as_large_as_can_be(self) -> tuple[_Part, ...]:
        """The cell at real size, and larger too where it is small; else smaller with a part of it at real size."""
        for draw in (self._real_and_larger, self._real, self._smaller_and_part, self._smaller):
            parts = draw()
            if parts and self._fits(parts):
                return parts
        width, height = self._lesson.cell_mm
        by = min(self._right_room / width, (self._high - NOTE_MM) / height)
        return (_Part(self._cell(by, RIGHT), 0.0, 0.0, "smaller"),)

    def _fits(self, parts: tuple[_Part, ...]) -> bool:
        wide, high = max(part.right_mm for part in parts), max(part.bottom_mm for part in parts)
        return fits(wide, self._right_room) and fits(high, self._high)

    @property
    def _right_room(self) -> float:
        """Width for what is right, without its tally."""
        return self._width * (1 - _WRONG_SHARE) - (self._tally.width_mm + 2 * _TALLY_GAP_MM if self._tally else 0.0)

    def _cell(self, by: float, name: str) -> Stamp:
        return cell_from_above(self._lesson, rightly(self._lesson), by, self._tints, name)

    def _real(self) -> tuple[_Part, ...]:
        wide = self._lesson.cell_mm[0] >= _LONG_NOTE_MM
        note = "real_cell" if rightly(self._lesson).seed_scale < 1 else "real_hold" if wide else "real"
        return (_Part(self._cell(1.0, RIGHT), 0.0, 0.0, note, ruler=True),)

    def _real_and_larger(self) -> tuple[_Part, ...]:
        """A small cell, and beside it the same as much larger as there is room for."""
        side = self._lesson.side_mm
        for by in _LARGER_BY if side < _LARGER_BELOW_MM else ():
            larger = self._cell(by, LARGER)
            real = self._cell(1.0, RIGHT)
            note_mm = max(real.width_mm, _LEAST_NOTE_MM)
            down = (larger.height_mm - real.height_mm) / 2
            left = _Part(real, (note_mm - real.width_mm) / 2, down, "real", ruler=True)
            parts = left, _Part(larger, note_mm + _ZOOM_MM, 0.0, "larger")
            if by * side <= _MOST_LARGER_MM and self._fits(parts):
                return parts
        return ()

    def _smaller(self) -> tuple[_Part, ...]:
        named = ((_Part(self._cell(by, RIGHT), 0.0, 0.0, "smaller"),) for by in SCALES.values() if by < 1)
        return next((parts for parts in named if self._fits(parts)), ())

    def _smaller_and_part(self) -> tuple[_Part, ...]:
        """A large cell drawn smaller, and a round part of it at real size beside it or below it."""
        most = min(_PART_MM, _PART_SHARE * self._lesson.side_mm)
        for by in (by for by in SCALES.values() if by < 1):
            width, height = (side * by for side in self._lesson.cell_mm)
            below = height + NOTE_MM + _ZOOM_MM
            beside_mm = min(most, self._right_room - width - _ZOOM_MM, self._high - NOTE_MM)
            below_mm = min(most, self._right_room, self._high - below - NOTE_MM)
            places = ((below_mm, 0.5 * width, below), (beside_mm, width + _ZOOM_MM, 0.0))
            side_mm, left, top = max(places)
            if side_mm < _LEAST_PART_MM:
                continue
            part = part_from_above(
                self._lesson, rightly(self._lesson), math.floor(side_mm * 100) / 100, self._tints, REAL
            )
            parts = _Part(self._cell(by, RIGHT), 0.0, 0.0, "smaller"), _Part(part, left, top, "real")
            if self._fits(parts):
                return parts
        return ()

    # ---- where ----

    @property
    def _right_mm(self) -> float:
        """Where what is right ends, its tally with it."""
        end = max(part.right_mm for part in self._parts)
        return end + (_TALLY_GAP_MM + self._tally.width_mm if self._tally else 0.0)

    @property
    def _wrong_from_mm(self) -> float:
        """Where what is wrong begins: not so near that the words over what is right have no room."""
        return max(self._right_mm + _GAP_MM, _RIGHT_SHARE * self._width)

    @cached_property
    def _wrongs(self) -> tuple[tuple[Stamp, float, float], ...]:
        """The cells as they should not be, with their places: side by side or one below the other."""
        width, height = self._lesson.cell_mm
        wrongs, start = wrongly(self._lesson), self._wrong_from_mm
        room, most = self._width - start, self.larger_by or self.factor
        gaps = _ZOOM_MM * (len(wrongs) - 1)
        beside = min((room - gaps) / len(wrongs) / width, self._high / height, most)
        below = min(room / width, (self._high - gaps) / len(wrongs) / height, most)
        by = max(beside, below)
        step = (width * by + _ZOOM_MM, 0.0) if beside >= below else (0.0, height * by + _ZOOM_MM)
        stamps = (cell_from_above(self._lesson, wrong, by, self._tints, WRONG) for wrong in wrongs)
        return tuple((stamp, start + i * step[0], i * step[1]) for i, stamp in enumerate(stamps))

    @cached_property
    def height_mm(self) -> float:
        """How high it is below the captions."""
        right = max(part.bottom_mm for part in self._parts)
        wrong = max(down + stamp.height_mm for stamp, _, down in self._wrongs)
        return max(right, wrong, self._tally.height_mm if self._tally else 0.0)

    # ---- drawn ----

    def marks(self, left: float, top: float, captions: Captions) -> Iterator[Mark]:
        """The captions with their signs, and below them the pictures."""
        below = top + captions.height_mm
        yield from self._captions(left, top, captions)
        for part in self._parts:
            yield from self._part(part, left, below, captions)
        if len(self._parts) == 2:
            yield from self._zoom(self._parts[0], self._parts[1], left, below)
        if self._tally:
            yield Place(self._tally, left + self._right_mm - self._tally.width_mm, below)
        for stamp, across, down in self._wrongs:
            yield Place(stamp, left + across, below + down)

    def _captions(self, left: float, top: float, captions: Captions) -> Iterator[Mark]:
        start, size = self._wrong_from_mm, captions.height_mm - 2.0
        unit = min(size / 9, 1.0)
        rooms = tuple(
            Room(
                left + begin + 9 * unit + 2.5,
                top,
                max(end - begin - 9 * unit - 2.5, 8.0),
                size,
                captions.size_pt,
                lines=3,
            )
            for begin, end in ((0.0, start - 2.0), (start, self._width))
        )
        alike = [in_one_face((said,), room) for said, room in zip((captions.right, captions.wrong), rooms, strict=True)]
        face = max(alike, key=len)
        for sign, saying, room in zip((signs.tick, signs.wrong), (captions.right, captions.wrong), rooms, strict=True):
            yield from sign(Pen(room.left_mm - 4.5 * unit - 2.5, top + size / 2, unit), self._tints)
            yield from levelled(saying, replace(room, face=face))

    def _part(self, part: _Part, left: float, top: float, captions: Captions) -> Iterator[Mark]:
        x, under = left + part.left_mm, top + part.top_mm + part.stamp.height_mm + 0.8
        yield Place(part.stamp, x, top + part.top_mm)
        if part.ruler:
            yield _ruler(x, under, part.stamp.width_mm)
            under += RULER_MM - 0.6
        wide = max(part.stamp.width_mm, _LEAST_NOTE_MM)
        note_left = max(x + (part.stamp.width_mm - wide) / 2, left)
        room = Room(note_left, under + 0.6, wide, NOTE_MM - 0.8, captions.note_pt, face="regular")
        said = captions.notes(part.note, self.larger_by or self.factor)
        if part.note == "real_hold" and any(it.cut for it in set_in(said, room).fitted):
            said = captions.notes("real", self.factor)
        yield from lettered(said, room)

    def _zoom(self, one: _Part, other: _Part, left: float, top: float) -> Iterator[Mark]:
        """From the cell at real size to the same larger: lines from edge to edge. From a smaller one: a ring."""
        ring = _ring_of(other, left, top)
        if self.factor < 1:
            middle = middle_of_part(self._lesson, rightly(self._lesson), other.stamp.width_mm)
            small = left + middle[0] * self.factor, top + middle[1] * self.factor, ring[2] * self.factor
            yield Circle(*small, stroke=BLACK, stroke_mm=LINE_MM)
            yield from _tangents(small, ring)
        elif self._lesson.round:
            yield from _tangents(_ring_of(one, left, top), ring)
        else:
            for side in (0.06, 0.94):
                y1, y2 = (top + part.top_mm + side * part.stamp.height_mm for part in (one, other))
                yield Line(left + one.right_mm, y1, left + other.left_mm, y2, BLACK, THIN_MM)


def _ring_of(part: _Part, left: float, top: float) -> tuple[float, float, float]:
    """A round picture as (x, y, radius) on the page."""
    radius = part.stamp.width_mm / 2
    return left + part.left_mm + radius, top + part.top_mm + radius, radius


def _tangents(one: tuple[float, float, float], other: tuple[float, float, float]) -> Iterator[Line]:
    """The two outer tangents of two rings (x, y, radius) that lie apart."""
    across, down = other[0] - one[0], other[1] - one[1]
    apart = math.hypot(across, down)
    towards, lean = math.atan2(down, across), math.acos((one[2] - other[2]) / apart)
    for angle in (towards + lean, towards - lean):
        ends = [(x + r * math.cos(angle), y + r * math.sin(angle)) for x, y, r in (one, other)]
        yield Line(*ends[0], *ends[1], BLACK, THIN_MM)


def _ruler(left: float, top: float, width_mm: float) -> Path:
    """Ticks for every mm along an edge of real size, longer ones every 5 and 10."""
    d: list[tuple[str | float, ...]] = [("M", left, top), ("L", left + width_mm, top)]
    for mm in range(int(width_mm + 1e-6) + 1):
        long = 2.2 if mm % 10 == 0 else 1.6 if mm % 5 == 0 else 0.9
        d += [("M", left + mm, top), ("L", left + mm, top + long)]
    return Path(tuple(d), stroke=BLACK, stroke_mm=0.18)
