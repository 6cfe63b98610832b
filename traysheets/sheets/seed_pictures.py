"""Cells large enough to show their seeds: light ground, dots that can be counted, a hatched band above for the plates.

No hatch runs under seeds or letters. Where seeds lie is `seed_dots.py`. A cell whose seeds would be too small or too
close to count has no picture here.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from traysheets.page.hatches import hatched
from traysheets.page.marks import BLACK, WHITE, Circle, Clip, Line, Mark, Place, Stamp
from traysheets.sheets.cell_parts import Box, Filling, Label, outlined, sizes_pt, stamp
from traysheets.sheets.looks import Look
from traysheets.sheets.seed_dots import Ground, Point, closest_mm, in_hole, spread, stations

_LEAST_CELL_MM = 18.0
_LEAST_PT = 10.0
_GOOD_PT = 13.0
_MOST_PT = 26.0
_INSET_MM = 0.8
_LEAST_SWATCH_MM = 3.0
_MOST_BAND = 0.36
_LEAST_SPACING_MM = 1.5
_LEAST_DOT_MM = 0.36
_MOST_DOT_MM = 1.1
_MOST_DOTS = 600
_CLEAR_MM = 0.5


@dataclass(frozen=True, slots=True)
class _Band:
    """The hatched band at the top of a cell: its height, and the plates with their left edges."""

    height_mm: float
    top_mm: float
    code: Label
    code_left_mm: float
    count: Label
    count_left_mm: float


def with_seeds(box: Box, filling: Filling) -> list[Mark] | None:
    """The marks of a cell that shows its seeds; None when they or the letters do not fit."""
    if box.least_mm < _LEAST_CELL_MM:
        return None
    for band in _bands(box, filling):
        seeds = _seeds(box, filling.holes, filling.seeds, filling.on_top, round(band.height_mm, 3))
        if seeds:
            ground = _ground_and_band(box, filling.look, band.height_mm)
            return [Place(ground, 0, 0), Place(seeds, 0, 0), *_plates(band)]
    return None


def _plates(band: _Band) -> Iterator[Mark]:
    yield from band.code.marks(band.code_left_mm, band.top_mm)
    count_top_mm = band.top_mm + (band.code.height_mm - band.count.height_mm) / 2
    yield from band.count.marks(band.count_left_mm, count_top_mm)


def _bands(box: Box, filling: Filling) -> Iterator[_Band]:
    """Bands whose plates leave a swatch between them, those with larger letters first."""
    most_pt = min(max(0.42 * box.least_mm, _GOOD_PT), _MOST_PT)
    for size_pt in sizes_pt(round(most_pt * 2) / 2, _LEAST_PT):
        code = Label(filling.code, "bold", size_pt, filling.code_like)
        for count in _counts(filling.count, size_pt):
            band = (_round_band if box.round else _level_band)(box, code, count)
            if band and band.height_mm <= _MOST_BAND * box.height_mm:
                yield band
                break


def _counts(count: str, size_pt: float) -> Iterator[Label]:
    """The count as large as the code, else condensed, else a little smaller as well."""
    yield Label(count, "bold", size_pt)
    for smaller_pt in sizes_pt(size_pt, size_pt - 1.5):
        yield Label(count, "condensed-bold", smaller_pt)


def _level_band(box: Box, code: Label, count: Label) -> _Band | None:
    """Plates in the two corners, the swatch between."""
    if code.width_mm + count.width_mm + _LEAST_SWATCH_MM + 2 * _INSET_MM > box.width_mm:
        return None
    right = box.width_mm - _INSET_MM - count.width_mm
    return _Band(code.height_mm + 2 * _INSET_MM, _INSET_MM, code, _INSET_MM, count, right)


def _round_band(box: Box, code: Label, count: Label) -> _Band | None:
    """Plates side by side, as high as the circle is wide enough for them."""
    across = code.width_mm + count.width_mm + _LEAST_SWATCH_MM
    radius = box.radius_mm - _INSET_MM
    if across / 2 >= radius:
        return None
    top = box.radius_mm - math.sqrt(radius**2 - (across / 2) ** 2)
    left = box.width_mm / 2 - across / 2
    right = left + across - count.width_mm
    return _Band(top + code.height_mm + _INSET_MM, top, code, left, count, right)


@lru_cache(maxsize=512)
def _ground_and_band(box: Box, look: Look, band_mm: float) -> Stamp:
    """The cell without seeds and plates, which all batches of that look share."""
    swatch = hatched(look.hatch, box.width_mm, band_mm, look.colour)
    edge = Line(0, band_mm, box.width_mm, band_mm, stroke_mm=0.15)
    inside = (outlined(box, look.tint, None), swatch, edge)
    clip = Clip(0, 0, box.width_mm, box.height_mm, inside, box.radius_mm)
    return stamp(box, f"{look.hatch}, ground", (clip, outlined(box, None, BLACK)))


@lru_cache(maxsize=512)
def _seeds(box: Box, holes: int, seeds: int, on_top: bool, band_mm: float) -> Stamp | None:
    """The seeds alone, which all batches sown like that share; None when they are too many for the cell."""
    marks = _stations(box, holes, seeds, band_mm, on_top=on_top) if holes else _scattered(box, seeds, band_mm)
    return stamp(box, f"{holes} × {seeds}" if holes else str(seeds), marks) if marks else None


def _scattered(box: Box, seeds: int, band_mm: float) -> list[Mark] | None:
    """A dot for every seed, spread over the ground below the band; None when they would be too close to count."""
    if seeds > _MOST_DOTS:
        return None
    inset, below = _CLEAR_MM, band_mm + _CLEAR_MM
    circle = (box.width_mm / 2 - inset, box.height_mm / 2 - below, box.radius_mm - inset) if box.round else None
    ground = Ground(round(box.width_mm - 2 * inset, 3), round(box.height_mm - below - inset, 3), circle)
    if ground.width_mm * ground.height_mm < seeds * _LEAST_SPACING_MM**2:
        return None
    points = spread(seeds, ground)
    closest = min(closest_mm(points), ground.height_mm)
    if closest < _LEAST_SPACING_MM:
        return None
    radius = min(max(0.19 * closest, _LEAST_DOT_MM), _MOST_DOT_MM)
    return [Circle(x + inset, y + below, radius, fill=BLACK) for x, y in points]


def _stations(box: Box, holes: int, seeds: int, band_mm: float, *, on_top: bool) -> list[Mark] | None:
    """The holes with their seeds: about the cell's own middle, or lower, clear of the band, if they are larger so.

    Where seed lies on top, the seeds alone.
    """
    best_mm, best = 0.0, None
    for centres in _figures(box, holes, band_mm):
        room = min(closest_mm(centres) / 2, _clearance(box, centres, band_mm)) - _CLEAR_MM / 2
        hole = _hole(seeds, room, box.least_mm * (1.5 if holes == 1 else 1.0))
        if hole and hole.radius_mm > best_mm + 0.01:
            draw = hole.seeds_at if on_top else hole
            best_mm, best = hole.radius_mm, [mark for centre in centres for mark in draw(centre)]
    return best


def _figures(box: Box, holes: int, band_mm: float) -> Iterator[list[Point]]:
    """Where the holes may stand, the best first: about the middle, then lower; in round cells also closer together."""
    for top in (0.0, band_mm):
        for part in (1.0, 0.85, 0.7) if box.round else (1.0,):
            width, height = box.width_mm * part, (box.height_mm - top) * part
            left, above = (box.width_mm - width) / 2, top + (box.height_mm - top - height) / 2
            yield [(left + x, above + y) for x, y in stations(holes, width, height)]


def _clearance(box: Box, centres: Sequence[Point], band_mm: float) -> float:
    """How far the holes' centres are from the edge of the cell and from the band, at the least."""
    if box.round:
        middle = (box.width_mm / 2, box.height_mm / 2)
        edge = min(box.radius_mm - math.dist(centre, middle) for centre in centres)
    else:
        edge = min(min(x, box.width_mm - x, box.height_mm - y) for x, y in centres)
    return min(edge, min(y for _, y in centres) - band_mm)


@dataclass(frozen=True, slots=True)
class _Hole:
    """A hole: its radius, and the seeds in it about its middle."""

    radius_mm: float
    seed_mm: float
    seeds: tuple[Point, ...]

    def __call__(self, centre: Point) -> Iterator[Mark]:
        """The hole drawn there."""
        yield Circle(*centre, self.radius_mm, WHITE, BLACK, 0.2)
        yield from self.seeds_at(centre)

    def seeds_at(self, centre: Point) -> Iterator[Mark]:
        """Its seeds alone."""
        for x, y in self.seeds:
            yield Circle(centre[0] + x, centre[1] + y, self.seed_mm, BLACK)


def _hole(seeds: int, room_mm: float, cell_mm: float) -> _Hole | None:
    """The hole that suits the cell, else the largest there is room for; None when its seeds would be too small."""
    unit = in_hole(seeds)
    reach = max(math.hypot(x, y) for x, y in unit)
    parts = (
        reach * 2.6 + 2.3
    )  # radius of the hole for a seed radius of one: neighbours 2.6 apart, 1.3 clear at the edge
    seed_mm = min(room_mm / parts, max(0.021 * cell_mm, _LEAST_DOT_MM), _MOST_DOT_MM)
    if seed_mm < _LEAST_DOT_MM - 0.04:
        return None
    seeds_at = tuple((x * 2.6 * seed_mm, y * 2.6 * seed_mm) for x, y in unit)
    return _Hole(parts * seed_mm, seed_mm, seeds_at)
