"""The third picture of sowing: seed is scattered over the whole vessel, dropped into its holes, or laid on top."""

from collections.abc import Iterator

from traysheets.page.marks import BLACK, Mark, Place, Rect
from traysheets.sheets.lesson import Covering
from traysheets.sheets.pictures import cut
from traysheets.sheets.pictures.from_above import cell_from_above
from traysheets.sheets.pictures.hands import pinching
from traysheets.sheets.pictures.pen import BOLD_MM, LINE_MM, Pen
from traysheets.sheets.pictures.pot import across_at, filled, hole
from traysheets.sheets.pictures.scene import DOT, POT_X, RIM_Y, Scene, close_by, few, gap_of, seen_from_side
from traysheets.sheets.pictures.strewn import rightly
from traysheets.sheets.pictures.tools import arrow, dibber


def sow(scene: Scene) -> Iterator[Mark]:
    """Seed falls: all over, or into its holes."""
    yield from filled(scene.at_pot, scene.pot, scene.gap, scene.tints)
    yield from (_into_holes if scene.lesson.holes else _scatter)(scene)


def _scatter(scene: Scene) -> Iterator[Mark]:
    """A hand that goes to and fro over the whole pot; beside it the way it goes, from above."""
    pen, level = scene.at_pot, scene.gap
    for x in across_at(scene.pot, level, 7):
        yield pen.circle(x, level - DOT, DOT, BLACK, None)
    for x, y in ((-2.6, -3.6), (-0.4, -2.9), (1.6, -3.9), (-1.5, -1.4), (0.8, -1.0), (2.7, -1.8)):
        yield pen.circle(x, y, DOT, BLACK, None)
    yield from pinching(
        scene.beside(POT_X + 0.5, RIM_Y - 5.0).moved(unit=0.52), scene.tints, gloved=scene.lesson.treated
    )
    yield from _to_and_fro(scene)
    yield from _sweep(scene, scene.beside(48.5, 15.5))


def _to_and_fro(scene: Scene) -> Iterator[Mark]:
    """Arrows at the left of the hand and at the right of its arm."""
    for side, start in ((-1, POT_X - 3.4), (1, POT_X + 15.0)):
        yield from arrow(scene.pen, start, 6.0, start + side * 4.4, 6.0, 1.6)


def _sweep(scene: Scene, pen: Pen) -> Iterator[Mark]:
    """The cell from above, and a line that winds over all of it."""
    half = 10.5
    if scene.lesson.round:
        yield pen.circle(0, 0, half, scene.tints.soil)
    else:
        corner, side = pen.at(-half, -half), 2 * half * pen.unit_mm
        yield Rect(*corner, side, side, scene.tints.soil, BLACK, LINE_MM, radius_mm=0.07 * side)
    turns = (-6.0, -2.0, 2.0, 6.0)
    drawn = ""
    for i, y in enumerate(turns):
        side = 1 if i % 2 == 0 else -1
        reach = 5.4 if scene.lesson.round and abs(y) > 4 else 7.2
        drawn += f"{'L' if i else 'M'} {-side * reach} {y} L {side * reach} {y} "
    yield pen.shape(drawn, stroke_mm=BOLD_MM, dash_mm=(1.6, 1.1))
    tip = -5.4 if scene.lesson.round else -7.2
    yield pen.shape(f"M {tip - 2} 6 L {tip + 0.8} 4.6 L {tip + 0.8} 7.4 Z", fill=BLACK, stroke=None)


def _into_holes(scene: Scene) -> Iterator[Mark]:
    """A dibber makes the holes, or nothing does where seed is laid on top; close by how deep they are."""
    pen, level, lesson = scene.at_pot, scene.gap, scene.lesson
    places = seen_from_side(scene)
    bare = lesson.covering is Covering.BARE
    down = 0.0 if bare else scene.cover if lesson.cover_mm else 3.0
    for x in places:
        if not bare:
            yield hole(pen, x, level, down + DOT, min(1.5, 0.42 * gap_of(places)))
        yield from few(pen, x, level + down, lesson.in_hole)
    yield from _placed_on_top(scene) if bare else _dibbed(scene, places, down)
    yield from _dropped(scene, places[-1])


def _placed_on_top(scene: Scene) -> Iterator[Mark]:
    """The cell from above, and the places where seed is laid."""
    lesson, side = scene.lesson, 21.0 * scene.pen.unit_mm
    factor = side / max(lesson.cell_mm)
    above = cell_from_above(lesson, rightly(lesson), factor, scene.tints, "places")
    left, top = scene.pen.at(48.0, 15.0)
    yield Place(above, left - above.width_mm / 2, top - above.height_mm / 2)


def _dropped(scene: Scene, x: float) -> Iterator[Mark]:
    """A hand over a place, seed falling from it."""
    pen = scene.at_pot
    yield pen.circle(x, -1.2, DOT, BLACK, None)
    yield from pinching(pen.moved(x, -3.0, 0.52), scene.tints, gloved=scene.lesson.treated)


def _dibbed(scene: Scene, places: list[float], down: float) -> Iterator[Mark]:
    """The dibber at the first hole, and the last hole in its real size."""
    x = places[0] if len(places) > 1 else places[0] - 4.0
    yield from dibber(scene.beside(POT_X + x, RIM_Y - 0.6).moved(unit=0.72), scene.tints)
    if scene.lesson.cover_mm:
        yield from close_by(scene, places[-1], scene.gap + down / 2)
        yield from cut.hole(scene.frame, scene.lesson.cover_mm, scene.lesson.seed, scene.lesson.in_hole, scene.tints)
