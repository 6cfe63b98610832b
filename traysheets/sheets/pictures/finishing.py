"""The last two pictures of sowing: water, and the stick."""

from collections.abc import Iterator
from dataclasses import replace

from traysheets.page.marks import BLACK, WHITE, Mark
from traysheets.sheets.lesson import Covering
from traysheets.sheets.pictures.pen import THIN_MM, Pen
from traysheets.sheets.pictures.pot import filled
from traysheets.sheets.pictures.scene import POT_X, Scene, on_top
from traysheets.sheets.pictures.tools import arrow, drop, spray_bottle, watering_can

_FINE_DROPS = ((3.6, 4.2), (5.8, 6.6), (1.2, 7.2), (-1.6, 9.8), (3.6, 10.0), (-4.2, 6.2), (0.2, 12.4), (-3.8, 12.8))
_DROPS = ((-5.2, -3.8), (-2.0, -5.2), (1.4, -6.4), (-3.6, -0.6), (-0.4, -2.0), (2.6, -3.4), (0.6, 0.6), (4.0, -0.4))


def water(scene: Scene) -> Iterator[Mark]:
    """Drops from a can, or for fine seed a mist from a bottle."""
    scene = replace(scene, pot_x=POT_X + 5)
    yield from filled(scene.at_pot, scene.pot, scene.gap, scene.tints)
    if scene.lesson.covering is Covering.BARE:
        yield from on_top(scene)
    yield from (_mist if scene.lesson.fine else _shower)(scene)


def _mist(scene: Scene) -> Iterator[Mark]:
    """Fine drops from a spray bottle."""
    for x, y in _FINE_DROPS:
        yield drop(scene.beside(scene.pot_x, 1.5), scene.tints, x, y, 0.6)
    yield from spray_bottle(scene.beside(scene.pot_x + 8.6, 4.0), scene.tints)


def _shower(scene: Scene) -> Iterator[Mark]:
    """Drops from the rose of a can."""
    for x, y in _DROPS:
        yield drop(scene.at_pot, scene.tints, x, y, 0.8)
    can = Pen(*scene.pen.at(scene.pot_x + 7.5, 14.6), scene.pen.unit_mm * 0.62, -10)
    yield from watering_can(can, scene.tints)


def stick(scene: Scene) -> Iterator[Mark]:
    """A stick in the pot, and from above in which cell."""
    pen, level = scene.at_pot, scene.gap
    yield from filled(pen, scene.pot, level, scene.tints)
    yield pen.shape(f"M -1.7 -12 L 1.7 -12 L 1.7 {level + 4} L 0 {level + 7} L -1.7 {level + 4} Z", fill=WHITE)
    yield pen.shape("M -1 -11 L 1 -11 L 1 -9 L -1 -9 Z", fill=BLACK, stroke=None)
    for y in (-7.6, -6.2, -4.8):
        yield pen.line(-0.9, y, 0.9, y, THIN_MM)
    yield from _which_cell(scene)


def _which_cell(scene: Scene) -> Iterator[Mark]:
    """A run of cells from above, the stick at its first, or one in each; of a single cell the cell."""
    pen, lesson = scene.beside(39.0, 9.0), scene.lesson
    rows, columns, sown = (1, 1, 1) if lesson.alone else (2, 4, 6)
    width, height = (19.4, 14.6) if lesson.alone else (4.4, 6.0)
    for number in range(rows * columns):
        x, y = number % columns * 5.0, number // columns * 6.6
        cell = f"M {x} {y} L {x + width} {y} L {x + width} {y + height} L {x} {y + height} Z"
        yield pen.shape(cell, fill=scene.tints.soil if number < sown else WHITE, stroke_mm=THIN_MM)
        if number < (sown if lesson.stick_in_every_cell else 1):
            bar = f"M {x + 1.6} {y + 0.8} L {x + 2.8} {y + 0.8} L {x + 2.8} {y + 5.2} L {x + 1.6} {y + 5.2} Z"
            yield pen.shape(bar, fill=WHITE)
    yield from arrow(pen, 2.2, -6.6, 2.2, -1.0)
