"""Names in other scripts in PDF: what is drawn against HarfBuzz and fontTools, what is copied against the names."""

import io
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pypdfium2
import pytest
from bidi import get_display
from eyes import render
from fontTools.ttLib import TTFont
from mark_pages import pdf_of
from PIL import Image, ImageDraw, ImageFont
from pypdf import PdfReader
from readback import read_back
from scripts import ARABIC, CJK, FOLDER, FROM_RIGHT, HEBREW, NAMES, area, box, fonts, harfbuzz, instanced, points

from traysheets.page.faces import STYLES
from traysheets.page.fonts import with_fonts
from traysheets.page.lettering import width_mm
from traysheets.page.marks import Mark, Page, Text

MM_PER_POINT = 25.4 / 72


def made(*marks: Mark) -> bytes:
    with with_fonts(fonts()):
        return pdf_of([Page(130, 80, marks)])


def alone(name: str, face: str = "bold", size_pt: float = 12) -> bytes:
    return made(Text(20, 40, name, face, size_pt))


def composite_fonts(pdf: bytes) -> dict[str, Any]:
    """The fonts of shaped texts by their names in streams."""
    found = PdfReader(io.BytesIO(pdf)).pages[0]["/Resources"]["/Font"]
    return {name: font.get_object() for name, font in found.items() if font.get_object()["/Subtype"] == "/Type0"}


def program(font: Any) -> TTFont:
    """The font file that is in the PDF."""
    descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
    return TTFont(io.BytesIO(descriptor["/FontFile2"].get_data()))


@pytest.mark.parametrize("face", ["regular", "condensed-bold"])
@pytest.mark.parametrize("name", NAMES)
def test_outlines_are_drawn_where_harfbuzz_puts_them(name: str, face: str) -> None:
    """Codes, widths and outlines of the file, against the font as fontTools instances it, set by HarfBuzz alone."""
    pdf = alone(name, face)
    ((key, font),) = composite_fonts(pdf).items()
    first, widths = font["/DescendantFonts"][0].get_object()["/W"]
    drawn, x = [], 0.0
    for code in codes(pdf, key):
        drawn.append((code, x, 0.0))
        x += float(widths[code - first]) / 1000
    other = instanced(NAMES[name], *STYLES[face])
    glyphs = [(number, x, y) for number, x, y, _ in harfbuzz(name, other)]
    found, meant = points(program(font), drawn), points(other, glyphs)
    assert box(found) == pytest.approx(box(meant), abs=0.003)
    assert area(program(font), drawn) == pytest.approx(area(other, glyphs), rel=0.003)
    lost = [spot for spot in meant if not any(near(spot, point) for point in found)]
    assert len(lost) <= 0.06 * len(meant) or NAMES[name] == CJK, "but for points midway between two others"


def near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) <= 0.003 and abs(one[1] - other[1]) <= 0.003


def codes(pdf: bytes, key: str) -> list[int]:
    """The codes shown in a font, in their order."""
    content = PdfReader(io.BytesIO(pdf)).pages[0].get_contents()
    assert content is not None
    found, current = [], ""
    for operands, operator in content.operations:
        if operator == b"Tf":
            current = str(operands[0])
        elif operator == b"Tj" and current == key:
            string = operands[0].original_bytes
            found += [int.from_bytes(string[place : place + 2]) for place in range(0, len(string), 2)]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_what_is_copied_is_the_name(name: str) -> None:
    """By two readers of their own: pypdf goes by the order of the page, PDFium turns lines that run from the right."""
    pdf = alone(name)
    assert pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().strip() == name
    assert PdfReader(io.BytesIO(pdf)).pages[0].extract_text().strip() == name


@pytest.mark.parametrize("name", NAMES)
def test_a_text_is_as_wide_as_it_was_measured_and_stands_at_its_anchor(name: str) -> None:
    with with_fonts(fonts()):
        wide_mm = width_mm(name, "bold", 12)
    for anchor, before in (("start", 0.0), ("middle", 0.5), ("end", 1.0)):
        (seen,) = read_back(made(Text(60, 40, name, "bold", 12, "#336699", anchor)))
        (text,) = seen.texts
        assert (text.width_mm, text.x_mm) == pytest.approx((wide_mm, 60 - before * wide_mm), abs=0.01)
        assert (text.y_mm, text.size_pt, text.colour) == (pytest.approx(40, abs=0.01), 12, "#336699")
        assert text.text == (name[::-1] if NAMES[name] in FROM_RIGHT else name)


@pytest.mark.parametrize("name", ["בצל ירוק", "九条ねぎ", "上海红甜菜根", "대파 한지형"])
def test_what_is_seen_is_what_freetype_draws(name: str) -> None:
    """PDFium's picture of the page laid on Pillow's of the same letters, one by one, as these scripts allow."""
    dpi, size_pt = 600, 36
    seen = render(alone(name, "regular", size_pt), dpi=dpi, grey=True)
    drawn, em = Image.new("L", seen.size, 255), round(size_pt / 72 * dpi)
    font = ImageFont.truetype(NAMES[name], em, layout_engine=ImageFont.Layout.BASIC)
    places = harfbuzz(name, instanced(NAMES[name], 400))
    for letter, (_, x, _, _) in zip(str(get_display(name)), places, strict=True):
        place = (20 / 25.4 * dpi + x * em, 40 / 25.4 * dpi)
        ImageDraw.Draw(drawn).text(place, letter, 0, font, anchor="ls")
    ours, theirs = (np.asarray(picture) < 128 for picture in (seen, drawn))
    assert theirs.sum() > 5000
    assert (ours ^ theirs).sum() < 0.06 * theirs.sum()


def test_a_mixed_text_stands_in_the_order_of_the_standard() -> None:
    name = "סגול Kale 12 ירוק (b)"
    (seen,) = read_back(alone(name, "regular"))
    (text,) = seen.texts
    assert text.text.replace("(", "").replace(")", "") == str(get_display(name)).replace("(", "").replace(")", "")
    assert text.text.index("(") < text.text.index("b") < text.text.index(")")


def test_plain_texts_beside_shaped_ones_are_written_as_ever() -> None:
    pdf = made(Text(20, 20, "Winter"), Text(20, 40, "九条"))
    (seen,) = read_back(pdf)
    assert [(text.text, text.face) for text in seen.texts] == [("Winter", "regular"), ("九条", "NotoSansCJKsc-Regular")]
    plain = pdf_of([Page(130, 80, (Text(20, 20, "Winter"),))])
    with with_fonts(fonts()):
        assert pdf_of([Page(130, 80, (Text(20, 20, "Winter"),))]) == plain


def test_only_what_is_shown_is_carried() -> None:
    pdf = made(Text(20, 20, "九条九"), Text(20, 40, "سلام", "bold"))
    by_name = {str(font["/BaseFont"]): program(font) for font in composite_fonts(pdf).values()}
    assert {name.split("+")[1]: len(font.getGlyphOrder()) for name, font in by_name.items()} == {
        "NotoSansCJKsc-Regular": 3,
        "NotoSansArabic-Regular": 5,
    }
    assert len({name.split("+")[0] for name in by_name}) == 2
    assert all({"glyf", "head", "hhea", "hmtx", "loca", "maxp"} <= set(font.keys()) for font in by_name.values())
    assert len(pdf) < 12_000


def test_the_file_is_sound() -> None:
    pdf = made(*(Text(20, 10 + 5 * place, name, "bold") for place, name in enumerate(NAMES)))
    with pikepdf.open(io.BytesIO(pdf)) as file:
        assert file.check_pdf_syntax() == []


SAME = """
import io, sys
from scripts import NAMES, fonts
from mark_pages import pdf_of
from traysheets.page.fonts import with_fonts
from traysheets.page.marks import Page, Text
with with_fonts(fonts()):
    columns = ((20, "bold"), (70, "code"))
    marks = [Text(x, 10 + 5 * i, name, face) for i, name in enumerate(NAMES) for x, face in columns]
    sys.stdout.buffer.write(pdf_of([Page(130, 80, tuple(marks))]))
"""


def test_the_same_names_make_the_same_bytes() -> None:
    """In fresh processes with other hash seeds."""
    files = {
        subprocess.run(
            [sys.executable, "-c", SAME],
            capture_output=True,
            check=True,
            cwd=Path(__file__).parent,
            env=os.environ | {"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(files) == 1
    assert files.pop().startswith(b"%PDF-1.7")


def test_the_fonts_of_the_tests_hold_little() -> None:
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < 150_000
    assert {Path(path).name for path in (ARABIC, HEBREW, CJK)} <= {path.name for path in FOLDER.iterdir()}
