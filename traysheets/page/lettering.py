"""Lettering: the faces, how wide a text is, how to make it fit, and which characters no face has.

Measured from the font files alone, so that laying out never needs the printer. Nothing here shapes or kerns, and
neither does what writes the pages: the sum of the advance widths is the true width. Where lines break is
`page/wrapping.py`.
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache, partial
from math import ceil
from struct import unpack_from

from fontTools.ttLib import TTFont

from traysheets.base.bundle import bundled
from traysheets.base.errors import SheetError
from traysheets.page.wrapping import balanced, filled, graphemes

FACES: dict[str, str] = {
    "regular": "NotoSans-Regular.ttf",
    "bold": "NotoSans-Bold.ttf",
    "condensed": "NotoSansCondensed-Regular.ttf",
    "condensed-bold": "NotoSansCondensed-Bold.ttf",
    "code": "NotoSansCode-Medium.ttf",
}
"""Name of a face and its file in `fonts/`."""

NARROWER: dict[str, str] = {"regular": "condensed", "bold": "condensed-bold"}
"""The condensed face to fall back to."""

MM_PER_POINT = 25.4 / 72
SIZE_STEP_PT = 0.25
SLACK_MM = 1e-6
"""Lengths closer than this are the same: far below what any printer can show, far above the rounding of sums."""

ELLIPSIS = "…"

_UNSEEN = re.compile(
    "[\u00ad\u034f\u061c\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff\U000e0000-\U000e0fff]"
)
"""Soft hyphens, joiners, direction marks, variation selectors: what Unicode calls default ignorable, as far as met."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Text made to fit: its lines, the face and size they are to be set in, and whether an ellipsis cut it."""

    lines: tuple[str, ...]
    face: str
    size_pt: float
    cut: bool


@dataclass(frozen=True, slots=True)
class _Metrics:
    """A face: units of its em, glyph number and advance width of every character, height of capitals; and its table of
    outlines with the place where each glyph starts.
    """

    em: int
    glyphs: dict[str, int]
    widths: dict[str, float]
    cap_height: float
    starts: Sequence[int]
    outlines: bytes


@cache
def _metrics(face: str) -> _Metrics:
    """Read a font file. Glyphs go by number here: asking for their names would take longer than all the rest."""
    with TTFont(bundled("fonts") / FACES[face], lazy=True) as font:
        font.setGlyphOrder([str(number) for number in range(font["maxp"].numGlyphs)])
        em, advances = font["head"].unitsPerEm, font["hmtx"].metrics
        glyphs = {chr(code): int(glyph) for code, glyph in font.getBestCmap().items()}
        widths = {character: advances[str(glyph)][0] / em for character, glyph in glyphs.items()}
        return _Metrics(em, glyphs, widths, font["OS/2"].sCapHeight / em, font["loca"], font.reader["glyf"])


@lru_cache(maxsize=16384)
def _ink(character: str, face: str) -> tuple[float, float]:
    """How far a character reaches below (negative) and above the base line: from its outline (OpenType, `glyf`)."""
    metrics = _metrics(face)
    glyph = metrics.glyphs.get(character, 0)
    if metrics.starts[glyph] == metrics.starts[glyph + 1]:
        return 0.0, 0.0
    _contours, _left, bottom, _right, top = unpack_from(">5h", metrics.outlines, metrics.starts[glyph])
    return bottom / metrics.em, top / metrics.em


@lru_cache(maxsize=65536)
def shown(text: str) -> str:
    """The text as it is set: composed (NFC), without the characters that are never seen."""
    return text if text.isascii() else _UNSEEN.sub("", unicodedata.normalize("NFC", text))


@lru_cache(maxsize=65536)
def _em_width(text: str, face: str) -> float:
    """Advance width for a size of one. A character without a glyph counts nothing: `missing` reports it."""
    widths = _metrics(face).widths
    return sum(widths.get(character, 0.0) for character in shown(text))


def width_mm(text: str, face: str, size_pt: float) -> float:
    """Advance width of a line of text."""
    return _em_width(text, face) * size_pt * MM_PER_POINT


def cap_height_mm(face: str, size_pt: float) -> float:
    """Height of capital letters and figures above the base line."""
    return _metrics(face).cap_height * size_pt * MM_PER_POINT


def ascent_mm(face: str, size_pt: float) -> float:
    """How far the tallest usual letter (accented capital) reaches above the base line."""
    return _ink("É", face)[1] * size_pt * MM_PER_POINT


def descent_mm(face: str, size_pt: float) -> float:
    """How far letters reach below the base line, as a positive length."""
    return -_ink("g", face)[0] * size_pt * MM_PER_POINT


@lru_cache(maxsize=65536)
def _em_ink(text: str, face: str) -> tuple[float, float]:
    inks = [_ink(character, face) for character in shown(text)]
    return min((ink[0] for ink in inks), default=0.0), max((ink[1] for ink in inks), default=0.0)


def ink_mm(text: str, face: str, size_pt: float) -> tuple[float, float]:
    """How far the ink of this very text reaches below the base line (negative) and above it."""
    below, above = _em_ink(text, face)
    return below * size_pt * MM_PER_POINT, above * size_pt * MM_PER_POINT


def missing(text: str, face: str = "regular") -> tuple[str, ...]:
    """The characters of `text` that the face has no glyph for, each once; what is never seen needs none."""
    widths = _metrics(face).widths
    return tuple(dict.fromkeys(character for character in shown(text) if character not in widths))


@lru_cache(maxsize=65536)
def require_glyphs(text: str, where: str, face: str = "regular") -> None:
    """Raise SheetError when the face lacks a character of the text; it shows the text and names the characters.

    `where` says what the text is, for the message: `the variety`.
    """
    lacking = missing(text, face)
    if lacking:
        lacked = ", ".join(map(named, lacking))
        raise SheetError(f"{where} {text!r}: no font of ours has {lacked}; write it in other characters")


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


@lru_cache(maxsize=16384)
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
    line.
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
            broken = balanced(text, number, partial(_em_width, face=face))
            size_pt = room.size(max(_em_width(line, face) for line in broken), len(broken))
            if size_pt is not None and (best is None or size_pt > best.size_pt):
                best = Fitted(broken, face, size_pt, cut=False)
    return best


def _cut(text: str, face: str, room: _Room, lines: int) -> Fitted:
    """At the least size, words broken where they must be; what the last line cannot hold gives way to an ellipsis."""
    room_em = (room.width_mm + SLACK_MM) / (room.least_pt * MM_PER_POINT)
    most = room.most_lines(lines)
    broken = filled(text, room_em, partial(_em_width, face=face))
    kept = tuple(line.rstrip(" ") for line in broken[:most])
    if len(broken) <= most:
        return Fitted(kept, face, room.least_pt, cut=False)
    last = _shortened("".join(broken[most - 1 :]), room_em, face)
    return Fitted((*kept[:-1], last), face, room.least_pt, cut=True)


def _shortened(text: str, room_em: float, face: str) -> str:
    """As many whole characters as go in before an ellipsis. The ellipsis stands even where there is no room for it."""
    kept = ""
    for character in graphemes(text):
        if _em_width(kept + character + ELLIPSIS, face) > room_em:
            break
        kept += character
    return kept.rstrip(" ") + ELLIPSIS
