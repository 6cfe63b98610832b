"""A cut through the mix at its real size, with a ruler standing in it: how far below the rim, how deep a hole, a cover.

Where a depth is too large for its frame the cut is drawn at a named scale, and its ruler with it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from traysheets.base.units import MM_PER_INCH
from traysheets.page.marks import BLACK, WHITE, Clip, Line, Mark, Path, Place, Rect, Stamp
from traysheets.sheets.pictures.pen import BOLD_MM, LINE_MM, THIN_MM, Tints
from traysheets.sheets.pictures.pot import speck
from traysheets.sheets.pictures.seeds import SeedKind, seed
from traysheets.trade.papers import SCALES

RULER_MM = 4.4
_ARROW_MM = 1.8
_WALL_MM = 1.0
_AIR_MM = 3.6
_BELOW_MM = 4.0
_SMALLER = (*(factor for factor in SCALES.values() if factor < 1), 0.05, 0.02)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a cut is drawn, and in which units its ruler counts."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    units: str


def factor_for(deep_mm: float, seed_mm: float, frame: Frame) -> float:
    """The scale of a cut so deep: real size where it goes in, else the largest smaller one."""
    room = frame.height_mm - _AIR_MM - _BELOW_MM
    return next((factor for factor in (1.0, *_SMALLER) if (deep_mm + seed_mm / 2) * factor <= room), _SMALLER[-1])


def below_rim(frame: Frame, gap_mm: float, tints: Tints) -> Iterator[Mark]:
    """The rim of a vessel at the right, the mix below it, the ruler hung from the rim."""
    factor = factor_for(gap_mm, 0.0, frame)
    rim, surface, wall = _AIR_MM, _AIR_MM + gap_mm * factor, frame.width_mm - 2.4
    inside = [*_soil(frame, surface, tints), *_ruler(rim, frame.height_mm, factor, frame.units)]
    inside.append(Rect(wall, 0, 2.4, frame.height_mm, fill=WHITE))
    inside.append(Line(RULER_MM, rim, wall, rim, BLACK, THIN_MM, (1.0, 0.8)))
    inside.append(Line(wall, rim, wall, frame.height_mm, BLACK, _WALL_MM))
    inside.append(Line(wall - _WALL_MM / 2, rim, frame.width_mm, rim, BLACK, _WALL_MM))
    yield from _framed(frame, "cut: rim", [*inside, *_between((RULER_MM + wall) / 2, rim, surface)])


def hole(frame: Frame, deep_mm: float, kind: SeedKind, seeds: int, tints: Tints) -> Iterator[Mark]:
    """An open hole with seed at its bottom."""
    factor = factor_for(deep_mm, kind.width_mm, frame)
    surface, bottom = _AIR_MM, _AIR_MM + deep_mm * factor
    across, shown, half = _hole_in(frame, kind, seeds, factor)
    inside = [*_soil(frame, surface, tints), _open(across, surface, bottom, half)]
    inside += _ruler(surface, frame.height_mm, factor, frame.units)
    inside += _lying(across, bottom, shown, factor, kind, tints)
    yield from _framed(frame, "cut: hole", [*inside, *_between(RULER_MM + _ARROW_MM, surface, bottom)])


def covered(
    frame: Frame, deep_mm: float, kind: SeedKind, seeds: int, tints: Tints, *, closed_hole: bool
) -> Iterator[Mark]:
    """Seed under its cover: mix laid over the ground it lies on, or its hole filled."""
    factor = factor_for(deep_mm, kind.width_mm, frame)
    surface, ground = _AIR_MM, _AIR_MM + deep_mm * factor
    across, shown, half = _hole_in(frame, kind, seeds, factor)
    inside = [*_soil(frame, surface, tints), *_ruler(surface, frame.height_mm, factor, frame.units)]
    if closed_hole:
        edge = _open(across, surface, ground, half)
        inside.append(Path(edge.d, stroke=BLACK, stroke_mm=THIN_MM, dash_mm=(0.9, 0.7)))
    else:
        inside.append(Line(RULER_MM, ground, frame.width_mm, ground, BLACK, THIN_MM, (0.9, 0.7)))
    inside += _lying(across, max(ground, surface + kind.width_mm * factor), shown, factor, kind, tints)
    yield from _framed(frame, "cut: cover", [*inside, *_between(RULER_MM + _ARROW_MM, surface, ground)])


def _hole_in(frame: Frame, kind: SeedKind, seeds: int, factor: float) -> tuple[float, int, float]:
    """Where the middle of a hole stands, how many seeds are seen side by side in it, and half of its width."""
    left = RULER_MM + 2 * _ARROW_MM
    most = (frame.width_mm - left) / 2 - 1.0
    length = kind.length_mm * factor * 1.1
    shown = min(seeds, max(int(2 * most / length), 1))
    return (left + frame.width_mm) / 2 - 0.4, shown, min(max(shown * length / 2 + 0.5, 2.2), most)


def _framed(frame: Frame, name: str, inside: list[Mark]) -> Iterator[Mark]:
    """The marks in a frame with round corners, as a stamp set down where the frame stands."""
    box = (0.0, 0.0, frame.width_mm, frame.height_mm)
    edge = Rect(*box, stroke=BLACK, stroke_mm=LINE_MM, radius_mm=1.5)
    marks = (Rect(*box, fill=WHITE, radius_mm=1.5), Clip(*box, tuple(inside), radius_mm=1.5), edge)
    yield Place(Stamp(name, frame.width_mm, frame.height_mm, marks), frame.left_mm, frame.top_mm)


def _soil(frame: Frame, surface: float, tints: Tints) -> Iterator[Mark]:
    yield Rect(RULER_MM, surface, frame.width_mm, frame.height_mm, fill=tints.soil)
    across, down = frame.width_mm - RULER_MM, frame.height_mm - surface
    specks = (
        speck(
            RULER_MM + (0.3 + i * 0.7548776662466927) % 1 * across, surface + 0.7 + (i * 0.5698402909980532) % 1 * down
        )
        for i in range(int(across * down / 5))
    )
    yield Path(tuple(specks), fill=tints.grain)
    yield Line(RULER_MM, surface, frame.width_mm, surface, BLACK, LINE_MM)


def _open(across: float, surface: float, bottom: float, half: float) -> Path:
    """A hole with a round bottom."""
    curve = min(half, bottom - surface)
    low = bottom + curve * 0.12
    d = (
        ("M", across - half, surface),
        ("L", across - half, bottom - curve * 0.6),
        ("C", across - half, low, across - half * 0.6, low, across, low),
        ("C", across + half * 0.6, low, across + half, low, across + half, bottom - curve * 0.6),
        ("L", across + half, surface),
    )
    return Path(d, WHITE, BLACK, LINE_MM)


def _lying(across: float, ground: float, shown: int, factor: float, kind: SeedKind, tints: Tints) -> Iterator[Mark]:
    """Seeds side by side on the ground."""
    for i in range(shown):
        x = across + (i - (shown - 1) / 2) * kind.length_mm * factor * 1.1
        yield seed(kind, factor, x, ground - kind.width_mm / 2 * factor, 0, tints)


def _ruler(zero: float, end: float, factor: float, units: str) -> Iterator[Mark]:
    """A ruler from its zero down: whole mm with longer ticks every 5 and 10, or eighths of an inch."""
    yield Rect(0, zero, RULER_MM, end - zero, fill=WHITE)
    yield Line(RULER_MM, zero, RULER_MM, end, BLACK, LINE_MM)
    yield Line(0, zero, RULER_MM, zero, BLACK, LINE_MM)
    step_mm, long, longest = (MM_PER_INCH / 8, 2, 4) if units == "inch" else (1.0, 5, 10)
    while step_mm * factor < 0.9:
        step_mm, long, longest = step_mm * long, 2, longest // long * 2
    number = 1
    while zero + number * step_mm * factor < end:
        y = zero + number * step_mm * factor
        length = 2.8 if number % longest == 0 else 2.0 if number % long == 0 else 1.1
        yield Line(RULER_MM - length, y, RULER_MM, y, BLACK, THIN_MM if number % long == 0 else THIN_MM * 0.7)
        number += 1


def _between(x: float, top: float, bottom: float) -> Iterator[Mark]:
    """A double arrow from one height to another, or two single ones from outside where it is too short."""
    head = min(1.7, (bottom - top) * 0.45)
    yield Line(x, top + head * 0.8, x, bottom - head * 0.8, BLACK, BOLD_MM * 0.8)
    for tip, inward in ((top, 1), (bottom, -1)):
        back = tip + inward * head
        yield Path((("M", x, tip), ("L", x - head * 0.62, back), ("L", x + head * 0.62, back), ("Z",)), fill=BLACK)
