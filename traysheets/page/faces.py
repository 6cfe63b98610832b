"""The built-in faces: which there are, and how wide and high each of their characters is, read from the font files.

They hold Latin, Greek and Cyrillic letters, and need no shaping: the sum of the advance widths is the true width. Fonts
that a plan names for other scripts are `page/fonts.py`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from struct import unpack_from

from traysheets.base.bundle import bundled
from traysheets.page.truetype import read_tables

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

STYLES: dict[str, tuple[int, int]] = {
    "regular": (400, 100),
    "bold": (700, 100),
    "condensed": (400, 75),
    "condensed-bold": (700, 75),
    "code": (500, 100),
}
"""Weight and width of a face on the scales of OpenType (`wght`, `wdth`)."""


@dataclass(frozen=True, slots=True)
class Metrics:
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
def metrics(face: str) -> Metrics:
    """Read a font file."""
    font = read_tables((bundled("fonts") / FACES[face]).read_bytes())
    glyphs = {chr(code): glyph for code, glyph in font.glyphs.items()}
    widths = {character: font.advances[glyph] / font.em for character, glyph in glyphs.items()}
    return Metrics(font.em, glyphs, widths, font.cap_height / font.em, font.starts, font.outlines)


@lru_cache(maxsize=16384)
def ink(character: str, face: str) -> tuple[float, float]:
    """How far a character reaches below (negative) and above the base line: from its outline (OpenType, `glyf`)."""
    found = metrics(face)
    glyph = found.glyphs.get(character, 0)
    if found.starts[glyph] == found.starts[glyph + 1]:
        return 0.0, 0.0
    _contours, _left, bottom, _right, top = unpack_from(">5h", found.outlines, found.starts[glyph])
    return bottom / found.em, top / found.em
