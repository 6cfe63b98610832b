"""The legend of a tray map: a row for every batch of the tray.

Columns are as wide as what stands in them. Where the page is narrower than that they give way together; then what
stands in them is condensed, set smaller, wrapped and at last cut (`legend_cells.py`). How many rows stand on which page
is decided in `map_layout.py`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from traysheets.arrange.model import ArrangedTray
from traysheets.base.words import Words
from traysheets.page.hatches import hatched
from traysheets.page.lettering import MM_PER_POINT, Fitted, ascent_mm, block_height_mm, fit, width_mm
from traysheets.page.marks import BLACK, Line, Mark, Place, Rect, Stamp, Text
from traysheets.sheets import phrases
from traysheets.sheets.cautions import Hazard, line
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.job import Job
from traysheets.sheets.legend_cells import (
    CODE_PT,
    ROW_MM,
    TEXT_PT,
    Lines,
    Piece,
    drawn,
    line_mm,
    name_line,
    name_lines,
    needed_mm,
    text_lines,
)
from traysheets.sheets.list_parts import RULE
from traysheets.sheets.looks import Look
from traysheets.sheets.standing_places import spans

HEADING_MM = 4.4
_CAUTION_MM = 1.2
"""Below the caution, and above it."""

GROWTHS = (1.5, 1.4, 1.3, 1.2, 1.1, 1.0)
"""How much larger than at its tightest a legend is set where there is room."""

_HEADING_PT = 8.0
_SWATCH_MM = 11.0
_GAP_MM = 3.5
_NARROW_GAP_MM = 2.2
_GOOD_NAME_MM = 60.0
_MOST_GAP_MM = 16.0
_MOST_TEXT_MM = 44.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One row. `texts` stand in the columns behind the name; `treated` is the mark of treated seed, where it is."""

    look: Look
    code: str
    name: str
    crop: str
    texts: tuple[str, ...]
    treated: str


@dataclass(frozen=True, slots=True)
class _Column:
    """A column behind the name: its heading, its face, the width it keeps when others give way, and its side."""

    heading: str
    face: str
    least_mm: float
    to_right: bool = False


_COLUMNS = (
    _Column("in_every_cell", "bold", 18.0),
    _Column("cells_heading", "regular", 7.0, to_right=True),
    _Column("where", "regular", 10.0),
    _Column("seeds_heading", "regular", 9.0, to_right=True),
    _Column("cover", "regular", 10.0),
    _Column("batch", "code", 13.0),
)
_HEADINGS = ("variety", *(column.heading for column in _COLUMNS))
_LEAST_MM = (26.0, *(column.least_mm for column in _COLUMNS))
_TO_RIGHT = (False, *(column.to_right for column in _COLUMNS))


def entries(job: Job, tray: ArrangedTray, looks: dict[int, Look]) -> tuple[Entry, ...]:
    """What the legend of a tray says, in the order in which its batches stand there."""
    return tuple(_entry(job, [tray], index, looks[index], phrases.whereabouts(tray, index)) for index in tray.batches)


def shared_entries(job: Job, trays: Sequence[ArrangedTray], looks: dict[int, Look]) -> tuple[Entry, ...]:
    """What a legend says of several trays, each of which one batch fills: where it stands is told by their numbers."""
    numbers: dict[int, list[int]] = {}
    for tray in trays:
        for index in tray.batches:
            numbers.setdefault(index, []).append(tray.number)
    return tuple(
        _entry(job, trays, index, looks[index], job.words("lists.trays", n=len(own), numbers=spans(own)))
        for index, own in numbers.items()
    )


def _entry(job: Job, trays: Sequence[ArrangedTray], index: int, look: Look, where: str) -> Entry:
    batch, words = job.batch(index), job.words
    cells = sum(run.cells for tray in trays for run in tray.runs if run.batch == index)
    texts = (
        phrases.in_every_cell(batch, words),
        words.number(cells),
        where,
        words.number(cells * batch.seeds_per_cell.value),
        phrases.cover(batch, words, job.units),
        job.codes[index],
    )
    treated = words("cautions.sign_short") if batch.sowing.treated else ""
    return Entry(look, batch.sowing.code, batch.sowing.variety, batch.sowing.crop_name, texts, treated)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Columns at one growth: where the name begins, the widths, the gap after each, and the height of a row.

    `grows` tells that no column but the name's gives way, `whole` that none does.
    """

    growth: float
    before_mm: float
    widths: tuple[float, ...]
    gap_mm: float
    grows: bool = False
    whole: bool = False
    row_mm: float = 0.0


class Legend:
    """The legend of one tray in a given width: measured at its tightest, drawn at any growth that fits."""

    def __init__(self, rows: Sequence[Entry], width: float, words: Words) -> None:
        self.rows, self._width, self._words = tuple(rows), width, words
        self._caution = self._fitted_caution() if any(row.treated for row in self.rows) else None
        self._heading_mm = [width_mm(words(f"maps.{heading}"), "regular", _HEADING_PT) for heading in _HEADINGS]
        headed = (width_mm(words(f"maps.{heading}"), "condensed", LEAST_PT) + 0.1 for heading in _HEADINGS)
        self._least_mm = [max(pair) for pair in zip(_LEAST_MM, headed, strict=True)]
        self._code_mm = max(width_mm(row.code, "bold", CODE_PT) for row in self.rows)
        self._name_mm = max(line_mm(name_line(row.name, row.crop, row.treated, 1.0)) for row in self.rows)
        self._text_mm = [
            max(width_mm(row.texts[i], column.face, TEXT_PT) for row in self.rows) for i, column in enumerate(_COLUMNS)
        ]
        self._layouts: dict[float, _Layout] = {}

    def row_mm(self, growth: float = 1.0) -> float:
        """Height of every row: as much as the fullest needs."""
        return self._layout(growth).row_mm

    def height_mm(self, rows: int, growth: float = 1.0) -> float:
        """Height of the heading, so many rows, and the caution where there is one; nothing for no rows."""
        if not rows:
            return 0.0
        return HEADING_MM + rows * self.row_mm(growth) + self._caution_mm()

    def growth(self, rows: int, room_mm: float) -> float:
        """The largest growth at which so many rows go into the room and no column but the name's gives way."""
        fitting = (g for g in GROWTHS if self._layout(g).grows and self.height_mm(rows, g) <= room_mm)
        return next(fitting, 1.0)

    def marks(self, first: int, last: int, left: float, top: float, growth: float) -> Iterator[Mark]:
        """Heading, the rows from `first` up to but not with `last`, and the caution below them."""
        layout, row_mm = self._layout(growth), self.row_mm(growth)
        yield from self._heading(layout, left, top)
        top += HEADING_MM
        for row in self.rows[first:last]:
            yield from _row(row, layout, left, top, row_mm)
            top += row_mm
            yield Line(left, top, left + self._width, top, RULE, 0.2)
        if self._caution:
            yield from self._caution_marks(self._caution, left, top)

    def _fitted_caution(self) -> Fitted:
        """What to beware of with treated seed, on two lines where one would not hold it."""
        text = f"{line(Hazard.TREATED, self._words)} {self._words('cautions.follow')}"
        return fit(text, "bold", self._width, TEXT_PT, LEAST_PT, lines=2)

    def _caution_mm(self) -> float:
        shown = self._caution
        return 2 * _CAUTION_MM + block_height_mm(len(shown.lines), shown.size_pt) if shown else 0.0

    def _caution_marks(self, shown: Fitted, left: float, top: float) -> Iterator[Mark]:
        base = top + _CAUTION_MM + ascent_mm(shown.face, shown.size_pt)
        for i, text in enumerate(shown.lines):
            yield Text(left, base + i * 1.15 * shown.size_pt * MM_PER_POINT, text, shown.face, shown.size_pt)

    def _heading(self, layout: _Layout, left: float, top: float) -> Iterator[Mark]:
        base = top + HEADING_MM - 1.3
        for i, (x, width) in enumerate(_places(layout, left)):
            text = fit(self._words(f"maps.{_HEADINGS[i]}"), "regular", width, _HEADING_PT, LEAST_PT)
            ends = _TO_RIGHT[i]
            anchor = "end" if ends else "start"
            yield Text(x + width if ends else x, base, text.lines[0], text.face, text.size_pt, anchor=anchor)
        yield Line(left, top + HEADING_MM, left + self._width, top + HEADING_MM, BLACK, 0.3)

    def _layout(self, growth: float) -> _Layout:
        if growth not in self._layouts:
            layout = self._laid_out(growth)
            tallest = 0.0 if layout.whole else max(needed_mm(cell) for row in self.rows for cell in _cells(row, layout))
            self._layouts[growth] = replace(layout, row_mm=max(ROW_MM * growth, tallest))
        return self._layouts[growth]

    def _laid_out(self, growth: float) -> _Layout:
        """The columns at their natural widths where these fit; else the name's gives way, and at last all do."""
        texts = [min(width, _MOST_TEXT_MM) for width in self._text_mm]
        natural = [
            max(pair) for pair in zip(self._heading_mm, (w * growth for w in (self._name_mm, *texts)), strict=True)
        ]
        before, gaps = _SWATCH_MM + 2.0 + self._code_mm * growth + _GAP_MM, len(_COLUMNS)
        spare = self._width - before - sum(natural) - _GAP_MM * gaps
        if spare >= 0:
            gap = min(_GAP_MM + spare / gaps, _MOST_GAP_MM)
            return _Layout(growth, before, tuple(natural), gap, grows=True, whole=texts == self._text_mm)
        if natural[0] + spare >= _GOOD_NAME_MM * growth:
            return _Layout(growth, before, (natural[0] + spare, *natural[1:]), _GAP_MM, grows=True)
        widths = _narrowed(natural, self._least_mm, self._width - before - _NARROW_GAP_MM * gaps)
        return _Layout(growth, before, widths, _NARROW_GAP_MM)


def _narrowed(natural: Sequence[float], usual_least: Sequence[float], room: float) -> tuple[float, ...]:
    """Widths that add up to the room, less than the natural ones in proportion to what each column can give."""
    least = [min(pair) for pair in zip(natural, usual_least, strict=True)]
    if sum(least) >= room:
        return tuple(low * room / sum(least) for low in least)
    part = max((sum(natural) - room) / (sum(natural) - sum(least)), 0.0)
    return tuple(width - (width - low) * part for width, low in zip(natural, least, strict=True))


def _places(layout: _Layout, left: float) -> Iterator[tuple[float, float]]:
    """Left edge and width of every column."""
    x = left + layout.before_mm
    for width in layout.widths:
        yield x, width
        x += width + layout.gap_mm


def _cells(row: Entry, layout: _Layout) -> list[Lines]:
    """What stands in the columns of a row."""
    name = name_lines(row.name, row.crop, row.treated, layout.widths[0], layout.growth)
    columns = zip(row.texts, _COLUMNS, layout.widths[1:], strict=True)
    return [name, *(text_lines(text, column.face, width, layout.growth) for text, column, width in columns)]


def _row(row: Entry, layout: _Layout, left: float, top: float, row_mm: float) -> Iterator[Mark]:
    middle = top + row_mm / 2
    yield Place(_swatch(row.look, row_mm - 1.4), left, top + 0.7)
    code = Piece(row.code, "bold", CODE_PT * layout.growth)
    yield from drawn(((code,),), left + _SWATCH_MM + 2.0, middle, 0)
    for lines, (x, width), to_right in zip(_cells(row, layout), _places(layout, left), _TO_RIGHT, strict=True):
        yield from drawn(lines, x, middle, width, to_right=to_right)


@lru_cache(maxsize=256)
def _swatch(look: Look, height: float) -> Stamp:
    """Colour and hatch of a batch."""
    edge = Rect(0, 0, _SWATCH_MM, height, stroke=BLACK, stroke_mm=0.25, radius_mm=0.8)
    return Stamp("swatch", _SWATCH_MM, height, (hatched(look.hatch, _SWATCH_MM, height, look.colour, 0.8), edge))
