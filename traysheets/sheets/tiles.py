"""Tiles: a tray at full size on paper that is smaller than the tray, as a template to join and lay on the flat.

Where it is parted is `seams.py`, what is seen of it on a page is `cut_out.py`. Here the pages are drawn: the part of
the tray, its letters and numbers, marks to cut at, and a key to where the page stands in the whole.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import ceil

from traysheets.arrange.model import ArrangedTray
from traysheets.base.cells import row_letters
from traysheets.base.words import Words
from traysheets.page.lettering import cap_height_mm, fit, width_mm
from traysheets.page.marks import BLACK, WHITE, Clip, Line, Mark, Page, Place, Rect, Stamp, Text
from traysheets.page.reach import text_boxes
from traysheets.sheets.cut_out import CutOut
from traysheets.sheets.foot import Foot, foot
from traysheets.sheets.frame import EDGE_MM, LEAST_PT, Frame, frame_on
from traysheets.sheets.job import Job
from traysheets.sheets.seams import Piece, Side, Span, pieces
from traysheets.sheets.tray_drawing import TrayDrawing
from traysheets.trade.papers import SCALES, Paper
from traysheets.trade.trays import Tray

SCALE = "1:1"

_HEAD_MM, _HOW_LINE_MM = 11.5, 3.3
_LABEL_PT = 10.0
_LABEL_GAP_MM = 0.5
_CORNER_RIM_MM = 1.5
"""Seen beside the tray at the left and above: where the corner of a tray without a rim is marked."""
_RIM_MM = 0.3
_MARK_OUT_MM, _MARK_IN_MM, _MARK_STROKE_MM = 1.8, 3.2, 0.2
"""How far a mark to cut at stands out of the drawing and into it."""
_KEY_MM = (34.0, 10.0)


@dataclass(frozen=True)
class Tiling:
    """A tray parted: the frame of every page, and the pieces along its length and its width."""

    frame: Frame
    columns: tuple[Piece, ...]
    rows: tuple[Piece, ...]

    @property
    def pages(self) -> int:
        """How many pages it takes."""
        return len(self.columns) * len(self.rows)


@dataclass(frozen=True)
class Tile:
    """One page of a tiling: its column and row in the whole, from 0."""

    tiling: Tiling
    column: int
    row: int

    @cached_property
    def seen(self) -> tuple[Span, Span]:
        """What is seen of the tray, along its length and its width."""
        return self.tiling.columns[self.column].seen, self.tiling.rows[self.row].seen

    @cached_property
    def own(self) -> tuple[Span, Span]:
        """What is this page's own: from seam to seam."""
        return self.tiling.columns[self.column].own, self.tiling.rows[self.row].own


class Tiles:
    """The tiles of one job, which share all they can."""

    def __init__(self, job: Job, drawing: TrayDrawing) -> None:
        self._job, self._words, self._drawing = job, job.words, drawing
        self._cut_out = CutOut()
        self._keys: dict[Tile, Stamp] = {}

    def tiling(self, tray: ArrangedTray) -> Tiling:
        """The fewest pages that hold a tray at full size; turned paper where upright paper takes no fewer.

        Raises SheetError when the paper is too small for any.
        """
        paper = self._job.choices.paper
        ways = (_tiling(paper, tray.kind, self._letters(tray), landscape=landscape) for landscape in (True, False))
        return min(ways, key=lambda tiling: tiling.pages)

    def _letters(self, tray: ArrangedTray) -> tuple[tuple[Span, ...], tuple[Span, ...]]:
        """Where letters lie in the tray: along its length and its width."""
        boxes = [box for _, box in text_boxes(self._marks(tray, 0, 0)) if box[0] > 0 and box[1] > 0]
        across = dict.fromkeys((round(left, 2), round(right, 2)) for left, _, right, _ in boxes)
        down = dict.fromkeys((round(top, 2), round(bottom, 2)) for _, top, _, bottom in boxes)
        return tuple(across), tuple(down)

    def _marks(self, tray: ArrangedTray, left: float, top: float) -> list[Mark]:
        """The tray at full size with the corner of its edge there."""
        scaled = self._drawing.scaled(tray.kind, SCALES[SCALE])
        return self._drawing.marks(tray, SCALES[SCALE], left - scaled.left_mm, top - scaled.top_mm)

    def pages(self, tray: ArrangedTray, tiling: Tiling, first: int, pages: int) -> Iterator[Page]:
        """The pages of a tray, the first of which is page `first` of `pages`, row by row."""
        for row, column in product(range(len(tiling.rows)), range(len(tiling.columns))):
            yield self._page(tray, Tile(tiling, column, row), (first, pages))
            first += 1

    def _page(self, tray: ArrangedTray, tile: Tile, number: tuple[int, int]) -> Page:
        frame, (across, down) = tile.tiling.frame, tile.seen
        window = _window(tile, tray.kind)
        left, top = window.x_mm - across[0], window.y_mm - down[0]
        edges = window.x_mm, window.y_mm, window.x_mm + window.width_mm, window.y_mm + window.height_mm
        seen = tuple(self._cut_out.marks(self._marks(tray, left, top), edges))
        marks: list[Mark] = [Clip(window.x_mm, window.y_mm, window.width_mm, window.height_mm, seen)]
        marks += [*_labels(tile, tray.kind, window), *_cut_marks(tile, window), *self._head(tray, tile)]
        marks += self._foot(frame, number)
        name = self._words("maps.tray", number=tray.number)
        title = self._words("tiles.title", tray=name, place=_place(tile, self._words))
        return Page(frame.width_mm, frame.height_mm, tuple(marks), title)

    def _head(self, tray: ArrangedTray, tile: Tile) -> Iterator[Mark]:
        """Whose tile it is and which, how to join it, and the key at the right."""
        words, frame = self._words, tile.tiling.frame
        key = self._key(tile, tray.kind)
        yield Place(key, frame.right_mm - key.width_mm, EDGE_MM)
        right, base = frame.right_mm - key.width_mm - 4.0, EDGE_MM + 4.6
        of = words("maps.of", total=self._job.last_tray_number)
        name = f"{words('maps.tray', number=tray.number)} {of}"
        yield Text(frame.left_mm, base, name, "bold", 15.0)
        left = frame.left_mm + width_mm(name, "bold", 15.0) + 4.0
        place = fit(_place(tile, words), "regular", right - left, 13.0, LEAST_PT)
        yield Text(left, base, place.lines[0], place.face, place.size_pt)
        how = fit(words("tiles.how"), "regular", right - frame.left_mm, 8.5, LEAST_PT, lines=_how_lines(frame))
        for number, line in enumerate(how.lines):
            yield Text(frame.left_mm, base + 4.9 + number * _HOW_LINE_MM, line, how.face, how.size_pt)

    def _foot(self, frame: Frame, number: tuple[int, int]) -> Iterator[Mark]:
        words, (page, pages) = self._words, number
        shown = Foot(
            words("frame.scale", scale=SCALE),
            words("maps.corner"),
            self._job.plan.title,
            words("frame.page", page=page, pages=pages),
        )
        yield from foot(frame, shown, words, self._job.units)

    def _key(self, tile: Tile, kind: Tray) -> Stamp:
        """The whole tray small, parted as it is, with this tile filled."""
        if tile not in self._keys:
            scale = min(room / side for room, side in zip(_KEY_MM, kind.outer_mm, strict=True))
            marks = tuple(_key_marks(tile, scale))
            self._keys[tile] = Stamp("key", kind.outer_mm[0] * scale, kind.outer_mm[1] * scale, marks)
        return self._keys[tile]


def _place(tile: Tile, words: Words) -> str:
    """`row 1 of 2, column 2 of 3`."""
    tiling = tile.tiling
    rows, columns = len(tiling.rows), len(tiling.columns)
    return words("tiles.place", row=tile.row + 1, rows=rows, column=tile.column + 1, columns=columns)


def _tiling(paper: Paper, kind: Tray, letters: Sequence[tuple[Span, ...]], *, landscape: bool) -> Tiling:
    frame = frame_on(paper, landscape=landscape)
    rooms = frame.field_mm[0] - _left_mm(kind) - _MARK_OUT_MM, frame.bottom_mm - _top_mm(frame) - _MARK_OUT_MM - 0.5
    across, down = (
        pieces(Side((-_CORNER_RIM_MM, kind.outer_mm[i] + _RIM_MM), _cells(kind, i), letters[i], rooms[i]))
        for i in (0, 1)
    )
    return Tiling(frame, across, down)


def _cells(kind: Tray, side: int) -> tuple[Span, ...]:
    """From where to where the cells of the first row or column lie, along the length (0) or the width (1)."""
    firsts = range(kind.columns) if side == 0 else range(0, kind.cells, kind.columns)
    middles = (kind.centre_mm(cell)[side] for cell in firsts)
    half = kind.cell_mm[side] / 2
    return tuple((middle - half, middle + half) for middle in middles)


def _left_mm(kind: Tray) -> float:
    """Room for the letters of the rows, left of the drawing."""
    return max(width_mm(row_letters(row), "bold", _LABEL_PT) for row in range(kind.rows)) + _LABEL_GAP_MM


def _how_lines(frame: Frame) -> int:
    """How many lines the head has room for that say how to join the tiles."""
    return 2 if frame.narrow else 1


def _top_mm(frame: Frame) -> float:
    """Where the drawing begins, below the head and the numbers of the columns."""
    head_mm = _HEAD_MM + (_how_lines(frame) - 1) * _HOW_LINE_MM
    return EDGE_MM + head_mm + cap_height_mm("bold", _LABEL_PT) + 2 * _LABEL_GAP_MM


def _window(tile: Tile, kind: Tray) -> Rect:
    """Where on the page the tile shows the tray: in the middle of its width, below the head."""
    frame, (across, down) = tile.tiling.frame, tile.seen
    wide, high = across[1] - across[0], down[1] - down[0]
    spare = frame.field_mm[0] - _left_mm(kind) - wide - _MARK_OUT_MM
    return Rect(frame.left_mm + _left_mm(kind) + spare / 2, _top_mm(frame), wide, high)


def _labels(tile: Tile, kind: Tray, window: Rect) -> Iterator[Text]:
    """Numbers of the columns above and letters of the rows at the left, for the cells that are the tile's own."""
    cap = cap_height_mm("bold", _LABEL_PT)
    for column, x in _labelled(_cells(kind, 0), tile.own[0], width_mm(str(kind.columns), "bold", _LABEL_PT)):
        at = window.x_mm + x - tile.seen[0][0]
        yield Text(at, window.y_mm - _LABEL_GAP_MM, str(column + 1), "bold", _LABEL_PT, anchor="middle")
    for row, y in _labelled(_cells(kind, 1), tile.own[1], cap):
        at = window.y_mm + y - tile.seen[1][0]
        yield Text(window.x_mm - _LABEL_GAP_MM, at + cap / 2, row_letters(row), "bold", _LABEL_PT, anchor="end")


def _labelled(cells: Sequence[Span], own: Span, label_mm: float) -> Iterator[tuple[int, float]]:
    """Numbers and middles of the cells that are named: all whose middle is the tile's own, as far as names fit."""
    pitch_mm = cells[1][0] - cells[0][0] if len(cells) > 1 else label_mm + 1
    step = ceil((label_mm + 0.8) / pitch_mm)
    for number, (start, end) in enumerate(cells):
        if own[0] <= (start + end) / 2 < own[1] and number % step == 0:
            yield number, (start + end) / 2


def _cut_marks(tile: Tile, window: Rect) -> Iterator[Line]:
    """Short lines across the edges of the drawing where it is to be cut: at both ends of every seam."""
    left, top = window.x_mm, window.y_mm
    right, bottom = left + window.width_mm, top + window.height_mm
    for x in _seams(tile.own[0], tile.seen[0]):
        at = left + x - tile.seen[0][0]
        yield Line(at, top - _MARK_OUT_MM, at, top + _MARK_IN_MM, stroke_mm=_MARK_STROKE_MM)
        yield Line(at, bottom - _MARK_IN_MM, at, bottom + _MARK_OUT_MM, stroke_mm=_MARK_STROKE_MM)
    for y in _seams(tile.own[1], tile.seen[1]):
        at = top + y - tile.seen[1][0]
        yield Line(left - _MARK_OUT_MM, at, left + _MARK_IN_MM, at, stroke_mm=_MARK_STROKE_MM)
        yield Line(right - _MARK_IN_MM, at, right + _MARK_OUT_MM, at, stroke_mm=_MARK_STROKE_MM)


def _seams(own: Span, seen: Span) -> Iterable[float]:
    """The ends of a tile's own part beyond which it shows its neighbours'."""
    return (end for end, last in zip(own, seen, strict=True) if end != last)


def _key_marks(tile: Tile, scale: float) -> Iterator[Mark]:
    for row, column in product(range(len(tile.tiling.rows)), range(len(tile.tiling.columns))):
        (left, right), (top, bottom) = tile.tiling.columns[column].own, tile.tiling.rows[row].own
        fill = BLACK if (row, column) == (tile.row, tile.column) else WHITE
        x, y = max(left, 0.0) * scale, max(top, 0.0) * scale
        yield Rect(x, y, (right - max(left, 0.0)) * scale, (bottom - max(top, 0.0)) * scale, fill, BLACK, 0.25)
