"""Parts of cell pictures: the box of a cell, what is in it, letters on clean plates, fill and outline."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

from traysheets.page.hatches import hatched
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Circle, Mark, Place, Rect, Stamp, Text
from traysheets.sheets.looks import Look

SIZE_STEP_PT = 0.5
_OUTLINE_MM = 0.25


@dataclass(frozen=True, slots=True)
class Filling:
    """What is in a cell, and how it is said.

    `count` says it in short; there are `seeds` in each of `holes`, or scattered when `holes` is 0. `code_like` is the
    widest code of such trays, so that all codes are set in one size. Seed `on_top` of the mix lies in no hole.
    """

    look: Look
    code: str
    count: str
    holes: int
    seeds: int
    code_like: str
    on_top: bool = False


@dataclass(frozen=True)
class Box:
    """The top of a cell as drawn: its size on paper, and whether it is round."""

    width_mm: float
    height_mm: float
    round: bool = False

    @cached_property
    def least_mm(self) -> float:
        """The shorter side."""
        return min(self.width_mm, self.height_mm)

    @cached_property
    def radius_mm(self) -> float:
        """Of the corners: a circle's own, else a little."""
        return self.least_mm / 2 if self.round else min(0.05 * self.least_mm, 1.5)

    @cached_property
    def area_mm2(self) -> float:
        """Area of the cell as drawn."""
        return self.width_mm * self.height_mm * (math.pi / 4 if self.round else 1)


@dataclass(frozen=True, slots=True)
class Label:
    """Letters on a clean plate, which is as wide as for the text `like` where that is wider."""

    text: str
    face: str
    size_pt: float
    like: str = ""

    @property
    def pad_mm(self) -> float:
        """White between the capitals and the edge of the plate."""
        return 0.3 + 0.045 * self.size_pt

    @property
    def width_mm(self) -> float:
        """Width of the plate, of the widest text it is to match."""
        widest = max(width_mm(text, self.face, self.size_pt) for text in (self.text, self.like))
        return widest + 2 * self.pad_mm

    @property
    def height_mm(self) -> float:
        """Height of the plate."""
        return cap_height_mm(self.face, self.size_pt) + 2 * self.pad_mm

    def marks(self, left_mm: float, top_mm: float) -> Iterator[Mark]:
        """The plate with its top left corner there."""
        yield plate(left_mm, top_mm, self.width_mm, self.height_mm)
        base_mm = top_mm + self.height_mm - self.pad_mm
        yield Text(left_mm + self.width_mm / 2, base_mm, self.text, self.face, self.size_pt, anchor="middle")


def plate(left_mm: float, top_mm: float, width: float, height: float) -> Rect:
    """A clean white plate for letters to stand on."""
    return Rect(left_mm, top_mm, width, height, fill=WHITE, stroke=BLACK, stroke_mm=0.15, radius_mm=0.14 * height)


def outlined(box: Box, fill: str | None, stroke: str | None) -> Mark:
    """The cell filled, or its outline drawn along the middle of its edge, or both."""
    line_mm = min(_OUTLINE_MM, box.least_mm / 20)
    if box.round:
        return Circle(box.width_mm / 2, box.height_mm / 2, box.radius_mm, fill, stroke, line_mm)
    return Rect(0, 0, box.width_mm, box.height_mm, fill, stroke, line_mm, box.radius_mm)


@lru_cache(maxsize=512)
def filled(box: Box, look: Look) -> Place:
    """The whole cell in colour and hatch, outlined: a stamp that all batches of that look share."""
    fill = hatched(look.hatch, box.width_mm, box.height_mm, look.colour, box.radius_mm)
    return Place(stamp(box, look.hatch, (fill, outlined(box, None, BLACK))), 0, 0)


def stamp(box: Box, name: str, marks: Iterable[Mark]) -> Stamp:
    """A stamp of exactly the cell's size."""
    return Stamp(name, box.width_mm, box.height_mm, tuple(marks))


def sizes_pt(most_pt: float, least_pt: float) -> Iterator[float]:
    """Type sizes from the largest down, in steps."""
    for step in range(int((most_pt - least_pt) / SIZE_STEP_PT) + 1):
        yield most_pt - step * SIZE_STEP_PT
