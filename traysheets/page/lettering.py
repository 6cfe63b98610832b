"""Lettering: how wide and high a text is, how to make it fit, and which characters no font at hand has.

Measured from the font files alone, so that laying out never needs the printer. A text that its face has whole is not
shaped or kerned, neither here nor by what writes the pages: the sum of the advance widths is the true width. Any other
text is shaped (`page/shaping.py`). Where lines break is `page/wrapping.py`.
"""

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from math import ceil

from traysheets.base.errors import SheetError
from traysheets.page import shaping
from traysheets.page.bidi import lines_kept
from traysheets.page.faces import NARROWER, ink, metrics
from traysheets.page.fonts import EXTRA, fonts_at_hand, harfbuzz, remembered
from traysheets.page.shaping import Shaped, shown
from traysheets.page.wrapping import balanced, filled, filled_whole, graphemes

MM_PER_POINT = 25.4 / 72
SIZE_STEP_PT = 0.25
SLACK_MM = 1e-6
"""Lengths closer than this are the same: far below what any printer can show, far above the rounding of sums."""

ELLIPSIS = "…"


@dataclass(frozen=True, slots=True)
class Fitted:
    """Text made to fit: its lines, the face and size they are to be set in, and whether an ellipsis cut it."""

    lines: tuple[str, ...]
    face: str
    size_pt: float
    cut: bool


@lru_cache(maxsize=65536)
def _plain_em_width(text: str, face: str) -> float | None:
    """Advance width for a size of one; None where the face lacks a character, and so shaping has to tell."""
    widths = metrics(face).widths
    try:
        return sum([widths[character] for character in shown(text)])
    except KeyError:
        return None


def is_plain(text: str, face: str) -> bool:
    """Whether the face has all of the text, which then is its characters side by side."""
    return _plain_em_width(text, face) is not None


def shaped(text: str, face: str) -> Shaped:
    """A text that is not plain as glyphs of the face and of the fonts at hand, for a size of one."""
    return shaping.shaped(text, face, fonts_at_hand())


def _em_width(text: str, face: str) -> float:
    """Advance width for a size of one. A character without a glyph counts nothing: `missing` reports it."""
    width = _plain_em_width(text, face)
    return shaped(text, face).width if width is None else width


def width_mm(text: str, face: str, size_pt: float) -> float:
    """Advance width of a line of text."""
    return _em_width(text, face) * size_pt * MM_PER_POINT


def cap_height_mm(face: str, size_pt: float) -> float:
    """Height of capital letters and figures above the base line."""
    return metrics(face).cap_height * size_pt * MM_PER_POINT


def ascent_mm(face: str, size_pt: float) -> float:
    """How far the tallest usual letter (accented capital) reaches above the base line."""
    return ink("É", face)[1] * size_pt * MM_PER_POINT


@lru_cache(maxsize=65536)
def _plain_em_ink(text: str, face: str) -> tuple[float, float]:
    inks = [ink(character, face) for character in shown(text)]
    return min((it[0] for it in inks), default=0.0), max((it[1] for it in inks), default=0.0)


def ink_mm(text: str, face: str, size_pt: float) -> tuple[float, float]:
    """How far the ink of this very text reaches below the base line (negative) and above it."""
    if is_plain(text, face):
        below, above = _plain_em_ink(text, face)
    else:
        below, above = (line := shaped(text, face)).below, line.above
    return below * size_pt * MM_PER_POINT, above * size_pt * MM_PER_POINT


def missing(text: str, face: str = "regular") -> tuple[str, ...]:
    """The characters of `text` that neither the face nor a font at hand has a glyph for, each once; what is never seen
    needs none.
    """
    if is_plain(text, face):
        return ()
    return tuple(dict.fromkeys(shaping.lacking(text, face, fonts_at_hand())))


@remembered(maxsize=65536)
def require_glyphs(text: str, where: str, face: str = "regular") -> None:
    """Raise SheetError when a character of the text has no glyph; it shows the text, names the characters, says what
    to do.

    `where` says what the text is, for the message: `the variety`.
    """
    lacking = missing(text, face)
    if lacking:
        lacked = ", ".join(map(named, lacking))
        raise SheetError(f"{where} {text!r}: no font at hand has {lacked}; {_remedy(lacking)}")


def _remedy(lacking: Sequence[str]) -> str:
    """What helps where characters have no glyph: a font, the extra that it takes, or other characters."""
    if not all(character.isprintable() for character in lacking):
        return "leave it out"
    font = 'name a font that has it in the plan, [plan] fonts = ["fonts/MyFont.ttf"], or write it in other characters'
    return font if harfbuzz() else f"install what such letters need ({EXTRA}) and {font}"


def named(character: str) -> str:
    """A character as messages show it: itself where it can be seen, its code point and its Unicode name."""
    name = unicodedata.name(character, "a control or unassigned character")
    seen = f"'{character}' " if character.isprintable() else ""
    return f"{seen}(U+{ord(character):04X}, {name})"


def fits(wanted_mm: float, room_mm: float) -> bool:
    """Whether a length goes into a room, with `SLACK_MM` forgiven."""
    return wanted_mm <= room_mm + SLACK_MM


def block_height_mm(lines: int, size_pt: float, leading: float = 1.15) -> float:
    """Height that lines of text take up: one size for the first, size times leading for each further one."""
    return (1 + (lines - 1) * leading) * size_pt * MM_PER_POINT


@dataclass(frozen=True, slots=True)
class _Room:
    """What a text must go into: the width, the height (None: any), the sizes allowed, and the leading."""

    width_mm: float
    height_mm: float | None
    size_pt: float
    least_pt: float
    leading: float

    def size(self, em_width: float, lines: int) -> float | None:
        """The largest size, in steps, at which lines of that width for a size of one go in; None below the least."""
        return next((size_pt for size_pt in self._sizes() if self._holds(em_width, lines, size_pt)), None)

    def _sizes(self) -> Iterator[float]:
        steps = ceil((self.size_pt - self.least_pt) / SIZE_STEP_PT)
        yield from (self.size_pt - step * SIZE_STEP_PT for step in range(steps))
        yield self.least_pt

    def _holds(self, em_width: float, lines: int, size_pt: float) -> bool:
        high = self.height_mm is None or fits(block_height_mm(lines, size_pt, self.leading), self.height_mm)
        return high and fits(em_width * size_pt * MM_PER_POINT, self.width_mm)

    def most_lines(self, lines: int) -> int:
        """How many of the lines allowed go in at the least size: one at any rate."""
        held = (number for number in range(lines, 1, -1) if self._holds(0.0, number, self.least_pt))
        return next(held, 1)


@remembered(maxsize=16384)
def fit(
    text: str,
    face: str,
    width_mm: float,
    size_pt: float,
    least_pt: float,
    lines: int = 1,
    leading: float = 1.15,
    height_mm: float | None = None,
) -> Fitted:
    """Make a text fit a width: condensed first, then set smaller down to `least_pt`, then wrapped over up to
    `lines` lines (when they fit `height_mm`), then cut with an ellipsis.

    Sizes go down by quarter points. Wrapped lines are balanced; a word is broken only when it alone is too long for a
    line, and never inside what a reader takes for one character.
    """
    room = _Room(width_mm, height_mm, size_pt, min(least_pt, size_pt), leading)
    faces = tuple(dict.fromkeys((face, NARROWER.get(face, face))))
    return _on_one_line(text, faces, room) or _wrapped(text, faces, room, lines) or _cut(text, faces[-1], room, lines)


def _on_one_line(text: str, faces: tuple[str, ...], room: _Room) -> Fitted | None:
    """As given, or as large as the height lets it be; else condensed, else condensed and smaller."""
    full_pt = room.size(0.0, 1)
    for face in faces:
        size_pt = room.size(_em_width(text, face), 1)
        if size_pt is not None and (size_pt == full_pt or face == faces[-1]):
            return Fitted((text,), face, size_pt, cut=False)
    return None


def _wrapped(text: str, faces: tuple[str, ...], room: _Room, lines: int) -> Fitted | None:
    """Broken at spaces and hyphens: the largest size that goes in, then the given face, then the fewest lines."""
    best: Fitted | None = None
    for face in faces:
        for number in range(2, lines + 1):
            broken = over_lines(text, number, face)
            size_pt = room.size(max(_em_width(line, face) for line in broken), len(broken))
            if size_pt is not None and (best is None or size_pt > best.size_pt):
                best = Fitted(broken, face, size_pt, cut=False)
    return best


def over_lines(text: str, lines: int, face: str) -> tuple[str, ...]:
    """The text over at most so many lines, broken between words so that the widest line is as narrow as can be."""
    return lines_kept(text, balanced(text, lines, partial(_em_width, face=face)))


def _cut(text: str, face: str, room: _Room, lines: int) -> Fitted:
    """At the least size, words broken where they must be; what the last line cannot hold gives way to an ellipsis."""
    room_em = (room.width_mm + SLACK_MM) / (room.least_pt * MM_PER_POINT)
    most = room.most_lines(lines)
    fill = filled if is_plain(text, face) else filled_whole
    broken = fill(text, room_em, partial(_em_width, face=face))
    kept = tuple(line.rstrip(" ") for line in broken[:most])
    if len(broken) <= most:
        return Fitted(lines_kept(text, kept), face, room.least_pt, cut=False)
    last = _shortened("".join(broken[most - 1 :]), room_em, face)
    return Fitted(lines_kept(text, (*kept[:-1], last)), face, room.least_pt, cut=True)


def _shortened(text: str, room_em: float, face: str) -> str:
    """As many whole characters as go in before an ellipsis. The ellipsis stands even where there is no room for it."""
    kept = ""
    for character in graphemes(text):  # pragma: no branch - what goes in whole is not shortened
        if _em_width(kept + character + ELLIPSIS, face) > room_em:
            break
        kept += character
    return kept.rstrip(" ") + ELLIPSIS
