"""Names in scripts that the built-in faces lack, small fonts that hold them, and what other programs make of them."""

from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any, TypeAlias

import uharfbuzz as hb
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

from traysheets.page.fonts import Fonts, font_files

FOLDER = Path(__file__).parent / "data" / "fonts"
ARABIC, HEBREW, DEVANAGARI, THAI, CJK = (
    str(FOLDER / name) for name in ("Arabic.ttf", "Hebrew.ttf", "Devanagari.ttf", "Thai.ttf", "Cjk.otf")
)
NAMES: dict[str, str] = {
    "بصل أخضر طويل": ARABIC,
    "بَصَل": ARABIC,
    "سلام": ARABIC,
    "می\u200cخوا": ARABIC,
    "בצל ירוק": HEBREW,
    "हरी प्याज": DEVANAGARI,
    "क्षेत्री मूली": DEVANAGARI,
    "ต้นหอมญี่ปุ่น": THAI,
    "น้ำผึ้ง": THAI,
    "九条ねぎ": CJK,
    "上海红甜菜根": CJK,
    "대파 한지형": CJK,
}
"""Names, and the font each is set in."""
FROM_RIGHT = (ARABIC, HEBREW)


def fonts(*paths: str) -> Fonts:
    """The fonts as a plan names them; all when none are given."""
    return font_files(paths or (ARABIC, HEBREW, DEVANAGARI, THAI, CJK))


def instanced(path: str, weight: float, width: float = 100) -> TTFont:
    """The font at a weight and width, as fontTools has it; one without axes as it is."""
    font = TTFont(path)
    places = {"wght": weight, "wdth": width}
    if "fvar" not in font:
        return font
    axes = {axis.axisTag: axis for axis in font["fvar"].axes}
    within = {tag: min(max(places[tag], axis.minValue), axis.maxValue) for tag, axis in axes.items()}
    return instancer.instantiateVariableFont(font, within)


def harfbuzz(text: str, font: TTFont) -> list[tuple[int, float, float, float]]:
    """Number, x, y and advance of every glyph of a text in one script, as HarfBuzz alone has it, in parts of the em."""
    file = BytesIO()
    font.save(file)
    face = hb.Face(file.getvalue())
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(hb.Font(face), buffer)
    found, x = [], 0
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        place = (x + position.x_offset, position.y_offset, position.x_advance)
        found.append((info.codepoint, *(length / face.upem for length in place)))
        x += position.x_advance
    return found


Placed: TypeAlias = Sequence[tuple[int, float, float]]
"""Glyphs by their number in a font and the place of their origin, in parts of the em."""


def points(font: TTFont, glyphs: Placed) -> list[tuple[float, float]]:
    """The points by which outlines are drawn, in parts of the em; of quadratic curves those they are drawn towards too,
    of cubic ones only their ends.
    """
    em, names, drawn = font["head"].unitsPerEm, font.getGlyphOrder(), font.getGlyphSet()
    found: list[tuple[float, float]] = []
    for number, x, y in glyphs:
        pen = DecomposingRecordingPen(drawn)
        drawn[names[number]].draw(TransformPen(pen, (1, 0, 0, 1, x * em, y * em)))
        found += _ends(pen.value)
    return [(x / em, y / em) for x, y in found]


def area(font: TTFont, glyphs: Placed) -> float:
    """What outlines enclose, in parts of a square em, whichever way they are drawn round."""
    names, drawn, whole = font.getGlyphOrder(), font.getGlyphSet(), 0.0
    for number, _, _ in glyphs:
        pen = AreaPen(drawn)
        drawn[names[number]].draw(pen)
        whole += pen.value
    return abs(whole) / font["head"].unitsPerEm ** 2


def _ends(drawn: Sequence[tuple[str, tuple[Any, ...]]]) -> Iterator[tuple[float, float]]:
    for verb, operands in drawn:
        if verb in {"moveTo", "lineTo", "curveTo"} and operands:
            yield operands[-1]
        elif verb == "qCurveTo":
            yield from (point for point in operands if point)


def box(points: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)
