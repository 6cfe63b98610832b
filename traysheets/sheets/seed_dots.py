"""Where seeds lie: spread evenly over a ground, on the regular figures of station sowing, and inside one hole.

What is owned: positions, in millimetres. What is drawn there is decided elsewhere. Same input, same positions, always.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]

_SAMPLES_A_DOT = 24
"""Sample points of the ground for each dot: enough that a dot finds the middle of its own share to a few hundredths."""

_ROUNDS = 4
"""Rounds of evening out. Few: an even spread that still looks scattered, not a lattice that nobody sows."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Ground to lie on: a rectangle from the origin, and only inside `circle` (x, y, radius) where there is one."""

    width_mm: float
    height_mm: float
    circle: tuple[float, float, float] | None = None

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies on it."""
        if self.circle is None:
            return 0 <= x <= self.width_mm and 0 <= y <= self.height_mm
        centre_x, centre_y, radius = self.circle
        inside = math.hypot(x - centre_x, y - centre_y) <= radius
        return inside and 0 <= x <= self.width_mm and 0 <= y <= self.height_mm


@lru_cache(maxsize=512)
def spread(number: int, ground: Ground) -> tuple[Point, ...]:
    """`number` points spread evenly over a ground, each about half a spacing from its edge.

    A low-discrepancy sequence, then a few rounds of Lloyd's relaxation: every point moves to the middle of
    the ground that is nearer to it than to any other.
    """
    samples = _lattice(ground, number)
    if not samples:
        return ()
    points = _scattered(number, ground)
    for _ in range(_ROUNDS):
        points = _evened(points, samples, ground)
    return tuple(points)


def closest_mm(points: Sequence[Point]) -> float:
    """Distance of the two points that lie closest; infinite for fewer than two."""
    ordered = sorted(points)
    least = math.inf
    for i, (x, y) in enumerate(ordered):
        for other_x, other_y in ordered[i + 1 :]:
            if other_x - x >= least:
                break
            least = min(least, math.hypot(other_x - x, other_y - y))
    return least


def _scattered(number: int, ground: Ground) -> list[Point]:
    """The first points, on the ground, of the additive sequence of the plastic number (root of x^3 = x + 1)."""
    plastic = 1.32471795724474602596
    points: list[Point] = []
    step = 0
    while len(points) < number:
        step += 1
        x = (0.5 + step / plastic) % 1 * ground.width_mm
        y = (0.5 + step / plastic**2) % 1 * ground.height_mm
        if ground.holds(x, y):
            points.append((x, y))
    return points


def _lattice(ground: Ground, number: int) -> list[Point]:
    """Sample points in rows and columns over the ground."""
    step = math.sqrt(ground.width_mm * ground.height_mm / (_SAMPLES_A_DOT * max(number, 4)))
    across, down = max(round(ground.width_mm / step), 1), max(round(ground.height_mm / step), 1)
    points = (
        ((column + 0.5) * ground.width_mm / across, (row + 0.5) * ground.height_mm / down)
        for row in range(down)
        for column in range(across)
    )
    return [point for point in points if ground.holds(*point)]


def _evened(points: list[Point], samples: list[Point], ground: Ground) -> list[Point]:
    """Every point moved to the middle of the samples nearest to it."""
    side = math.sqrt(ground.width_mm * ground.height_mm / len(points))
    buckets: dict[tuple[int, int], list[int]] = {}
    for i, (x, y) in enumerate(points):
        buckets.setdefault((int(x / side), int(y / side)), []).append(i)
    sums = [[0.0, 0.0, 0.0] for _ in points]
    for x, y in samples:
        total = sums[_nearest(x, y, points, buckets, side)]
        total[0] += x
        total[1] += y
        total[2] += 1
    moved = zip(points, sums, strict=True)
    return [(x / n, y / n) if n else point for point, (x, y, n) in moved]


def _nearest(x: float, y: float, points: list[Point], buckets: dict[tuple[int, int], list[int]], side: float) -> int:
    """Index of the point nearest to (x, y), looked for in ever wider rings of buckets."""
    column, row = int(x / side), int(y / side)
    best, best_mm, reach = 0, math.inf, 0
    while best_mm > (reach - 1) * side:
        for key in _ring(column, row, reach):
            for i in buckets.get(key, ()):
                distance = math.hypot(points[i][0] - x, points[i][1] - y)
                if distance < best_mm:
                    best, best_mm = i, distance
        reach += 1
    return best


def _ring(column: int, row: int, reach: int) -> Iterator[tuple[int, int]]:
    """The squares exactly `reach` away from one."""
    for y in range(row - reach, row + reach + 1):
        step = 1 if abs(y - row) == reach else 2 * reach
        for x in range(column - reach, column + reach + 1, step):
            yield x, y


def stations(number: int, width_mm: float, height_mm: float) -> tuple[Point, ...]:
    """The holes of station sowing in a cell, from its top left corner: a regular figure about the middle.

    1 centre, 2 in line along the longer side, 3 an equilateral triangle, 4 a square, 5 a quincunx, 6 two rows of three,
    7 a ring about one, 8 rows of three, two and three, 9 three rows of three.
    """
    least, most = min(width_mm, height_mm), max(width_mm, height_mm)
    unit = {2: most, 6: min(most / 3, least / 2) * 0.94}.get(number, least)
    figure = [(x * unit, y * unit) for x, y in _FIGURES[number]]
    turned = [(-y, x) for x, y in figure] if number in _LENGTHWISE and width_mm < height_mm else figure
    return tuple((width_mm / 2 + x, height_mm / 2 + y) for x, y in turned)


def _around(number: int, radius: float, first_degrees: float) -> list[Point]:
    """Points on a ring about the origin, the first at an angle from the right, counted clockwise."""
    angles = (math.radians(first_degrees + 360 * i / number) for i in range(number))
    return [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]


_GRID = 0.3
_FIGURES: dict[int, list[Point]] = {
    1: [(0, 0)],
    2: [(-0.235, 0), (0.235, 0)],
    3: _around(3, 0.28, 90),
    4: [(x, y) for y in (-0.23, 0.23) for x in (-0.23, 0.23)],
    5: [*((x, y) for y in (-0.27, 0.27) for x in (-0.27, 0.27)), (0, 0)],
    6: [(x, y) for y in (-0.5, 0.5) for x in (-1, 0, 1)],
    7: [(0, 0), *_around(6, 0.32, 0)],
    8: [(x * _GRID, y * _GRID) for y, row in ((-1, (-1, 0, 1)), (0, (-0.5, 0.5)), (1, (-1, 0, 1))) for x in row],
    9: [(x * _GRID, y * _GRID) for y in (-1, 0, 1) for x in (-1, 0, 1)],
}
"""Holes about the middle of a cell, in parts of its shorter side; two in parts of the longer, six in their steps."""

_LENGTHWISE = (2, 6)
"""Figures that lie along the longer side."""


@lru_cache(maxsize=128)
def in_hole(number: int) -> tuple[Point, ...]:
    """`number` seeds side by side about the origin, neighbours at a distance of one.

    A ring, with one inside from five on; more than eight lie as in the head of a sunflower.
    """
    if number == 1:
        return ((0.0, 0.0),)
    if number > 8:
        turn = math.pi * (3 - math.sqrt(5))
        points = [
            (math.sqrt(i + 0.5) * math.cos(i * turn), math.sqrt(i + 0.5) * math.sin(i * turn)) for i in range(number)
        ]
    else:
        outer = number if number < 5 else number - 1
        points = [*_around(outer, 1, 180 if outer == 2 else 90 if outer == 3 else 45), (0.0, 0.0)][:number]
    unit = closest_mm(points)
    return tuple((x / unit, y / unit) for x, y in points)
