"""Plans kept in a spreadsheet, as spreadsheets save them: delimiters, headings, numbers, dates, rows."""

from datetime import date
from itertools import permutations
from pathlib import Path

import pytest

from traysheets.base.errors import PlanError
from traysheets.plan.headings import COLUMNS, key_of
from traysheets.plan.model import Pin, Plan, Repeat
from traysheets.plan.read import plan_from_csv, plan_from_toml, read_plan
from traysheets.plan.source import Source

HEADINGS = "crop,variety,cells,tray,sow"
ROW = "Onion,Copper Bell,8,pot-18,2027-03-06"
SETTINGS = Source('[plan]\ntitle = "Spring"\n\n[defaults]\ntray = "pot-18"\nsow = 2027-03-06\n', "settings.toml")


def read(*rows: str, settings: Source | None = None) -> Plan:
    return plan_from_csv("\n".join(rows) + "\n", "plan.csv", settings)


def said(*rows: str, settings: Source | None = None) -> list[str]:
    with pytest.raises(PlanError) as error:
        read(*rows, settings=settings)
    return [str(problem) for problem in error.value.problems]


def test_a_row_is_a_sowing_just_as_a_table_is() -> None:
    toml = '[[sowing]]\ncrop = "Onion"\nvariety = "Copper Bell"\ncells = 8\ntray = "pot-18"\nsow = 2027-03-06\n'
    by_toml, by_csv = plan_from_toml("\n" + toml, "plan.csv"), read(HEADINGS, ROW)
    assert by_csv == by_toml


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_delimiters_and_line_ends(delimiter: str, line_end: str) -> None:
    rows = [f"{HEADINGS},notes".split(","), [*ROW.split(","), '"a, b; c\td"']]
    text = line_end.join(delimiter.join(row) for row in rows)
    assert plan_from_csv(text, "plan.csv").sowings[0].notes == "a, b; c\td"


def test_a_comma_in_the_headings_row_of_a_semicolon_file_misleads_nobody() -> None:
    assert (
        read('crop;variety;cells;tray;sow;"notes"', 'Onion;A;8;pot-18;2027-03-06;"a, b, c, d, e, f"').sowings[0].notes
    )


def test_a_byte_order_mark_is_no_part_of_the_first_heading(tmp_path: pytest.TempPathFactory) -> None:
    path = tmp_path / "plan.csv"  # type: ignore[operator]
    path.write_bytes(b"\xef\xbb\xbf" + f"{HEADINGS}\r\n{ROW}\r\n".encode())
    assert read_plan(path).sowings == read(HEADINGS, ROW).sowings


def test_the_order_of_columns_makes_no_difference() -> None:
    for order in permutations(range(5)):
        rows = [",".join(row.split(",")[place] for place in order) for row in (HEADINGS, ROW)]
        assert read(*rows).sowings == read(HEADINGS, ROW).sowings


def test_blank_rows_are_counted_as_the_spreadsheet_counts_them() -> None:
    plan = read("", ",,,,", HEADINGS, "", ROW, ",,,,", ROW)
    assert [sowing.line for sowing in plan.sowings] == [5, 7]


def test_a_line_break_inside_quotes_makes_no_row() -> None:
    plan = read(f"{HEADINGS},notes", f'{ROW},"one\ntwo"', f"{ROW},")
    assert [(sowing.line, sowing.notes) for sowing in plan.sowings] == [(2, "one\ntwo"), (3, "")]


@pytest.mark.parametrize(
    ("heading", "key"),
    [
        ("Seeds per cell", "seeds_per_cell"),
        ("SEEDS_PER_CELL", "seeds_per_cell"),
        (" seeds-per-cell ", "seeds_per_cell"),
        ("Seed per cell", "seeds_per_cell"),
        ("Plant out", "plant_out"),
        ("Weeks before frost", "weeks_before_frost"),
        ("Own trays?", "own_trays"),
        ("repeat.every", "repeat_every"),
        ("Repeat times", "repeat_times"),
        ("Note", "notes"),
        ("Germination", "germination"),
        ("germinaton", "germination"),
        ("colour", None),
        ("sown", None),
        ("date", None),
        ("", None),
        ("???", None),
    ],
)
def test_spelling_of_headings(heading: str, key: str | None) -> None:
    assert key_of(heading) == key


def test_every_heading_is_its_own_nearest() -> None:
    assert [key_of(column.replace("_", " ").upper()) for column in COLUMNS] == list(COLUMNS)


def test_what_was_made_of_headings_is_told() -> None:
    plan = read("CROP,Varety,cell,tray,sow", ROW)
    text = "headings are read so: 'Varety' as variety and 'cell' as cells"
    assert [(notice.line, notice.text) for notice in plan.notices] == [(1, text)]
    assert read(HEADINGS, ROW).notices == ()


@pytest.mark.parametrize("heading", ["Seeds per cell", "SEEDS_PER_CELL", " seeds-per-cell ", "SeedsPerCell"])
def test_capitals_spaces_and_marks_between_words_are_no_other_spelling(heading: str) -> None:
    plan = read(f"{HEADINGS},{heading}", f"{ROW},25")
    assert (plan.sowings[0].seeds_per_cell, plan.notices) == (25, ())


@pytest.mark.parametrize(
    ("written", "germination", "cover"),
    [
        (("0.85", "6.5 mm"), 0.85, 6.5),
        (("85 %", "6"), 0.85, 6),
        (('"0,85"', '"6,5 mm"'), 0.85, 6.5),
        (('"84,5 %"', "6 mm"), 0.845, 6),
        ((".85", "1/4 in"), 0.85, 6.35),
        (("1", "0"), 1, 0),
    ],
)
def test_decimals(written: tuple[str, str], germination: float, cover: float) -> None:
    plan = read(f"{HEADINGS},germination,cover", f"{ROW},{','.join(written)}")
    assert (plan.sowings[0].germination, plan.sowings[0].cover_mm) == (germination, cover)
    told = [notice.text for notice in plan.notices]
    assert told == (["decimal commas are read as decimal points in this file"] if '"' in written[0] else [])


def test_commas_and_points_in_one_file_are_not_guessed_at() -> None:
    rows = f"{HEADINGS},germination,cover", f'{ROW},"0,85",6.5 mm', f'{ROW},0.85,"6,5"'
    assert said(*rows) == [
        "plan.csv:2: column germination: '0,85' is not a germination; write it as 0.85 or \"85 %\"",
        "plan.csv:3: column cover: '6,5': write decimals with a point, 6.5, and thousands without a mark",
    ]


@pytest.mark.parametrize(("written", "cells"), [("8", 8), ("8.0", 8), ('"8,00"', 8), ("08", 8), (" 8 ", 8)])
def test_whole_numbers(written: str, cells: int) -> None:
    assert read(HEADINGS, ROW.replace("8", written, 1)).sowings[0].amount.number == cells


@pytest.mark.parametrize("written", ["2.000", "2,000", "2 000", "8.5", "1e3", "9" * 16, "eight"])
def test_no_whole_numbers(written: str) -> None:
    shown = written if written == "8.5" else f"'{written}'"
    text = f"plan.csv:2: column cells: cells must be a whole number, not {shown}"
    assert said(HEADINGS, ROW.replace("8", f'"{written}"', 1)) == [text.replace("not 8.5", "not '8.5'")]


@pytest.mark.parametrize(
    "written", ["2027-03-06", "2027-03-06 00:00:00", "2027-03-06T00:00", "2027-W09-6", "2027-w09-6"]
)
def test_days(written: str) -> None:
    assert read(HEADINGS, ROW.replace("2027-03-06", written)).sowings[0].sow == date(2027, 3, 6)


ANY_DAY = "write it as 2027-03-06 (year, month, day), or a week as 2027-W09"


@pytest.mark.parametrize(
    ("written", "form"),
    [
        ("3/6/2027", "write it as 2027-06-03 or 2027-03-06 (year, month, day), whichever is meant"),
        ("06.03.2027", "write it as 2027-03-06 or 2027-06-03 (year, month, day), whichever is meant"),
        ("13.03.2027", "write it as 2027-03-13 (year, month, day)"),
        ("2027-3-6", "write it as 2027-03-06 (year, month, day)"),
        ("6 March 2027", ANY_DAY),
        ("2027-03-06 08:30", ANY_DAY),
    ],
)
def test_days_of_other_forms_are_refused_with_help(written: str, form: str) -> None:
    assert said(HEADINGS, ROW.replace("2027-03-06", written)) == [
        f"plan.csv:2: column sow: '{written}' is not a day; {form}"
    ]


@pytest.mark.parametrize(
    ("written", "treated"),
    [
        *((word, True) for word in ("TRUE", "yes", "x", "WAHR", "ja", "VRAI", "Oui", "VERDADERO", "Sí", "VERDADEIRO")),
        *((word, False) for word in ("False", "no", "", "FALSCH", "nein", "FAUX", "non", "FALSO", "não")),
        ("sim", True),
    ],
)
def test_yes_and_no(written: str, treated: bool) -> None:
    assert read(f"{HEADINGS},treated", f"{ROW},{written}").sowings[0].treated is treated


def test_columns_that_hold_lists_and_tables() -> None:
    plan = read(f"{HEADINGS},at,sticks", f'{ROW},"3: A1-A3; 4: B1, 5:C1",7')
    assert plan.sowings[0].at == (Pin(3, 0, 2), Pin(4, 6, 6), Pin(5, 12, 12))
    assert plan.sowings[0].sticks == 7
    plan = read(f"{HEADINGS},repeat every,repeat times,code,lot", f"{ROW},2 weeks,4,07,0012")
    assert plan.sowings[0].repeat == Repeat(14, 4)
    assert (plan.sowings[0].code, plan.sowings[0].lot) == ("07", "0012")


def test_text_that_looks_like_a_formula_may_be_marked() -> None:
    rows = [f"Onion,{name},8,pot-18,2027-03-06" for name in ("'=A", "'-B", "'Tis", "-C", "+D")]
    assert [sowing.variety for sowing in read(HEADINGS, *rows).sowings] == ["=A", "-B", "'Tis", "-C", "+D"]


def test_settings_give_the_rest() -> None:
    plan = read("crop,variety,cells", "Onion,Copper Bell,8", settings=SETTINGS)
    assert (plan.title, plan.sowings[0].tray.name, plan.sowings[0].sow) == ("Spring", "pot-18", date(2027, 3, 6))


def test_headings_that_are_missing_are_told_once() -> None:
    assert said("notes", *["a"] * 100) == [
        "plan.csv:1: no column is headed crop; add it, or give crop under [defaults] in the settings",
        "plan.csv:1: no column is headed variety; add it, or give variety under [defaults] in the settings",
        "plan.csv:1: no column is headed tray; add it, or give tray under [defaults] in the settings",
        "plan.csv:1: no column is headed cells, trays, plants or seeds; add one of them",
        "plan.csv:1: no column is headed sow, plant_out or weeks_before_frost; add one of them",
    ]
    assert said("variety,cells", "Copper Bell,8", settings=SETTINGS) == [
        "plan.csv:1: no column is headed crop; add it, or give crop under [defaults] in the settings"
    ]


def test_a_problem_of_the_settings_is_told_in_the_settings() -> None:
    wrong = Source(SETTINGS.text.replace("pot-18", "pot-81"), "settings.toml")
    assert said("crop,variety,cells", "Onion,Copper Bell,x", settings=wrong) == [
        "plan.csv:2: column cells: cells must be a whole number, not 'x'",
        "settings.toml:5: there is no tray 'pot-81'; did you mean 'pot-18'?",
    ]


@pytest.mark.parametrize(
    ("rows", "text"),
    [
        ([HEADINGS], "plan.csv:1: there is no sowing in this plan yet; add one"),
        ([",,,", ";;"], "plan.csv:1: no row of this file holds anything"),
        ([HEADINGS, ROW, f'{ROW},"open'], "plan.csv:3: a quote mark is opened in this row and never closed"),
        ([HEADINGS, f'{ROW},"a"b"'], 'plan.csv:2: a quote mark inside a quoted field must be written twice, as ""'),
        ([HEADINGS, f"{ROW},more"], "plan.csv:2: this row has 6 fields, and there are 5 headings"),
        ([HEADINGS, "Onion,A"], "plan.csv:2: this row has 2 fields, and there are 5 headings"),
        (
            [f"{HEADINGS},", f"{ROW},x", f"{ROW},y"],
            "plan.csv:2: field 6 of this row stands in a column without a heading; head it, or empty the column",
        ),
        (
            [HEADINGS, ROW.replace("8", "=4+4", 1)],
            "plan.csv:2: column cells: this is a formula; save the sheet with its values, or begin the text with an "
            "apostrophe",
        ),
        (
            [HEADINGS, ROW.replace("8", "#N/A", 1)],
            "plan.csv:2: column cells: the spreadsheet shows an error here (#N/A); mend it there",
        ),
    ],
)
def test_rows_that_cannot_be_read(rows: list[str], text: str) -> None:
    assert said(*rows) == [text]


def test_fields_beyond_the_headings_may_be_empty() -> None:
    assert read(HEADINGS, f"{ROW},,").sowings == read(HEADINGS, ROW).sowings


def test_a_file_of_many_rows_is_no_trouble() -> None:
    plan = read(HEADINGS, *(f"Onion,Variety {number},8,pot-18,2027-03-06" for number in range(5_000)))
    assert [sowing.line for sowing in plan.sowings] == list(range(2, 5_002))
    assert len({sowing.code for sowing in plan.sowings}) == 5_000


def test_a_word_that_is_neither_yes_nor_no_is_refused() -> None:
    assert said(f"{HEADINGS},treated", f"{ROW},maybe") == [
        "plan.csv:2: column treated: treated must be true or false, not 'maybe'"
    ]


@pytest.mark.parametrize("first", ["sep=;", "SEP=;", '"sep=;"', "sep=;;;"])
def test_a_first_line_that_tells_the_delimiter_is_no_row(first: str) -> None:
    plan = read(first, f"{HEADINGS},notes".replace(",", ";"), f"{ROW.replace(',', ';')};a, b")
    assert (plan.sowings[0].line, plan.sowings[0].notes) == (2, "a, b")


def test_half_a_repeat_is_answered_in_the_words_of_the_columns() -> None:
    needed = "a sowing that is repeated needs both repeat_every and repeat_times, as 2 weeks and 4"
    assert said(f"{HEADINGS},Repeat every,repeat_times", f"{ROW},2 weeks,", f"{ROW},,4") == [
        f"plan.csv:2: column repeat_times: {needed}",
        f"plan.csv:3: column Repeat every: {needed}",
    ]
    assert said(f"{HEADINGS},repeat_every", f"{ROW},2 weeks") == [f"plan.csv:2: {needed}"]


@pytest.mark.parametrize(("text", "day"), [("46087", "2026-03-06"), ("46452.0", "2027-03-06")])
def test_a_day_as_spreadsheets_count_them_is_told_as_the_day_it_is(text: str, day: str) -> None:
    """Day 46023 is 1 January 2026 where days are counted from 1900 (ISO/IEC 29500-1, from memory)."""
    (problem,) = said("crop,variety,tray,cells,sow", f"Onion,Copper Bell,pot-18,8,{text}")
    assert f"is the number of a day as spreadsheets count them, {day} most likely" in problem


def test_what_settings_would_cure_is_hinted_at_once(tmp_path: Path) -> None:
    """A hint for the whole sheet: to the file that stands beside it, else to one that may be written."""

    def hints(*, settings: Path | None = None) -> list[str]:
        with pytest.raises(PlanError) as caught:
            read_plan(tmp_path / "plan.csv", settings)
        return [problem.text for problem in caught.value.problems if "--settings" in problem.text]

    sheet = tmp_path / "plan.csv"
    sheet.write_text("crop,variety,cells,sow\nMeadow Beet,Copper Bell,8,2027-03-06\nMeadow Beet,Dusky,8,2027-03-06\n")
    assert [hint.partition("named with ")[2] for hint in hints()] == ["--settings FILE"]
    for name in ("settings.toml", "plan.settings.toml"):
        (tmp_path / name).write_text('[defaults]\nplace = "light shelf"\n')
        assert hints() == [
            f"{tmp_path / name} stands beside this file and was not read; name it with --settings {tmp_path / name}"
        ]
        assert hints(settings=tmp_path / name) == []
    sheet.write_text("crop,variety,tray,cells,sow\nOnion,Copper Bell,pot-18,many,2027-03-06\n")
    assert hints() == []
