"""What stands around every sheet: the edge kept free, the head with its QR code, the foot with a bar of known length.

A frame owns the page but for the field between head and foot, which is the sheet's own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from traysheets.base.errors import SheetError
from traysheets.base.units import MM_PER_INCH
from traysheets.base.words import Words
from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT, Fitted, cap_height_mm, fit, ink_mm, width_mm
from traysheets.page.marks import Line, Link, Mark, Place, Stamp, Text
from traysheets.trade.papers import Paper

EDGE_MM = 6.8
"""Content stays this far from the edge of the paper: what printers cannot reach (6.35 mm), and a little."""

HEAD_MM = 16.5
BAR_MM = 50.0
_MOST_HEAD_MM = 26.0
_BEST_MODULE_MM = 0.5
_GAP_MM = 5.0
_CODE_WORDS_MM = 17.0
_BELOW_BASE_MM = 0.7
_LEAST_PT = 7.0
_NAME_PT = (40.0, 30.0)
"""Size of the name: as a rule, and on a narrow page or where the lines beside it would else be cut."""
_LINE_PT = (15.0, 10.0, 10.0)
_LINE_BASES_MM = (4.8, 9.9, 14.4)
"""Base lines of the lines, from the top of the head."""
_MANY_PT = (12.0, 8.0)
_MANY_BASES_MM = (4.0, 15.8)
"""Sizes of the first and of all other lines, and base lines of the first and the last, where long ones are parted."""
_OVER_MM = 0.4
"""How far accents of the first line may reach over the head."""
BETWEEN = "  ·  "
"""What stands between the parts of a line, and where it may be parted."""
_NARROW_HOW_MM = 8.2
"""Room for how to print, left of which the bar stands and above which the scale, in the foot of a narrow page."""
_SCALE_PT, _AFTER_SCALE_MM = 10.0, 3.0
_BESIDE_BAR_MM = 12.0
"""From the bar to the words at its right: room for its length."""
_FOOT_LINES_MM, _FOOT_GAP_MM, _MOST_AT_RIGHT = (4.4, 3.6), 3.0, 0.4
"""Of the words at the right of a foot: from line to line where they are two and three, what is
kept free before them, their share beside the bar."""
_NARROW_LINES_MM = 15.0
"""How much higher the head of a narrow page is: there the lines stand below the name."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A page of paper with a head of `head_mm`: all edges of the field between head and foot."""

    width_mm: float
    height_mm: float
    head_mm: float = HEAD_MM

    @property
    def narrow(self) -> bool:
        """Whether the page is so narrow that the lines of its head stand below the name."""
        return self.width_mm < 180

    @property
    def left_mm(self) -> float:
        """Left edge of the field."""
        return EDGE_MM

    @property
    def right_mm(self) -> float:
        """Right edge of the field."""
        return self.width_mm - EDGE_MM

    @property
    def top_mm(self) -> float:
        """Top of the field, below the head."""
        return EDGE_MM + self.head_mm + (_NARROW_LINES_MM if self.narrow else 0.0)

    @property
    def bottom_mm(self) -> float:
        """Bottom of the field, above the foot."""
        return self.height_mm - EDGE_MM - (12.6 if self.narrow else 9.0)

    @property
    def field_mm(self) -> tuple[float, float]:
        """Width and height of the field."""
        return self.right_mm - self.left_mm, self.bottom_mm - self.top_mm


def frame_on(paper: Paper, *, landscape: bool, head_mm: float = HEAD_MM) -> Frame:
    """The frame of a sheet of paper, turned or not."""
    sides = (paper.height_mm, paper.width_mm) if landscape else (paper.width_mm, paper.height_mm)
    return Frame(*sides, head_mm)


@dataclass(frozen=True, slots=True)
class Head:
    """What a head says: a name read from afar, small words after it, up to three lines beside it, a code with words.

    The first of the lines is the largest.
    """

    name: str
    after: str
    lines: Sequence[str]
    code_text: str = ""
    code_words: str = ""
    code_url: str | None = None


def head_height_mm(code_text: str) -> float:
    """Height of a head whose code has modules of a good size, as far as a head may grow.

    Raises SheetError for a text so long that no phone would read its code there.
    """
    if not code_text:
        return HEAD_MM
    if qr.smallest_side_mm(code_text, qr.LEAST_MODULE_MM) > _MOST_HEAD_MM:
        raise SheetError(
            f"the QR code at the head of a page cannot hold {len(code_text)} characters and still be read: "
            f"{code_text[:40]}...; a shorter record_url is needed"
        )
    return min(max(HEAD_MM, qr.smallest_side_mm(code_text)), _MOST_HEAD_MM)


def head(frame: Frame, shown: Head) -> Iterator[Mark]:
    """The head of a page: name at the left, lines beside it, code at the top right."""
    code = qr.code(shown.code_text, frame.head_mm, largest_module_mm=_BEST_MODULE_MM).stamp if shown.code_text else None
    right = frame.right_mm - (code.width_mm + _CODE_WORDS_MM if code else 0.0) - _GAP_MM
    name_pt = next((pt for pt in _NAME_PT if not frame.narrow and _goes_beside(frame, shown, pt, right)), _NAME_PT[-1])
    yield from _name(frame, shown, name_pt)
    if code:
        yield from _head_code(code, shown, frame.right_mm - code.width_mm)
    if frame.narrow:
        yield from _lines(shown.lines, frame.left_mm, frame.right_mm, EDGE_MM + frame.head_mm)
    else:
        yield from _lines(shown.lines, _beside_name_mm(frame, shown, name_pt), right, EDGE_MM)


def _head_code(code: Stamp, shown: Head, left: float) -> Iterator[Mark]:
    """The code with its left edge there, and its words at its left."""
    yield Place(code, left, EDGE_MM)
    if shown.code_url:
        yield Link(left, EDGE_MM, code.width_mm, code.width_mm, shown.code_url)
    yield from _beside_code(shown.code_words, left, EDGE_MM + code.width_mm / 2)


def _name(frame: Frame, shown: Head, name_pt: float) -> Iterator[Mark]:
    """The name, and the small words after it."""
    base = EDGE_MM + _LINE_BASES_MM[2] - 0.4
    yield Text(frame.left_mm, base, shown.name, "bold", name_pt)
    if shown.after:
        yield Text(_after_name_mm(frame, shown, name_pt), base, shown.after, "regular", 13.0)


def _after_name_mm(frame: Frame, shown: Head, name_pt: float) -> float:
    return frame.left_mm + width_mm(shown.name, "bold", name_pt) + 1.5


def _beside_name_mm(frame: Frame, shown: Head, name_pt: float) -> float:
    """Where the lines beside a name begin."""
    return _after_name_mm(frame, shown, name_pt) + width_mm(shown.after, "regular", 13.0) + _GAP_MM


def _goes_beside(frame: Frame, shown: Head, name_pt: float, right: float) -> bool:
    """Whether all lines go whole beside the name in that size."""
    room_mm = right - _beside_name_mm(frame, shown, name_pt)
    return not any(line.cut for line in _whole_lines(shown.lines, room_mm))


def small_head(frame: Frame, shown: Head, after: str) -> Iterator[Mark]:
    """The head of a page that goes on with another: name, number and first line small, and the words that say so."""
    base = EDGE_MM + 6.2
    name = f"{shown.name} {shown.after}".strip()
    yield Text(frame.left_mm, base, name, "bold", 16.0)
    left = frame.left_mm + width_mm(name, "bold", 16.0) + _GAP_MM
    line = fit(f"{shown.lines[0]}  ·  {after}", "regular", frame.right_mm - left, 11.0, _LEAST_PT)
    yield Text(left, base, line.lines[0], line.face, line.size_pt)


def _beside_code(words: str, right: float, middle: float) -> Iterator[Mark]:
    """Small words at the left of the code, level with its middle."""
    placed = fit(words, "regular", _CODE_WORDS_MM, 8.0, _LEAST_PT, lines=3)
    pitch = placed.size_pt * MM_PER_POINT * 1.15
    base = middle - pitch * len(placed.lines) / 2 + cap_height_mm(placed.face, placed.size_pt)
    for i, line in enumerate(placed.lines):
        yield Text(right, base + i * pitch, line, placed.face, placed.size_pt, anchor="end")


def _lines(lines: Sequence[str], left: float, right: float, top: float) -> Iterator[Mark]:
    """The lines of a head, the first one large; those that would be cut are parted, and all are set closer then."""
    placed = _whole_lines(lines, right - left)
    bases: Sequence[float] = _LINE_BASES_MM
    if any(line.cut for line in placed):
        placed = _parted_lines(lines, right - left)
        first, last = _MANY_BASES_MM
        step = (last - first) / max(len(placed) - 1, 1)
        bases = [first + i * step for i in range(len(placed))]
    for i, (line, base) in enumerate(zip(placed, bases, strict=False)):
        over_mm = 0.0 if i else ink_mm(line.lines[0], line.face, line.size_pt)[1] - base - _OVER_MM
        yield Text(left, top + base + max(over_mm, 0.0), line.lines[0], line.face, line.size_pt)


def _whole_lines(lines: Sequence[str], room_mm: float) -> list[Fitted]:
    """Every line as one."""
    return [fit(line, "regular" if i else "bold", room_mm, _LINE_PT[i], _LEAST_PT) for i, line in enumerate(lines)]


def _parted_lines(lines: Sequence[str], room_mm: float) -> list[Fitted]:
    """The first line, and all others between whose parts there is a dot, over two where one does not hold them."""
    first = fit(lines[0], "bold", room_mm, _MANY_PT[0], _LEAST_PT)
    others = [part for line in lines[1:] for part in _parted(line, room_mm)]
    return [first, *(fit(part, "regular", room_mm, _MANY_PT[1], _LEAST_PT) for part in others)]


def _parted(line: str, room_mm: float) -> tuple[str, ...]:
    """The line, or two halves of it as even in width as its parts let them be."""
    parts = line.split(BETWEEN)
    if len(parts) == 1 or not fit(line, "regular", room_mm, _MANY_PT[1], _LEAST_PT).cut:
        return (line,)
    halves = ((BETWEEN.join(parts[:i]), BETWEEN.join(parts[i:])) for i in range(1, len(parts)))
    return min(halves, key=lambda pair: max(width_mm(half, "regular", _LEAST_PT) for half in pair))


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
    above = fit(shown.above, "regular", most_mm, 8.0, _LEAST_PT, lines=2 if frame.narrow else 1)
    below = fit(shown.below, "regular", most_mm, 8.0, _LEAST_PT)
    return [(text, line) for line in (above, below) for text in line.lines]


def _least_mm(shown: Foot, how: str) -> float:
    """Width that the scale and the words after it need at the least, and how to print below them on one line: the bar
    stands left of all that.
    """
    if not shown.scale:
        return BAR_MM + _BESIDE_BAR_MM + width_mm(shown.after, "condensed", _LEAST_PT)
    scale_mm = width_mm(shown.scale, "bold", _SCALE_PT) + _AFTER_SCALE_MM
    after_mm, how_mm = (width_mm(text, "condensed", _LEAST_PT) for text in (shown.after, how))
    return BAR_MM + _BESIDE_BAR_MM + max(scale_mm + after_mm, how_mm)


@lru_cache(maxsize=64)
def _still_foot(room_mm: float, narrow: bool, scale: str, after: str, how: str, lengths: tuple[str, ...]) -> Stamp:
    """What is the same on every page of a job: the bar, the scale, how to print."""
    base, left = (11.9 if narrow else 8.3), BAR_MM + _BESIDE_BAR_MM
    marks = list(bar(0.0, base, lengths))
    lines, height_mm = (3, _NARROW_HOW_MM) if narrow else (2, None)
    placed = fit(how, "regular", room_mm - left, 8.0, _LEAST_PT, lines=lines, height_mm=height_mm)
    for i, text in enumerate(reversed(placed.lines)):
        marks.append(Text(left, base - i * placed.size_pt * MM_PER_POINT * 1.15, text, placed.face, placed.size_pt))
    if scale:
        marks += _scale_line(scale, after, 0.0 if narrow else left, base - (9.0 if narrow else 4.4), room_mm)
    return Stamp("foot", room_mm, base + _BELOW_BASE_MM, tuple(marks))


def _scale_line(scale: str, after: str, left: float, base: float, right: float) -> Iterator[Mark]:
    yield Text(left, base, scale, "bold", _SCALE_PT)
    left += width_mm(scale, "bold", _SCALE_PT) + _AFTER_SCALE_MM
    placed = fit(after, "regular", right - left, 8.0, _LEAST_PT)
    yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)


def bar(left: float, base: float, lengths: Sequence[str]) -> Iterator[Mark]:
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
