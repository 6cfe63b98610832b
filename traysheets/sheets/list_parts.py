"""The parts that rows of lists are put together from: columns, lines of text in them, boxes to tick, swatches.

Every size is given as it is on A4; a list on wider paper is drawn larger by one `growth`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

from traysheets.base.words import Words
from traysheets.page.hatches import hatched
from traysheets.page.lettering import MM_PER_POINT, Fitted, cap_height_mm, fit, width_mm
from traysheets.page.marks import BLACK, WHITE, Line, Mark, Place, Rect, Stamp, Text
from traysheets.sheets import cautions
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.frame import LEAST_PT, Frame
from traysheets.sheets.looks import Look

RULE = "#B4B4B4"
"""Thin lines between rows."""
SMALL_PT = 8.0

_LEADING = 1.27
_ASCENT = 0.98
"""Parts of a size of type: from one base line to the next, and from the top of a line to its base line."""

_GAP_MM = 3.0


@dataclass(frozen=True, slots=True)
class Column:
    """Where a column stands on the page."""

    left_mm: float
    width_mm: float

    @property
    def right_mm(self) -> float:
        """Its right edge."""
        return self.left_mm + self.width_mm


def columns(frame: Frame, growth: float, **widths: float) -> dict[str, Column]:
    """Columns side by side over the field, by name, a gap between them. Those of width 0 share what is left evenly."""
    gap = _GAP_MM * growth
    fixed = sum(widths.values()) * growth + gap * (len(widths) - 1)
    share = (frame.field_mm[0] - fixed) / max(list(widths.values()).count(0), 1)
    left, found = frame.left_mm, {}
    for name, width in widths.items():
        found[name] = Column(left, width * growth or share)
        left = found[name].right_mm + gap
    return found


@dataclass(frozen=True, slots=True)
class Said:
    """One text of a column: how it is set, and over how many lines it may run before it is cut.

    It is set no smaller than `readable_pt` as long as it goes into its lines so.
    """

    text: str
    face: str = "regular"
    size_pt: float = SMALL_PT
    lines: int = 1
    readable_pt: float = LEAST_PT

    def fitted(self, width_mm: float, growth: float) -> Fitted:
        """The text made to fit a width."""
        sizes = (self.readable_pt * growth, LEAST_PT)
        tried = (fit(self.text, self.face, width_mm, self.size_pt * growth, pt, self.lines, _LEADING) for pt in sizes)
        first = next(tried)
        return next(tried) if first.cut else first


class Stack:
    """Texts one below the other, made to fit a column; empty ones are left out. `to_right` sets them at its right edge.

    `base_mm` is how far below its top the first line stands.
    """

    def __init__(self, said: Iterable[Said], column: Column, growth: float = 1.0, *, to_right: bool = False) -> None:
        self._column, self._to_right = column, to_right
        self._fitted: list[Fitted] = [one.fitted(column.width_mm, growth) for one in said if one.text]
        self.height_mm = sum(len(one.lines) * _pitch_mm(one.size_pt) for one in self._fitted)
        self.base_mm = _ASCENT * self._fitted[0].size_pt * MM_PER_POINT if self._fitted else 0.0

    def marks(self, top: float) -> Iterator[Mark]:
        """The lines, below a given top edge."""
        x, anchor = (self._column.right_mm, "end") if self._to_right else (self._column.left_mm, "start")
        for one in self._fitted:
            for line in one.lines:
                base = top + _ASCENT * one.size_pt * MM_PER_POINT
                yield Text(x, base, line, one.face, one.size_pt, anchor=anchor)
                top += _pitch_mm(one.size_pt)


def _pitch_mm(size_pt: float) -> float:
    return size_pt * MM_PER_POINT * _LEADING


def few(texts: Sequence[str], most: int) -> tuple[str, ...]:
    """The texts as so many at most: the last ones are put together to one, which may be cut where it is set."""
    if len(texts) <= most:
        return tuple(texts)
    return (*texts[: most - 1], ", ".join(texts[most - 1 :]))


class Part(Protocol):
    """What stands in a column of a row."""

    @property
    def height_mm(self) -> float:
        """The height it takes."""

    @property
    def base_mm(self) -> float:
        """How far below its top its first line of text stands; 0 for what has none."""

    def marks(self, top: float) -> Iterable[Mark]:
        """Its marks, below a given top edge."""


@dataclass(frozen=True, slots=True)
class Sign:
    """A stamp at the left of a column."""

    stamp: Stamp
    column: Column
    base_mm: float = 0.0

    @property
    def height_mm(self) -> float:
        """The height of the stamp."""
        return self.stamp.height_mm

    def marks(self, top: float) -> Iterator[Mark]:
        """The stamp, below a given top edge."""
        yield Place(self.stamp, self.column.left_mm, top)


@dataclass(frozen=True, slots=True)
class WritingLine:
    """A line to write on with a pencil, over the width of a column, at the bottom of the room for what is written."""

    column: Column
    height_mm: float
    base_mm: float = 0.0

    def marks(self, top: float) -> Iterator[Mark]:
        """The line, below a given top edge."""
        y = top + self.height_mm
        yield Line(self.column.left_mm, y, self.column.right_mm, y, stroke_mm=0.25, dash_mm=(0.4, 0.9))


class Badge:
    """White letters on black, a plate for each text: what must not be missed; before them its sign, if there is one."""

    base_mm = 0.0

    def __init__(self, texts: Iterable[str], column: Column, growth: float, sign: Stamp | None = None) -> None:
        self._pad, self._sign, self._gap_mm = 1.2 * growth, sign, 0.4 * growth
        before = sign.width_mm + 0.6 * growth if sign else 0.0
        room = column.width_mm - before - 2 * self._pad
        self._fitted = [fit(text, "bold", room, SMALL_PT * growth, LEAST_PT) for text in texts]
        self._sign_left, self._left = column.left_mm, column.left_mm + before
        self._plates_mm = sum(_pitch_mm(one.size_pt) + self._gap_mm for one in self._fitted) - self._gap_mm
        self.height_mm = max(self._plates_mm, sign.height_mm if sign else 0.0)

    def marks(self, top: float) -> Iterator[Mark]:
        """The plates and their words, below a given top edge."""
        if self._sign:
            yield Place(self._sign, self._sign_left, top + (self.height_mm - self._sign.height_mm) / 2)
        top += (self.height_mm - self._plates_mm) / 2
        for one in self._fitted:
            yield from self._plate(one, top)
            top += _pitch_mm(one.size_pt) + self._gap_mm

    def _plate(self, one: Fitted, top: float) -> Iterator[Mark]:
        line, face, size_pt = one.lines[0], one.face, one.size_pt
        wide, high = width_mm(line, face, size_pt) + 2 * self._pad, _pitch_mm(size_pt)
        yield Rect(self._left, top, wide, high, fill=BLACK, radius_mm=0.6)
        base = top + (high + cap_height_mm(face, size_pt)) / 2
        yield Text(self._left + self._pad, base, line, face, size_pt, WHITE)


@dataclass(frozen=True, slots=True)
class Under:
    """One part under another, some way below it."""

    above: Part
    below: Part
    gap_mm: float = 0.6

    @property
    def base_mm(self) -> float:
        """The first line is that of the upper part."""
        return self.above.base_mm

    @property
    def height_mm(self) -> float:
        """The height of both, and of what is between them."""
        return self.above.height_mm + self.gap_mm + self.below.height_mm

    def marks(self, top: float) -> Iterator[Mark]:
        """The marks of both, below a given top edge."""
        yield from self.above.marks(top)
        yield from self.below.marks(top + self.above.height_mm + self.gap_mm)


def caution_lines(hazards: Iterable[Hazard], words: Words) -> list[Said]:
    """What to beware of, a line each, and what to follow beyond them; treated seed in bold letters."""
    faces = {Hazard.TREATED: "bold"}
    said = [Said(cautions.line(hazard, words), faces.get(hazard, "regular"), lines=2) for hazard in hazards]
    return [*said, Said(words("cautions.follow"), lines=2)]


@lru_cache(maxsize=64)
def tick_box(side_mm: float) -> Stamp:
    """An empty box to tick with a pencil."""
    edge = 0.25
    box = Rect(edge, edge, side_mm - 2 * edge, side_mm - 2 * edge, WHITE, BLACK, 0.5, radius_mm=0.8)
    return Stamp("box to tick", side_mm, side_mm, (box,))


@lru_cache(maxsize=1024)
def swatch(look: Look, width_mm: float, height_mm: float) -> Stamp:
    """A small rectangle in the colour and hatch of a batch, as on the map of its tray."""
    edge = 0.15
    outline = Rect(edge, edge, width_mm - 2 * edge, height_mm - 2 * edge, stroke=BLACK, stroke_mm=0.3, radius_mm=1.0)
    inside = hatched(look.hatch, width_mm, height_mm, look.colour, 1.0)
    return Stamp(f"{look.colour} {look.hatch}", width_mm, height_mm, (inside, outline))
