"""Every kind of sheet against clauses of ISO 32000-1:2008, read by pikepdf and checked by qpdf.

Clause numbers are from memory. Rules that are of PDF/A (ISO 19005-2) and asked for here as well are marked so.
"""

import io
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from mark_pages import every_mark, pdf_of
from sample_sheets import NAMES, sheet

SHEETS = (*NAMES, "every mark")
OPERATORS = {
    *("q", "Q", "cm", "w", "d"),  # 8.4.4: the graphics state
    *("m", "l", "c", "h", "re", "S", "f", "B", "n", "W"),  # 8.5: paths
    *("g", "G", "rg", "RG"),  # 8.6.8: colours
    *("BT", "ET", "Td", "Tf", "Tj", "Do"),  # 9.4: text; 8.8: forms
}
NEEDED = "TRAYSHEETS_NEEDS_POPPLER"


def made(name: str) -> bytes:
    return pdf_of([every_mark()], "Every mark") if name == "every mark" else sheet(name, most=12)


@pytest.fixture(params=SHEETS, scope="module")
def data(request: pytest.FixtureRequest) -> bytes:
    return made(request.param)


@pytest.fixture
def pdf(data: bytes) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(data), suppress_warnings=False) as opened:
        yield opened


def streams(pdf: pikepdf.Pdf) -> Iterator[tuple[Any, Any]]:
    """Every content stream with its resources: pages, and the forms that are placed."""
    for page in pdf.pages:
        yield page.Contents, page.get("/Resources", {})
    for it in pdf.objects:
        if isinstance(it, pikepdf.Stream) and it.get("/Subtype") == "/Form":
            yield it, it.get("/Resources", {})


def fonts(pdf: pikepdf.Pdf) -> list[Any]:
    return [it for it in pdf.objects if isinstance(it, pikepdf.Dictionary) and it.get("/Type") == "/Font"]


def test_qpdf_finds_no_fault(data: bytes, tmp_path: Path) -> None:
    if not shutil.which("qpdf"):
        (pytest.fail if os.environ.get(NEEDED) else pytest.skip)("qpdf is not installed: apt-get install qpdf")
    file = tmp_path / "sheet.pdf"
    file.write_bytes(data)
    done = subprocess.run(["qpdf", "--check", file], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, ""), done.stdout


def test_pikepdf_has_nothing_to_mend(pdf: pikepdf.Pdf) -> None:
    assert pdf.check_pdf_syntax() == []
    assert pdf.get_warnings() == []


def test_the_file_as_such(data: bytes, pdf: pikepdf.Pdf) -> None:
    """7.5.2 the header and its four bytes above 127; 7.5.5 one end; 14.4 two fingerprints of 16 bytes; 7.6 no lock."""
    assert re.match(rb"%PDF-1\.7\n%[\x80-\xff]{4}\n", data)
    assert data.count(b"%%EOF") == 1
    assert [len(bytes(part)) for part in pdf.trailer.ID] == [16, 16]
    assert not pdf.is_encrypted


def test_no_object_is_left_over(pdf: pikepdf.Pdf) -> None:
    """Every object is reached from the trailer (7.5.5), and nothing refers to one that is not there (7.3.10)."""
    reached: set[tuple[int, int]] = set()
    waiting: list[Any] = [pdf.trailer.Root, pdf.trailer.Info]
    while waiting:
        it = waiting.pop()
        if not isinstance(it, pikepdf.Object) or (it.is_indirect and it.objgen in reached):
            continue
        if it.is_indirect:
            reached.add(it.objgen)
        if isinstance(it, pikepdf.Array):
            waiting += list(it)
        elif isinstance(it, pikepdf.Dictionary | pikepdf.Stream):
            waiting += [it[key] for key in it.keys()]  # noqa: SIM118
    packs = {"/XRef", "/ObjStm"}
    own = {it.objgen for it in pdf.objects if not (isinstance(it, pikepdf.Stream) and it.get("/Type") in packs)}
    assert own - reached - {(0, 0)} == set()


def test_nothing_happens_when_it_is_opened(pdf: pikepdf.Pdf) -> None:
    """12.6 actions, 12.7 forms, 7.11.4 files within, 12.6.4.16 scripts: none (PDF/A, 6.5)."""
    forbidden = {"/OpenAction", "/AA", "/AcroForm", "/Names", "/Collection", "/Perms", "/Requirements"}
    assert not forbidden & set(pdf.Root.keys())
    assert not any("/AA" in page for page in pdf.pages)


def test_what_it_says_of_itself(pdf: pikepdf.Pdf) -> None:
    """12.2 viewer preferences; 14.9.2 its language; 14.3.3 its title; no dates, which would differ from run to run."""
    assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    assert re.fullmatch("[a-z]{2}", str(pdf.Root.Lang))
    assert str(pdf.docinfo["/Title"])
    assert not {"/CreationDate", "/ModDate"} & set(pdf.docinfo.keys())


def test_pages(pdf: pikepdf.Pdf) -> None:
    """7.7.3.3: a box from the origin, resources, nothing turned or resized; 11.6.6: no transparency group."""
    for page in pdf.pages:
        assert [float(side) for side in page.MediaBox][:2] == [0, 0]
        assert not {"/Rotate", "/UserUnit", "/Group", "/CropBox"} & set(page.keys())


def test_drawing_is_plain(pdf: pikepdf.Pdf) -> None:
    """Only operators that were in PDF 1.0; no pictures, shadings, patterns, and no transparency (11)."""
    for stream, resources in streams(pdf):
        assert {str(it.operator) for it in pikepdf.parse_content_stream(stream)} <= OPERATORS
        assert set(resources.keys()) <= {"/Font", "/XObject"}
        assert all(it.Subtype == "/Form" for it in dict(resources.get("/XObject", {})).values())


def test_states_and_texts_are_closed(pdf: pikepdf.Pdf) -> None:
    """8.4.2 q and Q in pairs; 9.4.1 text objects are not nested, and text is shown in them alone; 8.5.3 paths end."""
    for stream, _ in streams(pdf):
        depth, in_text, path = 0, False, False
        for it in pikepdf.parse_content_stream(stream):
            name = str(it.operator)
            depth += {"q": 1, "Q": -1}.get(name, 0)
            assert depth >= 0
            assert (name in {"Td", "Tj", "ET"}) <= in_text
            assert not (in_text and name in {"BT", "q", "Q", "cm", "Do", "m", "re"})
            in_text = name == "BT" or (in_text and name != "ET")
            path = name in {"m", "l", "c", "h", "re", "W"}
        assert (depth, in_text, path) == (0, False, False)


def test_what_streams_name_is_there(pdf: pikepdf.Pdf) -> None:
    """7.8.3: every font and form by its name in the resources; 8.10.2: a form has a box."""
    for stream, resources in streams(pdf):
        for it in pikepdf.parse_content_stream(stream):
            if str(it.operator) == "Tf":
                assert str(it.operands[0]) in resources.Font
            elif str(it.operator) == "Do":
                assert len(resources.XObject[str(it.operands[0])].BBox) == 4


def test_fonts_are_in_the_file(pdf: pikepdf.Pdf) -> None:
    """9.9 every font embedded; 9.6.4 a part goes by a tag of six letters; 9.10.3 what its codes stand for is told."""
    outer = [font for font in fonts(pdf) if font.Subtype != "/CIDFontType2"]
    assert outer or not any(str(it.operator) == "Tj" for s, _ in streams(pdf) for it in pikepdf.parse_content_stream(s))
    for font in outer:
        assert re.fullmatch(r"/[A-Z]{6}\+\S+", str(font.BaseFont))
        inner = font.DescendantFonts[0] if font.Subtype == "/Type0" else font
        assert inner.FontDescriptor.FontFile2.read_bytes()[:4] == b"\0\1\0\0"
        assert inner.FontDescriptor.FontName == font.BaseFont
        assert b"beginbf" in font.ToUnicode.read_bytes()


def test_widths_are_those_of_the_letters(pdf: pikepdf.Pdf) -> None:
    """9.2.4: the widths in the file are the font's own, to a thousandth of the size (PDF/A, 6.2.11.5)."""
    for font in fonts(pdf):
        if font.Subtype != "/TrueType":
            continue
        assert len(font.Widths) == font.LastChar - font.FirstChar + 1
        with TTFont(io.BytesIO(font.FontDescriptor.FontFile2.read_bytes())) as program:
            advances = [program["hmtx"][name][0] for name in program.getGlyphOrder()]
            per_em = program["head"].unitsPerEm
            codes = next(table.cmap for table in program["cmap"].tables)
            held = {code & 0xFF: name for code, name in codes.items()}
            assert len([code for code in held if font.FirstChar <= code <= font.LastChar]) > 1
            for code, name in held.items():
                if font.FirstChar <= code <= font.LastChar:
                    true = advances[program.getGlyphID(name)] / per_em * 1000
                    assert float(font.Widths[code - font.FirstChar]) == pytest.approx(true, abs=1)


def test_links_only_lead_out(pdf: pikepdf.Pdf) -> None:
    """12.5.6.5 and 12.6.4.7: the only annotations are links without a border, to addresses in ASCII."""
    for page in pdf.pages:
        for it in page.get("/Annots", []):
            assert (it.Subtype, it.A.S) == ("/Link", "/URI")
            assert list(it.Border) == [0, 0, 0]
            assert str(it.A.URI).isascii()
            left, bottom, right, top = map(float, it.Rect)
            assert 0 <= left < right <= float(page.MediaBox[2])
            assert 0 <= bottom < top <= float(page.MediaBox[3])


def test_bookmarks_lead_to_pages_of_the_file(pdf: pikepdf.Pdf) -> None:
    """12.3.3: a list tied both ways, whose count is right."""
    outlines = pdf.Root.get("/Outlines")
    if outlines is None:
        return
    pages = {page.objgen for page in pdf.pages}
    seen, it = 0, outlines.First
    while True:
        seen += 1
        assert it.Dest[0].objgen in pages
        assert str(it.Title)
        if "/Next" not in it:
            break
        assert it.Next.Prev.objgen == it.objgen
        it = it.Next
    assert (seen, it.objgen) == (outlines.Count, outlines.Last.objgen)


@pytest.mark.parametrize("name", ["maps", "guide"])
def test_the_same_bytes_come_out_again(name: str) -> None:
    sheet.cache_clear()
    one = made(name)
    sheet.cache_clear()
    assert made(name) == one
