"""The cautions of a sowing day, each with its sign: short, side by side."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.marks import Mark, Place
from traysheets.reckon.model import Batch
from traysheets.sheets import cautions
from traysheets.sheets.cautions import Hazard
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_text import Room, Saying, in_one_face, lettered, say, set_in
from traysheets.sheets.lists import Strip
from traysheets.sheets.pictures.signs import caution_sign
from traysheets.sheets.steps import Task

_ACROSS = 2
_SIGN_MM = 14.0
_GAP_MM = 4.0
_TITLE_PT, _HOW_PT, _FOLLOW_PT = 12.0, 9.5, 10.0
_ABOVE_MM, _BETWEEN_MM, _BELOW_MM = 3.5, 2.0, 2.5


def caution_strip(shared: Shared, batches: Iterable[Batch]) -> Strip:
    """The cautions that are met in sowing, knives and scissors too, as packets are opened with them."""
    met = cautions.met((Task.SOW,), batches)
    hazards = [hazard for hazard in Hazard if hazard in {*met, Hazard.KNIVES}]
    rows = -(-len(hazards) // _ACROSS)
    step = max(_SIGN_MM * shared.grown, *(_words_mm(shared, hazard) for hazard in hazards)) + _BETWEEN_MM * shared.grown
    follow = set_in(_follow(shared), _follow_room(shared, 0.0)).height_mm
    height = _ABOVE_MM + rows * step + follow + _BELOW_MM
    return Strip(height, partial(_marks, shared, hazards, step))


def _marks(shared: Shared, hazards: list[Hazard], step: float, top: float) -> Iterator[Mark]:
    top += _ABOVE_MM
    for number, hazard in enumerate(hazards):
        left = shared.frame.left_mm + number % _ACROSS * (_width_mm(shared) + _GAP_MM)
        yield from _caution(shared, hazard, left, top + number // _ACROSS * step)
    yield from lettered(_follow(shared), _follow_room(shared, top + -(-len(hazards) // _ACROSS) * step))


def _caution(shared: Shared, hazard: Hazard, left: float, top: float) -> Iterator[Mark]:
    """The sign, and at its right what it is and what to do."""
    yield Place(caution_sign(hazard, round(_SIGN_MM * shared.grown, 3), shared.tints), left, top)
    title, how = _rooms(shared, hazard)
    yield from lettered(_titled(shared, hazard), title.moved(left, top))
    yield from lettered(_advised(shared, hazard), how.moved(left, top))


def _width_mm(shared: Shared) -> float:
    return (shared.width_mm - (_ACROSS - 1) * _GAP_MM) / _ACROSS


def _rooms(shared: Shared, hazard: Hazard) -> tuple[Room, Room]:
    """Where the title and the advice go, seen from the corner of the sign: high enough for all that is said."""
    grown = shared.grown
    start = (_SIGN_MM + 2.5) * grown
    wide = _width_mm(shared) - start
    title = Room(start, 0.0, wide, 14.0 * grown, _TITLE_PT * grown)
    below = set_in(_titled(shared, hazard), title).height_mm + 0.4
    how = Room(start, below, wide, 60.0 * grown, _HOW_PT * grown, lines=4, face="regular")
    return title, replace(how, face=in_one_face([_advised(shared, each) for each in Hazard], how))


def _words_mm(shared: Shared, hazard: Hazard) -> float:
    how = _rooms(shared, hazard)[1]
    return how.top_mm + set_in(_advised(shared, hazard), how).height_mm


def _titled(shared: Shared, hazard: Hazard) -> Saying:
    return say(shared.speaking, lambda job: cautions.title(hazard, job.words))


def _advised(shared: Shared, hazard: Hazard) -> Saying:
    return say(shared.speaking, lambda job: cautions.advice(hazard, job.words))


def _follow(shared: Shared) -> Saying:
    return say(shared.speaking, lambda job: job.words("cautions.follow"))


def _follow_room(shared: Shared, top: float) -> Room:
    size_pt = _FOLLOW_PT * shared.grown
    height = size_pt * MM_PER_POINT * 1.2 * len(shared.speaking)
    return Room(shared.frame.left_mm, top, shared.width_mm, height, size_pt)
