"""Shaping: texts with characters that the built-in faces lack, as glyphs of the fonts at hand, each in its place.

A text is parted by grapheme cluster, never by character: each goes to the first font that has all of it. Stretches of
one font, script and direction are shaped by HarfBuzz and stand in the order of Unicode Standard Annex #9
(`page/bidi.py`). All lengths are for a size of one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise
from typing import Any
from unicodedata import category, normalize

from fontTools import unicodedata as scripts

from traysheets.base.directions import CLOSE, ISOLATES
from traysheets.page.bidi import levels, mirrored, visual
from traysheets.page.faces import ink, metrics
from traysheets.page.fonts import Fonts, Typeface, characters, harfbuzz, instance, typefaces
from traysheets.page.wrapping import graphemes

_JOINERS = "\u200c\u200d"
_UNSEEN_RANGES = ((0x180B, 0x180F), (0x200B, 0x200F), (0x202A, 0x202E), (0x2060, 0x206F), (0xFE00, 0xFE0F))
_UNSEEN = frozenset("\u00ad\u034f\u061c\ufeff").union(
    chr(code) for first, last in (*_UNSEEN_RANGES, (0xE0000, 0xE0FFF)) for code in range(first, last + 1)
)
"""Soft hyphens, joiners, direction marks, variation selectors: what Unicode calls default ignorable, as far as met."""

_SHAPES = frozenset((*_JOINERS, *ISOLATES, CLOSE, *map(chr, (*range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0)))))
"""What of it has a say in which glyphs are drawn and where."""

_TAKE_OUT = str.maketrans(dict.fromkeys(_UNSEEN))
_TAKE_OUT_IDLE = str.maketrans(dict.fromkeys(_UNSEEN - _SHAPES))
_TAKE_OUT_ISOLATES = str.maketrans(dict.fromkeys((*ISOLATES, CLOSE)))
_DOTTED_CIRCLE = "\u25cc"
_MARKS_OF_ANY_SCRIPT = frozenset(map(chr, range(0x0300, 0x0370)))
"""Those that the built-in faces have. Shaping knows itself what marks of one script alone stand on."""
_NO_SCRIPT = frozenset({"Zyyy", "Zinh", "Zzzz"})


@dataclass(frozen=True, slots=True)
class Sign:
    """What stands for a piece of text that no glyph alone stands for a part of: most often one glyph.

    `glyphs` are numbers in the font with where their origins stand, to the right of the sign's own and above it.
    """

    text: str
    glyphs: tuple[tuple[int, float, float], ...]
    advance: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """Signs of one typeface, one after the other from left to right."""

    typeface: Typeface
    signs: tuple[Sign, ...]


@dataclass(frozen=True, slots=True)
class Shaped:
    """A line of text as stretches from left to right; its width, how far it reaches below (negative) and above."""

    stretches: tuple[Stretch, ...]
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
    """The text as it is set: composed (NFC), without what is never seen, a mark at its head on a base."""
    return text if text.isascii() else _based(normalize("NFC", text).translate(_TAKE_OUT))


def logical(text: str) -> str:
    """The text as it is shaped: composed, and of what is never seen only what has a say in how letters are drawn."""
    text = normalize("NFC", text).translate(_TAKE_OUT_IDLE)
    return _based(text) if text[:1] in _MARKS_OF_ANY_SCRIPT else text


def _based(text: str) -> str:
    """A mark that has no letter before it is set on a dotted circle (The Unicode Standard, 2.11, "Combining
    Characters"): on nothing it would be drawn to the left of the text, over what stands there.
    """
    return _DOTTED_CIRCLE + text if text and category(text[0]) in ("Mn", "Me") else text


@lru_cache(maxsize=16384)
def shaped(text: str, face: str, fonts: Fonts) -> Shaped:
    """The text in a face, and in the fonts what the face lacks. What none of them has is left out: see `lacking`."""
    if not fonts:
        return _unshaped(text, face)
    whole = logical(text)
    runs = list(_runs(whole, typefaces(face, fonts)))
    stretches = tuple(_shape(whole, runs[place]) for place in visual([run.level for run in runs]))
    width = sum(sign.advance for stretch in stretches for sign in stretch.signs)
    reaches = [reach for stretch in stretches for reach in _reaches(stretch)]
    below, above = zip(*reaches, (0.0, 0.0), strict=True)
    return Shaped(stretches, width, min(below), max(above))


def _unshaped(text: str, face: str) -> Shaped:
    """What a text takes up as far as the face has its characters."""
    widths = metrics(face).widths
    inks = [ink(character, face) for character in shown(text)]
    width = sum(widths.get(character, 0.0) for character in shown(text))
    return Shaped((), width, min((it[0] for it in inks), default=0.0), max((it[1] for it in inks), default=0.0))


def lacking(text: str, face: str, fonts: Fonts) -> Iterator[str]:
    """The characters that cannot be set: of each cluster that no font has whole, what the best for it lacks."""
    if not fonts:
        yield from (character for character in shown(text) if character not in metrics(face).widths)
        return
    faces = typefaces(face, fonts)
    for cluster in graphemes(logical(text)):
        if _typeface(cluster, faces, None) is None:
            lacked = [[ord(it) not in characters(face.file) for it in _needed(cluster)] for face in faces]
            best = min(lacked, key=lambda lacks: (lacks[0], sum(lacks)))
            yield from (character for character, lacks in zip(_needed(cluster), best, strict=True) if lacks)


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


def _shape(text: str, run: _Run) -> Stretch:
    """A run as signs."""
    hb, font = harfbuzz(), instance(run.typeface)
    assert hb, "asked for only where HarfBuzz is"
    buffer = hb.Buffer()
    buffer.add_codepoints(list(map(ord, text)), run.start, run.end - run.start)
    buffer.direction = "rtl" if run.level % 2 else "ltr"
    buffer.script, buffer.language = run.script or "Latn", "und"
    buffer.cluster_level = hb.BufferClusterLevel.MONOTONE_CHARACTERS
    hb.shape(font, buffer)
    glyphs = zip(buffer.glyph_infos, buffer.glyph_positions, strict=True)
    texts = _texts(text, [info.cluster for info in buffer.glyph_infos], run)
    signs = (
        _sign(texts[start], ((info.codepoint, position) for info, position in group), font.face.upem)
        for start, group in groupby(glyphs, lambda glyph: glyph[0].cluster)
    )
    return Stretch(run.typeface, tuple(sign for sign in signs if sign.text))


def _sign(text: str, glyphs: Iterable[tuple[int, Any]], em: int) -> Sign:
    """The glyphs of a cluster in one: HarfBuzz tells how far each moves on, and how far it stands off its place."""
    x, parts = 0, []
    for number, position in glyphs:
        parts.append((number, (x + position.x_offset) / em, position.y_offset / em))
        x += position.x_advance
    return Sign(text, tuple(parts), x / em)


def _texts(text: str, clusters: Iterable[int], run: _Run) -> dict[int, str]:
    """What the glyphs of each cluster stand for, by where it begins; brackets as they look."""
    starts = sorted(set(clusters))
    texts = {start: text[start:stop].translate(_TAKE_OUT_ISOLATES) for start, stop in pairwise((*starts, run.end))}
    return {start: mirrored(said) for start, said in texts.items()} if run.level % 2 else texts


def _reaches(stretch: Stretch) -> Iterator[tuple[float, float]]:
    """How far the ink of each glyph reaches below the base line (negative) and above it."""
    font = instance(stretch.typeface)
    em = font.face.upem
    for sign in stretch.signs:
        for number, _, up in sign.glyphs:
            extents = font.get_glyph_extents(number)
            if extents and extents.height:
                yield up + (extents.y_bearing + extents.height) / em, up + extents.y_bearing / em
