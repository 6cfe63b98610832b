"""The six pictures of sowing one batch: fill, press level, sow, cover, water, stick. They change with the lesson."""

from collections.abc import Callable, Iterator
from functools import lru_cache

from traysheets.page.marks import Mark, Stamp
from traysheets.sheets.lesson import Lesson
from traysheets.sheets.pictures.covering import cover
from traysheets.sheets.pictures.filling import fill, press
from traysheets.sheets.pictures.finishing import stick, water
from traysheets.sheets.pictures.pen import Pen, Tints
from traysheets.sheets.pictures.scene import HEIGHT, WIDTH, Scene
from traysheets.sheets.pictures.sowing import sow

NAMES = ("fill", "press level", "sow", "cover", "water", "stick")
"""Names of the stamps, in their order."""

_DRAWN: tuple[Callable[[Scene], Iterator[Mark]], ...] = (fill, press, sow, cover, water, stick)


@lru_cache(maxsize=128)
def six_pictures(lesson: Lesson, unit_mm: float, units: str, tints: Tints) -> tuple[Stamp, ...]:
    """The pictures in their order, each 60 x 30 times `unit_mm` in size; `units` are those of the rulers."""
    scene = Scene(Pen(0, 0, unit_mm), lesson, tints, units)
    width, height = WIDTH * unit_mm, HEIGHT * unit_mm
    return tuple(Stamp(name, width, height, tuple(draw(scene))) for name, draw in zip(NAMES, _DRAWN, strict=True))
