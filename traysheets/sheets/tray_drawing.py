"""A tray from above, exactly to scale: its edge, its marked corner, rows and columns, every cell at its true place.

The same drawing serves the maps and, with one batch picked out, the record pages. What a single cell looks like is
`cells.py`. Rows of like cells are stamps, so that a full tray takes about as many marks as it has rows.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations_with_replacement, groupby
from typing import TypeVar

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.cells import row_letters
from traysheets.page.lettering import cap_height_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Clip, Mark, Page, Path, Place, Rect, Stamp, Text
from traysheets.sheets.cell_parts import Box, Filling, Label
from traysheets.sheets.cells import Picture, empty, faded, picture
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.job import Job
from traysheets.sheets.looks import looks
from traysheets.sheets.phrases import count_in_cell, on_top
from traysheets.trade.papers import SCALES
from traysheets.trade.trays import Tray

K = TypeVar("K")
V = TypeVar("V")

EMPTY = "empty"
"""What the stamp of a cell without a batch stands for; that of any other stands for the code of its batch."""

GROUND = "#F4F4F1"
PICTURE_WIDTH_MM = 152.0
"""Widest drawing of a record page: read on a phone, where letters must stay large beside the tray."""

_LABEL_GAP_MM = 1.6
_OUTLINE_MM = 0.5
_LEAST_CORNER_MM = 3.0
_MOST_CORNER_MM = 9.0
_BOTH_SIDES_FROM = 8
"""From this many columns on, row letters stand at both ends of the rows."""
_MOST_KEPT = 500
"""Drawings kept for the trays that follow, so that memory does not grow with their number."""
_MANY_ROWS = 4
"""From this many rows of a batch on, one drawn once takes less room in a file than its cells set one by one."""


@dataclass(frozen=True, slots=True)
class Segment:
    """Neighbouring cells of one row with the same batch in them, or none: `cells` of them from `column`, from 0."""

    batch: int | None
    row: int
    column: int
    cells: int


def segments(tray: ArrangedTray) -> Iterator[Segment]:
    """The cells of a tray in reading order, put together to segments."""
    contents, columns = tray.cell_batches(), tray.kind.columns
    for row in range(tray.kind.rows):
        column = 0
        for batch, group in groupby(contents[row * columns : (row + 1) * columns]):
            cells = len(list(group))
            yield Segment(batch, row, column, cells)
            column += cells


class TrayDrawing:
    """The trays of one job, drawn at any scale. Keeps every stamp it makes, so that all pages share them."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._looks = looks(job)
        self._scaled: dict[tuple[str, float], ScaledTray] = {}
        self._strips: dict[tuple[str, float, int | None, bool, int], Stamp] = {}
        self._pictures: dict[tuple[str, float, int | None, bool], Picture] = {}
        self._widest: dict[str, str] = {}

    def scaled(self, kind: Tray, factor: float) -> "ScaledTray":
        """A kind of tray at a scale: `factor` millimetres on paper for a millimetre of the tray."""
        key = kind.name, factor
        if key not in self._scaled:
            self._scaled[key] = ScaledTray(kind, factor, WHITE if self._job.choices.grey else GROUND)
        return self._scaled[key]

    def marks(
        self, tray: ArrangedTray, factor: float, left: float, top: float, picked: int | None = None
    ) -> list[Mark]:
        """The drawing of a tray whose letters and numbers begin at (left, top).

        With a batch picked, all others are faint.
        """
        scaled = self.scaled(tray.kind, factor)
        marks: list[Mark] = [Place(scaled.ground, left, top)]
        for segment in segments(tray):
            faint = picked is not None and segment.batch != picked
            x, y = scaled.corner_mm(segment.row, segment.column)
            marks += self._segment(scaled, segment, faint, left + x, top + y)
        marks += self._zone_plates(scaled, tray, picked, left, top)
        return marks

    def _segment(self, scaled: "ScaledTray", segment: Segment, faint: bool, left: float, top: float) -> Iterator[Place]:
        """A whole row of a batch that has many is a stamp of its own; all else is set cell by cell."""
        shown = self._picture(scaled, segment.batch, faint)
        many = segment.batch is None or self._job.batch(segment.batch).cells >= _MANY_ROWS * scaled.kind.columns
        if (many and segment.cells == scaled.kind.columns) or not shown.says_code:
            yield Place(self._strip(scaled, segment.batch, faint, segment.cells), left, top)
            return
        for i in range(segment.cells):
            yield Place(shown.stamp, left + i * scaled.pitch_mm[0], top)

    def _strip(self, scaled: "ScaledTray", batch: int | None, faint: bool, cells: int) -> Stamp:
        """Like cells side by side; where none bears its code, a plate over them does."""
        key = scaled.kind.name, scaled.factor, batch, faint, cells
        return _kept(self._strips, key, lambda: self._side_by_side(scaled, batch, faint, cells))

    def _side_by_side(self, scaled: "ScaledTray", batch: int | None, faint: bool, cells: int) -> Stamp:
        shown = self._picture(scaled, batch, faint)
        places = tuple(Place(shown.stamp, i * scaled.pitch_mm[0], 0) for i in range(cells))
        width = (cells - 1) * scaled.pitch_mm[0] + scaled.box.width_mm
        plates = () if shown.says_code or batch is None else self._plates(batch, width, scaled.box.height_mm)
        whole = Stamp(f"{cells} × {shown.stamp.name}", width, scaled.box.height_mm, (*places, *plates))
        return shown.stamp if cells == 1 and not plates else whole

    def _plates(self, batch: int, width: float, height: float) -> tuple[Mark, ...]:
        """The code of a batch on a plate in the middle of so much room, if it goes in."""
        code = self._job.batch(batch).sowing.code
        for face in ("bold", "condensed-bold"):
            label = Label(code, face, LEAST_PT)
            if label.width_mm <= width and label.height_mm <= height:
                return tuple(label.marks((width - label.width_mm) / 2, (height - label.height_mm) / 2))
        return ()

    def _zone_plates(
        self, scaled: "ScaledTray", tray: ArrangedTray, picked: int | None, left: float, top: float
    ) -> Iterator[Place]:
        """Where cells are too low for a plate over a row, one plate for all rows of a run."""
        for run in tray.runs:
            if picked is not None or self._picture(scaled, run.batch, False).says_code:
                continue
            if self._plates(run.batch, scaled.width_mm, scaled.box.height_mm):
                continue
            for zone in scaled.zones(run):
                plates = self._plates(run.batch, zone.width_mm, zone.height_mm)
                if plates:
                    name = f"plate {self._job.batch(run.batch).sowing.code}"
                    yield Place(Stamp(name, zone.width_mm, zone.height_mm, plates), left + zone.x_mm, top + zone.y_mm)
                    break

    def _picture(self, scaled: "ScaledTray", batch: int | None, faint: bool) -> Picture:
        key = scaled.kind.name, scaled.factor, batch, faint
        return _kept(self._pictures, key, lambda: self._drawn(scaled, batch, faint))

    def _drawn(self, scaled: "ScaledTray", batch: int | None, faint: bool) -> Picture:
        """A cell of a batch, or an empty one, with what it stands for."""
        shown = self._shown(scaled, batch, faint)
        whose = EMPTY if batch is None else self._job.codes[batch]
        return replace(shown, stamp=replace(shown.stamp, stands_for=whose))

    def _shown(self, scaled: "ScaledTray", batch: int | None, faint: bool) -> Picture:
        filling = None if batch is None else self.filling(batch)
        if faint:
            return faded(scaled.box, *((filling.code, filling.code_like) if filling else ("", "")))
        return picture(scaled.box, filling) if filling else empty(scaled.box)

    def filling(self, batch: int) -> Filling:
        """What is in a cell of a batch, and how it is said."""
        facts = self._job.batch(batch)
        in_hole = facts.seeds_per_station
        holes, seeds = (facts.stations or 0, in_hole.value) if in_hole else (0, facts.seeds_per_cell.value)
        if facts.sowing.method == "single":
            holes = 1
        count = count_in_cell(facts, self._job.words)
        code_like, look = self._widest_code(facts.tray), self._looks[batch]
        return Filling(look, facts.sowing.code, count, holes, seeds, code_like, on_top(facts))

    def _widest_code(self, kind: Tray) -> str:
        """The widest code among the batches that stand in such trays."""
        if kind.name not in self._widest:
            codes = (batch.sowing.code for batch in self._job.reckoned.batches if batch.tray.name == kind.name)
            self._widest[kind.name] = max(codes, key=lambda code: (width_mm(code, "bold", 10), code), default="")
        return self._widest[kind.name]


def _kept(store: dict[K, V], key: K, make: Callable[[], V]) -> V:
    """What is stored under a key, made when it is not there; what was stored longest ago gives way."""
    if key not in store:
        if len(store) >= _MOST_KEPT:
            del store[next(iter(store))]
        store[key] = make()
    return store[key]


class ScaledTray:
    """One kind of tray at one scale: where all stands on paper, from the corner of its letters and numbers."""

    def __init__(self, kind: Tray, factor: float, ground: str) -> None:
        self.kind, self.factor = kind, factor
        self.box = Box(kind.cell_mm[0] * factor, kind.cell_mm[1] * factor, kind.shape == "round")
        self.pitch_mm = kind.pitch_mm[0] * factor, kind.pitch_mm[1] * factor
        self.tray_mm = kind.outer_mm[0] * factor, kind.outer_mm[1] * factor
        self._label_pt = min(max(7.0 + min(self.pitch_mm) / 4, 7.5), 13.0)
        letters = (width_mm(row_letters(row), "bold", self._label_pt) for row in range(kind.rows))
        self.left_mm = max(letters) + _LABEL_GAP_MM
        self.top_mm = cap_height_mm("bold", self._label_pt) + _LABEL_GAP_MM
        self._both_sides = kind.columns >= _BOTH_SIDES_FROM
        self.width_mm = self.left_mm * (2 if self._both_sides else 1) + self.tray_mm[0] + _OUTLINE_MM / 2
        self.height_mm = self.top_mm + self.tray_mm[1] + _OUTLINE_MM / 2
        self._colour = ground

    def zones(self, run: Run) -> list[Rect]:
        """The rectangles that whole rows of a run fill together, the largest first."""
        (first_row, first), (last_row, last) = self.kind.position(run.first), self.kind.position(run.last)
        found = []
        for top, bottom in combinations_with_replacement(range(first_row, last_row + 1), 2):
            start = first if top == first_row else 0
            end = last if bottom == last_row else self.kind.columns - 1
            if start <= end:
                (x, y), (right, low) = self.corner_mm(top, start), self.corner_mm(bottom, end)
                found.append(Rect(x, y, right - x + self.box.width_mm, low - y + self.box.height_mm))
        return sorted(found, key=lambda zone: -zone.width_mm * zone.height_mm)

    @cached_property
    def ground(self) -> Stamp:
        """The tray without its cells: edge, marked corner, letters and numbers."""
        return Stamp(f"{self.kind.name} from above", self.width_mm, self.height_mm, tuple(self._ground()))

    def corner_mm(self, row: int, column: int) -> tuple[float, float]:
        """Left and top edge of a cell."""
        x, y = self.kind.centre_mm(row * self.kind.columns + column)
        left = self.left_mm + x * self.factor - self.box.width_mm / 2
        return left, self.top_mm + y * self.factor - self.box.height_mm / 2

    def _ground(self) -> Iterator[Mark]:
        radius = min(0.02 * min(self.tray_mm), 2.0)
        yield Rect(self.left_mm, self.top_mm, *self.tray_mm, fill=self._colour, radius_mm=radius)
        yield self._corner(radius)
        yield Rect(self.left_mm, self.top_mm, *self.tray_mm, stroke=BLACK, stroke_mm=_OUTLINE_MM, radius_mm=radius)
        if self.kind.cells > 1:  # a single pot has no cells to be told apart
            yield from self._column_numbers()
            yield from self._row_letters()

    def _corner(self, radius: float) -> Mark:
        """The black corner at A1: between edge and cells where there is room, else a bracket round the corner."""
        x, y = self.left_mm, self.top_mm
        cell_x, cell_y = self.corner_mm(0, 0)
        side = min(cell_x - x + cell_y - y, _MOST_CORNER_MM)
        if side >= _LEAST_CORNER_MM:
            triangle = Path((("M", x, y), ("L", x + side, y), ("L", x, y + side), ("Z",)), fill=BLACK)
            return Clip(x, y, *self.tray_mm, (triangle,), radius)
        thick, long = _LABEL_GAP_MM - 0.4, min(7.0, min(self.tray_mm) / 3)
        corners = ((-thick, -thick), (long, -thick), (long, 0), (0, 0), (0, long), (-thick, long))
        lines = tuple(("M" if i == 0 else "L", x + across, y + down) for i, (across, down) in enumerate(corners))
        return Path((*lines, ("Z",)), fill=BLACK)

    def _column_numbers(self) -> Iterator[Mark]:
        names = [str(column + 1) for column in range(self.kind.columns)]
        room = max(width_mm(name, "bold", self._label_pt) for name in names) + 0.8
        for column in _labelled(self.kind.columns, room / self.pitch_mm[0]):
            x = self.corner_mm(0, column)[0] + self.box.width_mm / 2
            yield Text(x, self.top_mm - _LABEL_GAP_MM, names[column], "bold", self._label_pt, anchor="middle")

    def _row_letters(self) -> Iterator[Mark]:
        cap = cap_height_mm("bold", self._label_pt)
        for row in _labelled(self.kind.rows, (cap + 0.6) / self.pitch_mm[1]):
            y = min(self.corner_mm(row, 0)[1] + (self.box.height_mm + cap) / 2, self.height_mm - 0.1)
            yield Text(self.left_mm - _LABEL_GAP_MM, y, row_letters(row), "bold", self._label_pt, anchor="end")
            if self._both_sides:
                right = self.left_mm + self.tray_mm[0] + _LABEL_GAP_MM
                yield Text(right, y, row_letters(row), "bold", self._label_pt)


def _labelled(number: int, pitches_wide: float) -> Iterable[int]:
    """Which rows or columns are named when a name takes so many pitches: all, or every 2nd, 5th, 10th and so on."""
    if pitches_wide <= 1:
        return range(number)
    if pitches_wide <= 2:
        return range(0, number, 2)
    step = next((step for step in (5, 10, 20, 50) if pitches_wide <= step - 1), 100)
    return (0, *range(step - 1, number, step))


def tray_picture(job: Job, tray: ArrangedTray, picked: int | None = None, drawing: TrayDrawing | None = None) -> Page:
    """The tray from above, alone, for a record page: `picked` is the batch shown in full, the others are faint.

    Several pictures of one job are quicker made from one `drawing`.
    """
    drawing = drawing or TrayDrawing(job)
    fitting = (factor for factor in SCALES.values() if tray.kind.outer_mm[0] * factor <= PICTURE_WIDTH_MM)
    factor = max(fitting, default=min(SCALES.values()))
    scaled = drawing.scaled(tray.kind, factor)
    marks = tuple(drawing.marks(tray, factor, 0.5, 0.5, picked))
    return Page(scaled.width_mm + 1, scaled.height_mm + 1, marks, margin_mm=0)
