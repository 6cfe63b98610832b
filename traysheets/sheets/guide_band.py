"""The lowest part of a batch's page: where it goes, how many in all, what its stick looks like."""

from collections.abc import Iterator

from traysheets.arrange.model import ArrangedTray
from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT, fit, fits, width_mm
from traysheets.page.marks import BLACK, WHITE, Mark, Path, Place, Rect, Text
from traysheets.page.wrapping import pieces
from traysheets.reckon.model import Batch
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.guide_sayings import Sayings
from traysheets.sheets.guide_text import Room, lettered, set_in
from traysheets.sheets.guide_trays import scaled_to
from traysheets.sheets.job import Job
from traysheets.sheets.lesson import Lesson
from traysheets.sheets.links import batch_text
from traysheets.sheets.pictures.pen import LINE_MM, Pen, Tints
from traysheets.sheets.pictures.pot import filled, pot
from traysheets.sheets.tray_drawing import ScaledTray, TrayDrawing, segments

_SHARES = (0.42, 0.29, 0.29)
_GAP_MM = 4.0
_PAD_MM = 2.0
_CAPTION_MM = 7.0
_CAPTION_PT = 14.0
_SUM_PT = 32.0
_FRAME_MM = 0.8
_MOST_TRAYS = 2
_LEAST_TRAY_MM = 34.0
_QUIET_MODULES = 3
_LARGEST_MODULE_MM = 0.6


class Band:
    """The three boxes of one batch."""

    def __init__(self, drawing: TrayDrawing, job: Job, batch: Batch, lesson: Lesson, tints: Tints) -> None:
        self._drawing, self._job, self._batch = drawing, job, batch
        self._lesson, self._tints = lesson, tints

    def marks(
        self, left: float, top: float, width: float, height: float, sayings: Sayings, grown: float
    ) -> Iterator[Mark]:
        """The boxes side by side, each with a line of words below its picture."""
        room = width - 2 * _GAP_MM
        words_mm = _CAPTION_MM * grown * (1.0 if len(sayings.in_all) == 1 else 1.75)
        where = _caption_room(0.0, 0.0, room * _SHARES[0] - 2 * _PAD_MM, words_mm, grown)
        told = not any(line.cut for line in set_in(sayings.where, where).fitted)
        captions = (sayings.where if told else sayings.where_in_short, sayings.in_all, sayings.sticks)
        pictures = (self._trays, self._sum, self._stick)
        for share, caption, draw in zip(_SHARES, captions, pictures, strict=True):
            wide = room * share
            yield Rect(left, top, wide, height, stroke=BLACK, stroke_mm=LINE_MM, radius_mm=2)
            inside = (left + _PAD_MM, top + _PAD_MM, wide - 2 * _PAD_MM, height - words_mm - 1.5 * _PAD_MM)
            yield from draw(*inside, grown)
            below = _caption_room(left + _PAD_MM, top + height - words_mm, wide - 2 * _PAD_MM, words_mm, grown)
            yield from lettered(caption, below)
            left += wide + _GAP_MM

    # ---- where ----

    def _trays(self, left: float, top: float, width: float, height: float, grown: float) -> Iterator[Mark]:
        """The trays the batch stands in, the first few, its cells picked out."""
        trays = self._of_batch()[: _MOST_TRAYS if width > _MOST_TRAYS * _LEAST_TRAY_MM else 1]
        if not trays:
            return
        each = (width - (len(trays) - 1) * _GAP_MM) / len(trays)
        scaled = scaled_to(self._drawing, trays[0].kind, each, height)
        whole = len(trays) * scaled.width_mm + (len(trays) - 1) * _GAP_MM
        start = left + (width - whole) / 2
        for i, tray in enumerate(trays):
            x = start + i * (scaled.width_mm + _GAP_MM)
            y = top + (height - scaled.height_mm) / 2
            yield from self._drawing.marks(tray, scaled.factor, x, y, picked=self._batch.index)
            yield from self._framed(tray, scaled, x, y)

    def _framed(self, tray: ArrangedTray, scaled: ScaledTray, left: float, top: float) -> Iterator[Mark]:
        """A bold frame round the cells of the batch in each row: seen without its colour too."""
        across, pitch = scaled.box.width_mm, scaled.pitch_mm[0]
        for it in segments(tray):
            if it.batch == self._batch.index:
                x, y = scaled.corner_mm(it.row, it.column)
                wide = (it.cells - 1) * pitch + across
                line_mm = min(_FRAME_MM, 0.15 * scaled.box.least_mm)
                yield Rect(left + x, top + y, wide, scaled.box.height_mm, None, BLACK, line_mm)

    def _of_batch(self) -> list[ArrangedTray]:
        numbers = {run.tray for run in self._job.runs(self._batch)}
        return [tray for tray in self._job.arranged.trays if tray.number in numbers]

    # ---- how many ----

    def _sum(self, left: float, top: float, width: float, height: float, grown: float) -> Iterator[Mark]:
        """Cells times seeds is all seeds, large; below each number what it counts."""
        words, batch = self._job.words, self._batch
        parts = [words.number(number) for number in (batch.cells, batch.seeds_per_cell.value, batch.seeds_total)]
        line = fit(f"{parts[0]} × {parts[1]} = {parts[2]}", "bold", width, _SUM_PT * grown, LEAST_PT)
        size_pt, face, whole = line.size_pt, line.face, width_mm(line.lines[0], line.face, line.size_pt)
        start, base = left + (width - whole) / 2, top + height * 0.5
        yield Text(start, base, line.lines[0], face, size_pt)
        before = ("", f"{parts[0]} × ", f"{parts[0]} × {parts[1]} = ")
        half = pot(self._lesson).half(0) + 3.5
        unit = min(height * 0.34 / 15, width / 75, width * 0.28 / (2 * half))
        for said, part, draw in zip(before, parts, (self._vessel, self._few, self._pile), strict=True):
            x = start + width_mm(said, face, size_pt) + width_mm(part, face, size_pt) / 2
            x = max(x, left + half * unit)
            yield from draw(Pen(x, base + height * 0.12, unit))

    def _vessel(self, pen: Pen) -> Iterator[Mark]:
        yield from filled(pen, pot(self._lesson), 1.5, self._tints)

    def _few(self, pen: Pen) -> Iterator[Mark]:
        yield pen.circle(0, 6, 6, self._tints.soil)
        for x, y in ((-2.6, 4), (1.8, 3), (3.0, 7), (-1.2, 8.8), (0, 5.8)):
            yield pen.circle(x, y, 0.95, BLACK, None)

    def _pile(self, pen: Pen) -> Iterator[Mark]:
        for row in range(5):
            for i in range(row + 1):
                yield pen.circle((i - row / 2) * 2.5, 1.2 + row * 2.3, 0.98, BLACK, None)

    # ---- the stick ----

    def _stick(self, left: float, top: float, width: float, height: float, grown: float) -> Iterator[Mark]:
        """The stick: outline, code, variety, batch code. A QR code that leaves the words no room is left out."""
        high = min(height, 22 * grown)
        top += (height - high) / 2
        yield _outline(left, top, width, high, pointed=self._job.choices.stock.point == "right")
        text, side, pad = batch_text(self._job, self._batch), high - 1.6, 0.8
        end = left + width - (high * 0.55 if self._job.choices.stock.point == "right" else pad)
        start = left + pad * 2
        if qr.smallest_side_mm(text, quiet_modules=_QUIET_MODULES) <= min(side, width * 0.5):
            code = qr.code(text, min(side, width * 0.5), _QUIET_MODULES, _LARGEST_MODULE_MM)
            beside = left + pad + code.stamp.width_mm
            if self._words_fit(end - beside):
                yield Place(code.stamp, left + pad, top + (high - code.stamp.height_mm) / 2)
                start = beside
        yield from self._stick_words(start, top, end - start, high, grown)

    def _words_fit(self, width: float) -> bool:
        """Whether every word of the variety and the batch code go whole into a width, at the least size."""
        code = width_mm(self._job.codes[self._batch.index], "code", LEAST_PT)
        parts = (width_mm(part, "condensed-bold", LEAST_PT) for part in pieces(self._batch.sowing.variety))
        return fits(max(code, *parts), width)

    def _stick_words(self, left: float, top: float, width: float, high: float, grown: float) -> Iterator[Mark]:
        variety = Room(left, top + high * 0.14, width, high * 0.52, 13 * grown, lines=2)
        yield from lettered((self._batch.sowing.variety,), variety)
        code = fit(self._job.codes[self._batch.index], "code", width, max(10 * grown, LEAST_PT), LEAST_PT)
        base = top + high * 0.68 + 0.8 * code.size_pt * MM_PER_POINT
        yield Text(left, base, code.lines[0], code.face, code.size_pt)


def _outline(left: float, top: float, width: float, high: float, *, pointed: bool) -> Mark:
    if not pointed:
        return Rect(left, top, width, high, WHITE, BLACK, LINE_MM, radius_mm=1.0)
    right, shoulder = left + width, left + width - high * 0.6
    d = (("M", left, top), ("L", shoulder, top), ("L", right, top + high / 2), ("L", shoulder, top + high))
    return Path((*d, ("L", left, top + high), ("Z",)), WHITE, BLACK, LINE_MM)


def _caption_room(left: float, top: float, width: float, height: float, grown: float) -> Room:
    """Where the words of a box stand."""
    return Room(left, top, width, height - 1.0, _CAPTION_PT * grown)
