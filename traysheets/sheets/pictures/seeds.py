"""Seeds from above, in their own size and the shape of their family, each a stamp that is placed wherever one lies.

Six shapes tell families apart at a glance (common practice, no source): round cabbages, oval basils, angular onions,
flat tomatoes and marrows, tear-drop lettuces, knobbly clusters of beet.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from traysheets.page.marks import BLACK, Colour, Mark, Path, Place, Stamp
from traysheets.sheets.pictures.pen import THIN_MM, Pen, Tints
from traysheets.trade.crops import Crop

TURNS = 16
"""How many ways round seeds lie."""

_OUTLINED_FROM_MM = 4.0
_EDGE_MM = 0.14

_SHAPE_OF: dict[str, str] = {
    "Amaryllidaceae": "angular",
    "Asparagaceae": "angular",
    "Brassicaceae": "round",
    "Malvaceae": "round",
    "Solanaceae": "flat",
    "Cucurbitaceae": "drop",
    "Asteraceae": "drop",
    "Poaceae": "drop",
    "Plumbaginaceae": "drop",
    "Aizoaceae": "cluster",
    "Tropaeolaceae": "cluster",
    "Polygonaceae": "angular",
    "Ranunculaceae": "angular",
}
"""All other families have oval seeds."""

_UNIT: dict[str, str] = {
    "oval": "M -0.5 0 C -0.5 -0.34 -0.26 -0.5 0 -0.5 C 0.26 -0.5 0.5 -0.34 0.5 0 "
    "C 0.5 0.34 0.26 0.5 0 0.5 C -0.26 0.5 -0.5 0.34 -0.5 0 Z",
    "round": "M -0.5 0 C -0.5 -0.276 -0.276 -0.5 0 -0.5 C 0.276 -0.5 0.5 -0.276 0.5 0 "
    "C 0.5 0.276 0.276 0.5 0 0.5 C -0.276 0.5 -0.5 0.276 -0.5 0 Z",
    "angular": "M -0.5 0.06 C -0.44 -0.14 -0.3 -0.36 -0.12 -0.5 C 0.1 -0.5 0.3 -0.42 0.42 -0.26 "
    "C 0.5 -0.1 0.5 0.1 0.44 0.26 C 0.26 0.44 0.02 0.5 -0.2 0.5 C -0.36 0.4 -0.46 0.24 -0.5 0.06 Z",
    "flat": "M -0.5 0.1 C -0.42 -0.2 -0.2 -0.5 0.1 -0.5 C 0.36 -0.5 0.5 -0.26 0.5 0 "
    "C 0.5 0.3 0.34 0.5 0.08 0.5 C -0.12 0.5 -0.28 0.34 -0.36 0.26 C -0.4 0.22 -0.46 0.16 -0.5 0.1 Z",
    "drop": "M -0.5 0 C -0.34 -0.1 -0.1 -0.5 0.2 -0.5 C 0.38 -0.5 0.5 -0.26 0.5 0 "
    "C 0.5 0.26 0.38 0.5 0.2 0.5 C -0.1 0.5 -0.34 0.1 -0.5 0 Z",
    "cluster": "M -0.5 0.02 C -0.5 -0.2 -0.4 -0.28 -0.3 -0.26 C -0.28 -0.44 -0.12 -0.54 0.04 -0.46 "
    "C 0.16 -0.54 0.34 -0.44 0.34 -0.28 C 0.5 -0.24 0.54 -0.02 0.44 0.1 C 0.48 0.28 0.34 0.42 0.2 0.38 "
    "C 0.12 0.52 -0.1 0.54 -0.18 0.4 C -0.34 0.44 -0.46 0.3 -0.42 0.18 C -0.48 0.14 -0.5 0.08 -0.5 0.02 Z",
}
"""Outlines for a length and a width of one, the length across."""

_WITHIN: dict[str, str] = {
    "oval": "M -0.12 -0.3 C 0 -0.22 0.1 -0.22 0.2 -0.32",
    "angular": "M -0.3 0.1 C -0.1 -0.1 0.1 -0.16 0.34 -0.12",
    "flat": "M -0.28 0.06 C -0.2 -0.16 -0.04 -0.32 0.12 -0.32 C 0.26 -0.32 0.34 -0.16 0.34 0.02",
    "drop": "M -0.32 0 C -0.14 -0.08 0.04 -0.32 0.2 -0.32 C 0.32 -0.3 0.38 -0.16 0.38 0 "
    "C 0.38 0.16 0.32 0.3 0.2 0.32 C 0.04 0.32 -0.14 0.08 -0.32 0",
    "cluster": "M -0.2 -0.1 C -0.06 -0.22 0.06 -0.14 0.06 0 M 0.1 0.14 C 0.2 0.04 0.3 0.06 0.3 0.18",
}
"""A line inside the outline of large seeds."""

_USUAL_MM = (2.2, 1.6)
"""Size of a seed when no table says anything about it (judgement, no source)."""
_GRAMS_PER_MM3 = 1.1e-3
"""Density of seed, about that of water, as it sinks slowly (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class SeedKind:
    """What the seed of a crop looks like. `measured` says that its size is of the crop's own table."""

    shape: str
    length_mm: float
    width_mm: float
    measured: bool


def seed_kind(crop: Crop) -> SeedKind:
    """The seed of a crop; where its size is not known, as large as its weight makes a ball, else a usual size."""
    shape = "cluster" if crop.cluster else _SHAPE_OF.get(crop.family, "oval")
    if crop.seed_mm:
        return SeedKind(shape, *crop.seed_mm.value, measured=True)
    if crop.seeds_per_gram:
        volume_mm3 = 1 / crop.seeds_per_gram.value / _GRAMS_PER_MM3
        across = round((6 * volume_mm3 / math.pi) ** (1 / 3), 1)
        return SeedKind(shape, across, across, measured=False)
    return SeedKind(shape, *_USUAL_MM, measured=False)


def outline(kind: SeedKind, factor: float, degrees: float, tints: Tints, pen: Pen, *, edged: bool) -> list[Mark]:
    """One seed about the origin of a pen, turned clockwise. `edged` sets it off from seeds under it."""
    length, width = kind.length_mm * factor, kind.width_mm * factor
    large = length >= _OUTLINED_FROM_MM
    stroke: Colour | None = BLACK if large else tints.soil if edged else None
    turned = Pen(pen.x_mm, pen.y_mm, pen.unit_mm, degrees)
    fill = tints.large_seed if large else tints.seed
    marks: list[Mark] = [
        _stretched(_UNIT[kind.shape], length, width, turned, fill, stroke, THIN_MM if large else _EDGE_MM)
    ]
    if large and kind.shape in _WITHIN:
        marks.append(_stretched(_WITHIN[kind.shape], length, width, turned, None, BLACK, THIN_MM * 0.7))
    return marks


def _stretched(
    drawn: str, length: float, width: float, pen: Pen, fill: Colour | None, stroke: Colour | None, stroke_mm: float
) -> Path:
    """A unit shape with its own length and width."""
    words, across = [], True
    for word in drawn.split():
        if word.isalpha():
            words.append(word)
            continue
        words.append(repr(float(word) * (length if across else width)))
        across = not across
    return pen.shape(" ".join(words), fill, stroke, stroke_mm)


@lru_cache(maxsize=2048)
def _stamp(kind: SeedKind, factor: float, step: int, tints: Tints, edged: bool) -> Stamp:
    """A seed in the middle of a square; `step` of the turns within a quarter turn."""
    side = math.hypot(kind.length_mm, kind.width_mm) * factor + THIN_MM
    marks = outline(kind, factor, 360 / TURNS * step, tints, Pen(side / 2, side / 2), edged=edged)
    return Stamp("seed", side, side, tuple(marks))


_QUARTERS = 4


def seed(kind: SeedKind, factor: float, x: float, y: float, turn: int, tints: Tints, *, edged: bool = False) -> Place:
    """One seed about (x, y), drawn `factor` as large as it is; `turn` of `TURNS` ways round."""
    step, quarters = turn % (TURNS // _QUARTERS), turn // (TURNS // _QUARTERS) % _QUARTERS
    stamp = _stamp(kind, factor, step, tints, edged)
    half = stamp.width_mm / 2
    across, down = ((-half, -half), (half, -half), (half, half), (-half, half))[quarters]
    return Place(stamp, x + across, y + down, quarters)


def turn_of(number: int) -> int:
    """Which way round the `number`-th seed lies: all ways alike often, neighbours unlike."""
    return number * 7 % TURNS
