"""templates.pdf: the cell at full size with its holes, to make a dibber board or to mark a lid; a page a figure.

Batches sown alike in like cells share a page. What the figure looks like is `template_figure.py`.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from traysheets.page.lettering import cap_height_mm, fit, width_mm
from traysheets.page.marks import Line, Mark, Page, Place, Stamp, Text
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets import phrases
from traysheets.sheets.dimensions import measure
from traysheets.sheets.foot import Foot, foot
from traysheets.sheets.frame import EDGE_MM, LEAST_PT, Frame, frame_on
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import RULE
from traysheets.sheets.template_figure import Figure
from traysheets.sheets.template_layout import CAPTION_MM, GAP_MM, Block, Measured, Room, block, measured
from traysheets.sheets.tray_titles import tray_title
from traysheets.trade.trays import Tray

_NAME_PT, _LINE_PT, _TEXT_PT, _SMALL_PT = 28.0, 10.5, 9.5, 8.0
_LINE_MM, _ROW_MM, _HEADING_MM, _BEFORE_ROWS_MM = 5.4, 5.6, 6.0, 1.5
_MOST_CODE = 0.4
"""Part of the width that a batch code of the grower's own may take."""
_ROWS_KEPT = 4
"""So many batches are named at any rate."""


def template_pages(job: Job) -> Iterator[Page]:
    """A page for every different figure of the chosen batches, in plan order."""
    figures: dict[tuple[object, ...], list[Batch]] = {}
    for batch in job.batches:
        figures.setdefault(_alike(batch), []).append(batch)
    for number, batches in enumerate(figures.values(), 1):
        yield _Template(job, batches).page(number, len(figures))


def _alike(batch: Batch) -> tuple[object, ...]:
    """What batches that share a template have in common: the holes, or places on top, and the top of the cell."""
    return _holes(batch), phrases.on_top(batch), batch.tray.cell_mm, batch.tray.shape


def _holes(batch: Batch) -> int:
    """How many holes a cell has: none when seed is scattered."""
    return batch.stations or int(batch.sowing.method is Method.SINGLE)


class _Template:
    """One page: the figure that all its batches are sown in."""

    def __init__(self, job: Job, batches: list[Batch]) -> None:
        self._job, self._words, self._batches = job, job.words, batches
        first = batches[0]
        seeds = max(batches, key=lambda batch: batch.cells).seeds_per_cell.value
        self._figure = Figure(_holes(first), seeds, first.tray.cell_mm, first.tray.shape == "round")
        self._kinds = tuple({batch.tray.name: batch.tray for batch in batches}.values())
        frames = (frame_on(job.choices.paper, landscape=turned) for turned in (False, True))
        self._frame = max(frames, key=lambda frame: min(measured(self._figure, self._room(frame)).factor, 1.0))

    def page(self, number: int, pages: int) -> Page:
        """The page, the `number`-th of `pages`."""
        frame, room = self._frame, self._room(self._frame)
        top = frame.bottom_mm - self._kept_mm - room.height_mm
        one = measured(self._figure, room)
        marks: list[Mark] = [*self._head()]
        stamp = Stamp(self._name, *one.size_mm, tuple(one.marks(self._words, self._job.units)))
        marks += self._captioned(self._caption(one), [Place(stamp, 0, 0)], top)
        top += one.size_mm[1] + GAP_MM
        beside = self._block(one, room)
        if beside:
            marks += self._captioned(self._beside(beside), beside.marks(), top)
            top += beside.size_mm[1] + GAP_MM
        marks += self._rows(top - GAP_MM + _BEFORE_ROWS_MM, frame.bottom_mm - 1.0)
        marks += self._foot(number, pages, one, beside)
        return Page(frame.width_mm, frame.height_mm, tuple(marks), f"{self._name}, {self._cell}")

    def _block(self, one: Measured, room: Room) -> Block | None:
        """Cells side by side below the one with its measures; none for scattered seed, or where they show no more."""
        beside = block(self._figure, self._kinds[0], room.less(one.size_mm[1] + GAP_MM))
        shows_more = beside is not None and (beside.columns * beside.rows > 1 or one.factor > 1)
        return beside if self._figure.holes and shows_more else None

    def _room(self, frame: Frame) -> Room:
        """Between the head and the list of batches."""
        top = EDGE_MM + 14.0 + _LINE_MM * len(self._lines()) + 3.0
        height = frame.bottom_mm - top - self._kept_mm
        return Room(frame.field_mm[0] - 1.0, height, self._words, self._job.units)

    @property
    def _kept_mm(self) -> float:
        """Room kept for the list of batches."""
        return _BEFORE_ROWS_MM + _HEADING_MM + _ROW_MM * min(len(self._batches), _ROWS_KEPT) + 1.1

    # ---- what is said ----

    @property
    def _name(self) -> str:
        return self._words(f"templates.figure_{self._figure.holes}")

    @property
    def _cell(self) -> str:
        across, down = (self._length(side) for side in self._figure.cell_mm)
        size = across if across == down else f"{across} × {down}"
        return self._words("templates.round" if self._figure.round else "templates.cell", size=size)

    def _lines(self) -> list[str]:
        """Under the name: the cell and its trays; holes and depth; how far cells are apart, for a whole board."""
        trays = ", ".join(tray_title(kind, self._words, self._job.units) for kind in self._kinds)
        boards = [self._board(kind) for kind in self._kinds if kind.cells > 1]
        return [f"{self._cell}  ·  {trays}", self._how(), *boards[:2]]

    def _how(self) -> str:
        words, figure = self._words, self._figure
        depth = self._depth()
        if not figure.holes:
            apart = words("templates.apart", size=self._length(figure.spacing_mm))
            return "  ·  ".join((self._seeds(), apart, *depth))
        if phrases.on_top(self._batches[0]):
            return "  ·  ".join((words("sow.places", n=figure.holes), *depth))
        hole = words("templates.hole", n=figure.holes, size=self._length(figure.hole_mm))
        return "  ·  ".join((hole, *depth))

    def _seeds(self) -> str:
        """How many seeds are scattered; where the batches differ also how many of them are drawn."""
        numbers = sorted({batch.seeds_per_cell.value for batch in self._batches})
        key = "templates.spread" if len(numbers) == 1 else "templates.spread_between"
        return self._words(key, n=self._figure.seeds, least=numbers[0], most=numbers[-1])

    def _depth(self) -> list[str]:
        """How deep the seed lies, from the least to the most of the batches; nothing where it is not known."""
        if phrases.on_top(self._batches[0]):
            return [self._words("sow.uncovered")]
        depths = sorted({batch.cover_mm.value for batch in self._batches if batch.cover_mm})
        if not depths:
            return []
        least, most = (self._length(depth) for depth in (depths[0], depths[-1]))
        key = "templates.deep" if least == most else "templates.deep_between"
        return [self._words(key, least=least, most=most)]

    def _board(self, kind: Tray) -> str:
        across, down = (self._length(pitch) for pitch in kind.pitch_mm)
        return self._words("templates.board", columns=kind.columns, rows=kind.rows, across=across, down=down)

    def _length(self, mm: float) -> str:
        """A length as exact as the measures on dimension lines."""
        shown = measure(mm, self._words, self._job.units)
        return self._words("measures.inches" if self._job.units == "inch" else "measures.millimetres", n=shown)

    def _caption(self, one: Measured) -> str:
        words, paper = self._words, self._job.choices.paper.name
        if one.scale:
            drawn = words("templates.reduced", scale=phrases.scale(one.scale, words), paper=paper)
        else:
            drawn = words("templates.enlarged", n=round(one.factor)) if one.factor > 1 else words("templates.full_size")
        return "  ·  ".join((drawn, words(f"templates.measures_{self._job.units}")))

    def _beside(self, beside: Block) -> str:
        return self._words("templates.beside", columns=beside.columns, rows=beside.rows)

    # ---- what is drawn ----

    def _head(self) -> Iterator[Mark]:
        frame, base = self._frame, EDGE_MM + 9.0
        name = fit(self._name, "bold", frame.field_mm[0], _NAME_PT, LEAST_PT)
        yield Text(frame.left_mm, base, name.lines[0], name.face, name.size_pt)
        for number, line in enumerate(self._lines()):
            fitted = fit(line, "bold" if number == 1 else "regular", frame.field_mm[0], _LINE_PT, LEAST_PT)
            yield Text(frame.left_mm, base + 7.0 + number * _LINE_MM, fitted.lines[0], fitted.face, fitted.size_pt)

    def _captioned(self, caption: str, drawn: Iterable[Place], top: float) -> Iterator[Mark]:
        """A drawing under its caption."""
        left = self._frame.left_mm
        fitted = fit(caption, "bold", self._frame.field_mm[0], _LINE_PT, LEAST_PT)
        yield Text(left, top + 3.6, fitted.lines[0], fitted.face, fitted.size_pt)
        for place in drawn:
            yield replace(place, x_mm=left + 0.5 + place.x_mm, y_mm=top + CAPTION_MM + place.y_mm)

    def _rows(self, top: float, bottom: float) -> Iterator[Mark]:
        """The batches that use the template, as many as have room, and how many more do."""
        words, left = self._words, self._frame.left_mm
        top += _HEADING_MM - 1.6
        yield Text(left, top, words("templates.batches"), "regular", _SMALL_PT)
        top += 1.6
        yield Line(left, top, self._frame.right_mm, top, stroke_mm=0.3)
        most = int((bottom - top) / _ROW_MM)
        shown = self._batches if len(self._batches) <= most else self._batches[: most - 1]
        for batch in shown:
            yield from self._row(batch, top)
            top += _ROW_MM
            yield Line(left, top, self._frame.right_mm, top, RULE, 0.2)
        if len(shown) < len(self._batches):
            more = words("templates.more", n=len(self._batches) - len(shown))
            yield Text(left, top + _ROW_MM - 1.6, more, "bold", _TEXT_PT)

    def _row(self, batch: Batch, top: float) -> Iterator[Mark]:
        """Map code, variety and crop, what goes in every cell, batch code."""
        frame, sowing = self._frame, batch.sowing
        base = top + (_ROW_MM + cap_height_mm("regular", _TEXT_PT)) / 2
        code = fit(self._job.codes[batch.index], "code", frame.field_mm[0] * _MOST_CODE, _TEXT_PT, LEAST_PT)
        code_mm = width_mm(code.lines[0], code.face, code.size_pt)
        yield Text(frame.right_mm, base, code.lines[0], code.face, code.size_pt, anchor="end")
        right = frame.right_mm - max(width_mm("00-000-0", "code", _TEXT_PT) + 4.0, code_mm + 1.5)
        in_cell_mm = frame.field_mm[0] * 0.25
        parts = (
            (sowing.code, "bold", frame.left_mm, 12.0),
            (
                f"{sowing.variety}  {sowing.crop_name}",
                "regular",
                frame.left_mm + 13.0,
                right - in_cell_mm - 16.0 - EDGE_MM,
            ),
            (phrases.in_every_cell(batch, self._words), "regular", right - in_cell_mm, in_cell_mm),
        )
        for text, face, x, room in parts:
            fitted = fit(text, face, room, _TEXT_PT, LEAST_PT)
            yield Text(x, base, fitted.lines[0], fitted.face, fitted.size_pt)

    def _foot(self, number: int, pages: int, one: Measured, beside: Block | None) -> Iterator[Mark]:
        """The scale of every drawing from the top; how to prick only where crosses stand at full size."""
        words, full_size = self._words, "1:1"
        scales = list(dict.fromkeys((one.scale_name, *([full_size] if beside else []))))
        scale = words("frame.scale", scale=" · ".join(phrases.scale(name, words) for name in scales))
        how = words("templates.how") if self._figure.holes and full_size in scales else ""
        page = words("frame.page", page=number, pages=pages)
        shown = Foot(scale, how, self._job.plan.title, page)
        yield from foot(self._frame, shown, words, self._job.units)
