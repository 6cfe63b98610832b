"""A page of the guide: one batch, from the order at its head to the stick, for somebody who has never sown.

From the top: what to do and of what, right beside wrong, six pictures, then where it goes and how many in all. Here the
parts share out the page; each is drawn in a file of its own.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property

from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.marks import BLACK, WHITE, Mark, Page, Path, Place, Rect
from traysheets.reckon.model import Batch
from traysheets.sheets.frame import EDGE_MM
from traysheets.sheets.guide_band import Band
from traysheets.sheets.guide_panel import NOTE_MM, RULER_MM, Captions, Panel
from traysheets.sheets.guide_sayings import Sayings
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_steps import numbered
from traysheets.sheets.guide_text import (
    Room,
    clear_mm,
    dropped_mm,
    in_one_face,
    lettered,
    levelled,
    overhang_mm,
    set_in,
    width_of,
)
from traysheets.sheets.lesson import lesson
from traysheets.sheets.list_parts import swatch
from traysheets.sheets.pictures import scene
from traysheets.sheets.pictures.hands import open_glove
from traysheets.sheets.pictures.pen import LINE_MM, Pen
from traysheets.sheets.pictures.six import six_pictures

_TITLE_PT, _LEAST_TITLE_PT = 27.0, 24.0
_NAME_PT, _CELLS_PT = 17.0, 14.0
_LEAST_NAME_PART = 0.72
_CAPTION_PT = 14.5
_NOTE_PT = 9.0
_TAG_MM = 24.0
_GAP_MM = 4.0
_ACROSS = 3
_NUMBER_MM = 3.3
_GLOVE_MM = 16.0
_LEAST_PICTURE = 0.74
_SMALL_PAPER = 0.8
_LEAST_PANEL_MM, _LEAST_ROOM_MM = 38.0, 15.0
"""Height of the panel that the other parts give way for, and less than which no names and languages leave it."""
_BAND_MM = (31.0, 40.0, 52.0)
"""Height of the lowest part: at least, as a rule, at most."""


def batch_page(shared: Shared, batch: Batch, page: int, pages: int) -> Page:
    """The page of one batch, the `page`-th of the guide."""
    return _BatchPage(shared, batch).page(page, pages)


class _BatchPage:
    """One page in the making: heights are shared out from the top, the panel takes what the others leave."""

    def __init__(self, shared: Shared, batch: Batch) -> None:
        self._shared, self._batch = shared, batch
        self._job, self._lesson, self._tints = shared.job, lesson(batch), shared.tints
        self._say = Sayings(shared.speaking, batch, self._lesson)
        self._frame, self._left, self._width = shared.frame, shared.frame.left_mm, shared.width_mm
        self._grown, self._second = shared.grown, 1.0 if shared.two else 0.0

    def page(self, page: int, pages: int) -> Page:
        """The whole page: what room the panel leaves is shared out between the parts."""
        marks: list[Mark] = [*self._head()]
        spare = self._panel_room - self._panel.height_mm
        band = min(self._band_mm + spare * 0.4, _BAND_MM[2] * self._grown)
        gap = (spare - (band - self._band_mm)) / 3
        top = EDGE_MM + self._head_mm + _GAP_MM + gap / 2
        marks += self._panel.marks(self._left, top, self._captions)
        top += self._captions.height_mm + self._panel.height_mm + _GAP_MM + gap
        marks += self._pictures(top)
        top += sum(self._rows_mm(self._unit_mm)) + _GAP_MM + gap
        marks += Band(self._shared.drawing, self._job, self._batch, self._lesson, self._tints).marks(
            self._left, top, self._width, band, self._say, self._grown
        )
        marks += self._shared.foot(page, pages)
        order = self._say.order[0].replace("\N{NO-BREAK SPACE}", " ")
        title = f"{self._batch.sowing.variety}: {order}"
        return Page(self._frame.width_mm, self._frame.height_mm, tuple(marks), title)

    # ---- how high everything is ----

    @cached_property
    def _title_room(self) -> Room:
        size_pt = max(_TITLE_PT * self._grown, _LEAST_TITLE_PT * (0.75 if self._second else 1.0))
        height = size_pt * MM_PER_POINT * 1.16 * (2.05 + 1.5 * self._second)
        room = Room(self._left, EDGE_MM, self._width - (_TAG_MM + 4) * self._grown, height, size_pt, lines=2)
        return room.moved(0.0, overhang_mm(self._say.order, room))

    @cached_property
    def _title_mm(self) -> float:
        """Height of the order: accents of the names below it keep clear of its tails."""
        order, room = self._say.order, self._title_room
        over_mm = max(overhang_mm((name,), place) - place.top_mm for name, place in self._named)
        height = room.top_mm - EDGE_MM + set_in(order, room).height_mm
        return max(height + max(over_mm - clear_mm(order, room), 0.0), 10.5 * self._grown)

    @property
    def _named(self) -> tuple[tuple[str, Room], ...]:
        """Variety and crop with their places."""
        return tuple(zip((self._batch.sowing.variety, self._batch.sowing.crop_name), self._names, strict=True))

    @cached_property
    def _names(self) -> tuple[Room, Room]:
        """Where variety and crop stand, seen from the left edge: side by side, long names one below the other."""
        grown, sowing, wide = self._grown, self._batch.sowing, self._title_room.width_mm
        size_pt, gap, line = _NAME_PT * grown, 3.0 * grown, 7.6 * grown
        crop = Room(0.0, 0.0, wide * 0.45, line, size_pt, face="regular")
        beside = width_of(set_in((sowing.crop_name,), crop)) + 0.1
        variety = Room(0.0, 0.0, wide - beside - gap, line, size_pt)
        placed = set_in((sowing.variety,), variety)
        if placed.fitted[0].size_pt >= _LEAST_NAME_PART * size_pt:
            dropped = dropped_mm((sowing.variety,), variety)
            return variety, replace(crop, left_mm=width_of(placed) + gap, top_mm=dropped, width_mm=beside)
        variety = replace(variety, width_mm=wide, height_mm=2 * line, lines=2)
        below = Room(0.0, set_in((sowing.variety,), variety).height_mm, wide, line, 0.8 * size_pt, face="regular")
        return variety, below.moved(0.0, overhang_mm((sowing.crop_name,), below))

    @property
    def _name_mm(self) -> float:
        """Height of both."""
        crop = self._names[1]
        usual = 7.6 * self._grown if crop.left_mm else crop.top_mm + 6.0 * self._grown
        return max(usual, *(room.top_mm + set_in((name,), room).height_mm for name, room in self._named))

    @property
    def _cells_mm(self) -> float:
        return (6.2 + 5.0 * self._second) * self._grown

    @cached_property
    def _treated_mm(self) -> float:
        """Height of the warning of treated seed: all of it is said."""
        if not self._lesson.treated:
            return 0.0
        said = zip((self._say.treated, self._say.treated_how), self._treated_rooms, strict=True)
        return max(10.5 * self._grown, *(set_in(saying, room).height_mm + 1.6 for saying, room in said)) + 1.5

    @property
    def _treated_rooms(self) -> tuple[Room, Room]:
        """Where the warning and what to do stand, beside their sign, seen from the left edge."""
        grown, start = self._grown, _GLOVE_MM * self._grown
        half = (self._width - start) * 0.4
        most = 40.0 * grown
        warning = Room(start, 0.0, half - 4.0, most, 15.0 * grown, lines=2)
        how = Room(start + half, 0.0, self._width - start - half - 2.0, most, 10.0 * grown, lines=6, face="regular")
        return warning, how

    @property
    def _head_mm(self) -> float:
        return self._title_mm + self._name_mm + self._cells_mm + self._treated_mm

    @cached_property
    def _captions(self) -> Captions:
        """What is said over the panel, as high as in about a third of the width for each side, less on small paper."""
        most = (12.0 + 12.0 * self._second) * self._grown
        width = self._width * (0.34 if self._grown > _SMALL_PAPER else 0.21)
        room = Room(0.0, 0.0, width, most, _CAPTION_PT * self._grown, lines=3)
        said = max(set_in(saying, room).height_mm for saying in (self._say.right, self._say.wrong))
        height = max(said, 9.0 * self._grown) + 2.0
        return Captions(
            self._say.right, self._say.wrong, self._say.note, height, _CAPTION_PT * self._grown, _NOTE_PT * self._grown
        )

    @property
    def _caption_mm(self) -> float:
        """Room for the words below a picture."""
        return (12.0 + 10.0 * self._second) * self._grown

    @property
    def _box_mm(self) -> float:
        return (self._width - (_ACROSS - 1) * _GAP_MM) / _ACROSS

    @cached_property
    def _shared_out(self) -> tuple[float, float]:
        """Unit of the pictures and height of the band: less than usual where the cell then goes in at real size.

        They give way too where a cell drawn smaller, and a part of it at its real size, would have no room else.
        """
        unit, band = self._box_mm / scene.WIDTH, _BAND_MM[1] * self._grown
        can_give = (2 * scene.HEIGHT * unit * (1 - _LEAST_PICTURE), band - _BAND_MM[0] * self._grown)
        room = self._room_beside(unit, band)
        real = self._lesson.cell_mm[1] + RULER_MM + NOTE_MM + 0.1
        wanted = real if real <= room + sum(can_give) else _LEAST_PANEL_MM
        part = min(max((wanted - room) / sum(can_give), 0.0), 1.0)
        return unit * (1 - (1 - _LEAST_PICTURE) * part), band - can_give[1] * part

    @property
    def _unit_mm(self) -> float:
        return self._shared_out[0]

    @property
    def _band_mm(self) -> float:
        return self._shared_out[1]

    def _rows_mm(self, unit: float) -> tuple[float, ...]:
        """Heights of the rows of pictures, each with its words."""
        words = [set_in(caption, self._caption_room).height_mm for caption in self._say.captions]
        rows = (max(words[row : row + _ACROSS]) for row in range(0, len(words), _ACROSS))
        return tuple(scene.HEIGHT * unit + 3.0 + high for high in rows)

    def _room_beside(self, unit: float, band: float) -> float:
        """What the other parts leave for the panel."""
        taken = self._head_mm + self._captions.height_mm + sum(self._rows_mm(unit)) + band + 3 * _GAP_MM
        return self._frame.bottom_mm - EDGE_MM - taken

    @property
    def _panel_room(self) -> float:
        return max(self._room_beside(self._unit_mm, self._band_mm), _LEAST_ROOM_MM)

    @cached_property
    def _panel(self) -> Panel:
        return Panel(self._lesson, self._width, self._panel_room, self._tints)

    # ---- the parts ----

    def _head(self) -> Iterator[Mark]:
        """The order, the variety, how many cells; at the right the letters and the look that the map shows."""
        grown, sowing = self._grown, self._batch.sowing
        yield from lettered(self._say.order, self._title_room)
        top = EDGE_MM + self._title_mm
        wide = self._title_room.width_mm
        for name, room in self._named:
            yield from lettered((name,), room.moved(self._left, top))
        top += self._name_mm
        cells = Room(self._left, top, wide, self._cells_mm, _CELLS_PT * grown, face="regular", lines=2)
        yield from lettered(self._say.cells, cells)
        yield from self._tag(sowing.code)
        if self._lesson.treated:
            yield from self._treated(top + self._cells_mm)

    def _tag(self, code: str) -> Iterator[Mark]:
        """Letters, colour and hatch of the batch as on the map of its tray."""
        wide, grown = _TAG_MM * self._grown, self._grown
        left = self._left + self._width - wide
        yield Rect(left, EDGE_MM + 0.2, wide, 22.5 * grown, stroke=BLACK, stroke_mm=LINE_MM, radius_mm=2 * grown)
        letters = Room(left + 1.5, EDGE_MM + 1.2 * grown, wide - 3, 10.5 * grown, 24 * grown, anchor="middle")
        yield from levelled((code,), letters)
        look = self._shared.looks[self._batch.index]
        yield Place(swatch(look, wide - 5 * grown, 8.5 * grown), left + 2.5 * grown, EDGE_MM + 12 * grown)

    def _treated(self, top: float) -> Iterator[Mark]:
        """What must not be missed, with its sign."""
        grown, high = self._grown, self._treated_mm - 1.5
        wide, edge = _GLOVE_MM * grown - 4.0 * grown, 0.6 * grown
        yield Rect(self._left, top, self._width, high, fill=BLACK, radius_mm=1.5)
        yield Rect(self._left + edge, top + edge, wide, high - 2 * edge, fill=WHITE, radius_mm=1.0)
        unit = 9.0 * grown / 23
        hand = Pen(self._left + edge + wide / 2 - 0.4 * unit, top + high / 2 + 0.9 * unit, unit)
        yield from open_glove(hand, self._tints)
        for saying, room in zip((self._say.treated, self._say.treated_how), self._treated_rooms, strict=True):
            place = replace(room.moved(self._left, top), height_mm=high)
            yield from levelled(saying, place, WHITE)

    def _pictures(self, top: float) -> Iterator[Mark]:
        """The six pictures in two rows, numbered, a pointer from each to the next."""
        stamps = six_pictures(self._lesson, round(self._unit_mm, 3), self._job.units, self._tints)
        for number, (stamp, caption) in enumerate(zip(stamps, self._say.captions, strict=True)):
            left = self._left + number % _ACROSS * (self._box_mm + _GAP_MM)
            row = top + sum(self._rows_mm(self._unit_mm)[: number // _ACROSS])
            high = stamp.height_mm
            yield Rect(left, row, self._box_mm, high, fill=WHITE, stroke=BLACK, stroke_mm=LINE_MM, radius_mm=2)
            yield Place(stamp, left + (self._box_mm - stamp.width_mm) / 2, row)
            yield from numbered(left + 1.0, row + 1.0, number + 1, _NUMBER_MM * self._grown)
            if number % _ACROSS < _ACROSS - 1:
                yield _pointer(left + self._box_mm + _GAP_MM / 2, row + high / 2)
            yield from lettered(caption, self._caption_room.moved(left, row + high))

    @cached_property
    def _caption_room(self) -> Room:
        """Where the words below a picture go, seen from its corner: all in one face."""
        room = Room(0.5, 1.2, self._box_mm - 1, self._caption_mm - 1.5, _CAPTION_PT * self._grown, lines=2)
        return replace(room, face=in_one_face(self._say.captions, room))


def _pointer(x: float, y: float) -> Path:
    """A small triangle from one picture to the next."""
    return Path((("M", x - 1.1, y - 2.0), ("L", x + 1.3, y), ("L", x - 1.1, y + 2.0), ("Z",)), fill=BLACK)
