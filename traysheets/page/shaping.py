"""Shaping: texts with characters that the built-in faces lack, as glyphs of the fonts at hand, each in its place.

A text is parted by grapheme cluster, never by character: each goes to the first font that has all of it. Stretches of
one font, script and direction are shaped by HarfBuzz and stand in the order of Unicode Standard Annex #9
(`page/bidi.py`). All lengths are for a size of one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from unicodedata import normalize

from fontTools import unicodedata as scripts

from traysheets.base.directions import CLOSE, ISOLATES
from traysheets.page.bidi import levels, visual
from traysheets.page.faces import ink, metrics
from traysheets.page.fonts import Fonts, Typeface, characters, harfbuzz, instance, typefaces
from traysheets.page.wrapping import graphemes

_JOINERS = "\u200c\u200d"
_UNSEEN = frozenset("\u00ad\u034f\u061c\ufeff") | frozenset(
    chr(code)
    for first, last in (
        (0x180B, 0x180F),
        (0x200B, 0x200F),
        (0x202A, 0x202E),
        (0x2060, 0x206F),
        (0xFE00, 0xFE0F),
        (0xE0000, 0xE0FFF),
    )
    for code in range(first, last + 1)
)
"""Soft hyphens, joiners, direction marks, variation selectors: what Unicode calls default ignorable, as far as met."""

_SHAPES = frozenset((*_JOINERS, *ISOLATES, CLOSE, *map(chr, (*range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0)))))
"""What of it has a say in which glyphs are drawn and where."""

_TAKE_OUT = str.maketrans(dict.fromkeys(_UNSEEN))
_TAKE_OUT_IDLE = str.maketrans(dict.fromkeys(_UNSEEN - _SHAPES))
_NO_SCRIPT = frozenset({"Zyyy", "Zinh", "Zzzz"})


@dataclass(frozen=True, slots=True)
class Glyph:
    """A glyph: its number in its font, where its origin stands, and what it stands for, if it does so alone ('')."""

    typeface: Typeface
    number: int
    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Shaped:
    """A line of text as glyphs from left to right; its width, how far it reaches below (negative) and above."""

    glyphs: tuple[Glyph, ...]
    width: float
    below: float
    above: float


@dataclass(frozen=True, slots=True)
class _Run:
    """A stretch of one font, level and script; the script is None where nothing says which."""

    start: int
    end: int
    typeface: Typeface
    level: int
    script: str | None


@lru_cache(maxsize=65536)
def shown(text: str) -> str:
    """The text as it is set: composed (NFC), without the characters that are never seen."""
    return text if text.isascii() else normalize("NFC", text).translate(_TAKE_OUT)


def logical(text: str) -> str:
    """The text as it is shaped: composed, and of what is never seen only what has a say in how letters are drawn."""
    return normalize("NFC", text).translate(_TAKE_OUT_IDLE)


@lru_cache(maxsize=16384)
def shaped(text: str, face: str, fonts: Fonts) -> Shaped:
    """The text in a face, and in the fonts what the face lacks. What none of them has is left out: see `lacking`."""
    if not fonts or not harfbuzz():
        return _unshaped(text, face)
    whole, glyphs = logical(text), []
    x, below, above = 0.0, 0.0, 0.0
    runs = list(_runs(whole, typefaces(face, fonts)))
    for place in visual([run.level for run in runs]):
        for glyph, advance, reach in _shape(whole, runs[place], x):
            glyphs.append(glyph)
            x += advance
            below, above = min(below, glyph.y + reach[0]), max(above, glyph.y + reach[1])
    return Shaped(tuple(glyphs), x, below, above)


def _unshaped(text: str, face: str) -> Shaped:
    """What a text takes up as far as the face has its characters."""
    widths = metrics(face).widths
    inks = [ink(character, face) for character in shown(text)]
    width = sum(widths.get(character, 0.0) for character in shown(text))
    return Shaped((), width, min((it[0] for it in inks), default=0.0), max((it[1] for it in inks), default=0.0))


def lacking(text: str, face: str, fonts: Fonts) -> Iterator[str]:
    """The characters that cannot be set: of each cluster that no font has whole, what the best for it lacks."""
    if not fonts or not harfbuzz():
        yield from (character for character in shown(text) if character not in metrics(face).widths)
        return
    faces = typefaces(face, fonts)
    for cluster in graphemes(logical(text)):
        if _typeface(cluster, faces, None) is None:
            lacked = [[it for it in _needed(cluster) if ord(it) not in characters(face.file)] for face in faces]
            yield from min(lacked, key=len)


def _needed(cluster: str) -> str:
    """What of a cluster must have a glyph."""
    return cluster.translate(_TAKE_OUT)


def _typeface(cluster: str, faces: Sequence[Typeface], before: Typeface | None) -> Typeface | None:
    """What sets a cluster: for a blank what sets the letters before it, else the first that has all of it."""
    asked = (before, *faces) if before and not cluster.translate(_TAKE_OUT).strip() else faces
    for form in (_needed(cluster), normalize("NFD", _needed(cluster))):
        for face in asked:
            if all(ord(character) in characters(face.file) for character in form):
                return face
    return None


def _runs(text: str, faces: Sequence[Typeface]) -> Iterator[_Run]:
    """The stretches of a text, in its order; clusters that nothing sets are left out."""
    found: list[_Run] = []
    at, before, script = levels(text), None, None
    place = 0
    for cluster in graphemes(text):
        typeface, start, place = _typeface(cluster, faces, before), place, place + len(cluster)
        own = scripts.script(cluster[0])
        script = script if own in _NO_SCRIPT else own
        if typeface:
            found.append(_Run(start, place, typeface, at[start], script))
            before = typeface
    for _, group in groupby(found, lambda run: (run.typeface, run.level, run.script)):
        alike = list(group)
        yield from _joined(alike)


def _joined(runs: Sequence[_Run]) -> Iterator[_Run]:
    """Runs of one kind as one, parted where something that nothing sets lies between them."""
    start = runs[0]
    end = start.end
    for run in runs[1:]:
        if run.start != end:
            yield _Run(start.start, end, start.typeface, start.level, start.script)
            start = run
        end = run.end
    yield _Run(start.start, end, start.typeface, start.level, start.script)


def _shape(text: str, run: _Run, x: float) -> Iterator[tuple[Glyph, float, tuple[float, float]]]:
    """The glyphs of a run from left to right, from `x` on; how far each moves on; how far its ink reaches."""
    hb, font = harfbuzz(), instance(run.typeface)
    assert hb, "asked for only where HarfBuzz is"
    buffer = hb.Buffer()
    buffer.add_codepoints(list(map(ord, text)), run.start, run.end - run.start)
    buffer.direction = "rtl" if run.level % 2 else "ltr"
    buffer.script, buffer.language = run.script or "Latn", "und"
    buffer.flags = hb.BufferFlags.REMOVE_DEFAULT_IGNORABLES
    hb.shape(font, buffer)
    em, clusters = font.face.upem, [info.cluster for info in buffer.glyph_infos]
    texts = _texts(text, clusters, run.end)
    for info, position, said in zip(buffer.glyph_infos, buffer.glyph_positions, texts, strict=True):
        at = x + position.x_offset / em
        glyph = Glyph(run.typeface, info.codepoint, at, position.y_offset / em, said)
        yield glyph, position.x_advance / em, _reach(font, info.codepoint, em)
        x += position.x_advance / em


def _texts(text: str, clusters: Sequence[int], end: int) -> Iterator[str]:
    """What each glyph stands for: that which is alone in its cluster for all of it."""
    starts = sorted(set(clusters))
    ends = dict(zip(starts, [*starts[1:], end], strict=True))
    for cluster in clusters:
        yield text[cluster : ends[cluster]].translate(_TAKE_OUT) if clusters.count(cluster) == 1 else ""


def _reach(font, number: int, em: int) -> tuple[float, float]:  # type: ignore[no-untyped-def]
    """How far the ink of a glyph reaches below its base line (negative) and above it."""
    extents = font.get_glyph_extents(number)
    if extents is None or not extents.height:
        return 0.0, 0.0
    return (extents.y_bearing + extents.height) / em, extents.y_bearing / em
