"""Files that are no plan, and texts that are no TOML: what is said, and on which line."""

from pathlib import Path

import pytest

from traysheets.base import limits
from traysheets.base.errors import PlanError
from traysheets.base.notices import Notice
from traysheets.plan import source
from traysheets.plan.read import plan_from_csv, plan_from_toml, read_plan
from traysheets.plan.source import Source, decoded

GOOD = """\
[plan]
title = "Spring"

[[sowing]]
crop = "Onion"
variety = "Copper Bell"
tray = "pot-18"
cells = 8
sow = 2027-03-06
"""


# How files of ECMA-376 (ZIP archives: APPNOTE.TXT, 4.3.7) and of the binary format before it ([MS-CFB] 2.2) begin.
SPREADSHEET = (
    "this is a spreadsheet's own file, whatever its name ends in; save the sheet as CSV in UTF-8 and name that"
)


TOO_DEEP = "brackets or dotted keys are nested deeper here than the 20 a plan may have; write it flatter"


def refusal(content: bytes | str, tmp_path: Path, name: str = "plan.toml") -> str:
    """What is said about a file with this content, the folder left out."""
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    with pytest.raises(PlanError) as error:
        read_plan(path)
    return str(error.value).replace(f"{tmp_path}/", "")


def test_a_good_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "spring.toml"
    path.write_text(GOOD, encoding="utf-8")
    assert read_plan(path).sowings[0].variety == read_plan(str(path)).sowings[0].variety == "Copper Bell"


def test_a_byte_order_mark_and_windows_line_ends_make_no_difference(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_plan(path).sowings == plan_from_toml(GOOD, "plan.toml").sowings


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "plan.toml:1: this file is empty; `traysheets new FILE` writes a plan to start from"),
        (b"\xef\xbb\xbf \n\n", "plan.toml:1: this file is empty; `traysheets new FILE` writes a plan to start from"),
        (b"\xff\xfe[\x00", "plan.toml:1: this file is saved as UTF-16; save it as UTF-8"),
        (b'[plan]\ntitle = "Beet\xe9"', "plan.toml:2: this line is not UTF-8 (byte E9); save the file as UTF-8"),
        (b"PK\x03\x04\x14\x00\x06", f"plan.toml: {SPREADSHEET}"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", f"plan.toml: {SPREADSHEET}"),
        (b"[\x00p\x00", "plan.toml: this is not a text file; a plan is text in UTF-8"),
        (b"# only a remark\n", "plan.toml:1: there is no sowing in this plan yet; add one"),
    ],
)
def test_content_that_is_no_text(content: bytes, said: str, tmp_path: Path) -> None:
    assert refusal(content, tmp_path) == said


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    for path, said in (
        (tmp_path / "none.toml", "there is no such file"),
        (tmp_path, "this is a folder; name the plan file in it"),
        (tmp_path / "a\0b.toml", "this file cannot be read: no file can have such a name"),
        (
            tmp_path / "plan.xlsx",
            "a spreadsheet's own file cannot be read; save the sheet as CSV in UTF-8 and name that",
        ),
    ):
        with pytest.raises(PlanError) as error:
            read_plan(path)
        assert str(error.value) == f"{path}: {said}"


def test_a_file_that_is_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(source, "MOST_BYTES", 1_000_000)
    assert refusal(b"#" * 1_000_001, tmp_path) == "plan.toml: this file is larger than 1 MB; make several plans of it"


def test_settings_are_named_in_what_is_said_about_them(tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(GOOD, encoding="utf-8")
    settings = tmp_path / "settings.toml"
    with pytest.raises(PlanError) as error:
        read_plan(plan, settings)
    assert str(error.value) == f"{settings}: there is no such file"
    settings.write_text('[[sowing]]\ncrop = "Onion"\n[plan]\nunits = "mm"\n', encoding="utf-8")
    with pytest.raises(PlanError) as error:
        read_plan(plan, settings)
    assert str(error.value).replace(f"{tmp_path}/", "").split("\n") == [
        "settings.toml:1: a settings file has no sowings; move this to the plan",
        "settings.toml:4: units: 'mm' is not metric or inch",
    ]


def test_settings_stand_behind_a_toml_plan_as_behind_a_spreadsheet(tmp_path: Path) -> None:
    """What the plan says itself goes before; lists are put together."""
    plan, settings = tmp_path / "plan.toml", tmp_path / "settings.toml"
    plan.write_text(GOOD.replace('tray = "pot-18"\n', ""), encoding="utf-8")
    settings.write_text(
        '[plan]\ntitle = "Other"\ngrower = "Millbrook Lane Growers"\n[defaults]\ntray = "cell-72"\ncells = 3\n'
        '[[bench]]\nname = "sill"\nlength = "1 m"\ndepth = "30 cm"\n',
        encoding="utf-8",
    )
    read = read_plan(plan, settings)
    assert (read.title, read.grower) == ("Spring", "Millbrook Lane Growers")
    assert (read.sowings[0].tray.name, read.sowings[0].amount.number) == ("cell-72", 8)
    assert [bench.name for bench in read.benches] == ["sill"]


def test_what_no_sowing_uses_is_told_where_it_stands(tmp_path: Path) -> None:
    plan, settings = tmp_path / "plan.csv", tmp_path / "settings.toml"
    plan.write_text("crop,variety,tray,cells,sow\nOnion,Amber Vault,pot-18,8,2027-03-06\n", encoding="utf-8")
    settings.write_text('# what is grown\n[[crop]]\nname = "Oca"\n', encoding="utf-8")
    notice = Notice("no sowing uses the crop 'Oca'", 2, file=str(settings))
    assert read_plan(plan, settings).notices == (notice,)


def test_a_line_of_another_file_is_told_with_its_name(tmp_path: Path) -> None:
    plan, settings = tmp_path / "plan.toml", tmp_path / "settings.toml"
    tray = '[[tray]]\nname = "half"\nrows = 3\ncolumns = 3\nouter = ["28 cm", "28 cm"]\ncell = "8 cm"\ndepth = "8 cm"\n'
    bench = '[[bench]]\nname = "sill"\nlength = "1 m"\ndepth = "30 cm"\n'
    plan.write_text(f"{tray}{bench}{GOOD}", encoding="utf-8")
    settings.write_text(f'[defaults]\ngermination = "seen"\n{tray}{bench}', encoding="utf-8")
    with pytest.raises(PlanError) as error:
        read_plan(plan, settings)
    lot = "name the lot of this sowing of 'Copper Bell', or give it a germination of its own"
    assert str(error.value).replace(f"{tmp_path}/", "").split("\n") == [
        f'plan.toml:15: germination "seen" is what a lot has shown; {lot} (line 2 of settings.toml has it)',
        "settings.toml:4: name: a tray 'half' stands in line 1 of plan.toml already; give this one another name",
        "settings.toml:11: a bench 'sill' stands in line 8 of plan.toml already; give this one another name",
    ]


def test_font_files_that_are_missing_are_told_with_the_rest(tmp_path: Path) -> None:
    (tmp_path / "there.ttf").write_bytes(b"")
    text = GOOD.replace("[plan]", '[plan]\nfonts = ["there.ttf",\n"none.ttf"]')
    assert refusal(text, tmp_path) == "plan.toml:3: there is no font file none.ttf"
    said = refusal(text.replace("cells = 8", "cells = 0"), tmp_path)
    assert said.split("\n") == [
        "plan.toml:10: cells must be 1 or more, not 0",
        "plan.toml:3: there is no font file none.ttf",
    ]


@pytest.mark.parametrize("value", ["5", "1.5", "true", "{ a = 1 }", "[1, 2]", '[["a"]]'])
def test_fonts_that_are_no_names_are_no_files_to_be_looked_for(value: str, tmp_path: Path) -> None:
    text = GOOD.replace("[plan]", f"[plan]\nfonts = {value}")
    assert refusal(text, tmp_path) == "plan.toml:2: fonts: write one text, or a list of texts in brackets"


def test_a_day_may_be_the_name_of_a_font_file(tmp_path: Path) -> None:
    text = GOOD.replace("[plan]", "[plan]\nfonts = 2027-03-06")
    assert refusal(text, tmp_path) == "plan.toml:2: there is no font file 2027-03-06"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("title = Spring plan", 'text, and a value with a unit, stands in quotes: title = "Spring plan"'),
        ("length = 1.2 m  # long", 'text, and a value with a unit, stands in quotes: length = "1.2 m"'),
        ("sow = 2027-W09", 'text, and a value with a unit, stands in quotes: sow = "2027-W09"'),
        ("germination = 85 %", 'text, and a value with a unit, stands in quotes: germination = "85 %"'),
        ("treated = Yes", "write treated = true"),
        ("treated = False", "write treated = false"),
        ("title =", "there is no value after title ="),
        ("sow = 2027-3-6", "'2027-3-6' is not a date; dates are written year, month, day, as sow = 2027-03-06"),
        ("sow = 06.03.2027", "'06.03.2027' is not a date; dates are written year, month, day, as sow = 2027-03-06"),
        ("germination = 0,85", "'0,85': write the decimal point as a point, germination = 0.85"),
        ('title = "a" "b"', "title: this value is not written as TOML wants it; text stands in one pair of quotes"),
        ("sow = 2027-02-30", "there is no such day; dates are written year, month, day, as 2027-03-06"),
        ("title = 1\ntitle = 2", "this stands in the plan already; keep one of the two"),
        ("a = { b = 1, b = 2 }", "a key stands twice between these braces; keep one of the two"),
        ("a = { b = 1 }\na.c = 1", "this adds to a table written in braces; write it all in one place"),
        ("[plan]\n[plan]", "this table stands in the plan already; put all its keys under one heading"),
        ("a = [1, 2", "a list is not closed; it ends with ]"),
        ("a = { b = 1", "a table in braces is not closed; it ends with } on the same line"),
        ('a = """b', "a text is not closed; it ends with a quote mark like the one it begins with"),
        ('a = "b\nc = 1', "a text is not closed; it ends with a quote mark on the same line"),
        ("a = 'b\nc'", "a text is not closed; it ends with a quote mark on the same line"),
        ("a = 'b", "a text is not closed; it ends with a quote mark like the one it begins with"),
        ("a = '''b", "a text is not closed; it ends with a quote mark like the one it begins with"),
        ('a = "b\x01"', "there is a control character here; take it out"),
        ("a = 1 # \x01", "there is a control character here; take it out"),
        ('a = "C:\\Users"', "a character code in this text is not right; write the character itself"),
        ('a = "C:\\data"', "a backslash in double quotes must be written twice; or use single quotes"),
        ('a = "\\ud800"', "a character code in this text is not right; write the character itself"),
        ("[plan", "a table is headed by its name in brackets, as [plan]"),
        ("[[sowing]", "this table is headed by its name in double brackets, as [[sowing]]"),
        ("just words", 'a line is a key, then =, then a value, as variety = "Longstalk Winter"'),
        ("= 1", 'a line is a key, then =, then a value, as variety = "Longstalk Winter"'),
        ("a.= 1", 'a line is a key, then =, then a value, as variety = "Longstalk Winter"'),
        (f"a = {'9' * 5000}", "this number has thousands of digits"),
        (f"a = {'[' * 25}{']' * 25}", TOO_DEEP),
        (f"a = {'[' * 9999}", TOO_DEEP),
    ],
)  # fmt: skip
def test_what_is_not_toml(line: str, said: str) -> None:
    with pytest.raises(PlanError) as error:
        plan_from_toml(line, "plan.toml")
    place, _, text = str(error.value).partition(": ")
    assert text == said
    assert place in {f"plan.toml:{number}" for number in range(1, line.count("\n") + 2)}


def test_what_is_not_toml_is_told_on_its_line() -> None:
    with pytest.raises(PlanError) as error:
        plan_from_toml(GOOD + "\n[[sowing]]\nvariety = Amber\n", "plan.toml")
    assert str(error.value) == 'plan.toml:12: text, and a value with a unit, stands in quotes: variety = "Amber"'


def test_text_is_kept_composed_and_trimmed() -> None:
    plan = plan_from_toml(GOOD.replace("Copper Bell", "  Pe\\u0301pin \\t"), "plan.toml")
    assert plan.sowings[0].variety == "Pépin"


def test_a_name_may_be_long_but_not_endless() -> None:
    long = "x" * limits.MOST_LETTERS_IN_NAME
    assert plan_from_toml(GOOD.replace("Copper Bell", long), "plan.toml").sowings[0].variety == long
    for name in (long + "x", long * 99):
        with pytest.raises(PlanError) as error:
            plan_from_toml(GOOD.replace("Copper Bell", name), "plan.toml")
        said = f"plan.toml:6: variety: this text has {len(name):,} characters; 500 are the most"
        assert str(error.value) == said


def test_decoding_needs_no_file() -> None:
    assert decoded(b"\xef\xbb\xbfa", "plan.toml") == "a"


def test_the_text_of_a_plan_needs_no_file_either() -> None:
    settings = Source(
        '[plan]\ntitle = "From settings"\ngrower = "Hazel Corner"\n[defaults]\ntray = "cell-72"\n', "s.toml"
    )
    plan = plan_from_toml(GOOD, "plan.toml", settings)
    assert (plan.title, plan.grower, plan.sowings[0].tray.name) == ("Spring", "Hazel Corner", "pot-18")
    rows = "crop,variety,cells,sow\nOnion,Copper Bell,8,2027-03-06\n"
    plan = plan_from_csv(rows, "plan.csv", settings)
    assert (plan.title, plan.sowings[0].tray.name, plan.sowings[0].line) == ("From settings", "cell-72", 2)
