"""The guide's words in one language or two: what is said, and how it is set so that both have their room.

The first language is bold and larger, the second stands below it. Nothing is set smaller than `LEAST_PT`; what is too
long is condensed, then smaller, then wrapped, then cut.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from traysheets.base.words import Words
from traysheets.page.faces import NARROWER
from traysheets.page.lettering import MM_PER_POINT, Fitted, fit, ink_mm, is_plain, width_mm
from traysheets.page.marks import BLACK, Colour, Text
from traysheets.page.reach import ANCHORS
from traysheets.sheets.frame import LEAST_PT
from traysheets.sheets.job import Job

Saying: TypeAlias = tuple[str, ...]
"""The same in every language of the guide, the first language first."""

_LEADING = 1.16
_ASCENT = 0.76
_SECOND = 0.78
"""Size of the second language, as a part of the first's."""
_STEPS = (0.92, 0.8, 0.68, 0.56, 0.44)
"""How far words may shrink before they are wrapped once more, step by step."""


def speakers(job: Job) -> tuple[Job, ...]:
    """The job once for each language of the guide, its words those of that language."""
    return tuple(replace(job, words=words) for words in job.guide_words or (job.words,))


def say(speaking: Sequence[Job], said: Callable[[Job], str]) -> Saying:
    """What is said, in every language; what is the same in both is said once."""
    return tuple(dict.fromkeys(said(job) for job in speaking))


def words_of(speaking: Sequence[Job], key: str, **values: object) -> Saying:
    """The words under a key in every language. A value that is a function is asked for what it is in the language."""

    def said(words: Words) -> str:
        return words(key, **{name: value(words) if callable(value) else value for name, value in values.items()})

    return say(speaking, lambda job: said(job.words))


@dataclass(frozen=True, slots=True)
class Room:
    """Where words go: a rectangle, the size they should have, over how many lines each language may run."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    size_pt: float
    lines: int = 1
    face: str = "bold"
    anchor: str = "start"
    least_pt: float = LEAST_PT

    def moved(self, left_mm: float, top_mm: float) -> "Room":
        """The same room further to the right and further down."""
        return replace(self, left_mm=self.left_mm + left_mm, top_mm=self.top_mm + top_mm)


@dataclass(frozen=True, slots=True)
class Set:
    """Words as set: their lines, and the height that they take."""

    fitted: tuple[Fitted, ...]
    height_mm: float


def set_in(saying: Saying, room: Room) -> Set:
    """Words made to fit a room: with two languages the first has the larger share of its height."""
    shares = (1.0,) if len(saying) == 1 else (1 / (1 + _SECOND), _SECOND / (1 + _SECOND))
    fitted = tuple(
        _fitted(text, room, i == 0, room.height_mm * share)
        for i, (text, share) in enumerate(zip(saying, shares, strict=False))
    )
    return Set(fitted, _laid(fitted)[1])


def _laid(fitted: Sequence[Fitted]) -> tuple[list[tuple[Fitted, str, float]], float]:
    """Every line with how far its base line lies below the top, and the height of them all.

    What reaches high moves its line as far down as it needs: an accent on a capital under the tail of a letter, and on
    the first line too the signs of scripts that pile them up, as Thai does.
    """
    laid: list[tuple[Fitted, str, float]] = []
    top = ink_end = 0.0
    for it, line in [(one, line) for one in fitted for line in one.lines]:
        below, above = ink_mm(line, it.face, it.size_pt)
        base = top + _ASCENT * it.size_pt * MM_PER_POINT
        if laid or not is_plain(line, it.face):
            base = max(base, ink_end + above)
        laid.append((it, line, base))
        top, ink_end = base + (_LEADING - _ASCENT) * it.size_pt * MM_PER_POINT, base - below
    return laid, top


def _fitted(text: str, room: Room, first: bool, height_mm: float) -> Fitted:
    """A text wrapped rather than set much smaller, whole words on every line as long as that can be."""
    size_pt = max(room.size_pt * (1.0 if first else _SECOND), room.least_pt)
    face = room.face if first else "regular"
    for part in _STEPS:
        least_pt = max(size_pt * part, room.least_pt)
        it = fit(text, face, room.width_mm, size_pt, least_pt, room.lines, _LEADING, height_mm)
        if not it.cut and " ".join(it.lines) == text:
            return it
    return fit(text, face, room.width_mm, size_pt, room.least_pt, room.lines, _LEADING, height_mm)


def overhang_mm(saying: Saying, room: Room) -> float:
    """How far the words would reach over the top of a room: an accent on a capital does."""
    first = set_in(saying, room).fitted[0]
    above_mm = ink_mm(first.lines[0], first.face, first.size_pt)[1]
    return max(above_mm - _ASCENT * first.size_pt * MM_PER_POINT, 0.0)


def clear_mm(saying: Saying, room: Room) -> float:
    """How much white is left below the ink of the last line, where the height of the words ends."""
    laid, height = _laid(set_in(saying, room).fitted)
    it, line, base = laid[-1]
    return height - base + ink_mm(line, it.face, it.size_pt)[0]


def dropped_mm(saying: Saying, room: Room) -> float:
    """How much further down the words stand than letters usually do; what stands beside them follows."""
    fitted, _, base = _laid(set_in(saying, room).fitted)[0][0]
    return base - _ASCENT * fitted.size_pt * MM_PER_POINT


def in_one_face(sayings: Sequence[Saying], room: Room) -> str:
    """The face that all of these may be set in alike: condensed as soon as one of them has to be."""
    faces = {set_in(saying, room).fitted[0].face for saying in sayings}
    return faces.pop() if len(faces) == 1 else NARROWER.get(room.face, room.face)


def lettered(saying: Saying, room: Room, colour: Colour = BLACK) -> Iterator[Text]:
    """Words in a room, from its top down."""
    x = room.left_mm + ANCHORS[room.anchor] * room.width_mm
    for it, line, base in _laid(set_in(saying, room).fitted)[0]:
        yield Text(x, room.top_mm + base, line, it.face, it.size_pt, colour, room.anchor)


def levelled(saying: Saying, room: Room, colour: Colour = BLACK) -> Iterator[Text]:
    """Words in a room, at half of its height."""
    taken = set_in(saying, room).height_mm - 0.12 * room.size_pt * MM_PER_POINT
    yield from lettered(saying, replace(room, top_mm=room.top_mm + max(room.height_mm - taken, 0.0) / 2), colour)


def width_of(it: Set) -> float:
    """Width of the widest line."""
    return max(width_mm(line, fitted.face, fitted.size_pt) for fitted in it.fitted for line in fitted.lines)
