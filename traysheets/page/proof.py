"""Proof: a page is looked over before it is printed, so that a sheet which would come out wrong is refused whole.

Here is what makes a mark printable. How far marks reach is `page/reach.py`; what a sheet says is not looked at.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from math import isfinite
from operator import attrgetter
from typing import Any
from weakref import WeakSet

from traysheets.base.errors import Problem, SheetError
from traysheets.page.faces import FACES
from traysheets.page.lettering import SLACK_MM, missing, named
from traysheets.page.marks import Circle, Clip, Colour, Line, Link, Mark, Page, Path, Place, Rect, Stamp, Text
from traysheets.page.overlapping import meeting, overlaps
from traysheets.page.qr_proof import broken
from traysheets.page.reach import ANCHORS, Box, box, boxes, plain_extent
from traysheets.page.rows import Looked, in_rows, one_by_one, stamps_of

__all__ = ["BLEED_MM", "overlaps", "prove"]

BLEED_MM = 0.5
"""How far strokes and letters may reach over the edge of a stamp: half of a wide stroke along it."""

_ANYWHERE: Box = (-1e5, -1e5, 1e5, 1e5)
"""Where marks may be that a clip cuts off: anywhere that is a number of this world."""

_COLOUR = re.compile("#[0-9A-Fa-f]{6}")
_proved: WeakSet[Stamp] = WeakSet()


def prove(page: Page, where: str = "") -> None:
    """Raise SheetError, with everything found, when a mark of the page cannot be printed true.

    `where` names the page in the message, else its title does.

    Looked at are: places and sizes that are no numbers or negative, colours, characters without a glyph, marks that
    reach outside the page or into its margin, marks of a stamp that reach outside the stamp, texts that run into each
    other or into a QR code, QR codes that do not read as they should. A stamp is looked at once.
    """
    where = where or (f"page '{page.title}'" if page.title else "a page")
    if not (0 < page.width_mm < 1e5 and 0 < page.height_mm < 1e5):
        raise SheetError(f"{where} cannot be {page.width_mm} mm x {page.height_mm} mm")
    margin = page.margin_mm - SLACK_MM
    inside = (margin, margin, page.width_mm - margin, page.height_mm - margin)
    problems = _problems(page.marks, inside, where)
    if problems:
        raise SheetError(dict.fromkeys(problems))


def _problems(marks: Sequence[Mark], inside: Box, where: str, stamp: Stamp | None = None) -> list[Problem]:
    """What is wrong with marks that must stay inside a box: one by one, within them, and if nothing is, together."""
    looked = in_rows(marks)
    wrong = [(mark, fault) for mark in looked if type(mark) in _WRONG and (fault := _WRONG[type(mark)](mark))]
    found = [Problem(f"{where}: {_name(mark)} {fault}") for mark, fault in wrong]
    sound = [mark for mark in looked if all(mark is not it for it, _ in wrong)] if wrong else looked
    reach = boxes(sound)
    found += [*_outside(sound, reach, inside, where), *_within(sound, where)]
    return found or [Problem(f"{where}: '{one}' runs into '{other}'") for one, other in meeting(looked, reach, stamp)]


def _within(marks: Iterable[Looked], where: str) -> Iterator[Problem]:
    """What is wrong in clips, which cut off what reaches over their edge, and in stamps, each looked at once."""
    for mark in marks:
        if type(mark) is Clip:
            yield from _problems(mark.marks, _ANYWHERE, where)
    for stamp in stamps_of(marks):
        if stamp not in _proved:
            yield from _stamp_problems(stamp, f"{where}, {stamp.name}")


def _stamp_problems(stamp: Stamp, where: str) -> list[Problem]:
    """What is wrong with a stamp; a QR code is read, which shows more than a look at its marks."""
    if stamp.reads:
        fault = broken(stamp)
        found = [Problem(f"{where}: the code {fault}")] if fault else []
    else:
        inside = (-BLEED_MM, -BLEED_MM, stamp.width_mm + BLEED_MM, stamp.height_mm + BLEED_MM)
        found = _problems(stamp.marks, inside, where, stamp)
    if not found:
        _proved.add(stamp)
    return found


def _outside(marks: Sequence[Looked], reach: Sequence[Box], inside: Box, where: str) -> Iterator[Problem]:
    """Marks that reach outside a box. A place or size that is no number is never inside."""
    if not marks or _all_inside(reach, inside):
        return
    left, top, right, bottom = inside
    for mark in one_by_one(marks):
        it = box(mark)
        if not (it[0] >= left and it[1] >= top and it[2] <= right and it[3] <= bottom):
            edges, limits = (" to ".join(f"({x:.2f}, {y:.2f})" for x, y in (b[:2], b[2:])) for b in (it, inside))
            yield Problem(f"{where}: {_name(mark)} reaches over {edges} mm, outside {limits} mm")


def _all_inside(reach: Sequence[Box], inside: Box) -> bool:
    """Whether no box reaches outside another, told for all at once; what is no number makes the sum none."""
    lefts, tops, rights, bottoms = edges = list(zip(*reach, strict=True))
    least, most = (min(lefts), min(tops)), (max(rights), max(bottoms))
    within = least[0] >= inside[0] and least[1] >= inside[1] and most[0] <= inside[2] and most[1] <= inside[3]
    return within and isfinite(sum(map(sum, edges)))


def _wrong_text(text: Text) -> str | None:
    """What makes a text unprintable wherever it stands, or None."""
    if _is_odd_style(text.face, text.anchor, text.colour):
        return f"has a face, anchor or colour we do not know: {text.face}, {text.anchor}, {text.colour}"
    if not text.size_pt > 0:
        return f"cannot be set at {text.size_pt} pt"
    lacking = () if plain_extent(text.text, text.face) else missing(text.text, text.face)
    return f"has characters our fonts lack: {', '.join(map(named, lacking))}" if lacking else None


@lru_cache(maxsize=1024)
def _is_odd_style(face: str, anchor: str, colour: Colour) -> bool:
    return face not in FACES or anchor not in ANCHORS or _is_odd(colour)


def _wrong_shape(mark: Mark) -> str | None:
    """What makes a shape, a clip or a link unprintable wherever it stands, or None."""
    if min(_SIZES[type(mark)](mark)) < 0:
        return "has a negative size"
    colours = _COLOURS[type(mark)](mark) if type(mark) in _COLOURS else ()
    return next((f"has the colour '{it}', which is not #RRGGBB" for it in colours if it and _is_odd(it)), None)


@lru_cache(maxsize=1024)
def _is_odd(colour: Colour) -> bool:
    return not _COLOUR.fullmatch(colour)


_WRONG: dict[type, Callable[[Any], str | None]] = {
    Text: _wrong_text,
    **dict.fromkeys((Rect, Line, Path, Circle, Clip, Link), _wrong_shape),
}
_SIZES: dict[type, Callable[[Any], tuple[float, ...]]] = {
    Rect: attrgetter("width_mm", "height_mm", "radius_mm", "stroke_mm"),
    Line: lambda line: (line.stroke_mm,),
    Path: attrgetter("stroke_mm", "unit_mm"),
    Circle: attrgetter("radius_mm", "stroke_mm"),
    Clip: attrgetter("width_mm", "height_mm", "radius_mm"),
    Link: attrgetter("width_mm", "height_mm"),
}
"""The sizes of a mark, none of which may be negative."""
_COLOURS: dict[type, Callable[[Any], tuple[Colour | None, ...]]] = {
    Line: lambda line: (line.stroke,),
    **dict.fromkeys((Rect, Path, Circle), attrgetter("fill", "stroke")),
}


def _name(mark: Looked) -> str:
    """A mark in words, for messages."""
    if isinstance(mark, Text):
        return f"the text '{mark.text}'"
    if isinstance(mark, Place):
        return f"the stamp '{mark.stamp.name}'"
    return f"a {type(mark).__name__.lower()}"
