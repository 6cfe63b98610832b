"""The first two pictures of sowing: the vessel is filled, and its mix pressed level."""

from collections.abc import Iterator

from traysheets.page.marks import Mark
from traysheets.sheets.lesson import Vessel
from traysheets.sheets.pictures import cut
from traysheets.sheets.pictures.pen import THIN_MM, Pen
from traysheets.sheets.pictures.pot import DEPTH, filled
from traysheets.sheets.pictures.scene import POT_X, RIM_Y, Scene, close_by
from traysheets.sheets.pictures.signs import cross
from traysheets.sheets.pictures.tools import arrow, block_press, board, scoop


def fill(scene: Scene) -> Iterator[Mark]:
    """Mix from a scoop; close by how far below the rim it ends."""
    pen, tints = scene.at_pot, scene.tints
    if scene.lesson.vessel is Vessel.BLOCK:
        yield from block_press(scene.beside(30.0, RIM_Y), scene.pot, tints)
        return
    yield from filled(pen, scene.pot, scene.gap, tints, loose=True)
    for x, y in ((-0.8, -4.6), (0.4, -3.4), (-0.6, -2.0), (0.7, -1.0), (-0.2, 0.2)):
        yield pen.circle(x, y, 0.45, tints.grain, None)
    yield from scoop(scene.beside(POT_X, RIM_Y - 6.5), tints)
    yield from close_by(scene, scene.pot.half(0), scene.gap / 2)
    yield from cut.below_rim(scene.frame, scene.lesson.gap_mm, tints)


def press(scene: Scene) -> Iterator[Mark]:
    """A board that presses; beside it a surface with dips, crossed out."""
    pen, tints = scene.at_pot, scene.tints
    if scene.lesson.vessel is Vessel.BLOCK:
        yield from _blocks_apart(scene)
        return
    yield from filled(pen, scene.pot, scene.gap, tints)
    yield from board(scene.beside(POT_X, RIM_Y + scene.gap), tints, 2 * scene.pot.half(scene.gap) - 1.2)
    yield from arrow(pen, 0, scene.gap - 14.5, 0, scene.gap - 8)
    yield from _with_dips(scene, scene.beside(46.5, RIM_Y))


def _blocks_apart(scene: Scene) -> Iterator[Mark]:
    """Whole blocks with air between them; beside them a broken one, crossed out."""
    it, tints = scene.pot, scene.tints
    for x in (11.4, 28.0):
        yield from filled(scene.beside(x, RIM_Y), it, 0.0, tints)
    pen = scene.beside(48.0, RIM_Y)
    half = it.half(0)
    broken = (
        f"M {-half - 2} {DEPTH} C {-half} {DEPTH - 5} {-half} 3 {-half * 0.6} 4 L {-half * 0.2} 1 L {half * 0.1} 6 "
    )
    broken += f"L {half * 0.5} 5 C {half} 7 {half} {DEPTH - 4} {half + 3} {DEPTH} Z"
    yield pen.shape(broken, fill=tints.soil)
    yield pen.line(-half - 3, DEPTH, half + 3.5, DEPTH, 0.7)
    yield from cross(pen.moved(0, -7.5), tints)


def _with_dips(scene: Scene, pen: Pen) -> Iterator[Mark]:
    it, level = scene.pot, scene.gap
    yield from filled(pen, it, level + 1.6, scene.tints)
    half = it.half(level) - 0.4
    low, top = level + 1.6, level - 1.4
    hollow = f"{-half * 0.7} {top} {-half * 0.5} {low + 1} {-half * 0.2} {low + 0.6}"
    hump = f"{half * 0.1} {low} {half * 0.2} {top - 0.4} {half * 0.55} {top + 0.2}"
    end = f"{half * 0.8} {top + 0.6} {half * 0.8} {low} {half} {low}"
    bumps = f"M {-half} {low} L {-half} {top + 0.4} C {hollow} {hump} {end} Z"
    yield pen.shape(bumps, fill=scene.tints.soil, stroke_mm=THIN_MM)
    yield from cross(pen.moved(0, -7.5), scene.tints)
