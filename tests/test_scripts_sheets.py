"""A whole plan with names in many scripts: every sheet made from it, read back and looked over."""

import json
import sys
from datetime import date
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from scripts import ARABIC, CJK, DEVANAGARI, HEBREW, THAI, fonts

from traysheets.base.directions import isolated
from traysheets.base.errors import PlanError, SheetError
from traysheets.base.words import languages, words_for
from traysheets.cli.main import cli
from traysheets.export.svg import svg
from traysheets.page.fonts import font_files, with_fonts
from traysheets.page.marks import Page, Text
from traysheets.page.proof import overlaps, prove
from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS

TODAY = date(2027, 1, 15)
VARIETIES = {
    "بصل أخضر طويل": "Bunching onion",
    "בצל ירוק (ב)": "Onion",
    "हरी प्याज": "Leek",
    "ต้นหอมญี่ปุ่น น้ำผึ้ง": "Bunching onion",
    "九条ねぎ": "Bunching onion",
    "대파 한지형": "Onion",
    "上海红甜菜根特大号改良早熟品种第十二代": "Beetroot",
    "Hành lá Quỳnh Nhẫn": "Onion",
    "بصل طويل سلام كبير من وادي طويل Millbrook 12 بصل سلام": "Onion",
    "ต้นมะเขือเทศราชินีสีแดงสดพันธุ์ทนร้อนทนฝนปลูกง่ายโตไวรุ่นใหม่ล่าสุด": "Tomato",
}
HEAD = """
[plan]
title = "בצל 2027"
grower = "وادي سلام"
season = 2027
language = "{language}"
place = "โรงเรือน"
stock = "a4-21"
fonts = {fonts}

[[bench]]
name = "棚台"
length = "2.4 m"
depth = "0.6 m"

[defaults]
tray = "pot-18"
sow = 2027-03-06
cells = 3
lot = "دفعة 12"
"""
SOWING = """
[[sowing]]
crop = "{crop}"
variety = "{variety}"
"""
FONTS = (ARABIC, HEBREW, DEVANAGARI, THAI, CJK)


def plan(folder: Path, named: tuple[str, ...] = FONTS, language: str = "en") -> Path:
    path = folder / "names.toml"
    head = HEAD.format(language=language, fonts=json.dumps(list(named)))
    sowings = (SOWING.format(crop=crop, variety=variety) for variety, crop in VARIETIES.items())
    path.write_text(head + "".join(sowings) + 'place = "棚台"\ntreated = true\n', encoding="utf-8")
    return path


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("sheet", SHEETS)
def test_no_letters_over_others_and_nothing_outside(sheet: str, language: str, tmp_path: Path) -> None:
    job = check(Options(plan(tmp_path, language=language)), TODAY).job
    with with_fonts(font_files(job.plan.fonts)):
        for page in SHEETS[sheet].pages(job):
            prove(page)
            assert overlaps(page) == []


def test_every_name_stands_on_the_sheets_and_in_the_records(tmp_path: Path) -> None:
    made = make(Options(plan(tmp_path), folder=tmp_path / "out", only=("maps", "sticks", "seeds", "records")), TODAY)
    for file in ("maps.pdf", "sticks.pdf", "seeds.pdf"):
        pages = PdfReader(made.folder / file).pages
        words = " ".join(page.extract_text() for page in pages).replace("\n", " ")
        for name in list(VARIETIES)[:6]:
            assert name in words or "(" in name
    records = "".join((made.folder / file).read_text("utf-8") for file in made.files if file.endswith(".html"))
    assert all(name in records for name in VARIETIES)
    rows = json.loads((made.folder / "records" / "records.json").read_text("utf-8"))["sowings"]
    assert [row["variety"] for row in rows] == list(VARIETIES)


def test_the_same_plan_makes_the_same_bytes_whatever_was_made_before(tmp_path: Path) -> None:
    """Between two runs another job draws the same names with fewer fonts, and fails."""

    def sticks(folder: str) -> bytes:
        return (
            make(Options(plan(tmp_path), folder=tmp_path / folder, only=("sticks",)), TODAY).folder / "sticks.pdf"
        ).read_bytes()

    first = sticks("one")
    with pytest.raises(SheetError):
        make(Options(plan(tmp_path, named=(ARABIC, CJK)), folder=tmp_path / "other", only=("sticks",)), TODAY)
    assert sticks("two") == first
    assert not (tmp_path / "other").exists()


def test_without_fonts_every_name_is_told_with_its_line(tmp_path: Path) -> None:
    path = plan(tmp_path, named=(THAI, DEVANAGARI))
    with pytest.raises(SheetError) as caught:
        make(Options(path), TODAY)
    said = [str(problem) for problem in caught.value.problems]
    lines = path.read_text("utf-8").splitlines()
    assert said[0].startswith(f"{path}: the title 'בצל 2027': no font at hand has 'ב' (U+05D1, HEBREW LETTER BET)")
    assert any(line.startswith(f"{path}:{lines.index('[[bench]]') + 1}: the bench '棚台'") for line in said)
    variety = next(line for line in said if "九条ねぎ" in line)
    at = lines.index('variety = "九条ねぎ"') - 1
    assert variety.startswith(f"{path}:{at}: the variety '九条ねぎ': no font at hand has '九' (U+4E5D, ")
    assert variety.endswith(
        'name a font that has it in the plan, [plan] fonts = ["fonts/MyFont.ttf"], or write it in other characters'
    )
    assert sum("دفعة 12" in line for line in said) == 1
    assert not any("हरी" in line or "ต้น" in line for line in said)


def test_without_the_extra_the_error_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "uharfbuzz", None)
    with pytest.raises(
        SheetError, match=r"such letters need \(in your copy of traysheets: pip install '\.\[scripts\]'\)"
    ):
        make(Options(plan(tmp_path)), TODAY)


def test_a_font_of_a_collection_is_named_by_number(tmp_path: Path) -> None:
    assert check(Options(plan(tmp_path, named=(f"{CJK}#0",))), TODAY).job.plan.fonts == (f"{CJK}#0",)
    with pytest.raises(PlanError, match=r"there is no font file .*gone\.ttc"):
        check(Options(plan(tmp_path, named=("gone.ttc#1",))), TODAY)


def test_a_file_that_is_no_font_is_told_before_anything_is_drawn(tmp_path: Path) -> None:
    (tmp_path / "text.ttf").write_text("not a font")
    with pytest.raises(SheetError, match=r"text\.ttf is no TrueType or OpenType font"):
        make(Options(plan(tmp_path, named=("text.ttf",)), folder=tmp_path / "out"), TODAY)
    assert not (tmp_path / "out").exists()


def test_words_keep_a_name_to_itself() -> None:
    words = words_for("en")
    assert words("maps.place", place="سلام") == words("maps.place", place="X").replace("X", isolated("سلام"))
    assert words("maps.place", place="shed") == words("maps.place", place="X").replace("X", "shed")


@pytest.mark.parametrize(("anchor", "turned"), [("start", "end"), ("middle", "middle"), ("end", "start")])
def test_a_picture_says_which_way_a_text_runs(anchor: str, turned: str) -> None:
    """SVG 2, 11.10.2: a text starts at its right where it runs from the right; so the anchor is the other one."""
    marks = (Text(50, 20, "סגול 12", anchor=anchor), Text(50, 30, "九条", anchor=anchor))
    with with_fonts(fonts()):
        picture = ET.fromstring(svg(Page(100, 50, marks), describe="names"))
    right, left = picture.iter("{http://www.w3.org/2000/svg}text")
    assert (right.get("direction"), right.get("unicode-bidi"), right.get("text-anchor")) == ("rtl", "isolate", turned)
    assert right.text == "סגול 12"
    assert (left.get("direction"), left.get("text-anchor", "start")) == (None, anchor)
    families = picture.get("font-family", "")
    assert (
        families
        == "'Noto Sans', 'Noto Sans Arabic', 'Heebo', 'Noto Sans Devanagari', 'Noto Sans Thai', "
        + families.split(", ", 5)[-1]
    )
    assert families.endswith("'Noto Sans CJK SC', sans-serif")


def test_a_picture_keeps_a_name_from_the_right_within_a_text_from_the_left() -> None:
    with with_fonts(fonts()):
        (text,) = ET.fromstring(svg(Page(100, 50, (Text(50, 20, "Onion סגול", anchor="end"),)), describe="names")).iter(
            "{http://www.w3.org/2000/svg}text"
        )
    assert (text.get("direction"), text.get("unicode-bidi"), text.get("text-anchor")) == ("ltr", "isolate", "end")
    assert text.text == "Onion סגול"


def test_a_built_in_text_says_nothing_of_it() -> None:
    with with_fonts(fonts()):
        drawn = svg(Page(100, 50, (Text(50, 20, "Winter"),)), describe="names")
    assert "direction" not in drawn


def test_pictures_of_the_same_page_are_kept_apart_by_fonts() -> None:
    page = Page(100, 50, (Text(50, 20, "九"),))
    with with_fonts(fonts(CJK)):
        assert "九" in svg(page, describe="")
    with pytest.raises(SheetError):
        svg(page, describe="")


def test_check_tells_of_names_that_cannot_be_printed_as_make_does(tmp_path: Path) -> None:
    path = plan(tmp_path, named=(THAI, DEVANAGARI))
    with pytest.raises(SheetError) as made:
        make(Options(path), TODAY)
    told = CliRunner().invoke(cli, ["check", str(path)], catch_exceptions=False)
    assert told.exit_code == 1
    assert told.stdout == ""
    lines = told.stderr.splitlines()
    assert all(any(str(problem) in line for line in lines) for problem in made.value.problems)
