"""Overlapping: texts whose ink meets, and texts that run into a QR code, wherever on a page they stand.

A page is parted as cards under a paper cutter are: by straight cuts between what stands on it, across and down in
turn. What a cut has parted does not meet. A stamp goes under the cutter as one piece, however much is in it, and so
does a row of stamps that stand clear of each other; each is opened only where it cannot be parted from others. So a
tray of two hundred cells is ten rows.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, combinations, pairwise
from operator import itemgetter
from typing import NamedTuple, TypeAlias
from weakref import WeakKeyDictionary

from traysheets.page.marks import Clip, Mark, Page, Place, Stamp, Text
from traysheets.page.reach import Box, around, boxes, turned
from traysheets.page.rows import Looked, Row, in_rows, stamps_of

OVERLAP_MM = 0.02
"""Boxes of letters that meet by no more than this do not count as overlapping."""

_FEW = 4
"""So many pieces are compared each with each; more go under the cutter."""


_Piece: TypeAlias = tuple[float, float, float, float, Text | Place | Row, int]
"""What must not be run into: its box, what it is, and the rank of its mark. A stamp or a row stands for all in it."""


class _Inside(NamedTuple):
    """What is in a stamp, from its own corner, and the box around it all."""

    pieces: list[_Piece]
    hull: Box | None


_inside: WeakKeyDictionary[Stamp, _Inside] = WeakKeyDictionary()


def overlaps(page: Page) -> list[tuple[str, str]]:
    """The pairs of texts on a page whose ink meets, those in stamps as well, in reading order of the marks.

    A QR code, with the white around it, counts as a text. What meets inside a stamp is told once.
    """
    stamps: dict[Stamp, None] = {}
    _gather(page.marks, stamps)
    placed = (pair for stamp in stamps for pair in _meeting(_opened_once(stamp).pieces))
    looked = in_rows(page.marks)
    return [*meeting(looked, boxes(looked)), *placed]


def _gather(marks: Iterable[Mark], stamps: dict[Stamp, None]) -> None:
    """Every stamp that is placed, also in clips and other stamps."""
    for mark in marks:
        if isinstance(mark, Clip):
            _gather(mark.marks, stamps)
        elif isinstance(mark, Place) and mark.stamp not in stamps:
            stamps[mark.stamp] = None
            _gather(mark.stamp.marks, stamps)


def meeting(marks: Sequence[Looked], reach: Sequence[Box], stamp: Stamp | None = None) -> list[tuple[str, str]]:
    """The pairs of texts that meet among marks, in their order, given how far each mark reaches.

    What meets inside of a stamp that is placed is not told: for that give the stamp and its marks.
    """
    pieces = _pieces(marks, reach)
    if stamp:
        _inside[stamp] = _Inside(pieces, around(pieces))
    return _meeting(pieces)


def _meeting(pieces: list[_Piece]) -> list[tuple[str, str]]:
    pairs = [pair for group in _groups(pieces) for pair in _pairs_in(group)]
    pairs.sort(key=lambda pair: (pair[0][5], pair[1][5], pair[0][1], pair[0][0]))
    return [(_words(one), _words(other)) for one, other in pairs]


def _words(piece: _Piece) -> str:
    """What a piece that is whole says."""
    what = piece[4]
    assert not isinstance(what, Row)
    return what.text if isinstance(what, Text) else what.stamp.reads


def _area(piece: _Piece) -> float:
    """How large a piece that can be opened is; nothing for a text or a QR code, which are whole."""
    left, top, right, bottom, what, _ = piece
    whole = isinstance(what, Text) or (isinstance(what, Place) and what.stamp.reads)
    return 0.0 if whole else (right - left) * (bottom - top)


def _pieces(marks: Sequence[Looked], reach: Sequence[Box]) -> list[_Piece]:
    """The texts of marks that leave ink, and the stamps that have any."""
    hulls = {stamp: _hull(stamp) for stamp in stamps_of(marks)}
    pieces: list[_Piece] = []
    for rank, (mark, (left, top, right, bottom)) in enumerate(zip(marks, reach, strict=True)):
        if isinstance(mark, Text):
            if right - left > OVERLAP_MM and bottom - top > OVERLAP_MM:
                pieces.append((left, top, right, bottom, mark, rank))
        elif isinstance(mark, Place):
            hull = hulls[mark.stamp]
            if hull:
                pieces.append((*turned(hull, mark), mark, rank))
        elif isinstance(mark, Row):
            hull = hulls[mark.places[0].stamp]
            if hull:
                pieces += _in_row(mark, hull, rank)
        elif isinstance(mark, Clip):
            pieces += ((*piece[:5], rank) for piece in _in_clip(mark))
    return pieces


def _in_row(row: Row, hull: Box, rank: int) -> Iterable[_Piece]:
    """A row of stamps whose ink stands clear of the next as one piece; else each of its stamps."""
    if hull[2] - hull[0] - row.least_step_mm > OVERLAP_MM:
        return [(*turned(hull, place), place, rank) for place in row.places]
    left, top, _, bottom = turned(hull, row.places[0])
    _, _, right, _ = turned(hull, row.places[-1])
    return [(left, top, right, bottom, row, rank)]


def _in_clip(clip: Clip) -> list[_Piece]:
    lettered = in_rows(mark for mark in clip.marks if isinstance(mark, Text | Place | Clip))
    return _pieces(lettered, boxes(lettered)) if lettered else []


def _hull(stamp: Stamp) -> Box | None:
    """Around all that must not be run into in a stamp; None when there is nothing."""
    return (0.0, 0.0, stamp.width_mm, stamp.height_mm) if stamp.reads else _opened_once(stamp).hull


def _opened_once(stamp: Stamp) -> _Inside:
    if stamp not in _inside:
        looked = in_rows(stamp.marks)
        _inside[stamp] = _Inside(pieces := _pieces(looked, boxes(looked)), around(pieces))
    return _inside[stamp]


def _groups(pieces: list[_Piece]) -> Iterator[list[_Piece]]:
    """The groups that no cut parts, stamps opened until there are only few in any.

    What level cuts have just parted, no further level cut will: only upright ones are tried there, and so in turn.
    """
    waiting: list[tuple[list[_Piece], tuple[int, ...]]] = [(pieces, _first_cuts(pieces))]
    while waiting:
        group, sides = waiting.pop()
        if len(group) <= _FEW:
            yield group
            continue
        for side in sides:
            parts = _parted(group, side)
            if parts is not None:
                waiting += [(part, (1 - side,)) for part in parts]
                break
        else:
            largest = max(group, key=_area)
            if _area(largest):
                others = [piece for piece in group if piece is not largest]
                waiting.append(([*others, *_opened(largest, around(others) or largest[:4])], (1, 0)))
            else:
                yield group


def _first_cuts(pieces: list[_Piece]) -> tuple[int, int]:
    """Level cuts first, as sheets are set in lines; upright ones for pieces that begin and end at one height: a row."""
    return (0, 1) if pieces and pieces[0][1] == pieces[-1][1] else (1, 0)


def _parted(pieces: list[_Piece], side: int) -> list[list[_Piece]] | None:
    """What is left together on either side of every cut, upright cuts for side 0, level ones for 1; None without cuts.

    A piece that is alone is done with.
    """
    ordered = sorted(pieces, key=itemgetter(side))
    starts, ends = map(itemgetter(side), ordered[1:]), accumulate(map(itemgetter(side + 2), ordered), max)
    cuts = [i for i, (start, end) in enumerate(zip(starts, ends, strict=False), 1) if start >= end - OVERLAP_MM]
    if len(cuts) == len(ordered) - 1:
        return []
    parts = (ordered[first:last] for first, last in pairwise((0, *cuts, len(ordered))) if last - first > 1)
    return list(parts) if cuts else None


def _pairs_in(group: list[_Piece]) -> Iterator[tuple[_Piece, _Piece]]:
    for one, other in combinations(group, 2):
        if _meet(one, other):
            yield from _pairs(*sorted((one, other), key=itemgetter(5)))


def _pairs(one: _Piece, other: _Piece) -> Iterator[tuple[_Piece, _Piece]]:
    """What meets of two pieces, the larger stamp opened first and texts told one by one."""
    if not _meet(one, other):
        return
    areas = _area(one), _area(other)
    if areas == (0.0, 0.0):
        yield one, other
    elif areas[0] >= areas[1]:
        for inner in _opened(one, other):
            yield from _pairs(inner, other)
    else:
        for inner in _opened(other, one):
            yield from _pairs(one, inner)


def _meet(one: Box | _Piece, other: Box | _Piece) -> bool:
    return (
        one[2] - other[0] > OVERLAP_MM
        and other[2] - one[0] > OVERLAP_MM
        and one[3] - other[1] > OVERLAP_MM
        and other[3] - one[1] > OVERLAP_MM
    )


def _opened(piece: _Piece, window: Box | _Piece) -> Iterable[_Piece]:
    """What is in a row or a placed stamp, as it lies on the page, and as far as it meets a window."""
    what, rank = piece[4:]
    if isinstance(what, Place):
        return _in_stamp(what, window, rank)
    return [one for one in _apart(piece) if _meet(one, window)]


def _apart(piece: _Piece) -> list[_Piece]:
    """The stamps of a row, each a piece of its own; anything else as it is."""
    row, rank = piece[4:]
    if not isinstance(row, Row):
        return [piece]
    hull = _hull(row.places[0].stamp)
    return [(*turned(hull, place), place, rank) for place in row.places] if hull else []


def _in_stamp(place: Place, window: Box | _Piece, rank: int) -> Iterator[_Piece]:
    """What is in a placed stamp and meets a window, its rows one by one: turned with it, they are none."""
    inside = _opened_once(place.stamp).pieces
    if not place.turns:
        x, y = place.x_mm, place.y_mm
        near = window[0] - x, window[1] - y, window[2] - x, window[3] - y
        inside = [one for inner in inside if _meet(inner, near) for one in _apart(inner) if _meet(one, near)]
    else:
        inside = [one for inner in inside for one in _apart(inner)]
    for left, top, right, bottom, what, _ in inside:
        inner = _placed(what, place) if isinstance(what, Place) else what
        yield *turned((left, top, right, bottom), place), inner, rank


def _placed(inner: Place, outer: Place) -> Place:
    """A stamp placed in another, as it lies on the page where the other is placed."""
    x, y, _, _ = turned((inner.x_mm, inner.y_mm, inner.x_mm, inner.y_mm), outer)
    return Place(inner.stamp, x, y, inner.turns + outer.turns)
