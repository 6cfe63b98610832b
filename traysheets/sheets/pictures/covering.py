"""The fourth picture of sowing: mix over the seed, its holes closed, no mix at all, or as the packet says."""

from collections.abc import Callable, Iterator

from traysheets.page.marks import BLACK, WHITE, Mark, Path
from traysheets.sheets.lesson import Covering
from traysheets.sheets.pictures import cut
from traysheets.sheets.pictures.pen import LINE_MM, THIN_MM, Pen
from traysheets.sheets.pictures.pot import across_at, filled, hole
from traysheets.sheets.pictures.scene import DOT, POT_X, RIM_Y, Scene, close_by, few, gap_of, on_top, seen_from_side
from traysheets.sheets.pictures.signs import cross
from traysheets.sheets.pictures.tools import arrow, packet, scoop


def cover(scene: Scene) -> Iterator[Mark]:
    """Mix over the seed, its holes closed, no mix at all, or as the packet says."""
    yield from _COVERINGS[scene.lesson.covering](scene)


def _mix_over(scene: Scene) -> Iterator[Mark]:
    pen, tints, seeds_at = scene.at_pot, scene.tints, scene.gap
    surface = max(seeds_at - scene.cover, 0.3)
    yield from filled(pen, scene.pot, surface, tints)
    half = scene.pot.half(surface + scene.cover)
    yield pen.line(-half, surface + scene.cover, half, surface + scene.cover, THIN_MM, BLACK, (0.9, 0.7))
    for x in across_at(scene.pot, surface + scene.cover, 7):
        yield pen.circle(x, surface + scene.cover - DOT, DOT, BLACK, None)
    yield from _sprinkled(scene)
    yield from close_by(scene, scene.pot.half(2) - 2.2, surface + scene.cover / 2)
    yield from cut.covered(scene.frame, scene.lesson.cover_mm or 0.0, scene.lesson.seed, 1, tints, closed_hole=False)


def _sprinkled(scene: Scene) -> Iterator[Mark]:
    pen, tints = scene.at_pot, scene.tints
    for x, y in ((-3.2, -4.4), (-1.4, -3.0), (0.2, -4.4), (-2.4, -1.6), (0.6, -1.8), (1.8, -3.4)):
        yield pen.circle(x, y, 0.4, tints.grain, None)
    yield from scoop(scene.beside(POT_X, RIM_Y - 6.5), tints)


def _holes_closed(scene: Scene) -> Iterator[Mark]:
    """The mix is pushed together over the seed."""
    pen, level, lesson = scene.at_pot, scene.gap, scene.lesson
    yield from filled(pen, scene.pot, level, scene.tints)
    places = seen_from_side(scene)
    half = min(1.5, 0.42 * gap_of(places))
    for x in places:
        edge = hole(pen, x, level, scene.cover + DOT, half)
        yield Path(edge.d, None, BLACK, THIN_MM, (0.7, 0.6))
        yield from few(pen, x, level + scene.cover, lesson.in_hole)
    for side in (-1, 1):
        yield from arrow(pen, side * 6.4 + places[0], -2.2, side * 1.6 + places[0], -2.2, 1.6)
    yield from close_by(scene, places[-1], level + scene.cover / 2)
    depth, seeds = lesson.cover_mm or 0.0, lesson.in_hole
    yield from cut.covered(scene.frame, depth, lesson.seed, seeds, scene.tints, closed_hole=True)


def _left_bare(scene: Scene) -> Iterator[Mark]:
    """Seed on top in the light; mix over it is crossed out."""
    pen, level, tints = scene.at_pot, scene.gap, scene.tints
    yield from filled(pen, scene.pot, level, tints)
    yield from on_top(scene)
    yield from _sun(scene.beside(POT_X, 5.4))
    yield from scoop(scene.beside(40.0, 21.0), tints)
    for x, y in ((41.2, 22.6), (42.2, 24.0), (41.0, 25.2), (42.4, 26.4)):
        yield scene.pen.circle(x, y, 0.45, tints.grain, None)
    yield from cross(scene.beside(48.5, 19.0).moved(unit=2.2), tints)


def _sun(pen: Pen) -> Iterator[Mark]:
    yield pen.circle(0, 0, 2.0, WHITE)
    for x, y in ((-1, 0), (1, 0), (0, 1), (-0.7, 0.7), (0.7, 0.7), (-0.7, -0.7), (0.7, -0.7), (0, -1)):
        yield pen.line(3.0 * x, 3.0 * y, 4.6 * x, 4.6 * y, LINE_MM)


def _as_the_packet_says(scene: Scene) -> Iterator[Mark]:
    pen, level, tints = scene.at_pot, scene.gap, scene.tints
    yield from filled(pen, scene.pot, level, tints)
    for x in seen_from_side(scene) if scene.lesson.holes else across_at(scene.pot, level, 7):
        yield pen.circle(x, level + 2.2, DOT, BLACK, None)
    yield from _sprinkled(scene)
    yield from packet(scene.beside(47.5, 16.0).moved(unit=1.4), opened=True)


_COVERINGS: dict[Covering, Callable[[Scene], Iterator[Mark]]] = {
    Covering.OVER: _mix_over,
    Covering.HOLES: _holes_closed,
    Covering.BARE: _left_bare,
    Covering.PACKET: _as_the_packet_says,
}
