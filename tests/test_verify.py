"""Finished sheets read back: whole ones pass in every form, damaged ones are named, and nothing ends in a traceback."""

import io
import json
import random
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from click.testing import CliRunner, Result
from mark_pages import URL, every_mark, pdf_of

from traysheets import __version__
from traysheets.base.bundle import bundled
from traysheets.base.words import words_for
from traysheets.cli.main import cli
from traysheets.export.pdf import write_pdf
from traysheets.page import qr
from traysheets.page.correction import Correction
from traysheets.page.marks import Document, Page, Place, Text
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS
from traysheets.trade.trays import built_in_trays
from traysheets.verify import pdfium
from traysheets.verify.report import Part, Report
from traysheets.verify.scales import cells_mm, divided_by, scale_findings
from traysheets.verify.verify import verify

SPRING = bundled("sample_plans") / "spring.toml"
MADE = f"traysheets {__version__}"


def sheet(name: str, most: int = 3, correction: Correction | None = None, **choices: object) -> bytes:
    """The first pages of a sheet of the sample."""
    job = check(Options(**{"plan": SPRING} | choices), date(2027, 3, 1)).job  # type: ignore[arg-type]
    pages = (page for page, _ in zip(SHEETS[name].pages(job), range(most), strict=False))
    file = io.BytesIO()
    write_pdf(Document(name, pages, language=job.words.language, correction=correction), file)
    return file.getvalue()


@cache
def maps() -> bytes:
    return sheet("maps")


@cache
def sticks() -> bytes:
    return sheet("sticks")


@pytest.fixture
def looked(tmp_path: Path) -> Callable[[bytes], Report]:
    def look(data: bytes) -> Report:
        file = tmp_path / "sheet.pdf"
        file.write_bytes(data)
        return verify(file)

    return look


def said(report: Report) -> list[str]:
    return [finding.text for finding in report.findings if finding.wrong]


def changed(data: bytes, change: Callable[[pikepdf.Pdf], object]) -> bytes:
    """A copy that another program saved after a change."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        saved = io.BytesIO()
        pdf.save(saved)
    return saved.getvalue()


# ---- whole sheets


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
@pytest.mark.parametrize("name", list(SHEETS))
def test_every_sheet_is_good_on_any_paper(name: str, paper: str, looked: Callable[[bytes], Report]) -> None:
    report = looked(sheet(name, most=99 if paper == "a4" else 3, paper=paper))
    assert report.findings == []
    assert (report.as_written, report.made_by, report.is_good) == (True, MADE, True)
    if name in {"maps", "templates"}:
        assert len(report.bars_mm) >= report.pages  # type: ignore[operator]
        assert all(length == pytest.approx(50, abs=0.02) for _, length in report.bars_mm)


@pytest.mark.parametrize("language", ["de", "es", "fr", "pt"])
@pytest.mark.parametrize("name", list(SHEETS))
def test_every_sheet_is_good_in_any_language(name: str, language: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet(name, most=2, languages=(language, "en"))).findings == []


CODES = {"empty", *(batch.sowing.code for batch in check(Options(plan=SPRING), date(2027, 3, 1)).job.batches)}
STOCKS = check(Options(plan=SPRING), date(2027, 3, 1)).job.plan.stocks


@pytest.mark.parametrize("stock", list(STOCKS))
def test_sticks_are_good_on_every_stock_and_all_codes_are_found(stock: str, looked: Callable[[bytes], Report]) -> None:
    report = looked(sheet("sticks", most=2, stock=stock))
    assert said(report) == []
    assert report.codes
    width, height = STOCKS[stock].page_mm
    assert report.sizes_mm == ((round(width, 1), round(height, 1)),)
    assert min(code.module_mm for code in report.codes) > 0.33


@pytest.mark.parametrize("plan", ["spring", "season"])
def test_every_template_is_good(plan: str, looked: Callable[[bytes], Report]) -> None:
    """Some show a small cell at full size and, beside it, larger."""
    assert looked(sheet("templates", most=99, plan=SPRING.with_name(f"{plan}.toml"))).findings == []


@pytest.mark.parametrize("scale", ["1:1", "1:2.5", "1:10"])
def test_maps_are_good_at_any_scale(scale: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet("maps", scale=scale)).findings == []


@pytest.mark.parametrize("name", ["maps", "sticks", "guide", "overview"])
def test_the_other_sample_is_good(name: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet(name, plan=SPRING.with_name("season.toml"))).findings == []


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_the_scale_of_every_kind_of_tray_is_that_of_its_cells(
    units: str, tmp_path: Path, looked: Callable[[bytes], Report], monkeypatch: pytest.MonkeyPatch
) -> None:
    sowing = (
        '[[sowing]]\ncrop = "Onion"\nvariety = "V"\nmethod = "clump"\nseeds_per_cell = 3\nsow = 2027-03-06\ncells = 4\n'
    )
    head = f'[plan]\ntitle = "Trays"\ngrower = "G"\nseason = 2027\nunits = "{units}"\n'
    plan = tmp_path / "plan.toml"
    plan.write_text(head + "".join(f'{sowing}tray = "{tray}"\n' for tray in built_in_trays()))
    told: list[tuple[float | None, object]] = []
    monkeypatch.setattr(
        "traysheets.verify.pages.scale_findings",
        lambda foot, head, drawn, number: (
            told.append((divided_by(foot), cells_mm(head))) or scale_findings(foot, head, drawn, number)  # type: ignore[func-returns-value]
        ),
    )
    report = looked(sheet("maps", most=99, plan=plan))
    assert said(report) == []
    assert len(told) == report.pages >= len(built_in_trays())  # type: ignore[operator]
    assert all(divisor and cells for divisor, cells in told)


@pytest.mark.parametrize(
    ("foot", "head", "drawn", "wrong"),
    [
        ("Scale 1:2.5 black corner", "flat · 3 rows × 6 columns, cells of 76 mm", (30.4, 30.4), False),
        ("Maßstab 1:2,5", "3 × 6, Zellen von 61 × 38 mm", (24.4, 15.2), False),
        ("Scale 1:2", "cells of 3 in", (38.1, 38.1), False),
        ("Scale 1:2", "cells of 3 3/8 × 1/2 in", (42.9, 6.4), False),
        ("Scale 1:2", "cells of 76 mm", (30.4, 30.4), True),
        ("Scale 1:2", "cells of 61 × 38 mm", (15.2, 24.4), True),
        ("Scale 1:2", "no size", (1, 1), False),
        ("no scale", "cells of 76 mm", (1, 1), False),
        ("1:2 or 1:4", "cells of 76 mm", (1, 1), False),
        ("at 11:20", "cells of 76 mm", (1, 1), False),
    ],
)
def test_a_scale_is_held_against_the_cells(foot: str, head: str, drawn: tuple[float, float], wrong: bool) -> None:
    found = list(scale_findings(foot, head, [(5.0, 5.0), drawn], 3))
    assert [finding.page for finding in found] == ([3] if wrong else [])


def test_cells_of_another_scale_than_the_page_says_are_told(looked: Callable[[bytes], Report]) -> None:
    """The cells alone smaller, the bar left as it is, as no scaling does."""
    first = next(iter(SHEETS["maps"].pages(check(Options(plan=SPRING), date(2027, 3, 1)).job)))
    marks = [it for it in first.marks if not (isinstance(it, Place) and it.stamp.name.split(" × ")[-1] in CODES)]
    report = looked(pdf_of([replace(first, marks=tuple(marks))]))
    assert said(report) == [
        "it says its scale is 1:2, but no cell is drawn 43.0 x 43.0 mm large; print the sheet itself"
    ]


def test_sheets_corrected_for_a_printer_are_understood(looked: Callable[[bytes], Report]) -> None:
    data = sheet("maps", correction=Correction(1.007, 0.994, 0.8, -0.4))
    report = looked(data)
    assert report.findings == []
    assert {round(length, 2) for _, length in report.bars_mm} == {round(50 / 0.994, 2)}


def test_the_page_to_try_a_printer_has_small_codes_on_purpose(looked: Callable[[bytes], Report]) -> None:
    report = looked(pdf_of(printer_pages(PAPERS["a4"], words_for("en"), "metric")))
    assert said(report) == []
    assert len(report.findings) == 4
    assert min(code.module_mm for code in report.codes) == pytest.approx(0.25, abs=0.01)


def test_codes_are_measured(looked: Callable[[bytes], Report]) -> None:
    """Made with the sizes that are then found on the drawn page."""
    codes = [(qr.code(URL, 14), (20, 20)), (qr.code("27-014-K", 30), (60, 20)), (qr.code("a" * 100, 40, 2), (20, 80))]
    report = looked(pdf_of([Page(210, 297, tuple(Place(code.stamp, *at) for code, at in codes))]))
    assert [code.text for code in report.codes] == [code.text for code, _ in codes]
    for seen, (meant, at) in zip(report.codes, codes, strict=True):
        quiet = (meant.stamp.width_mm / meant.module_mm - 17 - 4 * meant.version) / 2
        assert seen.module_mm == pytest.approx(meant.module_mm, rel=0.01)
        assert (seen.version, seen.level) == (meant.version, meant.level)
        assert seen.corner_mm == pytest.approx([side + quiet * meant.module_mm for side in at], abs=0.2)
        assert seen.quiet_modules == 4


# ---- damaged copies


@pytest.mark.parametrize("share", [0.001, 0.3, 0.7, 0.99, 0.9999])
def test_a_file_that_was_cut_off_is_told(share: float, looked: Callable[[bytes], Report]) -> None:
    report = looked(maps()[: int(len(maps()) * share)])
    assert said(report)[0] == "the end of the file is missing: it was cut off on the way; make or copy it again"
    assert not report.holds(Part.WHOLE)


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
    assert said(report) == ["it has 2 of its 3 pages: the others were lost; make it again"]
    assert (report.as_written, report.made_by) == (False, MADE)


def test_a_page_too_many_is_told(looked: Callable[[bytes], Report]) -> None:
    assert "it has 4 pages, and had 3 when it was made" in said(
        looked(changed(maps(), lambda pdf: pdf.pages.append(pdf.pages[0])))
    )


def scaled(pdf: pikepdf.Pdf, share: float = 0.97, *, page_too: bool = True) -> None:
    """All pages smaller, as a print to a file that was fitted to its page."""
    for page in pdf.pages:
        page.contents_add(pikepdf.Stream(pdf, f"{share} 0 0 {share} 0 0 cm".encode()), prepend=True)
        if page_too:
            page.mediabox = [float(side) * share for side in page.mediabox]


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


def painted(pdf: pikepdf.Pdf, page: int, operators: str) -> None:
    """Something drawn over a page, in points from its lower left corner."""
    pdf.pages[page].contents_add(pikepdf.Stream(pdf, b"q"), prepend=True)
    pdf.pages[page].contents_add(pikepdf.Stream(pdf, f"Q {operators}".encode()))


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
    assert said(looked(locked("secret"))) == ["it is locked with a password; sheets of ours never are"]
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
        "another program has saved it again since it was made; what was made is safer to print"
    ]


def test_a_file_of_another_program_is_held_to_what_can_be_known(looked: Callable[[bytes], Report]) -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(300, 300))
    pdf.docinfo["/Producer"] = "a typesetter"
    saved = io.BytesIO()
    pdf.save(saved)
    report = looked(saved.getvalue())
    assert (report.is_good, report.made_by) == (True, "another program (a typesetter)")
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


# ---- the command


def run(*words: object) -> Result:
    return CliRunner().invoke(cli, ["verify", *map(str, words)], catch_exceptions=False)


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    good, bad = tmp_path / "maps.pdf", tmp_path / "cut.pdf"
    good.write_bytes(maps())
    bad.write_bytes(maps()[:5000])
    return good, bad


def test_a_good_file_is_told_in_four_lines(files: tuple[Path, Path]) -> None:
    done = run(files[0])
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == (
        f"{files[0]}: made by {MADE}, 3 pages\n"
        "  whole: yes, every byte as it was written\n"
        "  to scale: yes, 297 x 210 mm; the 50 mm bar measures 50.00 mm\n"
        "  scannable: yes, 3 QR codes read, modules of 0.44 mm or more\n"
    )


def test_a_bad_file_is_told_and_fails_the_run(files: tuple[Path, Path]) -> None:
    done = run(*files)
    assert done.exit_code == 1
    assert f"{files[1]}\n  whole: no\n" in done.stdout
    assert done.stderr.startswith(f"{files[1]}: the end of the file is missing")


def test_quiet_says_only_what_is_wrong(files: tuple[Path, Path]) -> None:
    assert run("-q", files[0]).output == ""
    done = run("-q", files[1])
    assert (done.exit_code, done.stdout) == (1, "")
    assert "missing" in done.stderr


def test_what_is_wrong_on_many_pages_is_told_once(files: tuple[Path, Path]) -> None:
    files[0].write_bytes(changed(maps(), scaled))
    lines = run("-q", files[0]).stderr.splitlines()
    assert len(lines) == 2
    assert lines[1].startswith(f"{files[0]}, pages 1, 2 and 3: its bar of 50 mm is 48.50 mm long")
    files[1].write_bytes(changed(sheet("maps", most=9), scaled))
    assert run("-q", files[1]).stderr.splitlines()[1].startswith(f"{files[1]}, 9 pages from page 1 on: its bar")


def test_codes_are_listed(files: tuple[Path, Path]) -> None:
    lines = run("--codes", files[0]).stdout.splitlines()[4:]
    assert len(lines) == 3
    assert lines[0].startswith("  page 1: 0.4")
    assert lines[0].endswith("HTTPS://RECORDS.EXAMPLE.ORG/T/1")


def test_json_tells_all(files: tuple[Path, Path]) -> None:
    done = run("--json", *files)
    good, bad = json.loads(done.stdout)["files"]
    assert done.exit_code == 1
    assert (good["good"], good["whole"], good["to_scale"], good["scannable"], good["pages"]) == (*(True,) * 4, 3)
    assert {code["version"] for code in good["codes"]} == {3}
    assert (bad["good"], bad["whole"]) == (False, False)
    assert bad["findings"][0]["part"] == "whole"


NOT_SHEETS: dict[str, tuple[bytes | None, str]] = {
    "empty.pdf": (b"", "the file is empty; make or copy it again"),
    "words.pdf": (b"only words", "this is not a PDF file; name one of the sheets that `traysheets make` wrote"),
    "bare.pdf": (b"%PDF-1.7\n", "the end of the file is missing"),
    "ends.pdf": (b"%PDF-1.7\nstartxref\n99999\n%%EOF\n", "its table of contents is not where the file says"),
    "torn.pdf": (b"%PDF-1.7\nnothing here\nstartxref\n3\n%%EOF\n", "it cannot be opened"),
    "none.pdf": (None, "cannot be read: No such file or directory"),
}


@pytest.mark.parametrize("name", NOT_SHEETS)
def test_what_is_no_sheet_is_told(name: str, tmp_path: Path) -> None:
    content, words = NOT_SHEETS[name]
    if content is not None:
        (tmp_path / name).write_bytes(content)
    done = run(tmp_path / name)
    assert done.exit_code == 1
    assert words in done.stderr


def test_a_folder_is_told(tmp_path: Path) -> None:
    done = run(tmp_path)
    assert (done.exit_code, done.stderr) == (
        1,
        f"{tmp_path} is a folder; name a file in it, such as {tmp_path / 'maps.pdf'}\n",
    )


def test_wrong_use_is_told() -> None:
    assert run().exit_code == 2


def test_without_the_extra_what_can_be_said_is_said(files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdfium, "is_there", lambda: False)
    good = run(files[0])
    assert good.exit_code == 0
    assert good.stdout == f"{files[0]}: made by {MADE}, 3 pages\n  whole: yes, every byte as it was written\n"
    unchecked = "its pages and QR codes were not looked at: that takes an extra, pip install 'traysheets[verify]'"
    assert good.stderr == f"{files[0]}: {unchecked}\n"
    damaged = bytearray(maps())
    damaged[40000] ^= 4
    files[1].write_bytes(damaged)
    bad = run(files[1])
    assert bad.exit_code == 1
    assert "some of its bytes are not those that were written" in bad.stderr


def test_letters_off_the_page_are_told(looked: Callable[[bytes], Report]) -> None:
    page = replace(every_mark(), width_mm=297, marks=(Text(20, 20, "Longstalk Winter"),))

    def cut(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].mediabox = [0, 0, 100, 841.89]

    report = looked(changed(pdf_of([page]), cut))
    assert "letters on it reach off the page and would be cut off" in said(report)
