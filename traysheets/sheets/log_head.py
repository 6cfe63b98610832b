"""The head of a record sheet: the variety, its batch code and the QR code to its record; and the facts of the batch."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from traysheets.page import qr
from traysheets.page.lettering import MM_PER_POINT, Fitted, cap_height_mm, fit, ink_mm, width_mm
from traysheets.page.marks import BLACK, WHITE, Link, Mark, Place, Rect, Text
from traysheets.reckon.model import Batch
from traysheets.reckon.seeds import set_out
from traysheets.sheets import links, measures, phrases
from traysheets.sheets.frame import LEAST_PT, head_height_mm
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import Column, Said, Stack, swatch
from traysheets.sheets.looks import Look
from traysheets.sheets.panel import Panel
from traysheets.sheets.standing_places import places
from traysheets.sheets.tray_titles import tray_title

SMALL_HEAD_MM = 11.0

_LEAST_HEAD_MM = 23.0
_BEST_MODULE_MM = 0.6
_CODE_MM = 20.0
_QR_WORDS_MM = 17.0
_GAP_MM = 4.0
_BAND_MM = 6.6
_MOST_LINES = 6
"""Of a fact that is too long for two: where a batch stands that is parted over many trays."""
_BELOW_FACTS_MM = 2.0
_SWATCH_MM = 15.0, 6.5
_OVER_MM = 0.4
"""How far accents of a name may reach over the top: what is left of the edge that printers leave blank."""


class LogHead:
    """The head of one batch's sheet, and its facts below, for panels as large as the one given."""

    def __init__(self, job: Job, batch: Batch, look: Look, panel: Panel) -> None:
        self._job, self._batch, self._look, self._words = job, batch, look, job.words
        self._narrow = panel.narrow
        self._text = links.batch_text(job, batch)
        self._head_mm = max(_LEAST_HEAD_MM, head_height_mm(self._text))
        self._treated = self._words("cautions.badge") if batch.sowing.treated else ""
        self._facts = _Facts(job, batch, panel.width_mm, 3 if self._narrow else 4)

    @property
    def height_mm(self) -> float:
        """Height of head and facts."""
        return self._head_mm + (_BAND_MM if self._treated else 0.0) + 2.0 + self._facts.height_mm

    def marks(self, panel: Panel) -> Iterator[Mark]:
        """Head and facts at the top of a panel."""
        top = panel.top_mm
        right = panel.right_mm - self._head_mm - (0.0 if self._narrow else _QR_WORDS_MM) - _GAP_MM
        yield from self._letters(panel.left_mm, top)
        yield from self._names(panel.left_mm + _CODE_MM, right, top)
        yield from self._code(panel.right_mm, top)
        top += self._head_mm
        if self._treated:
            yield from self._band(panel, top)
            top += _BAND_MM
        yield from self._facts.marks(panel.left_mm, top + 2.0)

    def small_marks(self, panel: Panel) -> Iterator[Mark]:
        """The head of a further page: which batch goes on here."""
        sowing, code = self._batch.sowing, self._job.codes[self._batch.index]
        base = panel.top_mm + 6.0
        yield Text(panel.left_mm, base, code, "code", 14.0)
        left = panel.left_mm + width_mm(code, "code", 14.0) + _GAP_MM
        what = self._words("lists.continued", what=f"{sowing.code} {sowing.variety}")
        name = Stack([Said(what, "bold", 12, 2, readable_pt=9)], Column(left, panel.right_mm - left))
        yield from name.marks(base - name.base_mm)

    def _letters(self, left: float, top: float) -> Iterator[Mark]:
        """The code of the map, and the colour and hatch that the batch has there."""
        placed = fit(self._batch.sowing.code, "bold", _CODE_MM - _GAP_MM, 26.0, LEAST_PT)
        yield Text(left, top + 10.0, placed.lines[0], placed.face, placed.size_pt)
        yield Place(swatch(self._look, *_SWATCH_MM), left, top + 14.4)

    def _names(self, left: float, right: float, top: float) -> Iterator[Mark]:
        """The variety as large as it can be; below it the batch code and the crop."""
        sowing, room = self._batch.sowing, right - left
        name = fit(sowing.variety, "bold", room, 26.0, 14.0, lines=2, height_mm=13.5)
        if name.cut:
            name = fit(sowing.variety, "bold", room, 14.0, LEAST_PT, lines=3, height_mm=13.5)
        for text, base in zip(name.lines, _name_bases_mm(name), strict=True):
            yield Text(left, top + base, text, name.face, name.size_pt)
        code = fit(self._job.codes[self._batch.index], "code", room, 17.0, LEAST_PT)
        base = top + 20.4
        yield Text(left, base, code.lines[0], code.face, code.size_pt)
        left += width_mm(code.lines[0], code.face, code.size_pt) + _GAP_MM
        if right - left > 8.0:
            crop = fit(sowing.crop_name, "regular", right - left, 13.0, LEAST_PT)
            yield Text(left, base, crop.lines[0], crop.face, crop.size_pt)

    def _code(self, right: float, top: float) -> Iterator[Mark]:
        """The QR code at the right, its words at its left."""
        code = qr.code(self._text, self._head_mm, largest_module_mm=_BEST_MODULE_MM)
        side = code.stamp.width_mm
        yield Place(code.stamp, right - side, top)
        if self._job.plan.record_url:
            yield Link(right - side, top, side, side, self._text)
        if not self._narrow:
            words = Said(self._words("logs.qr"), lines=3, readable_pt=8.0).fitted(_QR_WORDS_MM, 1.0)
            pitch = words.size_pt * MM_PER_POINT * 1.15
            base = top + (side - pitch * len(words.lines)) / 2 + cap_height_mm(words.face, words.size_pt)
            for i, text in enumerate(words.lines):
                yield Text(right - side, base + i * pitch, text, words.face, words.size_pt, anchor="end")

    def _band(self, panel: Panel, top: float) -> Iterator[Mark]:
        """White letters on black over the whole width: treated seed must not be missed."""
        yield Rect(panel.left_mm, top + 0.6, panel.width_mm, _BAND_MM - 0.6, fill=BLACK)
        text = fit(self._treated, "bold", panel.width_mm - 4.0, 11.0, LEAST_PT)
        base = top + 0.6 + (_BAND_MM - 0.6 + cap_height_mm(text.face, text.size_pt)) / 2
        yield Text(panel.left_mm + 2.0, base, text.lines[0], text.face, text.size_pt, WHITE)


def _name_bases_mm(name: Fitted) -> Iterator[float]:
    """The base lines of a name from the top: a usual leading apart, further where accents would meet tails."""
    size_mm = name.size_pt * MM_PER_POINT
    inks = [ink_mm(line, name.face, name.size_pt) for line in name.lines]
    base = 10.0 if len(inks) == 1 else max(1.02 * size_mm - 0.6, inks[0][1] - _OVER_MM)
    pitch = max((1.15 * size_mm, *(above - below for (below, _), (_, above) in pairwise(inks))))
    return (base + i * pitch for i in range(len(inks)))


@dataclass(frozen=True, slots=True)
class _Fact:
    """A figure: what it is, how much, and what else there is to say of it."""

    name: str
    value: str
    note: str = ""


class _Facts:
    """Facts in columns of one width, row by row."""

    def __init__(self, job: Job, batch: Batch, width_mm: float, across: int) -> None:
        self._column_mm = (width_mm - _GAP_MM * (across - 1)) / across
        facts = list(_facts(job, batch))
        self._rows = [facts[i : i + across] for i in range(0, len(facts), across)]
        self.height_mm = sum(self._row_mm(row) for row in self._rows)

    def marks(self, left: float, top: float) -> Iterator[Mark]:
        """The facts below a given top edge."""
        for row in self._rows:
            for i, fact in enumerate(row):
                yield from self._stack(fact, left + i * (self._column_mm + _GAP_MM)).marks(top)
            top += self._row_mm(row)

    def _row_mm(self, row: Sequence[_Fact]) -> float:
        return max(self._stack(fact, 0.0).height_mm for fact in row) + _BELOW_FACTS_MM

    def _stack(self, fact: _Fact, left: float) -> Stack:
        value = Said(fact.value, "bold", 10.5, 2, 8.5)
        if value.fitted(self._column_mm, 1.0).cut:
            value = replace(value, size_pt=8.5, lines=_MOST_LINES)
        said = (Said(fact.name, size_pt=7.5), value, Said(fact.note, lines=2))
        return Stack(said, Column(left, self._column_mm))


def _facts(job: Job, batch: Batch) -> Iterator[_Fact]:
    """What was planned and reckoned of a batch, the most asked for first."""
    words, sowing = job.words, batch.sowing
    yield _Fact(words("maps.in_every_cell"), phrases.in_every_cell(batch, words))
    yield _Fact(words("records.cells_sown"), words.number(batch.cells), tray_title(batch.tray, words, job.units))
    yield _Fact(words("records.stands"), "; ".join(places(job, batch)), sowing.place)
    yield _Fact(words("records.cover"), phrases.cover(batch, words, job.units) or "–")
    yield _Fact(words("records.seeds_total"), words.number(set_out(batch)), " · ".join(_of_seeds(job, batch)))
    yield _Fact(words("records.lot"), sowing.lot or "–")
    source = words(f"source.{batch.germination.source}")
    yield _Fact(words("records.germination"), words.percent(batch.germination.value), source)
    sure = words("logs.low", n=batch.plants_low, chance=words.percent(sowing.confidence))
    yield _Fact(words("records.expected"), words("records.about", n=round(batch.plants_expected)), sure)


def _of_seeds(job: Job, batch: Batch) -> Iterator[str]:
    """What the seeds weigh, and how many of them are spare."""
    if batch.seed_grams:
        yield measures.grams(batch.seed_grams.value, job.words)
    if batch.seeds_spare:
        yield job.words("seeds.spare", n=batch.seeds_spare)
