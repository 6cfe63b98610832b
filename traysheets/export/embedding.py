"""Fonts of shaped texts as a PDF file carries them: of each typeface the signs that are shown, as a composite font.

A sign goes by a code of two bytes, given when it is met first (ISO 32000-1, 9.7: Identity-H, CIDFontType2), and is one
glyph, however many it was made of. So the ToUnicode table tells all of its text, and what is copied from a page is
whole. Signs stand in the order of the page, left to right, as readers take all text to do.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from string import ascii_uppercase
from typing import TYPE_CHECKING, TypeAlias

from traysheets.export.operators import Parts
from traysheets.export.path_operators import number
from traysheets.export.pdf_file import compressed
from traysheets.page.fonts import Typeface
from traysheets.page.shaping import Shaped, Sign

if TYPE_CHECKING:
    from traysheets.page.outlines import Cut

Put: TypeAlias = Callable[[bytes], str]
"""Puts an object into the file, and tells how others refer to it (`12 0 R`)."""

_MOST_TOGETHER = 100
"""Entries in one block of a ToUnicode table."""

_TO_UNICODE = """/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <FFFF>
endcodespacerange
{blocks}endcmap
CMapName currentdict /CMap defineresource pop
end
end
"""


@dataclass(frozen=True, slots=True)
class _Used:
    """A typeface in the document: its name in streams, and the codes of its signs."""

    name: str
    codes: dict[Sign, int] = field(default_factory=dict)

    def code(self, sign: Sign) -> str:
        return f"{self.codes.setdefault(sign, len(self.codes) + 1):04X}"


class ShapedFonts:
    """The typefaces of shaped texts of one document."""

    def __init__(self) -> None:
        self._used: dict[Typeface, _Used] = {}

    def parts(self, line: Shaped) -> Parts:
        """A shaped text in the codes of its signs."""
        parts = []
        for stretch in line.stretches:
            used = self._used.setdefault(stretch.typeface, _Used(f"/X{len(self._used) + 1}"))
            parts.append((used.name, f"<{''.join(map(used.code, stretch.signs))}>"))
        return parts

    def objects(self, put: Put) -> Iterator[tuple[str, str]]:
        """Put all fonts into the file; for each its name in streams, and how to refer to it."""
        if not self._used:
            return
        # Few plans have names in other scripts: what cuts fonts is loaded when there is one.
        from traysheets.page.outlines import cut

        for place, (typeface, used) in enumerate(self._used.items()):
            signs = list(used.codes)
            yield used.name[1:], put(_composite(signs, cut(typeface, signs), _tag(place), put))


def _tag(place: int) -> str:
    """Six letters that tell the subsets of a file apart (9.6.4); those of the built-in faces begin with A."""
    return "XX" + "".join(ascii_uppercase[place // 26**digit % 26] for digit in (3, 2, 1, 0))


def _composite(signs: Sequence[Sign], font: "Cut", tag: str, put: Put) -> bytes:
    """The font that streams name, which stands for the one with the glyphs (9.7.6)."""
    name = f"/{tag}+{font.name}"
    widths = " ".join(number(sign.advance * 1000) for sign in signs)
    descendant = _said(
        f"/Type /Font /Subtype /CIDFontType2 /BaseFont {name} /CIDToGIDMap /Identity /DW 0 /W [1 [{widths}]]",
        "/CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>>",
        f"/FontDescriptor {put(_descriptor(font, name, put))}",
    )
    return _said(
        f"/Type /Font /Subtype /Type0 /BaseFont {name} /Encoding /Identity-H",
        f"/DescendantFonts [{put(descendant)}] /ToUnicode {put(compressed(b'', _to_unicode(signs)))}",
    )


def _descriptor(font: "Cut", name: str, put: Put) -> bytes:
    """What a reader may want to know of a font that it cannot use (9.8); it is symbolic, as it has codes of its own."""
    program = put(compressed(b"/Length1 %d" % len(font.file), font.file))
    left, bottom, right, top = (round(side * 1000) for side in font.box)
    return _said(
        f"/Type /FontDescriptor /FontName {name} /Flags 4 /FontBBox [{left} {bottom} {right} {top}] /ItalicAngle 0",
        f"/Ascent {top} /Descent {bottom} /CapHeight {top} /StemV 80 /FontFile2 {program}",
    )


def _said(*parts: str) -> bytes:
    return f"<<{' '.join(parts)}>>".encode("ascii")


def _to_unicode(signs: Sequence[Sign]) -> bytes:
    """The table of what codes stand for (9.10.3)."""
    entries = [f"<{code:04X}> <{sign.text.encode('utf-16-be').hex().upper()}>\n" for code, sign in enumerate(signs, 1)]
    together = [entries[start : start + _MOST_TOGETHER] for start in range(0, len(entries), _MOST_TOGETHER)]
    blocks = "".join(f"{len(some)} beginbfchar\n{''.join(some)}endbfchar\n" for some in together)
    return _TO_UNICODE.format(blocks=blocks).encode("ascii")
