"""What is drawn on a template's page, and how large: a cell with its measures, and cells side by side at full size.

Only sizes are decided here; the drawings are those of `template_figure.py`.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from traysheets.base.words import Words
from traysheets.page.marks import Mark, Place, Stamp
from traysheets.sheets.template_figure import ASIDE, CHAIN_MM, Drawing, Figure, most_factor
from traysheets.trade.papers import SCALES
from traysheets.trade.trays import Tray

CAPTION_MM = 6.0
GAP_MM = 7.0

_MEASURES_MM = (2 * CHAIN_MM * ASIDE + 9.0, 2 * CHAIN_MM + 3.0)
"""What dimension lines take up at the right of a cell and below it."""
_MOST_FACTOR = 8
_GOOD_CELL_MM = 40.0
"""A cell is drawn at least so large where measures stand around it."""


@dataclass(frozen=True, slots=True)
class Room:
    """Width and height to draw in, and the words and units of the measures."""

    width_mm: float
    height_mm: float
    words: Words
    units: str

    def less(self, height_mm: float) -> "Room":
        """What is left below something."""
        return Room(self.width_mm, self.height_mm - height_mm, self.words, self.units)

    def holds(self, size_mm: tuple[float, float]) -> bool:
        """Whether a drawing of that size goes in."""
        return size_mm[0] <= self.width_mm and size_mm[1] <= self.height_mm


@dataclass(frozen=True, slots=True)
class Measured:
    """One cell with its measures, drawn `factor` times as large as it is; `scale` names a reduced one."""

    figure: Figure
    factor: float
    scale: str = ""

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height, the measures and the caption included."""
        width, height = (side * self.factor for side in self.figure.cell_mm)
        return width + _MEASURES_MM[0], CAPTION_MM + height + _MEASURES_MM[1]

    @property
    def scale_name(self) -> str:
        """The scale as it is written, `2:1` for one drawn larger."""
        return self.scale or f"{round(self.factor)}:1"

    def marks(self, words: Words, units: str) -> Iterator[Mark]:
        """Cell and measures, the corner of the cell at the origin."""
        drawing = Drawing(self.figure, self.factor)
        yield from drawing.marks()
        yield from drawing.measures(words, units)


@dataclass(frozen=True, slots=True)
class Block:
    """Cells side by side at full size, as they stand in the tray."""

    figure: Figure
    columns: int
    rows: int
    pitch_mm: tuple[float, float]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height, the caption included."""
        (width, height), (across, down) = self.figure.cell_mm, self.pitch_mm
        return width + (self.columns - 1) * across, CAPTION_MM + height + (self.rows - 1) * down

    def marks(self) -> Iterator[Place]:
        """The cells, the corner of the first at the origin."""
        cell = Stamp("cell", *self.figure.cell_mm, tuple(Drawing(self.figure, 1.0).marks()))
        for number in range(self.rows * self.columns):
            row, column = divmod(number, self.columns)
            yield Place(cell, column * self.pitch_mm[0], row * self.pitch_mm[1])


def measured(figure: Figure, room: Room) -> Measured:
    """The cell with its measures: at full size where they go between their arrows so, else larger.

    Where even full size is too large for the room, it is reduced to the largest scale that goes in.
    """
    if room.holds(Measured(figure, 1.0).size_mm):
        needed = max(most_factor(figure, room.words, room.units), _GOOD_CELL_MM / min(figure.cell_mm))
        return _enlarged(figure, needed, room.less(figure.cell_mm[1] + CAPTION_MM + GAP_MM))
    reduced = [Measured(figure, factor, scale) for scale, factor in SCALES.items()]
    return next((one for one in reduced if room.holds(one.size_mm)), reduced[-1])


def _enlarged(figure: Figure, needed: float, room: Room) -> Measured:
    """As many times as large as is needed, in whole numbers, or as the room allows."""
    factors = range(1, _MOST_FACTOR + 1)
    fitting = [factor for factor in factors if room.holds(Measured(figure, factor).size_mm)]
    return Measured(figure, float(next((factor for factor in fitting if factor >= needed), max(fitting, default=1))))


def block(figure: Figure, kind: Tray, room: Room) -> Block | None:
    """As many cells as the tray has and the room holds; None for no cell, or where none is sown in holes."""
    if not room.holds((figure.cell_mm[0], figure.cell_mm[1] + CAPTION_MM)):
        return None
    rooms = room.width_mm, room.height_mm - CAPTION_MM
    columns, rows = (
        min(most, int((space - cell) / pitch) + 1)
        for most, space, cell, pitch in zip(
            (kind.columns, kind.rows), rooms, figure.cell_mm, kind.pitch_mm, strict=True
        )
    )
    return Block(figure, columns, rows, kind.pitch_mm)
