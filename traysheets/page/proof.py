"""Proof: a page is looked over before it is printed, so that a sheet which would come out wrong is refused whole.

Here is what makes a mark printable. How far marks reach is `page/reach.py`; what a sheet says is not looked at.
"""

import re
from collections.abc import Iterable, Iterator
from weakref import WeakSet

from traysheets.base.errors import Problem, SheetError
from traysheets.page.faces import FACES
from traysheets.page.lettering import SLACK_MM, missing, named
from traysheets.page.marks import Circle, Clip, Link, Mark, Page, Place, Rect, Stamp, Text
from traysheets.page.reach import ANCHORS, Box, box, text_boxes

BLEED_MM = 0.5
"""How far strokes and letters may reach over the edge of a stamp: half of a wide stroke along it."""

OVERLAP_MM = 0.02
"""Boxes of letters that meet by no more than this do not count as overlapping."""

_ANYWHERE: Box = (-1e5, -1e5, 1e5, 1e5)
"""Where marks may be that a clip cuts off: anywhere that is a number of this world."""

_COLOUR = re.compile("#[0-9A-Fa-f]{6}")
_proved: WeakSet[Stamp] = WeakSet()


def prove(page: Page) -> None:
    """Raise SheetError, with everything found, when a mark of the page cannot be printed true.

    Looked at are: places and sizes that are no numbers or negative, colours, characters without a glyph, marks that
    reach outside the page or into its margin, marks of a stamp that reach outside the stamp. A stamp is looked at
    once.
    """
    where = f"page '{page.title}'" if page.title else "a page"
    if not (0 < page.width_mm < 1e5 and 0 < page.height_mm < 1e5):
        raise SheetError(f"{where} cannot be {page.width_mm} mm x {page.height_mm} mm")
    margin = page.margin_mm - SLACK_MM
    inside = (margin, margin, page.width_mm - margin, page.height_mm - margin)
    problems = tuple(dict.fromkeys(_problems(page.marks, inside, where)))
    if problems:
        raise SheetError(problems)


def overlaps(page: Page) -> list[tuple[str, str]]:
    """The pairs of texts on a page whose ink meets, those in stamps as well, in reading order of the marks."""
    boxes = list(text_boxes(page.marks))
    by_left = sorted(range(len(boxes)), key=lambda i: boxes[i][1])
    found: list[tuple[int, int]] = []
    for rank, i in enumerate(by_left):
        for j in by_left[rank + 1 :]:
            if boxes[j][1][0] > boxes[i][1][2] - OVERLAP_MM:
                break
            if _meet(boxes[i][1], boxes[j][1]):
                found.append((min(i, j), max(i, j)))
    return [(boxes[i][0], boxes[j][0]) for i, j in sorted(found)]


def _meet(one: Box, other: Box) -> bool:
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > OVERLAP_MM and down > OVERLAP_MM


def _problems(marks: Iterable[Mark], inside: Box, where: str) -> Iterator[Problem]:
    """What is wrong with marks that must stay inside a box."""
    for mark in marks:
        wrong = _wrong(mark) or _outside(mark, inside)
        if wrong:
            yield Problem(f"{where}: {_name(mark)} {wrong}")
        elif isinstance(mark, Clip):
            yield from _problems(mark.marks, _ANYWHERE, where)
        elif isinstance(mark, Place) and mark.stamp not in _proved:
            yield from _stamp_problems(mark.stamp, where)


def _stamp_problems(stamp: Stamp, where: str) -> Iterator[Problem]:
    inside = (-BLEED_MM, -BLEED_MM, stamp.width_mm + BLEED_MM, stamp.height_mm + BLEED_MM)
    found = tuple(_problems(stamp.marks, inside, f"{where}, {stamp.name}"))
    if not found:
        _proved.add(stamp)
    yield from found


def _outside(mark: Mark, inside: Box) -> str | None:
    """How a mark reaches outside a box. A place or size that is no number is never inside."""
    reach = box(mark)
    if reach[0] >= inside[0] and reach[1] >= inside[1] and reach[2] <= inside[2] and reach[3] <= inside[3]:
        return None
    edges, limits = (" to ".join(f"({x:.2f}, {y:.2f})" for x, y in (b[:2], b[2:])) for b in (reach, inside))
    return f"reaches over {edges} mm, outside {limits} mm"


def _wrong(mark: Mark) -> str | None:
    """What makes a mark unprintable wherever it stands, or None."""
    if isinstance(mark, Place):
        return None
    if isinstance(mark, Text):
        return _wrong_text(mark)
    if min(_sizes(mark)) < 0:
        return "has a negative size"
    return next(
        (f"has the colour '{colour}', which is not #RRGGBB" for colour in _colours(mark) if _is_odd(colour)), None
    )


def _wrong_text(text: Text) -> str | None:
    if text.face not in FACES or text.anchor not in ANCHORS or _is_odd(text.colour):
        return f"has a face, anchor or colour we do not know: {text.face}, {text.anchor}, {text.colour}"
    if not text.size_pt > 0:
        return f"cannot be set at {text.size_pt} pt"
    lacking = missing(text.text, text.face)
    return f"has characters our fonts lack: {', '.join(map(named, lacking))}" if lacking else None


def _sizes(mark: Mark) -> tuple[float, ...]:
    if isinstance(mark, Clip | Rect):
        strokes = (mark.stroke_mm,) if isinstance(mark, Rect) else ()
        return (mark.width_mm, mark.height_mm, mark.radius_mm, *strokes)
    if isinstance(mark, Link):
        return mark.width_mm, mark.height_mm
    return (mark.stroke_mm, mark.radius_mm) if isinstance(mark, Circle) else (getattr(mark, "stroke_mm", 0.0),)


def _colours(mark: Mark) -> tuple[str, ...]:
    colours = (getattr(mark, "fill", None), getattr(mark, "stroke", None))
    return tuple(colour for colour in colours if colour)


def _is_odd(colour: str) -> bool:
    return not _COLOUR.fullmatch(colour)


def _name(mark: Mark) -> str:
    """A mark in words, for messages."""
    if isinstance(mark, Text):
        return f"the text '{mark.text}'"
    if isinstance(mark, Place):
        return f"the stamp '{mark.stamp.name}'"
    return f"a {type(mark).__name__.lower()}"
