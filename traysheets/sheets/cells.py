"""Pictures of single cells, each a stamp: what is in the cell, said by letters, colour, hatch and dots.

A cell large enough shows its seeds (`seed_pictures.py`). In a smaller one colour and hatch fill the cell, and code and
count stand on one clean plate; then the code alone; in the smallest nothing does. Letters are never smaller than
`LEAST_PT`: what does not fit gives way, dots first and the code last. Where a cell stands is decided in
`tray_drawing.py`.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from traysheets.page.lettering import MM_PER_POINT, cap_height_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Line, Mark, Place, Stamp, Text
from traysheets.sheets.cell_parts import Box, Filling, Label, filled, outlined, plate, sizes_pt, stamp
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.looks import Look
from traysheets.sheets.seed_pictures import with_seeds

FADED = "#707070"
"""Grey that stands back and can still be read: 4.9 to 1 on white."""

_MOST_LETTERS_PT = 22.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A cell picture, and whether it bears the cell's code."""

    stamp: Stamp
    says_code: bool


def picture(box: Box, filling: Filling) -> Picture:
    """The picture of a cell with the most there is room for: seeds, else code and count, else the code, else none."""
    for draw in (with_seeds, _with_code_and_count, _with_code):
        marks = draw(box, filling)
        if marks is not None:
            return Picture(stamp(box, filling.code, marks), says_code=True)
    return Picture(filled(box, filling.look).stamp, says_code=False)


def empty(box: Box) -> Picture:
    """The picture of an empty cell: a dash, and no code."""
    half, middle = box.width_mm * 0.16, box.height_mm / 2
    dash = Line(box.width_mm / 2 - half, middle, box.width_mm / 2 + half, middle, stroke_mm=min(0.6, box.least_mm / 10))
    return Picture(stamp(box, "empty", (outlined(box, WHITE, BLACK), dash)), says_code=True)


def faded(box: Box, code: str, code_like: str) -> Picture:
    """The picture of a cell that is not spoken of: its outline and its code in grey."""
    marks = [outlined(box, WHITE, FADED)]
    label = _largest_code(box, code, code_like, _MOST_LETTERS_PT * 0.6)
    if label:
        middle = box.height_mm / 2 + cap_height_mm(label.face, label.size_pt) / 2
        marks.append(Text(box.width_mm / 2, middle, code, label.face, label.size_pt, FADED, "middle"))
    return Picture(stamp(box, code or "empty", marks), says_code=True)


@lru_cache(maxsize=512)
def _plated(box: Box, look: Look, width: float, height: float) -> Place:
    """The whole cell in colour and hatch with a clean plate in its middle, which all batches of that look share."""
    middle = plate((box.width_mm - width) / 2, (box.height_mm - height) / 2, width, height)
    return Place(stamp(box, f"{look.hatch}, plate", (filled(box, look), middle)), 0, 0)


def _plate_fits(box: Box, width: float, height: float) -> bool:
    """Whether a plate in the middle leaves enough of the hatch about it to be told by."""
    if width * height > 0.46 * box.area_mm2:
        return False
    if box.round:
        return math.hypot(width, height) / 2 <= 0.92 * box.radius_mm
    return width <= 0.84 * box.width_mm and height <= 0.74 * box.height_mm


def _largest_code(box: Box, code: str, like: str, most_pt: float) -> Label | None:
    """The code as large as fits alone: as the widest code, else condensed, else as itself."""
    for face, widest in (("bold", like), ("condensed-bold", like), ("condensed-bold", "")):
        for size_pt in sizes_pt(most_pt, 8.0 if face == "bold" else LEAST_PT):
            label = Label(code, face, size_pt, widest)
            if _plate_fits(box, label.width_mm, label.height_mm):
                return label
    return None


def _with_code(box: Box, filling: Filling) -> list[Mark] | None:
    label = _largest_code(box, filling.code, filling.code_like, _MOST_LETTERS_PT)
    if label is None:
        return None
    base = (box.height_mm + cap_height_mm(label.face, label.size_pt)) / 2
    text = Text(box.width_mm / 2, base, label.text, label.face, label.size_pt, anchor="middle")
    return [_plated(box, filling.look, label.width_mm, label.height_mm), text]


def _with_code_and_count(box: Box, filling: Filling) -> list[Mark] | None:
    """The code with the count under it on the same plate, as large as they fit together."""
    for size_pt in sizes_pt(_MOST_LETTERS_PT, 8.0):
        code = Label(filling.code, "bold", size_pt, filling.code_like)
        count = _count_under(code, filling.count)
        if count is None:
            continue
        height = code.height_mm + cap_height_mm(count.face, count.size_pt) + _between_mm(code)
        if _plate_fits(box, code.width_mm, height):
            return [_plated(box, filling.look, code.width_mm, height), *_stacked(box, code, count, height)]
    return None


def _between_mm(code: Label) -> float:
    """White between code and count: more than the tails of J and Q reach down, 0.2 of their size."""
    return 0.2 * code.size_pt * MM_PER_POINT + 0.2


def _count_under(code: Label, count: str) -> Label | None:
    """The count in a size that goes with the code's and is no wider."""
    size_pt = max(LEAST_PT, round(code.size_pt * 0.76))
    for face in ("bold", "condensed-bold"):
        for smaller_pt in sizes_pt(size_pt, LEAST_PT):
            if width_mm(count, face, smaller_pt) <= code.width_mm - code.pad_mm:
                return Label(count, face, smaller_pt)
    return None


def _stacked(box: Box, code: Label, count: Label, height: float) -> Iterator[Mark]:
    """Code and count, the one below the other on their plate."""
    middle, top = box.width_mm / 2, (box.height_mm - height) / 2
    base = top + code.height_mm - code.pad_mm
    yield Text(middle, base, code.text, code.face, code.size_pt, anchor="middle")
    below = base + _between_mm(code) + cap_height_mm(count.face, count.size_pt)
    yield Text(middle, below, count.text, count.face, count.size_pt, anchor="middle")
