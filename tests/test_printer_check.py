"""The printer's check page, read back and looked at; and the way from it through the plan to true sheets."""

import io
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from eyes import blurred, crop, decode_qr, render
from PIL import Image
from readback import SeenPage, SeenText, read_back

from traysheets.base.words import words_for
from traysheets.cli.main import cli
from traysheets.export.pdf import write_pdf
from traysheets.page import palette
from traysheets.page.correction import Correction
from traysheets.page.marks import Document, Page, Place, Stamp
from traysheets.page.marks import Path as Drawn
from traysheets.page.proof import overlaps
from traysheets.page.reach import text_boxes
from traysheets.plan.read import read_plan
from traysheets.sheets.printer_check import printer_pages
from traysheets.sheets.printer_rulers import CORNERS_MM
from traysheets.sheets.printer_samples import MODULES_MM, SIZES_PT
from traysheets.sheets.printer_truth import correction
from traysheets.trade.papers import PAPERS

WITHIN_MM = 0.02
every_paper = pytest.mark.parametrize("paper", PAPERS)


def pages(paper: str = "a4", units: str = "metric") -> list[Page]:
    return list(printer_pages(PAPERS[paper], words_for("en"), units))


def pdf(paper: str = "a4", units: str = "metric", printer: Correction | None = None) -> bytes:
    file = io.BytesIO()
    write_pdf(Document("check", iter(pages(paper, units)), correction=printer), file)
    return file.getvalue()


def words(page: Page) -> list[str]:
    return [text for text, _ in text_boxes(page.marks)]


def base_lines(seen: SeenPage) -> tuple[list[float], list[float]]:
    """From and to of the ruler across, and of the one down."""
    lines = [line for line in seen.lines if line.stroke_mm == pytest.approx(0.25, abs=0.01)]
    (across,) = (line for line in lines if abs(line.y1_mm - line.y2_mm) < 0.01)
    (down,) = (line for line in lines if abs(line.x1_mm - line.x2_mm) < 0.01)
    return sorted((across.x1_mm, across.x2_mm)), sorted((down.y1_mm, down.y2_mm))


# ---- rulers and corners


@every_paper
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_rulers_are_as_long_as_they_say(paper: str, units: str) -> None:
    seen = read_back(pdf(paper, units))[0]
    meant_mm = 100 if paper == "a5" else 200
    for ends, name in zip(base_lines(seen), "AB", strict=True):
        assert ends[1] - ends[0] == pytest.approx(meant_mm, abs=WITHIN_MM)
        said = {"metric": f"{meant_mm} mm", "inch": "100 mm (3 15/16 in)" if meant_mm == 100 else "200 mm (7 7/8 in)"}
        assert f"{name}: {said[units]} if the printer is true" in seen.words


@every_paper
def test_every_millimetre_has_its_tick_and_every_ten_a_number(paper: str) -> None:
    seen = read_back(pdf(paper))[0]
    start, end = base_lines(seen)[0]
    ticks = next(path for path in seen.paths if path.stroke and abs(float(path.d[0][1]) - start) < 0.01)
    places = [float(piece[1]) for piece in ticks.d if piece[0] == "M"]
    assert places == [pytest.approx(start + mm, abs=WITHIN_MM) for mm in range(round(end - start) + 1)]
    for mm in range(0, round(end - start) + 1, 10):
        assert any(
            text.text == str(mm) and abs(text.x_mm + text.width_mm / 2 - start - mm) < 0.1 for text in upright(seen)
        )


def upright(seen: SeenPage) -> list[SeenText]:
    return [text for text in seen.texts if text.turns == 0]


def test_the_inch_ruler_has_sixteenths_of_an_inch() -> None:
    seen = read_back(pdf("letter", "inch"))[0]
    start = base_lines(seen)[0][0]
    starting = [path for path in seen.paths if path.stroke and abs(float(path.d[0][1]) - start) < 0.01]
    places = [[float(piece[1]) - start for piece in path.d if piece[0] == "M"] for path in starting]
    assert sorted(map(len, places)) == [127, 201]
    assert min(places, key=len) == [pytest.approx(n * 25.4 / 16, abs=WITHIN_MM) for n in range(127)]


@every_paper
def test_corner_marks_are_as_far_from_both_edges_as_they_say(paper: str) -> None:
    (width, height), seen = (PAPERS[paper].width_mm, PAPERS[paper].height_mm), read_back(pdf(paper))[0]
    for distance in CORNERS_MM:
        for x in (distance, width - distance):
            for y in (distance, height - distance):
                ends = [
                    line
                    for line in seen.lines
                    if any(
                        abs(ex - x) < WITHIN_MM and abs(ey - y) < WITHIN_MM
                        for ex, ey in ((line.x1_mm, line.y1_mm), (line.x2_mm, line.y2_mm))
                    )
                ]
                assert len(ends) == 2
        assert sum(text.text == f"{distance:g}" and text.face == "bold" for text in seen.texts) == 4


@every_paper
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_nothing_meets_and_all_but_rulers_and_corner_marks_keep_clear_of_the_edge(paper: str, units: str) -> None:
    for page in pages(paper, units):
        assert overlaps(page) == []
        for text, (left, top, right, bottom) in text_boxes(page.marks):
            if not text.replace(".", "").isdigit():
                assert left > 6.35, text
                assert top > 6.35, text
                assert right < page.width_mm - 6.35, text
                assert bottom < page.height_mm - 6.35, text


def test_samples_go_on_on_a_second_page_only_where_the_paper_is_small() -> None:
    assert {paper: len(pages(paper)) for paper in PAPERS} == dict.fromkeys(PAPERS, 1) | {"a5": 2}


# ---- samples


def test_letters_get_smaller_and_each_says_its_size() -> None:
    seen = read_back(pdf())[0]
    samples = [text.size_pt for text in seen.texts if text.text.startswith("Longstalk Winter")]
    assert samples == list(SIZES_PT)
    assert [text.size_pt for text in seen.texts if text.text == "27-014-K"] == list(SIZES_PT)
    assert [word for word in seen.words if word.endswith(" pt")] == ["9 pt", "8 pt", "7 pt", "6 pt", "5 pt"]


def test_eight_fills_eleven_greys_and_sixteen_hatches() -> None:
    seen = read_back(pdf())[0]
    fills = [rect.fill for rect in seen.rects if rect.fill]
    assert set(palette.FILLS) <= set(fills)
    greys = {fill for fill in fills if len({fill[1:3], fill[3:5], fill[5:7]}) == 1}
    assert len(greys) == 11
    assert [str(number) for number in range(1, 17)] == [word for word in seen.words if word.isdigit()][-16:]


def codes(page: Page) -> list[tuple[Stamp, tuple[float, float, float, float]]]:
    found = [mark for mark in page.marks if isinstance(mark, Place) and mark.stamp.name.startswith("QR")]
    return [(p.stamp, (p.x_mm, p.y_mm, p.x_mm + p.stamp.width_mm, p.y_mm + p.stamp.height_mm)) for p in found]


def test_codes_have_modules_of_falling_size_and_each_is_labelled_with_it() -> None:
    (page,) = pages()
    found = codes(page)
    sizes = [next(mark.unit_mm for mark in stamp.marks if isinstance(mark, Drawn)) for stamp, _ in found]
    assert sizes == pytest.approx(MODULES_MM)
    assert [word for word in words(page) if word.startswith("0.") and word.endswith("mm")] == [
        f"{size:.2f} mm" for size in MODULES_MM
    ]


def test_codes_are_read_and_say_their_size() -> None:
    """At 300 dpi all, at 200 dpi down to the smallest promised, 0.34 mm."""
    (page,) = pages()
    for (_, box), size in zip(codes(page), MODULES_MM, strict=True):
        assert decode_qr(crop(render(pdf(), 0, 300), box, 300)) == {f"{size:.2f} MM"}
        if size >= 0.34:
            assert decode_qr(crop(render(pdf(), 0, 200), box, 200)) == {f"{size:.2f} MM"}


def captured(sharp: Image.Image, angle: float, blur_modules: float) -> Image.Image:
    """What a camera sees at 300 dpi of a code of 0.34 mm at 600 dpi, turned and out of focus."""
    turned = sharp.rotate(angle, expand=True, fillcolor="white", resample=Image.Resampling.BICUBIC)
    soft = blurred(turned, blur_modules * 0.34 / 25.4 * 600)
    return soft.resize((soft.width // 2, soft.height // 2), Image.Resampling.BOX)


def test_the_smallest_promised_is_read_turned_and_out_of_focus_by_four_tenths_of_a_module() -> None:
    (page,) = pages()
    (box,) = (box for (_, box), size in zip(codes(page), MODULES_MM, strict=True) if size == 0.34)
    sharp = crop(render(pdf(), 0, 600), box, 600)
    for angle in range(0, 360, 15):
        assert decode_qr(captured(sharp, angle, 0.4)) == {"0.34 MM"}, angle
    assert decode_qr(captured(sharp, 0, 2)) == set(), "a code too blurred is not read"


# ---- from the page to the plan


PLAN = """
[plan]
title = "Check"
season = 2027
[printer]
measured_across = "{across}"
measured_down = "{down}"
shift_right = "{right}"
shift_down = "{below}"
[[sowing]]
crop = "Onion"
variety = "Amber Vault"
method = "clump"
cells = 2
tray = "pot-18"
sow = 2027-03-06
"""


def plan_with(folder: Path, **values: str) -> Correction | None:
    file = folder / "plan.toml"
    file.write_text(PLAN.format(**values), encoding="utf-8")
    return correction(read_plan(file).printer)


@pytest.mark.parametrize(
    "printer", [Correction(198.6 / 200, 199.4 / 200, 0.8, -1.2), Correction(1.006, 1.004, -0.7, 1.5)]
)
@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_what_the_ruler_says_of_a_printer_written_into_the_plan_puts_it_right(
    tmp_path: Path, paper: str, printer: Correction
) -> None:
    """The page as that printer prints it, measured to a tenth as it asks, filled in as it says, printed corrected."""
    size = PAPERS[paper].width_mm, PAPERS[paper].height_mm
    stretch = printer.printed(*size)
    seen = read_back(pdf(paper))[0]
    across, down = base_lines(seen)
    twice = 2 if paper == "a5" else 1
    measured_across = (across[1] - across[0]) * stretch.across * twice
    measured_down = (down[1] - down[0]) * stretch.down * twice
    corner = stretch.point(CORNERS_MM[-1], CORNERS_MM[-1])
    values = {
        "across": f"{measured_across:.1f} mm",
        "down": f"{measured_down:.1f} mm",
        "right": f"{corner[0] - 10:.1f} mm",
        "below": f"{corner[1] - 10:.1f} mm",
    }
    found = plan_with(tmp_path, **values)
    assert found is not None
    for x, y in ((10, 10), (size[0] - 10, 10), (10, size[1] - 10), (size[0] - 10, size[1] - 10)):
        landed = stretch.point(*found.corrected(*size).point(x, y))
        assert landed == pytest.approx((x, y), abs=0.3)
        assert stretch.point(x, y) != pytest.approx((x, y), abs=0.3)


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_the_examples_on_the_page_are_what_a_plan_takes(tmp_path: Path, units: str) -> None:
    (page,) = pages("letter", units)
    line = next(word for word in words(page) if word.startswith("line A, as "))
    shift = next(word for word in words(page) if word.startswith("as "))
    plus, minus = shift.removeprefix("as ").split(", or ")
    length = line.removeprefix("line A, as ")
    found = plan_with(tmp_path, across=length, down=length, right=plus, below=minus)
    assert found is not None
    assert found.scale_across < 1
    assert found.shift_right_mm == -found.shift_down_mm > 0


def test_the_keys_on_the_page_are_those_of_the_plan() -> None:
    said = " ".join(words(pages()[0]))
    for key in ("[printer]", "measured_across", "measured_down", "shift_right", "shift_down"):
        assert key in said
        assert key in PLAN


# ---- the command


def run(*typed: str | Path) -> Result:
    return CliRunner().invoke(cli, [str(word) for word in typed], catch_exceptions=False)


def test_the_command_writes_the_page_and_says_what_next(tmp_path: Path) -> None:
    file = tmp_path / "check.pdf"
    result = run("printer-check", "--paper", "letter", "-o", file)
    assert (result.exit_code, result.stdout) == (0, "")
    assert result.stderr == f"Wrote {file}. Print it at 100 %, not 'fit to page'; it says what to measure.\n"
    (seen,) = read_back(file.read_bytes())
    assert (seen.width_mm, seen.height_mm) == pytest.approx((215.9, 279.4), abs=WITHIN_MM)
    assert "A: 200 mm (7 7/8 in) if the printer is true" in seen.words


def test_the_command_replaces_nothing_unless_told_to(tmp_path: Path) -> None:
    file = tmp_path / "check.pdf"
    file.write_text("mine")
    result = run("printer-check", "-o", file)
    assert result.exit_code == 1
    assert result.stderr == f"{file}: is there already; choose another name, or replace it with --force\n"
    assert file.read_text() == "mine"
    assert run("printer-check", "-o", file, "--force").exit_code == 0
    assert file.read_bytes().startswith(b"%PDF")


def test_the_command_knows_papers_and_languages(tmp_path: Path) -> None:
    assert run("printer-check", "--paper", "b4", "-o", tmp_path / "x.pdf").exit_code == 2
    result = run("printer-check", "--language", "xx", "-o", tmp_path / "x.pdf")
    assert result.exit_code == 1
    assert "xx" in result.stderr
    assert list(tmp_path.iterdir()) == []
