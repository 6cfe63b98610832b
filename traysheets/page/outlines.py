"""Outlines: some signs of a font as a small TrueType font of their own, for files that carry what they show.

Drawn by HarfBuzz, so that every kind of font comes out alike: TrueType, PostScript outlines (CFF), variable ones at
their weight and width, one of a collection. A sign of several glyphs becomes one glyph. Nothing else of the font is
kept: shaping is done by then.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen

from traysheets.page.fonts import Typeface, instance
from traysheets.page.shaping import Sign

_LARGEST_ERROR_EM = 0.0005
"""How far a curve may lie from the one it stands for: 0.002 mm in letters of 12 pt."""

_NOTHING = ".notdef"


@dataclass(frozen=True, slots=True)
class Cut:
    """A font cut to some signs: its file, its PostScript name, and left, bottom, right and top of all signs laid on
    each other, for a size of one.
    """

    file: bytes
    name: str
    box: tuple[float, float, float, float]


def cut(typeface: Typeface, signs: Sequence[Sign]) -> Cut:
    """A TrueType font with a glyph for each of the signs, in their order after an empty one numbered 0.

    The same signs make the same bytes: no date gets into it.
    """
    font = instance(typeface)
    em = font.face.upem
    glyphs = {f"g{place}": _drawn(font, sign) for place, sign in enumerate(signs, 1)}
    glyphs = {_NOTHING: TTGlyphPen(None).glyph(), **glyphs}
    widths = dict(zip(glyphs, [0, *(max(0, round(sign.advance * em)) for sign in signs)], strict=True))
    builder = FontBuilder(em, isTTF=True)
    builder.font.recalcTimestamp = False
    builder.setupGlyphOrder(list(glyphs))
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics({name: (widths[name], getattr(it, "xMin", 0)) for name, it in glyphs.items()})
    extents = font.get_font_extents("ltr")
    builder.setupHorizontalHeader(ascent=round(extents.ascender), descent=round(extents.descender))
    builder.setupMaxp()
    builder.updateHead(created=0, modified=0)
    file = BytesIO()
    builder.save(file)
    head = builder.font["head"]
    box = (head.xMin / em, head.yMin / em, head.xMax / em, head.yMax / em)
    return Cut(file.getvalue(), _postscript_name(font.face), box)


def _drawn(font: Any, sign: Sign) -> Any:
    """A sign as one glyph, its curves as TrueType has them."""
    em, outline = font.face.upem, TTGlyphPen(None)
    for number, right, up in sign.glyphs:
        placed = TransformPen(Cu2QuPen(outline, _LARGEST_ERROR_EM * em), (1, 0, 0, 1, right * em, up * em))
        font.draw_glyph_with_pen(number, placed)
    return outline.glyph(dropImpliedOnCurves=True)


def _postscript_name(face: Any) -> str:
    """The PostScript name of the font, as far as a PDF can hold it plainly; `Font` when it has none."""
    name = face.get_name(6) or ""
    return "".join(it for it in name if it.isascii() and (it.isalnum() or it == "-")) or "Font"
