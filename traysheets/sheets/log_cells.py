"""The cells of a batch as a grid to write in: rows as in the tray, so that what is counted or lost has its place.

Rows are kept as they are as long as a pencil can write two figures in a box; longer ones are broken over several lines
of wider boxes, the lines of a row close together. Pots that are trays of their own stand together, named by the numbers
of the trays.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from traysheets.arrange.model import Run
from traysheets.page.lettering import fit, fits
from traysheets.page.marks import BLACK, WHITE, Mark, Rect, Text
from traysheets.reckon.model import Batch
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.job import Job
from traysheets.sheets.panel import Panel
from traysheets.sheets.standing_places import in_trays

MOST_CELLS = 72
"""More cells than these nobody counts one by one."""

_TIGHT_BOX_MM = 7.8
"""Two figures go in: so narrow are boxes only where a row then stands on one line."""
_LEAST_BOX_MM = 9.6
_GOOD_BOX_MM = 11.5
_MOST_BOX_MM = 17.0
_BOX_HIGH_MM = 10.0
_ROW_GAP_MM = 1.6
"""Between rows of the tray that are broken over several lines."""
_GAP_MM = 5.0
_TITLE_MM = 4.6
_LEAST_TITLE_MM = 16.0
_HEADING_MM = 6.0
_OTHERS = "#D9D9D9"

Row = tuple[str, ...]
"""Names of boxes side by side; an empty one is a cell of another batch or of none."""


@dataclass(frozen=True, slots=True)
class Block:
    """The boxes of one tray."""

    title: str
    rows: tuple[Row, ...]
    lines_a_row: int = 1

    @property
    def across(self) -> int:
        """Boxes in its longest row."""
        return max(map(len, self.rows))

    def top_mm(self, line: int) -> float:
        """How far below the first line of boxes this one stands; for the number of lines the height of all."""
        gaps = line // self.lines_a_row if self.lines_a_row > 1 else 0
        return line * _BOX_HIGH_MM + gaps * _ROW_GAP_MM


class CellGrid:
    """The cells of a batch as blocks of boxes, laid out in a width."""

    def __init__(self, job: Job, batch: Batch, width_mm: float) -> None:
        self._job, self._width_mm = job, width_mm
        blocks = _blocks(job, batch, _most_across(batch, width_mm)) if batch.cells <= MOST_CELLS else []
        laid_out = ((box_mm, list(self._side_by_side(blocks, box_mm))) for box_mm in _box_widths(blocks, width_mm))
        self._box_mm, self._lines = min(laid_out, key=lambda found: (_height_mm(found[1]), -found[0]))
        self.height_mm = _height_mm(self._lines)

    def marks(self, panel: Panel, top: float) -> Iterator[Mark]:
        """The grid below a given top edge."""
        heading = fit(self._job.words("logs.each_cell"), "bold", panel.width_mm, 9.0, LEAST_PT)
        yield Text(panel.left_mm, top + 4.4, heading.lines[0], heading.face, heading.size_pt)
        top += _HEADING_MM
        for line in self._lines:
            left = panel.left_mm
            for block in line:
                yield from self._block(block, left, top)
                left += block.across * self._box_mm + _GAP_MM
            top += max(map(_block_mm, line))

    def _side_by_side(self, blocks: Sequence[Block], box_mm: float) -> Iterator[list[Block]]:
        """The blocks from the left, as many in a line as go into the width."""
        line: list[Block] = []
        for block in blocks:
            wide = box_mm * sum(other.across for other in (*line, block)) + _GAP_MM * len(line)
            if line and not fits(wide, self._width_mm):
                yield line
                line = []
            line.append(block)
        if line:
            yield line

    def _block(self, block: Block, left: float, top: float) -> Iterator[Mark]:
        title = fit(block.title, "regular", max(block.across * self._box_mm, _LEAST_TITLE_MM), 8.0, LEAST_PT)
        yield Text(left, top + _TITLE_MM - 1.4, title.lines[0], title.face, title.size_pt)
        top += _TITLE_MM
        for row, names in enumerate(block.rows):
            for column, name in enumerate(names):
                yield from self._box(name, left + column * self._box_mm, top + block.top_mm(row))

    def _box(self, name: str, x: float, y: float) -> Iterator[Mark]:
        yield Rect(x, y, self._box_mm, _BOX_HIGH_MM, WHITE if name else _OTHERS, BLACK, 0.25)
        if name:
            yield Text(x + 0.8, y + 2.9, name, "regular", LEAST_PT)


def _most_across(batch: Batch, width_mm: float) -> int:
    """How many boxes go side by side: a whole row of the tray if narrow ones hold it, else as many wider ones."""
    tight = int(width_mm / _TIGHT_BOX_MM)
    return tight if batch.tray.columns <= tight else int(width_mm / _LEAST_BOX_MM)


def _box_widths(blocks: Sequence[Block], width_mm: float) -> Iterator[float]:
    """Widths of boxes worth trying: as wide as is good, and narrower so that more trays stand side by side."""
    across = max((block.across for block in blocks), default=1)
    yield min(_MOST_BOX_MM, width_mm / across)
    for number in range(2, len(blocks) + 1):
        box_mm = (width_mm - _GAP_MM * (number - 1)) / (number * across)
        if _GOOD_BOX_MM <= box_mm < _MOST_BOX_MM:
            yield box_mm


def _height_mm(blocks: Sequence[Sequence[Block]]) -> float:
    """Height of lines of blocks with the heading over them; nothing for none."""
    return _HEADING_MM + sum(max(map(_block_mm, line)) for line in blocks) if blocks else 0.0


def _block_mm(block: Block) -> float:
    """Height of a block and of the gap below it."""
    return _TITLE_MM + block.top_mm(len(block.rows)) + 1.6


def _blocks(job: Job, batch: Batch, most: int) -> list[Block]:
    """A block for each tray, rows of at most so many boxes."""
    runs = job.runs(batch)
    if batch.tray.cells == 1 and runs:
        names = [str(run.tray) for run in runs]
        across = min(most, ceil(len(names) / ceil(len(names) / most)))
        return [
            Block(in_trays(job, [batch]), tuple(tuple(names[i : i + across]) for i in range(0, len(names), across)))
        ]
    by_tray = groupby(runs, key=lambda run: run.tray)
    return [
        Block(job.words("records.tray", number=str(number)), *_rows(batch, list(own), most)) for number, own in by_tray
    ]


def _rows(batch: Batch, runs: Sequence[Run], most: int) -> tuple[tuple[Row, ...], int]:
    """The rows of the tray that the runs touch, from the first column in use to the last; over how many lines each."""
    kind = batch.tray
    own = {cell for run in runs for cell in range(run.first, run.last + 1)}
    places = [kind.position(cell) for cell in own]
    first, last = min(column for _, column in places), max(column for _, column in places)
    parts = ceil((last + 1 - first) / most)
    across = ceil((last + 1 - first) / parts)
    rows: list[Row] = []
    for row in sorted({row for row, _ in places}):
        cells = [row * kind.columns + column for column in range(first, last + 1)]
        names = [kind.cell_name(cell) if cell in own else "" for cell in cells]
        rows += [tuple(names[i : i + across]) for i in range(0, len(names), across)]
    while not any(rows[-1]):
        rows.pop()
    return tuple(rows), parts
