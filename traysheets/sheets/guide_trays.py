"""The trays of a sowing day drawn small, side by side, with what stands in them. Trays alike are drawn once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from traysheets.arrange.model import ArrangedTray
from traysheets.page.marks import Mark
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_text import Room, lettered, say
from traysheets.sheets.job import Job
from traysheets.sheets.lists import Strip
from traysheets.sheets.tray_drawing import ScaledTray, TrayDrawing
from traysheets.trade.trays import Tray

_GAP_MM = 5.0
_TITLE_MM = 6.6
_TITLE_PT = 13.0
_ABOVE_MM = 4.0
_MOST_HIGH = 0.6
"""Height of a drawing, as a part of its width."""
_LARGEST = 0.3


@dataclass(frozen=True, slots=True)
class _Alike:
    """Trays with consecutive numbers that one batch fills; or one tray."""

    tray: ArrangedTray
    last: int


def alike(trays: Sequence[ArrangedTray]) -> list[_Alike]:
    """The trays in their order, those filled by the same batch put together."""
    found: list[_Alike] = []
    for tray in trays:
        before = found[-1] if found else None
        if before and before.last == tray.number - 1 and _filled(tray) and _same(before.tray, tray):
            found[-1] = _Alike(before.tray, tray.number)
        else:
            found.append(_Alike(tray, tray.number))
    return found


def _filled(tray: ArrangedTray) -> bool:
    return len(tray.batches) == 1 and tray.spare == 0


def _same(one: ArrangedTray, other: ArrangedTray) -> bool:
    return one.kind == other.kind and one.cell_batches() == other.cell_batches()


def scaled_to(drawing: TrayDrawing, kind: Tray, width: float, height: float) -> ScaledTray:
    """The largest drawing of a tray that goes into a room, no larger than is of use."""
    factor = min(width / kind.outer_mm[0], height / kind.outer_mm[1], _LARGEST)
    while True:
        scaled = drawing.scaled(kind, round(factor, 5))
        if (scaled.width_mm <= width and scaled.height_mm <= height) or factor < 1e-3:
            return scaled
        factor *= 0.97


def tray_strips(shared: Shared, trays: Sequence[ArrangedTray], across: int) -> Iterator[Strip]:
    """Rows of so many trays, each under its number."""
    each = (shared.width_mm - (across - 1) * _GAP_MM) / across
    groups = alike(trays)
    for start in range(0, len(groups), across):
        row = groups[start : start + across]
        drawn = [scaled_to(shared.drawing, it.tray.kind, each, each * _MOST_HIGH) for it in row]
        title = _TITLE_MM * shared.grown * (1.7 if shared.two else 1.0)
        height = title + max(scaled.height_mm for scaled in drawn) + _ABOVE_MM
        yield Strip(height, _Row(shared, row, drawn, each, title).marks)


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of trays, to be drawn below a given edge."""

    shared: Shared
    row: Sequence[_Alike]
    drawn: Sequence[ScaledTray]
    each: float
    title: float

    def marks(self, top: float) -> Iterator[Mark]:
        """The numbers, and the trays below them."""
        size_pt = _TITLE_PT * self.shared.grown
        for i, (it, scaled) in enumerate(zip(self.row, self.drawn, strict=True)):
            x = self.shared.frame.left_mm + i * (self.each + _GAP_MM)
            room = Room(x, top + _ABOVE_MM, self.each, self.title - 1.0, size_pt)
            yield from lettered(say(self.shared.speaking, partial(_named, it)), room)
            yield from self.shared.drawing.marks(it.tray, scaled.factor, x, top + self.title + _ABOVE_MM)


def _named(it: _Alike, job: Job) -> str:
    """`Tray 3`, `Trays 4–9`."""
    if it.last == it.tray.number:
        return job.words("maps.tray", number=str(it.last))
    return job.words("guide.day_trays", first=str(it.tray.number), last=str(it.last))
