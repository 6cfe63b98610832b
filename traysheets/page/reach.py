"""Reach: how far each mark reaches on its page, in mm, strokes and the ink of letters included."""

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from itertools import chain
from typing import Any, TypeAlias, cast

from traysheets.page.lettering import ink_mm, is_plain, width_mm
from traysheets.page.marks import Circle, Clip, Line, Link, Mark, Path, Place, Rect, Text
from traysheets.page.rows import Looked, Row

Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right and bottom edge, in mm from the top left corner."""

ANCHORS: dict[str, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of a text stands before the place it is anchored to."""


def box(mark: Mark) -> Box:
    """The upright rectangle that a mark stays within. A stamp counts as its own box, a clip as what is seen of it."""
    reach: Box = _REACH[type(mark)](mark)
    return reach


def boxes(marks: Iterable[Looked]) -> list[Box]:
    """The boxes of marks or rows of them, one for each."""
    return [_REACH[type(mark)](mark) for mark in marks]


def around(boxes: Iterable[tuple[Any, ...]]) -> Box | None:
    """The box around boxes, or around what begins with the edges of its box; None when there are none."""
    found = list(boxes)
    if not found:
        return None
    lefts, tops, rights, bottoms, *_ = zip(*found, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def turned(inner: Box, place: Place) -> Box:
    """A box in a stamp as it lies where the stamp is placed."""
    left, top, right, bottom = inner
    for _ in range(place.turns % 4):
        left, top, right, bottom = -bottom, left, -top, right
    return place.x_mm + left, place.y_mm + top, place.x_mm + right, place.y_mm + bottom


def text_boxes(marks: Iterable[Mark]) -> Iterator[tuple[str, Box]]:
    """Every text and where its ink lies, those in stamps and clips as well."""
    for mark in marks:
        if isinstance(mark, Text):
            yield mark.text, box(mark)
        elif isinstance(mark, Clip):
            yield from text_boxes(mark.marks)
        elif isinstance(mark, Place):
            for text, inner in text_boxes(mark.stamp.marks):
                yield text, turned(inner, mark)


def _stroked(left: float, top: float, right: float, bottom: float, stroke: object, stroke_mm: float) -> Box:
    """A box and the half of its stroke that lies outside."""
    half = stroke_mm / 2 if stroke else 0.0
    return left - half, top - half, right + half, bottom + half


def _rect(mark: Rect) -> Box:
    return _stroked(
        mark.x_mm, mark.y_mm, mark.x_mm + mark.width_mm, mark.y_mm + mark.height_mm, mark.stroke, mark.stroke_mm
    )


def _line(mark: Line) -> Box:
    """A line has square ends: only a slanting one could reach less than half its stroke beyond them."""
    x1, y1, x2, y2, half = mark.x1_mm, mark.y1_mm, mark.x2_mm, mark.y2_mm, mark.stroke_mm / 2
    across, along = (half if y1 != y2 else 0.0), (half if x1 != x2 else 0.0)
    left, right = (x1, x2) if x1 <= x2 else (x2, x1)
    top, bottom = (y1, y2) if y1 <= y2 else (y2, y1)
    return left - across, top - along, right + across, bottom + along


def _path(mark: Path) -> Box:
    """Around all points, those that curves are drawn towards as well."""
    numbers = list(chain.from_iterable([_corners(piece) for piece in cast("Iterable[tuple[Any, ...]]", mark.d)]))
    if not numbers:
        return 0.0, 0.0, 0.0, 0.0
    xs, ys, unit = numbers[::2], numbers[1::2], mark.unit_mm
    return _stroked(min(xs) * unit, min(ys) * unit, max(xs) * unit, max(ys) * unit, mark.stroke, mark.stroke_mm)


def _corners(piece: tuple[Any, ...]) -> tuple[float, ...]:
    """The points of a piece of a path, x and y in turn; of a rectangle two corners."""
    if piece[0] != "R":
        return piece[1:]
    _, x, y, width, height = piece
    return x, y, x + width, y + height


def _circle(mark: Circle) -> Box:
    x, y, r = mark.x_mm, mark.y_mm, mark.radius_mm
    return _stroked(x - r, y - r, x + r, y + r, mark.stroke, mark.stroke_mm)


def _text(mark: Text) -> Box:
    wide, below, above = plain_extent(mark.text, mark.face) or _extent(mark.text, mark.face)
    size, x, y = mark.size_pt, mark.x_mm, mark.y_mm
    left = x - ANCHORS[mark.anchor] * wide * size
    return left, y - above * size, left + wide * size, y - below * size


def _extent(text: str, face: str) -> tuple[float, float, float]:
    """How wide a text of one point is, and how far its ink reaches below its base line (negative) and above it."""
    return width_mm(text, face, 1.0), *ink_mm(text, face, 1.0)


@lru_cache(maxsize=65536)
def plain_extent(text: str, face: str) -> tuple[float, float, float] | None:
    """The same, kept for texts that are set in their face alone, whatever fonts are at hand; None for others."""
    return _extent(text, face) if is_plain(text, face) else None


def _plain(mark: Clip | Link) -> Box:
    return mark.x_mm, mark.y_mm, mark.x_mm + mark.width_mm, mark.y_mm + mark.height_mm


def _place(mark: Place) -> Box:
    if not mark.turns:
        return mark.x_mm, mark.y_mm, mark.x_mm + mark.stamp.width_mm, mark.y_mm + mark.stamp.height_mm
    return turned((0.0, 0.0, mark.stamp.width_mm, mark.stamp.height_mm), mark)


def _row(mark: Row) -> Box:
    """From the left of the first to the right of the last, all of one size."""
    left, top, _, _ = _place(mark.places[0])
    _, _, right, bottom = _place(mark.places[-1])
    return left, top, right, bottom


_REACH: dict[type, Callable[[Any], Box]] = {
    Rect: _rect,
    Line: _line,
    Path: _path,
    Circle: _circle,
    Text: _text,
    Clip: _plain,
    Link: _plain,
    Place: _place,
    Row: _row,
}
