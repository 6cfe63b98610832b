"""A pot, cell, block or tray cut open from the side: the same one in every picture, filled to where it is wanted.

Drawn on the plane of a pen: the rim at height 0, the middle of the pot at 0 across.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from traysheets.page.marks import BLACK, Mark, Path
from traysheets.sheets.lesson import Lesson, Vessel
from traysheets.sheets.pictures.pen import LINE_MM, THIN_MM, Pen, Tints

DEPTH = 13.0
"""Depth of a pot as drawn."""

_BASE = {Vessel.POT: 0.74, Vessel.CELL: 0.62, Vessel.BLOCK: 1.0, Vessel.TRAY: 0.95}
"""Width of the base, as a part of the top's."""
_LEAST_WIDE, _MOST_WIDE = 0.95, 1.45
_WALL_MM = 0.7
_LIP = 2.2


@dataclass(frozen=True, slots=True)
class Pot:
    """The section of a vessel: its width at the rim, that of its base as a part of it, and units for a real mm."""

    vessel: Vessel
    width: float
    depth: float
    base: float
    per_mm: float

    def half(self, down: float) -> float:
        """Half of its width inside, so far below the rim."""
        return self.width / 2 * (1 - (1 - self.base) * down / self.depth)

    def shown(self, mm: float, least: float, most: float) -> float:
        """A depth in mm as it is drawn, within limits that keep it seen."""
        return min(max(mm * self.per_mm, least), most)


def pot(lesson: Lesson) -> Pot:
    """The section of the cells of a lesson, nearly in their own proportions."""
    wide = min(max(lesson.cell_mm[0] / lesson.depth_mm, _LEAST_WIDE), _MOST_WIDE)
    return Pot(lesson.vessel, DEPTH * wide, DEPTH, _BASE[lesson.vessel], DEPTH / lesson.depth_mm)


def filled(pen: Pen, it: Pot, level: float, tints: Tints, *, loose: bool = False) -> Iterator[Mark]:
    """The pot with mix up to `level` below its rim."""
    yield from soil(pen, it, level, it.depth, tints, loose=loose)
    yield from _walls(pen, it)


def soil(pen: Pen, it: Pot, level: float, down_to: float, tints: Tints, *, loose: bool = False) -> Iterator[Mark]:
    """Mix between two levels, its grains in it; loose mix is heaped a little."""
    top, bottom = it.half(level), it.half(down_to)
    surface = f"L {top} {level}"
    if loose:
        bump = 0.9
        surface = f"C {-top * 0.6} {level - bump} {-top * 0.3} {level + bump} 0 {level - bump * 0.4} "
        surface += f"C {top * 0.3} {level - bump} {top * 0.7} {level + bump * 0.6} {top} {level}"
    drawn = f"M {-top} {level} {surface} L {bottom} {down_to} L {-bottom} {down_to} Z"
    block = it.vessel is Vessel.BLOCK
    yield pen.shape(drawn, fill=tints.soil, stroke=BLACK if block else None)
    yield grains(pen, [(it, level + 0.7, down_to - 0.3)], tints)
    if not block:
        yield pen.shape(f"M {-top} {level} {surface}", stroke_mm=THIN_MM)


def _walls(pen: Pen, it: Pot) -> Iterator[Mark]:
    """The walls with the rim; cells hang from the top of their tray, which goes on to both sides; blocks just stand."""
    top, bottom, depth = it.half(0), it.half(it.depth), it.depth
    if it.vessel is Vessel.BLOCK:
        yield pen.line(-top - 3, depth, top + 3, depth, _WALL_MM)
        return
    yield pen.shape(f"M {-top} 0 L {-bottom} {depth} L {bottom} {depth} L {top} 0", stroke_mm=_WALL_MM)
    for side in (-1, 1):
        edge = side * (top + _LIP)
        yield pen.line(side * top, 0, edge, 0, _WALL_MM)
        if it.vessel is Vessel.CELL:
            away = side * ((top - bottom) / depth * 4.5)
            yield pen.line(edge, 0, edge + away, 4.5, _WALL_MM)
        else:
            yield pen.line(edge, 0, edge, 1.1, _WALL_MM)


def grains(pen: Pen, parts: Sequence[tuple[Pot, float, float]], tints: Tints) -> Path:
    """Specks in the mix of parts of a pot, evenly strewn: the same always."""
    squares: list[tuple[str | float, ...]] = []
    for it, top, bottom in parts:
        for i in range(max(int((bottom - top) * it.width / 4.5), 0)):
            down = top + (0.5 + i * 0.7548776662466927) % 1 * (bottom - top)
            across = ((0.5 + i * 0.5698402909980532) % 1 * 2 - 1) * (it.half(down) - 0.6)
            squares.append(speck(*pen.at(across, down)))
    return Path(tuple(squares), fill=tints.grain)


def speck(x: float, y: float, side: float = 0.4) -> tuple[str | float, ...]:
    """One grain of mix, as a piece of a path."""
    return "R", round(x - side / 2, 3), round(y - side / 2, 3), side, side


def across_at(it: Pot, level: float, number: int) -> list[float]:
    """So many places evenly across the pot at a level."""
    reach = it.half(level) * 0.82
    return [0.0] if number == 1 else [reach * (2 * i / (number - 1) - 1) for i in range(number)]


def hole(pen: Pen, across: float, level: float, down: float, half: float) -> Path:
    """A hole in the mix: white, its edge drawn."""
    point = f"C {across - half} {level + down + half * 0.2} {across + half} {level + down + half * 0.2}"
    drawn = f"M {across - half} {level} L {across - half} {level + down - half} {point} {across + half} "
    drawn += f"{level + down - half} L {across + half} {level}"
    return pen.shape(drawn, fill="#FFFFFF", stroke_mm=LINE_MM)
