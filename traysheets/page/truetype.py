"""The tables of a TrueType font that tell of its characters, read from the bytes of the file (OpenType, `otff`).

Only what the built-in faces need: a general reader takes ten times as long, on every run. Fonts that a plan names are
read by HarfBuzz.
"""

import sys
from array import array
from dataclasses import dataclass
from struct import unpack_from

_UNICODE = (3, 1)
"""Platform and encoding of the character map that every font for screens has: Unicode, characters of two bytes."""


@dataclass(frozen=True, slots=True)
class Tables:
    """What a font says: units of its em, height of its capitals, glyph number of every character, advance width of
    every glyph; its table of outlines, and where in there each glyph starts.
    """

    em: int
    cap_height: int
    glyphs: dict[int, int]
    advances: "array[int]"
    starts: "array[int]"
    outlines: bytes


def read_tables(file: bytes) -> Tables:
    """The tables of a font. It must have long offsets in `loca` and a character map of format 4."""
    places = _places(file)

    def table(tag: bytes) -> bytes:
        start, length = places[tag]
        return file[start : start + length]

    head, loca = table(b"head"), table(b"loca")
    assert unpack_from(">h", head, 50) == (1,), "offsets are long"
    return Tables(
        em=unpack_from(">H", head, 18)[0],
        cap_height=unpack_from(">h", table(b"OS/2"), 88)[0],
        glyphs=_characters(table(b"cmap")),
        advances=_advances(
            table(b"hmtx"), *unpack_from(">H", table(b"hhea"), 34), *unpack_from(">H", table(b"maxp"), 4)
        ),
        starts=_numbers("I", loca),
        outlines=table(b"glyf"),
    )


def _places(file: bytes) -> dict[bytes, tuple[int, int]]:
    """Where every table starts, and how long it is, by its tag."""
    (count,) = unpack_from(">H", file, 4)
    records = (unpack_from(">4s4xLL", file, 12 + 16 * i) for i in range(count))
    return {tag: (start, length) for tag, start, length in records}


def _numbers(kind: str, content: bytes) -> "array[int]":
    """Numbers as they stand one after the other, the high byte first."""
    found = array(kind, content)
    if sys.byteorder == "little":  # pragma: no branch - machines of the other order are rare
        found.byteswap()
    return found


def _advances(hmtx: bytes, measured: int, glyphs: int) -> "array[int]":
    """Of every glyph; those beyond the last that is measured are as wide as that one."""
    found = _numbers("H", hmtx[: 4 * measured])[::2]
    return found + array("H", [found[-1]]) * (glyphs - measured)


def _characters(cmap: bytes) -> dict[int, int]:
    """Glyph number by code point, from a map of format 4: segments of codes that share a shift of their glyphs."""
    (count,) = unpack_from(">H", cmap, 2)
    records = (unpack_from(">HHL", cmap, 4 + 8 * i) for i in range(count))
    start = next(start for platform, encoding, start in records if (platform, encoding) == _UNICODE)
    kind, length = unpack_from(">HH", cmap, start)
    assert kind == 4, "a map of segments"
    words = _numbers("H", cmap[start : start + length])
    segments = words[3] // 2
    ends, starts, shifts, offsets = (7, 8 + segments, 8 + 2 * segments, 8 + 3 * segments)
    found: dict[int, int] = {}
    for i in range(segments):
        first, last, shift, offset = words[starts + i], words[ends + i], words[shifts + i], words[offsets + i]
        codes = range(first, last + 1)
        if offset:
            own = words[offsets + i + offset // 2 :][: len(codes)]
            found |= {code: glyph + shift & 0xFFFF for code, glyph in zip(codes, own, strict=False) if glyph}
        else:
            found |= {code: code + shift & 0xFFFF for code in codes}
    return {code: glyph for code, glyph in found.items() if glyph and code != 0xFFFF}
