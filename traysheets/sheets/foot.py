"""The foot of a page: a bar of known length to hold a ruler to, the scale, how to print, and whose page it is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from traysheets.base.units import MM_PER_INCH
from traysheets.base.words import Words
from traysheets.page.lettering import MM_PER_POINT, Fitted, fit, width_mm
from traysheets.page.marks import Line, Mark, Place, Stamp, Text
from traysheets.sheets.frame import EDGE_MM, LEAST_PT, Frame

BAR_MM = 50.0
_BELOW_BASE_MM = 0.7
_NARROW_HOW_MM = 8.2
"""Room for how to print, left of which the bar stands and above which the scale, in the foot of a narrow page."""
_SCALE_PT, _AFTER_SCALE_MM = 10.0, 3.0
_BESIDE_BAR_MM = 12.0
"""From the bar to the words at its right: room for its length."""
_FOOT_LINES_MM, _FOOT_GAP_MM, _MOST_AT_RIGHT = (4.4, 3.6), 3.0, 0.4
"""Of the words at the right of a foot: from line to line where they are two and three, what is
kept free before them, their share beside the bar."""


@dataclass(frozen=True, slots=True)
class Foot:
    """What a foot says: the scale, where there is a drawing, and words after it; at the right two lines."""

    scale: str
    after: str
    above: str
    below: str


def foot(frame: Frame, shown: Foot, words: Words, units: str) -> Iterator[Mark]:
    """The foot of a page: the bar of 50 mm, the scale and how to print, and the words at the right."""
    base = frame.height_mm - EDGE_MM - _BELOW_BASE_MM
    at_right = _at_right(frame, shown, words("frame.bar"))
    for i, (text, line) in enumerate(at_right):
        up_mm = (len(at_right) - 1 - i) * _FOOT_LINES_MM[len(at_right) > 2]
        yield Text(frame.right_mm, base - up_mm, text, line.face, line.size_pt, anchor="end")
    widest_mm = max(width_mm(text, line.face, line.size_pt) for text, line in at_right)
    room_mm = int(frame.field_mm[0] - widest_mm - _FOOT_GAP_MM)
    lengths = [words.length(BAR_MM, "metric"), *([words.length(2 * MM_PER_INCH, units)] if units == "inch" else [])]
    still = _still_foot(room_mm, frame.narrow, shown.scale, shown.after, words("frame.bar"), tuple(lengths))
    yield Place(still, frame.left_mm, base + _BELOW_BASE_MM - still.height_mm)


def _at_right(frame: Frame, shown: Foot, how: str) -> list[tuple[str, Fitted]]:
    """The lines at the right of a foot from the top, the upper words over two on a narrow page."""
    most_mm = (frame.field_mm[0] - BAR_MM) * _MOST_AT_RIGHT
    if not frame.narrow:
        most_mm = min(most_mm, frame.field_mm[0] - _FOOT_GAP_MM - 1.0 - _least_mm(shown, how))
    above = fit(shown.above, "regular", most_mm, 8.0, LEAST_PT, lines=2 if frame.narrow else 1)
    below = fit(shown.below, "regular", most_mm, 8.0, LEAST_PT)
    return [(text, line) for line in (above, below) for text in line.lines]


def _least_mm(shown: Foot, how: str) -> float:
    """Width that the scale and the words after it need at the least, and how to print below them on one line: the bar
    stands left of all that.
    """
    if not shown.scale:
        return BAR_MM + _BESIDE_BAR_MM + width_mm(shown.after, "condensed", LEAST_PT)
    scale_mm = width_mm(shown.scale, "bold", _SCALE_PT) + _AFTER_SCALE_MM
    after_mm, how_mm = (width_mm(text, "condensed", LEAST_PT) for text in (shown.after, how))
    return BAR_MM + _BESIDE_BAR_MM + max(scale_mm + after_mm, how_mm)


@lru_cache(maxsize=64)
def _still_foot(room_mm: float, narrow: bool, scale: str, after: str, how: str, lengths: tuple[str, ...]) -> Stamp:
    """What is the same on every page of a job: the bar, the scale, how to print."""
    base, left = (11.9 if narrow else 8.3), BAR_MM + _BESIDE_BAR_MM
    marks = list(_bar(0.0, base, lengths))
    lines, height_mm = (3, _NARROW_HOW_MM) if narrow else (2, None)
    placed = fit(how, "regular", room_mm - left, 8.0, LEAST_PT, lines=lines, height_mm=height_mm)
    for i, text in enumerate(reversed(placed.lines)):
        marks.append(Text(left, base - i * placed.size_pt * MM_PER_POINT * 1.15, text, placed.face, placed.size_pt))
    if scale:
        marks += _scale_line(scale, after, 0.0 if narrow else left, base - (9.0 if narrow else 4.4), room_mm)
    return Stamp("foot", room_mm, base + _BELOW_BASE_MM, tuple(marks))


def _scale_line(scale: str, after: str, left: float, base: float, right: float) -> Iterator[Mark]:
    yield Text(left, base, scale, "bold", _SCALE_PT)
    if not after:
        return
    left += width_mm(scale, "bold", _SCALE_PT) + _AFTER_SCALE_MM
    placed = fit(after, "regular", right - left, 8.0, LEAST_PT)
    yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)


def _bar(left: float, base: float, lengths: Sequence[str]) -> Iterator[Mark]:
    """A bar of 50 mm with a tick every 10 mm; with a second length to name, one of 2 in above it, in half inches."""
    yield from _ruler(left, base, 10.0, 5)
    yield Text(left + BAR_MM + 1.5, base, lengths[0], "regular", 7.5)
    if len(lengths) > 1:
        yield from _ruler(left, base - 4.4, MM_PER_INCH / 2, 4)
        yield Text(left + BAR_MM + 2.3, base - 4.4, lengths[1], "regular", 7.5)


def _ruler(left: float, base: float, step_mm: float, steps: int) -> Iterator[Mark]:
    yield Line(left, base, left + steps * step_mm, base, stroke_mm=0.35)
    for i in range(steps + 1):
        tick_mm = 2.6 if i in (0, steps) else 1.4
        yield Line(left + i * step_mm, base, left + i * step_mm, base - tick_mm, stroke_mm=0.35)
