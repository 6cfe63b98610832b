"""PDF files read back: every mark where it was meant to be, files sound, and the same bytes wherever they are made.

ISO 32000-1 is the standard for PDF; pikepdf (qpdf) checks the syntax, pypdf and PDFium read the pages.
"""

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path
from unittest.mock import patch

import pikepdf
import pypdfium2
import pytest
from eyes import decode_qr, render
from hypothesis import given, settings
from hypothesis import strategies as st
from mark_pages import PLAIN, URL, cell, every_mark, pdf_of
from meant import differences
from pypdf import PdfReader
from readback import read_back

from traysheets import __version__
from traysheets.base.errors import SheetError
from traysheets.page import qr
from traysheets.page.faces import FACES
from traysheets.page.lettering import width_mm
from traysheets.page.marks import BLACK, Circle, Clip, Line, Link, Mark, Page, Place, Rect, Stamp, Text

POINTS_PER_MM = 72 / 25.4
"""ISO 32000-1, 8.3.2.3: a unit of user space is 1/72 inch; an inch is 25.4 mm."""


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return pdf_of([every_mark()], "Every mark", subject="Trial", author="Millbrook Lane Growers", language="de")


def test_every_mark_is_where_it_was_meant_to_be(pdf: bytes) -> None:
    assert differences(every_mark(), read_back(pdf)[0]) == []


@pytest.mark.parametrize("mark", PLAIN, ids=lambda mark: type(mark).__name__)
def test_a_mark_alone_is_drawn_whole(mark: Rect) -> None:
    page = Page(130, 80, (mark,), margin_mm=-30)
    (seen,) = read_back(pdf_of([page]))
    assert differences(page, seen) == []
    assert len(seen.marks) == 1


PLACES, SIZES = st.floats(110, 180), st.floats(3, 40)
COLOURS = st.sampled_from(["#000000", "#FFFFFF", "#109EEB", "#777777", "#F8BA7E"])
PAINTS = st.none() | COLOURS
STROKES, DASHES = st.sampled_from([0.1, 0.25, 1.3]), st.sampled_from([(), (2.0, 1.0)])
WORDS, FONTS = st.text(st.sampled_from("LW 25×()\\é-Жfi"), min_size=1, max_size=8), st.sampled_from(list(FACES))
POINTS, ANCHORS = st.sampled_from([6.0, 7.25, 12.0]), st.sampled_from(["start", "middle", "end"])
PLAIN_MARKS = (
    st.builds(Rect, PLACES, PLACES, SIZES, SIZES, PAINTS, PAINTS, STROKES, st.sampled_from([0.0, 1.0]))
    | st.builds(Line, PLACES, PLACES, PLACES, PLACES, COLOURS, STROKES, DASHES)
    | st.builds(Circle, PLACES, PLACES, SIZES, PAINTS, PAINTS, STROKES)
    | st.builds(Text, PLACES, PLACES, WORDS, FONTS, POINTS, COLOURS, ANCHORS)
)


def stamped(marks: st.SearchStrategy[Mark], side_mm: float) -> st.SearchStrategy[Place]:
    """Marks as a stamp of that side, set down anywhere and turned any way."""
    several = st.lists(marks, max_size=4).map(tuple)
    stamps = st.builds(Stamp, st.just("stamp"), st.just(side_mm), st.just(side_mm), several)
    places = st.floats(side_mm + 10, side_mm + 150)
    return st.builds(Place, stamps, places, places, st.integers(0, 3))


CLIPS = st.builds(Clip, PLACES, PLACES, SIZES, SIZES, st.lists(PLAIN_MARKS, max_size=3).map(tuple))
STAMPED = stamped(PLAIN_MARKS | CLIPS, 300)


@settings(max_examples=60)
@given(st.lists(PLAIN_MARKS | CLIPS | STAMPED | stamped(PLAIN_MARKS | STAMPED, 900), max_size=6))
def test_any_page_is_drawn_as_it_was_meant(marks: list[Mark]) -> None:
    """Texts may lie over each other here, so the proof that they do not is left out."""
    page = Page(2100, 2100, tuple(marks), margin_mm=0)
    with patch("traysheets.export.pdf.prove"):
        (seen,) = read_back(pdf_of([page]))
    assert differences(page, seen, within_mm=0.015) == []


def test_positions_do_not_drift_over_a_row_of_stamps() -> None:
    """Two hundred steps of 10.37 mm, none of which is a whole number of hundredths of a point."""
    dot = Stamp("dot", 1, 1, (Circle(0.5, 0.5, 0.5, fill=BLACK),))
    page = Page(2100, 30, tuple(Place(dot, 7 + 10.37 * i, 7 + 0.03 * i) for i in range(200)))
    (seen,) = read_back(pdf_of([page]))
    assert differences(page, seen, within_mm=0.005) == []


@pytest.mark.parametrize(
    ("name", "size_mm", "size_pt"),
    [
        ("a4, ISO 216", (210, 297), (595.276, 841.890)),
        ("a3, ISO 216", (297, 420), (841.890, 1190.551)),
        ("letter, ANSI/ASME Y14.1", (215.9, 279.4), (612, 792)),
        ("tabloid, ANSI/ASME Y14.1", (279.4, 431.8), (792, 1224)),
        ("a roll label", (57, 32), (161.575, 90.709)),
    ],
)
def test_page_boxes(name: str, size_mm: tuple[float, float], size_pt: tuple[float, float]) -> None:
    (page,) = PdfReader(io.BytesIO(pdf_of([Page(*size_mm, ())]))).pages
    assert tuple(map(float, page.mediabox)) == (0, 0, *size_pt), name
    assert "/UserUnit" not in page
    assert "/Rotate" not in page


def test_pages_stand_in_their_order_with_their_own_sizes() -> None:
    pages = [Page(100 + i, 50, (Text(10, 20, f"Tray {i}"),), f"Tray {i}") for i in range(12)]
    seen = read_back(pdf_of(pages))
    assert [page.words for page in seen] == [[f"Tray {i}"] for i in range(12)]
    assert [page.width_mm for page in seen] == pytest.approx([100 + i for i in range(12)], abs=0.001)


def test_syntax_is_clean(pdf: bytes) -> None:
    for file in (pdf, pdf_of([Page(100, 50, ())] * 3)):
        with pikepdf.open(io.BytesIO(file)) as opened:
            assert opened.check_pdf_syntax() == []


def test_hundreds_of_objects_are_found_again() -> None:
    """More pages, bookmarks and stamps than go into one pack of objects."""
    pages = [Page(100, 50, (Place(cell("dots", f"{i}"), 10, 10),), f"Tray {i}") for i in range(450)]
    file = pdf_of(pages)
    with pikepdf.open(io.BytesIO(file)) as opened:
        assert opened.check_pdf_syntax() == []
        assert len(forms(opened)) == 450
    reader = PdfReader(io.BytesIO(file))
    assert [entry.title for entry in reader.outline] == [f"Tray {i}" for i in range(450)]  # type: ignore[union-attr]
    assert read_back(file)[449].words == ["449"]


def test_a_stamp_is_written_once_however_often_it_is_placed() -> None:
    stamp = cell("waves", "LW")
    pages = [Page(210, 297, tuple(Place(stamp, 10 + 15 * i, 10) for i in range(12))) for _ in range(5)]
    with pikepdf.open(io.BytesIO(pdf_of(pages))) as opened:
        assert len(forms(opened)) == 1
    assert all(len(page.places) == 12 for page in read_back(pdf_of(pages)))


def forms(opened: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [thing for thing in opened.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Form"]


def test_equal_stamps_are_not_taken_for_one_another() -> None:
    """Stamps made and let go one after the other may come to lie at the same address."""
    pages = (Page(100, 50, (Place(Stamp("card", 30, 20, (Text(2, 8, f"no {i}"),)), 10, 10),)) for i in range(50))
    assert [page.words for page in read_back(pdf_of(pages))] == [[f"no {i}"] for i in range(50)]


def test_a_page_names_only_the_stamps_it_places() -> None:
    pages = [Page(100, 50, (Place(Stamp(f"card {i}", 30, 20, (Line(2, 8, 9, 9),)), 10, 10),)) for i in range(3)]
    with pikepdf.open(io.BytesIO(pdf_of(pages))) as opened:
        assert [len(page.Resources.XObject) for page in opened.pages] == [1, 1, 1]


def test_strokes_along_the_edge_of_a_stamp_are_whole() -> None:
    stamp = Stamp("card", 20, 10, (Rect(0, 0, 20, 10, stroke=BLACK, stroke_mm=0.8),))
    picture = render(pdf_of([Page(40, 30, (Place(stamp, 10, 10),))]), 0, 508, grey=True)
    column = [picture.getpixel((400, y)) for y in range(190, 212)]
    assert sum(level < 128 for level in column) == pytest.approx(0.8 / 25.4 * 508, abs=1)


def test_text_comes_back_in_order_with_its_spaces(pdf: bytes) -> None:
    text = "Sow Bunching onion: 25 a cell, 3 × 2 — Жито, Ωμέγα, Quỳnh (do not thin) \\ é"
    page = Page(210, 60, (Text(10, 20, text), Text(10, 30, "second line", "bold"), Text(10, 40, "27-014-K", "code")))
    document = pypdfium2.PdfDocument(pdf_of([page]))
    assert document[0].get_textpage().get_text_range().splitlines() == [text, "second line", "27-014-K"]
    document.close()
    assert [line.strip() for line in PdfReader(io.BytesIO(pdf_of([page]))).pages[0].extract_text().splitlines()] == [
        text,
        "second line",
        "27-014-K",
    ]


def test_more_characters_than_one_font_part_holds() -> None:
    """A simple font has 256 codes (ISO 32000-1, 9.6); further characters go into a second part, in the same line."""
    many = [chr(code) for code in (*range(0x21, 0x7F), *range(0xAE, 0x180), *range(0x391, 0x3A2), *range(0x410, 0x450))]
    lines = ["".join(many[i : i + 40]) for i in range(0, len(many), 40)]
    page = Page(300, 120, tuple(Text(10, 10 + 6 * i, line) for i, line in enumerate(lines)))
    (seen,) = read_back(pdf_of([page]))
    assert seen.words == lines
    assert [text.width_mm for text in seen.texts] == pytest.approx(
        [width_mm(line, "regular", 9) for line in lines], abs=0.01
    )


def test_all_fonts_are_embedded_and_only_those_used(pdf: bytes) -> None:
    for file, faces in ((pdf, set(FACES)), (pdf_of([Page(60, 30, (Text(10, 10, "x", "code"),))]), {"code"})):
        with pikepdf.open(io.BytesIO(file)) as opened:
            fonts = [
                thing
                for thing in opened.objects
                if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"
            ]
            assert {str(font.BaseFont).split("+")[1] for font in fonts} == {
                FACES[face].removesuffix(".ttf") for face in faces
            }
            assert all("/FontFile2" in font.FontDescriptor and "/ToUnicode" in font for font in fonts)
        assert b"Helvetica" not in file


def test_no_part_of_a_font_is_embedded_that_is_not_used() -> None:
    small, large = (
        pdf_of([Page(100, 30, (Text(10, 10, text),))]) for text in ("LW 25", "The quick brown fox jumps over")
    )
    assert len(small) < 5000
    assert len(small) < len(large) - 1000


def test_viewers_print_at_true_size(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.Root.ViewerPreferences.PrintScaling == "/None"
        assert opened.Root.ViewerPreferences.DisplayDocTitle
        assert opened.Root.Lang == "de"
        assert str(opened.pdf_version) == "1.7"


def test_the_file_says_what_it_is_and_not_when_or_where_it_was_made(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert {str(key): str(value) for key, value in opened.docinfo.items()} == {
            "/Title": "Every mark",
            "/Author": "Millbrook Lane Growers",
            "/Subject": "Trial",
            "/Creator": "traysheets",
            "/Producer": "traysheets",
            "/Traysheets": f"traysheets {__version__}; from 1; 1 of 210x297 with 4 of 0.488",
        }


def test_titles_in_any_script() -> None:
    pages = [Page(100, 50, (), title) for title in ("Tray 1", "Жито (2)", "日本 \\ 3", "")]
    reader = PdfReader(io.BytesIO(pdf_of(pages, "Frühling, Жито")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Frühling, Жито"
    marks = [(entry.title, reader.get_destination_page_number(entry)) for entry in reader.outline]  # type: ignore[union-attr, arg-type]
    assert marks == [("Tray 1", 0), ("Жито (2)", 1), ("日本 \\ 3", 2)]


def test_no_bookmarks_without_titles() -> None:
    assert PdfReader(io.BytesIO(pdf_of([Page(100, 50, ())]))).outline == []


def test_links_lie_where_they_were_set_also_in_turned_stamps() -> None:
    card = Stamp("card", 20, 10, (Link(2, 1, 6, 4, URL),))
    places = tuple(Place(card, 50, 50, turns) for turns in range(4))
    (seen,) = read_back(pdf_of([Page(100, 100, (*places, Link(10, 80, 5, 6, "https://example.org/é (1)")))]))
    corners = [
        (round(link.x_mm, 2), round(link.y_mm, 2), round(link.width_mm, 2), round(link.height_mm, 2))
        for link in seen.links
    ]
    assert corners == [(52, 51, 6, 4), (45, 52, 4, 6), (42, 45, 6, 4), (51, 42, 4, 6), (10, 80, 5, 6)]
    assert [link.url for link in seen.links] == [URL] * 4 + ["https://example.org/%C3%A9%20(1)"]


def test_a_code_in_a_turned_stamp_is_read() -> None:
    code = qr.code(URL, 18).stamp
    page = Page(
        60, 60, tuple(Place(code, x, y, turns) for turns, (x, y) in enumerate([(31, 31), (29, 31), (29, 29), (31, 29)]))
    )
    assert decode_qr(render(pdf_of([page]), 0, 300)) == {URL}


def test_a_document_without_pages_is_refused() -> None:
    with pytest.raises(SheetError, match="'Spring' has no pages"):
        pdf_of([], "Spring")


def test_a_bad_page_is_refused_and_nothing_is_written() -> None:
    file = io.BytesIO()
    with pytest.raises(SheetError, match="reaches over"):
        file.write(pdf_of([Page(100, 50, (Line(10, 10, 20, 20),)), Page(100, 50, (Line(10, 10, 200, 20),))]))
    assert file.getvalue() == b""


MAKER = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from mark_pages import every_mark, pdf_of
print(hashlib.sha256(pdf_of([every_mark()] * 2, "Every mark")).hexdigest())
"""

SETTINGS = """
useA85 = 1
pdfMultiLine = 1
pdfComments = 1
pageCompression = 0
invariant = 0
ttfAsciiReadable = 1
documentLang = "fr"
canvas_basefontname = "Times-Roman"
"""


def test_the_same_bytes_in_every_process_and_home(tmp_path: Path) -> None:
    (tmp_path / ".reportlab_settings").write_text(SETTINGS)
    mine = hashlib.sha256(pdf_of([every_mark()] * 2, "Every mark")).hexdigest()
    odd = {"HOME": str(tmp_path), "LANG": "de_DE.UTF-8", "TZ": "Asia/Tokyo", "RL_useA85": "1", "RL_pdfMultiLine": "1"}
    for seed, surroundings in (("0", {}), ("1", odd)):
        environment = {**os.environ, "PYTHONHASHSEED": seed, **surroundings}
        command = [sys.executable, "-c", MAKER, str(Path(__file__).parent)]
        made = subprocess.run(command, env=environment, cwd=tmp_path, capture_output=True, text=True, check=True)
        assert made.stdout.strip() == mine


def test_other_pages_make_another_fingerprint() -> None:
    one, other = (PdfReader(io.BytesIO(pdf_of([Page(100, 50, (Text(10, 20, text),))]))) for text in ("a", "b"))
    assert one.trailer["/ID"] != other.trailer["/ID"]


def test_hundreds_of_places_cost_little() -> None:
    """A stick in a file of 3,000 may take 100 bytes in all; here what one more costs, alone."""
    stamp = cell("grid", "LW")
    few, many = (
        len(
            pdf_of(
                Page(210, 297, tuple(Place(stamp, 10 + 15 * (i % 12), 10 + 13 * (i // 12)) for i in range(24)))
                for _ in range(pages)
            )
        )
        for pages in (10, 60)
    )
    assert (many - few) / (50 * 24) < 25


def test_a_stamp_made_twice_is_written_once_unless_it_leads_elsewhere() -> None:
    """Forms are told apart by what they draw and where they lead, not by how often they were made."""

    def stamp(url: str = "") -> Place:
        marks: tuple[Mark, ...] = (Rect(0, 0, 5, 5, fill="#000000"), *([Link(0, 0, 5, 5, url)] if url else []))
        return Place(Stamp("square", 5, 5, marks), 20 + 10 * len(url), 20)

    pdf = pikepdf.open(io.BytesIO(pdf_of([Page(100, 100, (stamp(), stamp("a:"), stamp("b:b"), stamp(), stamp("a:")))])))
    forms = pdf.pages[0].Resources.XObject
    assert len(forms) == 3
    assert [str(link.A.URI) for link in pdf.pages[0].Annots] == ["a:", "b:b", "a:"]
