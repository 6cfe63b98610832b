"""Rulers and corner marks of the printer's check page: what somebody lays a ruler to."""

from collections.abc import Iterator

from traysheets.base.units import MM_PER_INCH
from traysheets.base.words import Words
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import BLACK, Line, Mark, Path, Stamp, Text

RULER_MM = 200.0
"""The length that the plan's `measured_across` and `measured_down` are compared with."""
SHORT_MM = 100.0
"""A ruler for paper too small for the other: what it measures counts twice."""

CORNERS_MM = (2.0, 4.0, 6.35, 10.0)
"""How far corner marks are from both edges. From the last, shifts are measured."""
CORNER_REACH_MM = 13.0
"""Inside of this nothing but corner marks stands."""

PAD_MM = 4.0
"""What a ruler's stamp has beyond both ends, for its numbers."""
BASE_MM = 8.0
"""From the top of a ruler's stamp to its base line."""

_EDGE_MM = 5.0
_NUMBER_PT, _CORNER_PT = 7.0, 7.5
_TICKS_MM = {10: 4.0, 5: 2.8, 1: 1.8}
_TICK_MM, _BASE_LINE_MM, _END_MM = 0.12, 0.25, 0.35
_SIXTEENTHS_MM = ((16, 4.0), (8, 3.2), (4, 2.6), (2, 2.0), (1, 1.4))
"""Ticks of the inch ruler: of so many sixteenths, how long."""
_FIRST_ARM_MM, _ARM_STEP_MM = 34.0, 6.0


def ruler_mm(side_mm: float) -> float:
    """How long a ruler goes along a side of the paper: all of it if five millimetres are left over at either end."""
    return RULER_MM if side_mm >= RULER_MM + 2 * _EDGE_MM else SHORT_MM


def ruler(length_mm: float, units: str) -> Stamp:
    """A ruler across: millimetres above its line; for plans in inches sixteenths below it. It begins at `PAD_MM`."""
    marks = [*_millimetres(length_mm)]
    if units == "inch":
        marks += _inches(length_mm)
    marks += _ends(length_mm)
    return Stamp("ruler", length_mm + 2 * PAD_MM, 2 * BASE_MM if units == "inch" else BASE_MM + 1.0, tuple(marks))


def _millimetres(length_mm: float) -> Iterator[Mark]:
    ticks = ((PAD_MM + mm, BASE_MM, BASE_MM - _tick_mm(mm)) for mm in range(int(length_mm) + 1))
    yield _ticks(ticks)
    for mm in range(0, int(length_mm) + 1, 10):
        yield Text(PAD_MM + mm, BASE_MM - 4.6, str(mm), "regular", _NUMBER_PT, anchor="middle")


def _tick_mm(mm: int) -> float:
    return next(tall for step, tall in _TICKS_MM.items() if mm % step == 0)


def _inches(length_mm: float) -> Iterator[Mark]:
    sixteenths = range(int(length_mm / MM_PER_INCH * 16 + 0.05) + 1)
    ticks = ((PAD_MM + n * MM_PER_INCH / 16, BASE_MM, BASE_MM + _sixteenth_mm(n)) for n in sixteenths)
    yield _ticks(ticks)
    down_mm = BASE_MM + 4.7 + cap_height_mm("regular", _NUMBER_PT)
    for inch in range(int(length_mm / MM_PER_INCH) + 1):
        yield Text(PAD_MM + inch * MM_PER_INCH, down_mm, str(inch), "regular", _NUMBER_PT, anchor="middle")


def _sixteenth_mm(number: int) -> float:
    return next(tall for step, tall in _SIXTEENTHS_MM if number % step == 0)


def _ticks(ticks: Iterator[tuple[float, float, float]]) -> Path:
    """Upright lines at (x, from, to) as one path."""
    pieces = ((("M", x, start), ("L", x, end)) for x, start, end in ticks)
    return Path(tuple(piece for line in pieces for piece in line), stroke=BLACK, stroke_mm=_TICK_MM)


def _ends(length_mm: float) -> Iterator[Mark]:
    """The base line, and a stronger line at both ends: it is measured from the middle of one to the other's."""
    yield Line(PAD_MM, BASE_MM, PAD_MM + length_mm, BASE_MM, stroke_mm=_BASE_LINE_MM)
    for x in (PAD_MM, PAD_MM + length_mm):
        yield Line(x, BASE_MM - 4.0, x, BASE_MM, stroke_mm=_END_MM)


def corner_marks(width_mm_: float, height_mm: float, words: Words) -> Iterator[Mark]:
    """Nested angles in all four corners, each marked with how far it is from both edges of the paper."""
    for x, right in ((0.0, 1), (width_mm_, -1)):
        for y, down in ((0.0, 1), (height_mm, -1)):
            for number, distance in enumerate(CORNERS_MM):
                arm = _FIRST_ARM_MM - number * _ARM_STEP_MM
                yield from _angle(x + right * distance, y + down * distance, right * arm, down * arm)
                yield _distance(x + right * (distance + arm), y + down * distance, words.number(distance), right)


def _angle(x: float, y: float, across: float, down: float) -> Iterator[Mark]:
    yield Line(x, y, x + across, y, stroke_mm=_END_MM / 2)
    yield Line(x, y, x, y + down * 0.7, stroke_mm=_END_MM / 2)


def _distance(x: float, y: float, text: str, right: int) -> Text:
    """The distance of a mark, at the end of its level arm."""
    base = y + cap_height_mm("bold", _CORNER_PT) / 2
    left = x + 0.8 if right > 0 else x - 0.8 - width_mm(text, "bold", _CORNER_PT)
    return Text(left, base, text, "bold", _CORNER_PT)
