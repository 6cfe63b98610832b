"""Damaged, changed and foreign files read back: what is wrong is named, and nothing ends in a traceback."""

import io
import json
import random
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import NoReturn

import pikepdf
import pypdfium2
import pytest
import segno
from mark_pages import URL, every_mark, pdf_of
from PIL import Image
from verify_jobs import MADE, changed, maps, painted, read_back, said, scaled, sheet, sticks

from traysheets.base.errors import FileError
from traysheets.base.limits import MOST_BYTES_OF_SHEET
from traysheets.page import qr
from traysheets.page.marks import Page, Place, Text
from traysheets.verify import pdfium
from traysheets.verify.report import Part, Report
from traysheets.verify.verify import verify


@pytest.fixture
def looked(tmp_path: Path) -> Callable[[bytes], Report]:
    return partial(read_back, tmp_path)


@pytest.mark.parametrize("share", [0.001, 0.3, 0.7, 0.99, 0.9999])
def test_a_file_that_was_cut_off_is_told(share: float, looked: Callable[[bytes], Report]) -> None:
    report = looked(maps()[: int(len(maps()) * share)])
    assert said(report)[0] == "the end of the file is missing: it was cut off on the way; make or copy it again"
    assert not report.holds(Part.WHOLE)


@pytest.mark.parametrize(
    ("change", "cause"),
    [
        (lambda data: data + b"x", "1 byte was added after the end of the file"),
        (lambda data: data + b"From the mail\n" * 400, "5,600 bytes were added after the end of the file"),
        (lambda data: data[:-4] + b"\x05OF\n", "the end of the file is damaged: bytes there were changed"),
        (lambda data: data.replace(b"startxref", b"startxrdf"), "the end of the file is damaged: bytes there were"),
        (lambda data: data[:-4], "the end of the file is missing: it was cut off on the way"),
    ],
    ids=["a byte", "lines", "a bit of its last", "a bit before", "cut"],
)
def test_a_file_that_does_not_end_as_it_should_is_told_why(
    change: Callable[[bytes], bytes], cause: str, looked: Callable[[bytes], Report]
) -> None:
    report = looked(change(maps()))
    assert said(report)[0].startswith(cause)
    assert said(report)[0].endswith("; make or copy it again")
    assert report.answer(Part.WHOLE) is False


def test_every_changed_byte_is_seen(looked: Callable[[bytes], Report]) -> None:
    """A bit turned over anywhere; the end of the table of objects, compressed, has a sum of its own."""
    chance, missed = random.Random(27), []
    for place in [*chance.sample(range(len(maps())), 30), 3, 7, 12, len(maps()) - 3, len(maps()) - 8]:
        damaged = bytearray(maps())
        damaged[place] ^= 1 << chance.randrange(8)
        if looked(bytes(damaged)).is_good:
            missed.append(place)
    assert missed == []


def test_a_lost_page_is_told(looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(maps(), lambda pdf: pdf.pages.remove(p=2)))
    assert said(report) == ["it has 2 of its 3 pages: page 2 ('Tray 2') is missing; make it again"]
    assert (report.as_written, report.made_by) == (False, MADE)


def test_lost_pages_are_told_by_their_numbers_or_their_bookmarks(looked: Callable[[bytes], Report]) -> None:
    """Eight of nine maps lost; a page of sticks, which has no number; and one where nothing tells which it was."""

    def bare(pdf: pikepdf.Pdf) -> None:
        del pdf.Root.Outlines, pdf.pages[0]

    maps_left = looked(changed(sheet("maps", most=9), lambda pdf: pdf.pages.__delitem__(slice(1, None))))
    assert said(maps_left) == [
        "it has 1 of its 9 pages: pages 2 ('Tray 2'), 3 ('Tray 3'), 4 ('Tray 4'), 5 ('Tray 5'), 6 ('Tray 6'), "
        "7 ('Tray 7') and 2 more are missing; make it again"
    ]
    (sticks_left,) = said(looked(changed(sticks(), lambda pdf: pdf.pages.remove(p=1))))
    assert sticks_left.startswith("it has 1 of its 2 pages: page 1 ('Page 1: Longstalk Winter")
    assert said(looked(changed(sticks(), bare))) == ["it has 1 of its 2 pages: the others were lost; make it again"]
    assert looked(changed(sticks(), bare)).answer(Part.CODES) is None


@pytest.mark.parametrize("language", ["en", "de", "es", "fr", "pt"])
def test_pages_in_another_order_are_told_in_any_language(language: str, looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(sheet("guide", languages=(language, "en")), lambda pdf: pdf.pages.reverse()))
    assert said(report) == ["its pages are in another order than they were made: 3, 2, 1; make it again"]


def test_sticks_in_another_order_are_told_by_their_codes(looked: Callable[[bytes], Report]) -> None:
    """22 of them on the first page, 18 on the second."""
    report = looked(changed(sticks(), lambda pdf: pdf.pages.reverse()))
    assert said(report) == ["its pages are in another order than they were made; make it again"]
    assert report.answer(Part.WHOLE) is False


def test_a_page_that_is_none_is_told(looked: Callable[[bytes], Report]) -> None:
    def replaced(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Pages.Kids[1] = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.Catalog))

    found = looked(changed(maps(), replaced))
    unread = "it cannot be read: the file was damaged; make or copy it again"
    assert [finding.page for finding in found.findings if finding.text == unread] == [2]
    assert len(found.codes) == 2


def test_what_pdfium_cannot_read_tells_of_no_order() -> None:
    """Neither by the feet of pages nor by bookmarks."""

    class Torn:
        def torn(self, *_: object) -> NoReturn:
            raise pypdfium2.PdfiumError("it is torn")

        get_textpage = get_toc = torn

        def __getitem__(self, page: int) -> "Torn":
            return self

        def close(self) -> None:
            pass

    assert (pdfium.foot(Torn(), 0, 60), pdfium.bookmarks(Torn())) == ("", [])


def test_codes_too_small_for_phones_are_told(looked: Callable[[bytes], Report]) -> None:
    """At 60 % modules of 0.44 mm are 0.27 mm."""
    found = said(looked(changed(maps(), lambda pdf: scaled(pdf, 0.6))))
    for number in (1, 2, 3):
        text = f"HTTPS://RECORDS.EXAMPLE.ORG/T/{number}' are 0.27 mm; under 0.34 mm phones cannot read it"
        assert f"the modules of the QR code '{text}" in found


def test_a_page_too_many_is_told(looked: Callable[[bytes], Report]) -> None:
    assert said(looked(changed(maps(), lambda pdf: pdf.pages.append(pdf.pages[0])))) == [
        "it has 4 pages, and had 3 when it was made: page 1 ('Tray 1') is in it more than once"
    ]


def test_a_copy_at_97_percent_is_told(looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(maps(), scaled))
    assert "it is 288.1 x 203.7 mm, and was made as 297.0 x 210.0 mm: 97.0% of it; print the sheet itself" in said(
        report
    )
    bar = "its bar of 50 mm is 48.50 mm long: the page was scaled to 97.0%; print the sheet itself at 100 %"
    assert bar in said(report)
    assert report.holds(Part.WHOLE)
    assert not report.holds(Part.SCALE)


def test_a_copy_fitted_to_its_page_is_told_even_by_another_program(looked: Callable[[bytes], Report]) -> None:
    def printed(pdf: pikepdf.Pdf) -> None:
        scaled(pdf, page_too=False)
        del pdf.trailer["/Info"]

    report = looked(changed(maps(), printed))
    assert report.made_by == "another program, or an older one of ours"
    assert len(said(report)) == 3
    assert all("48.50 mm" in text for text in said(report))


@pytest.mark.parametrize("share", [0.97, 0.985, 1.02])
def test_sticks_drawn_at_another_scale_are_told_though_they_have_no_bar(
    share: float, looked: Callable[[bytes], Report]
) -> None:
    """The page keeps its size; a module of 17.838 mm / 33 (version 4 has 33 modules, ISO/IEC 18004) gets smaller."""
    report = looked(changed(sticks(), partial(scaled, share=share, page_too=False)))
    text = f"the modules of its QR codes are {17.838 / 33 * share:.3f} mm, and were made 0.541 mm: the page was scaled"
    scaling = [it for it in report.findings if it.wrong and it.part is Part.SCALE]
    assert scaling
    assert all(it.text.startswith(text) for it in scaling)
    assert report.answer(Part.SCALE) is False


def test_a_code_that_stands_on_many_sticks_of_a_page_is_told_of_once(looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(sticks(), partial(scaled, share=0.6, page_too=False)))
    assert max(Counter(code.text for code in report.codes if code.page == 1).values()) > 1
    assert max(Counter(report.findings).values()) == 1


def test_small_codes_of_another_kind_are_passed_over(looked: Callable[[bytes], Report]) -> None:
    """Micro QR codes (ISO/IEC 18004) on a sheet of another program."""
    picture, page = io.BytesIO(), io.BytesIO()
    segno.make_micro("12345").save(picture, kind="png", scale=20, border=9)
    Image.open(picture).convert("L").save(page, "PDF", resolution=200)
    report = looked(page.getvalue())
    assert (report.codes, report.pages) == ([], 1)


def test_pages_turned_cropped_or_measured_otherwise_are_told(looked: Callable[[bytes], Report]) -> None:
    def turn(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].rotate(90, relative=False)
        pdf.pages[1].cropbox = [10, 10, 400, 500]
        pdf.pages[2].UserUnit = 2

    report = looked(changed(maps(), turn))
    assert "it is turned by 90 degrees; no sheet of ours is" in said(report)
    assert "it was cropped: its boxes differ, and printers may take any of them" in said(report)
    assert {finding.page for finding in report.findings if finding.part is Part.SCALE} == {1, 2, None}
    assert said(report)[0].startswith("some of its pages are not measured in points")


def test_viewers_that_are_not_asked_to_keep_the_size_are_told(looked: Callable[[bytes], Report]) -> None:
    def forget(pdf: pikepdf.Pdf) -> None:
        del pdf.Root.ViewerPreferences

    (text,) = said(looked(changed(maps(), forget)))
    assert text == "it does not ask viewers to print at 100 %; choose 'actual size' in the print window yourself"


def test_a_code_painted_over_is_told(looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(maps(), lambda pdf: painted(pdf, 1, "1 g 700 500 150 100 re f")))
    (finding,) = (finding for finding in report.findings if finding.wrong)
    assert (finding.text, finding.page) == ("0 of its 1 QR codes can be read; make the sheet again", 2)


def test_dirt_on_one_of_many_sticks_is_told(looked: Callable[[bytes], Report]) -> None:
    whole = looked(sticks())
    left, top = whole.codes[3].corner_mm

    def smear(pdf: pikepdf.Pdf) -> None:
        x, y = left / 25.4 * 72, (297 - top) / 25.4 * 72
        painted(pdf, 0, f"0 g {x} {y - 20} 30 20 re f")

    report = looked(changed(sticks(), smear))
    assert said(report) == ["21 of its 22 QR codes can be read; make the sheet again"]


def test_a_code_hemmed_in_is_told(looked: Callable[[bytes], Report]) -> None:
    """A frame drawn a module away from the code."""
    (code,) = looked(pdf_of([Page(210, 297, (Place(qr.code(URL, 20).stamp, 20, 20),))])).codes
    x, y = (code.corner_mm[0] - 1.2 * code.module_mm) / 25.4 * 72, (297 - code.corner_mm[1]) / 25.4 * 72
    side = (17 + 4 * code.version) * code.module_mm / 25.4 * 72

    def frame(pdf: pikepdf.Pdf) -> None:
        painted(pdf, 0, f"0.6 w {x} {y - side} {side} {side + 2} re S")

    report = looked(changed(pdf_of([Page(210, 297, (Place(qr.code(URL, 20).stamp, 20, 20),))]), frame))
    assert [code.quiet_modules < 2 for code in report.codes] == [True]
    assert said(report) == [
        f"the QR code '{URL}' has too little white around it: {report.codes[0].quiet_modules} modules"
    ]


def test_fonts_that_were_stripped_are_told(looked: Callable[[bytes], Report]) -> None:
    def strip(pdf: pikepdf.Pdf) -> None:
        for it in pdf.objects:
            if isinstance(it, pikepdf.Dictionary) and it.get("/Type") == "/FontDescriptor":
                del it["/FontFile2"]

    report = looked(changed(maps(), strip))
    assert {finding.page for finding in report.findings if finding.wrong} == {1, 2, 3}
    assert all("are not in the file: other letters may be printed" in text for text in said(report))


def test_scripts_and_attachments_are_told(looked: Callable[[bytes], Report]) -> None:
    def script(pdf: pikepdf.Pdf) -> None:
        action = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)"))
        pdf.Root.Names = pikepdf.Dictionary(JavaScript=pikepdf.Dictionary(Names=[pikepdf.String("x"), action]))

    assert said(looked(changed(maps(), script))) == [
        "it holds scripts or attached files, which no sheet of ours does: do not trust it"
    ]
    assert said(looked(changed(maps(), lambda pdf: pdf.attachments.__setitem__("x.txt", b"x")))) == [
        "it holds scripts or attached files, which no sheet of ours does: do not trust it"
    ]


def locked(password: str) -> bytes:
    with pikepdf.open(io.BytesIO(maps())) as pdf:
        saved = io.BytesIO()
        pdf.save(saved, encryption=pikepdf.Encryption(owner="owner", user=password))
    return saved.getvalue()


def test_locked_files_are_told(looked: Callable[[bytes], Report]) -> None:
    report = looked(locked("secret"))
    assert said(report) == ["it is locked with a password; sheets of ours never are"]
    assert [report.answer(part) for part in Part] == [False, None, None]
    assert said(looked(locked(""))) == ["it is encrypted; sheets of ours never are"]


def test_a_sheet_turned_into_pictures_is_told(looked: Callable[[bytes], Report]) -> None:
    """Drawn dot by dot and put into a file again, as a scan."""
    pages = pypdfium2.PdfDocument(maps())
    first, *others = [page.render(scale=200 / 72).to_pil() for page in pages]
    scan = io.BytesIO()
    first.save(scan, "PDF", resolution=200, save_all=True, append_images=others)
    report = looked(scan.getvalue())
    assert set(said(report)) == {"it was turned into a picture, which prints less sharp; print the sheet itself"}
    assert len(report.codes) == 3


def test_a_copy_that_another_program_saved_is_good_but_said(looked: Callable[[bytes], Report]) -> None:
    report = looked(changed(maps(), lambda pdf: None))
    assert report.is_good
    assert [finding.text for finding in report.findings] == [
        "written again by another program: what it shows may have been changed, and that cannot be told from here; "
        "look at it, or make it anew"
    ]
    assert [report.answer(part) for part in Part] == [None, True, True]


def test_a_file_of_another_program_is_held_to_what_can_be_known(looked: Callable[[bytes], Report]) -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(300, 300))
    pdf.docinfo["/Producer"] = "a typesetter"
    saved = io.BytesIO()
    pdf.save(saved)
    report = looked(saved.getvalue())
    assert (report.is_good, report.made_by) == (True, "another program (a typesetter)")
    assert [report.answer(part) for part in Part] == [None, None, None]
    assert "105.8 x 105.8 mm is the size of no paper we know" in [finding.text for finding in report.findings]


def test_very_many_pages_end_in_words(looked: Callable[[bytes], Report], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("traysheets.verify.verify.MOST_PAGES_OF_SHEET", 2)
    assert looked(maps()).unchecked == ["only the first 2 of its 3 pages were looked at"]
    monkeypatch.setattr("traysheets.verify.verify.MOST_PAGES_UNKNOWN", 3)
    pdf, saved = pikepdf.new(), io.BytesIO()
    for _ in range(5000):
        pdf.add_blank_page(page_size=(100, 100))
    pdf.save(saved)
    assert looked(saved.getvalue()).unchecked == ["only the first 3 of its 5000 pages were looked at"]


def test_a_count_of_pages_that_lies_does_no_harm(looked: Callable[[bytes], Report]) -> None:
    def lie(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Pages.Count = 2_000_000_000

    assert looked(changed(maps(), lie)).pages == 3


@pytest.mark.parametrize("size", [(1, 1), (14400, 14400), (1_000_000, 1_000_000), (200, 3)])
def test_pages_of_absurd_sizes_do_no_harm(size: tuple[int, int], looked: Callable[[bytes], Report]) -> None:
    def resize(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].mediabox = [0, 0, *size]

    assert not looked(changed(maps(), resize)).is_good


def test_stamps_that_hold_themselves_do_no_harm(looked: Callable[[bytes], Report]) -> None:
    def loop(pdf: pikepdf.Pdf) -> None:
        form = pdf.make_stream(b"/F Do", Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form, BBox=[0, 0, 9, 9])
        form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(F=form))
        pdf.pages[0].Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(F=form))
        pdf.pages[0].Contents = pdf.make_stream(b"/F Do")

    assert not looked(changed(maps(), loop)).is_good


@pytest.mark.parametrize("seed", range(25))
def test_torn_files_end_in_words(seed: int, looked: Callable[[bytes], Report]) -> None:
    """Pieces cut out, doubled, swapped and overwritten."""
    chance, data = random.Random(seed), bytearray(sticks())
    for _ in range(chance.randint(1, 4)):
        start, length = chance.randrange(len(data)), chance.randint(1, 2000)
        piece = bytes(data[start : start + length])
        other = chance.randrange(len(data))
        data[other : other + chance.choice((0, length))] = chance.choice((b"", piece, chance.randbytes(length)))
    report = looked(bytes(data))
    assert json.dumps(report.facts)
    assert report.is_good == (data == sticks())


def test_letters_off_the_page_are_told(looked: Callable[[bytes], Report]) -> None:
    page = replace(every_mark(), width_mm=297, marks=(Text(20, 20, "Longstalk Winter"),))

    def cut(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].mediabox = [0, 0, 100, 841.89]

    report = looked(changed(pdf_of([page]), cut))
    assert "letters on it reach off the page and would be cut off" in said(report)


def digested(data: bytes, change: Callable[[bytes, bytes], bytes]) -> bytes:
    """The file with its table of objects changed, given the part before its heading and the rest."""
    at = data.rindex(b"/ID")
    return change(data[:at], data[at:])


@pytest.mark.parametrize(
    "change",
    [
        lambda before, after: before.replace(b"/W [1 4 2]", b"/W [1 4 2]/X 1") + after,
        lambda before, after: before + after.replace(b"/Length ", b"/Length 9"),
        lambda before, after: before + after.replace(b"stream\n", b"stream\nxx", 1),
        lambda before, after: before + re.sub(rb"stream\n..", b"stream\n\0\0", after, count=1, flags=re.DOTALL),
    ],
    ids=["heading", "length", "content", "packing"],
)
def test_a_table_that_was_changed_is_not_as_written(
    change: Callable[[bytes, bytes], bytes], looked: Callable[[bytes], Report]
) -> None:
    assert looked(maps()).as_written
    assert not looked(digested(maps(), change)).as_written


def test_a_file_whose_fingerprints_are_alike_has_none_of_its_own(looked: Callable[[bytes], Report]) -> None:
    """As of older versions: nothing is told of its bytes, good or bad."""
    older = digested(maps(), lambda before, after: before + re.sub(rb"<(\w{32})> ?<\w{32}>", rb"<\1> <\1>", after))
    assert older != maps()
    report = looked(older)
    assert (report.as_written, said(report)) == (False, [])


def test_a_file_larger_than_any_sheet_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "large.pdf"
    with file.open("wb") as made:
        made.truncate(MOST_BYTES_OF_SHEET + 1)
    with pytest.raises(FileError, match="is larger than 1 GB, which no sheet of ours is"):
        verify(file)
