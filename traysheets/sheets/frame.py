"""What stands around every sheet: the edge kept free, the head with its QR code; and where the field of the sheet lies.

A frame owns the page but for the field between head and foot, which is the sheet's own. The foot is `foot.py`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from traysheets.base.errors import SheetError
from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT, Fitted, cap_height_mm, fit, ink_mm, width_mm
from traysheets.page.marks import Link, Mark, Place, Stamp, Text
from traysheets.trade.papers import Paper

EDGE_MM = 6.8
"""Content stays this far from the edge of the paper: what printers cannot reach (6.35 mm), and a little."""

A4_FIELD_MM = 196.4
"""Width of the field on A4, upright: sizes are given for that."""

HEAD_MM = 16.5
_MOST_HEAD_MM = 26.0
_BEST_MODULE_MM = 0.5
_GAP_MM = 5.0
_CODE_WORDS_MM = 17.0
LEAST_PT = 7.0
"""No letter of a page is smaller; those of sticks may be (`stick_lines.py`)."""

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
    line = fit(f"{shown.lines[0]}{BETWEEN}{after}", "regular", frame.right_mm - left, 11.0, LEAST_PT)
    yield Text(left, base, line.lines[0], line.face, line.size_pt)


def _beside_code(words: str, right: float, middle: float) -> Iterator[Mark]:
    """Small words at the left of the code, level with its middle."""
    placed = fit(words, "regular", _CODE_WORDS_MM, 8.0, LEAST_PT, lines=3)
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
    return [fit(line, "regular" if i else "bold", room_mm, _LINE_PT[i], LEAST_PT) for i, line in enumerate(lines)]


def _parted_lines(lines: Sequence[str], room_mm: float) -> list[Fitted]:
    """The first line, and all others between whose parts there is a dot, over two where one does not hold them."""
    first = fit(lines[0], "bold", room_mm, _MANY_PT[0], LEAST_PT)
    others = [part for line in lines[1:] for part in _parted(line, room_mm)]
    return [first, *(fit(part, "regular", room_mm, _MANY_PT[1], LEAST_PT) for part in others)]


def _parted(line: str, room_mm: float) -> tuple[str, ...]:
    """The line, or two halves of it as even in width as its parts let them be."""
    parts = line.split(BETWEEN)
    if len(parts) == 1 or not fit(line, "regular", room_mm, _MANY_PT[1], LEAST_PT).cut:
        return (line,)
    halves = ((BETWEEN.join(parts[:i]), BETWEEN.join(parts[i:])) for i in range(1, len(parts)))
    return min(halves, key=lambda pair: max(width_mm(half, "regular", LEAST_PT) for half in pair))
