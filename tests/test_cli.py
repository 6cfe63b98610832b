"""The command line from outside: what is printed where, exit statuses, and that nothing is written wrongly."""

import errno
import importlib
import io
import json
import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from click.shell_completion import ShellComplete
from click.testing import CliRunner, Result

import traysheets
from traysheets.base.bundle import bundled
from traysheets.cli import make_command
from traysheets.cli.console import progress
from traysheets.cli.main import COMMANDS, cli, main
from traysheets.cli.new_command import coming_season

SPRING = bundled("sample_plans") / "spring.toml"

SMALL = """
[plan]
title = "Two pots"
season = 2027

[[sowing]]
crop = "Onion"
variety = "Amber Vault"
method = "clump"
seeds_per_cell = 20
cells = 2
tray = "pot-18"
sow = 2027-03-06
lot = "A1"
"""


def run(*words: str | Path, env: dict[str, str] | None = None) -> Result:
    return CliRunner().invoke(cli, [str(word) for word in words], catch_exceptions=False, env=env)


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    file = tmp_path / "two.toml"
    file.write_text(SMALL, encoding="utf-8")
    return file


def files_below(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_version() -> None:
    assert run("--version").stdout == f"traysheets {traysheets.__version__}\n"


def test_help_names_every_command() -> None:
    text = run("--help").stdout
    assert all(command in text for command in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help(command: str) -> None:
    assert run(command, "--help").exit_code == 0


@pytest.mark.parametrize(
    "words",
    [
        ["mak", "x.toml"],
        ["make"],
        ["make", "x.toml", "--paper", "a9"],
        ["make", "x.toml", "--on", "2027-13-01"],
        ["make", "x.toml", "--first-label", "0"],
        ["check", "x.toml", "--colour"],
        ["list", "people"],
    ],
    ids=" ".join,
)
def test_wrong_use_is_status_2(words: list[str]) -> None:
    assert run(*words).exit_code == 2


def test_check_prints_a_table_and_writes_nothing(plan: Path, tmp_path: Path) -> None:
    before = files_below(tmp_path)
    result = run("check", plan)
    assert result.exit_code == 0
    assert "Sow Saturday 6 March 2027 (2027-W09)" in result.stdout
    row = next(line for line in result.stdout.splitlines() if "Amber Vault" in line)
    assert row.split()[:1] == ["27-001-7"]
    assert "1 A1-A2" in row
    assert "assumed (legal minimum)" in row
    assert files_below(tmp_path) == before


def test_check_json_has_the_keys_that_programs_rely_on(plan: Path) -> None:
    facts = json.loads(run("check", plan, "--json").stdout)
    assert list(facts) == ["plan", "sowings", "trays", "totals", "compare", "benches", "warnings"]
    (sowing,) = facts["sowings"]
    assert (sowing["batch"], sowing["cells"], sowing["seeds_total"]) == ("27-001-7", 2, 40)
    assert sowing["germination"] == 0.70  # 7 CFR 201.31: onion
    assert sowing["germination_assumed"] is True
    assert sowing["runs"] == [{"tray": 1, "first": "A1", "last": "A2", "cells": 2}]
    assert facts["trays"][0]["cells"] == {"A1": "27-001-7", "A2": "27-001-7"}


def test_make_writes_the_sheets_the_records_and_the_book(plan: Path, tmp_path: Path) -> None:
    result = run("make", plan)
    assert result.exit_code == 0
    assert result.stdout == ""
    assert {
        "maps.pdf",
        "sticks.pdf",
        "records/index.html",
        "records/B/27-001-7/index.html",
        "records/T/1/index.html",
    } <= (files_below(tmp_path / "two"))
    assert (tmp_path / "two.book.sqlite").is_file()


def test_quiet_make_says_nothing(plan: Path) -> None:
    result = run("make", plan, "-q")
    assert (result.stdout, result.stderr) == ("", "")


def test_only_makes_only_that(plan: Path, tmp_path: Path) -> None:
    run("make", plan, "--only", "sticks", "-o", tmp_path / "out")
    assert {file for file in files_below(tmp_path / "out") if not file.startswith(".")} == {"sticks.pdf"}


def test_days_without_a_sowing_are_said(plan: Path, tmp_path: Path) -> None:
    result = run("make", plan, "--on", "2027-W20", "-o", tmp_path / "out")
    assert result.exit_code == 1
    assert result.stderr == "nothing is sown then; sowing days are 2027-03-06\n"
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("form", [[], ["--json"], ["--quiet"]])
def test_a_check_of_days_without_a_sowing_says_what_make_would(plan: Path, form: list[str]) -> None:
    result = run("check", plan, "--on", "2027-W20", *form)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == "nothing is sown then; sowing days are 2027-03-06\n"
    assert run("check", plan, "--on", "2027-03-06", *form).exit_code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ["make", "two.toml", "-o", ""],
            "Invalid value for '-o' / '--output': this name is empty; write one, or leave the option out",
        ),
        (
            ["make", "two.toml", "--book", ""],
            "Invalid value for '--book': this name is empty; write one, or leave the option out",
        ),
        (["check", ""], "Invalid value for 'PLAN': this name is empty; write one\n"),
        (["new", ""], "Invalid value for 'FILE': this name is empty; write one\n"),
        (["convert", "two.toml", "-o", ""], "Invalid value for '-o' / '--output': this name is empty; write one\n"),
    ],
)
def test_an_empty_name_is_not_the_folder_one_is_in(
    plan: Path, words: list[str], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a variable of the shell that is not set gives."""
    monkeypatch.chdir(plan.parent)
    result = run(*words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert files_below(plan.parent) == {"two.toml"}


def test_one_file_is_no_files_and_several_are_those() -> None:
    told, superseded = make_command.told, make_command.superseded
    assert told(("records/index.html",)) == "records/ (1 file)"
    assert told(("maps.pdf", "records/index.html", "records/B/1.html")) == "maps.pdf, records/ (2 files)"
    assert superseded(("guide.pdf",)) == "guide.pdf: an earlier run wrote that, and this one supersedes it"
    assert superseded(("guide-001.pdf", "guide-002.pdf")) == (
        "guide-001.pdf, guide-002.pdf: an earlier run wrote those, and this one supersedes them"
    )


def test_a_week_is_its_seven_days(plan: Path, tmp_path: Path) -> None:
    assert run("make", plan, "--on", "2027-W09", "-o", tmp_path / "a").exit_code == 0  # 1 to 7 March
    assert run("make", plan, "--on", "2027-W10", "-o", tmp_path / "b").exit_code == 1


def test_problems_are_said_with_line_and_status_1_and_nothing_is_written(plan: Path, tmp_path: Path) -> None:
    plan.write_text(SMALL.replace("cells = 2", "cells = 0\ncolour = 3"), encoding="utf-8")
    result = run("make", plan)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert [line.split(": ")[0] for line in result.stderr.splitlines()] == [f"{plan}:11", f"{plan}:12"]
    assert files_below(tmp_path) == {"two.toml"}


def test_an_unknown_stock_is_said_with_the_nearest(plan: Path) -> None:
    result = run("make", plan, "--stock", "a4-221")
    assert result.exit_code == 1
    assert result.stderr == "there is no label stock 'a4-221'; did you mean 'a4-21'?\n"


def test_new_writes_a_plan_that_make_accepts_and_never_overwrites(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert run("new", file).exit_code == 0
    text = file.read_text(encoding="utf-8")
    assert run("make", file).exit_code == 0
    again = run("new", file)
    assert again.exit_code == 1
    assert again.stderr == f"{file} is there already and was left as it is; choose another name\n"
    assert file.read_text(encoding="utf-8") == text


def test_progress_is_told_on_a_terminal_alone(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    for terminal, said in ((True, ["maps: page 1", "maps: page 20", ""]), (False, [])):
        monkeypatch.setattr(sys.stderr, "isatty", lambda terminal=terminal: terminal)
        with progress(quiet=False) as report:
            for page in (1, 11, 20):
                report("maps", page)
        assert capfd.readouterr().err.split("\r\x1b[K")[1:] == said


def test_a_quiet_check_says_only_what_is_wrong(plan: Path) -> None:
    """Nothing for a good plan, every error for a bad one; JSON that is asked for comes all the same."""
    result = run("check", plan, "-q")
    assert (result.exit_code, result.output) == (0, "")
    assert json.loads(run("check", plan, "-q", "--json").stdout)
    plan.write_text(plan.read_text() + 'sown = "never"\n')
    bad = run("check", plan, "-q")
    assert (bad.exit_code, bad.stdout) == (1, "")
    assert "sown" in bad.stderr


def test_quiet_says_nothing_of_what_was_converted(plan: Path, tmp_path: Path) -> None:
    result = run("convert", plan, "-o", tmp_path / "sheet.csv", "--quiet")
    assert (result.exit_code, result.output) == (0, "")
    assert (tmp_path / "sheet.csv").exists()


def test_a_plan_below_a_file_cannot_be_read(plan: Path) -> None:
    assert (
        run("check", plan / "more.toml").stderr == f"{plan / 'more.toml'}: this file cannot be read: Not a directory\n"
    )


def test_new_on_a_full_disk_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    result = run("new", tmp_path / "mine.toml")
    assert (result.exit_code, result.stderr) == (1, f"{tmp_path}: the disk is full: nothing was changed\n")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("today", "season"), [(date(2026, 11, 24), 2027), (date(2027, 2, 28), 2027), (date(2027, 3, 1), 2028)]
)
def test_a_starter_plan_is_for_a_spring_that_is_still_to_come(today: date, season: int) -> None:
    assert coming_season(today) == season


@pytest.mark.parametrize("kind", ["trays", "stocks", "crops", "papers", "languages"])
def test_list(kind: str) -> None:
    plain, full = run("list", kind), run("list", kind, "--origins")
    assert plain.exit_code == full.exit_code == 0
    assert len(plain.stdout.splitlines()) == len(full.stdout.splitlines()) > 2
    assert "origin" in full.stdout.splitlines()[0]


def test_the_origin_of_every_figure_of_a_crop_is_shown() -> None:
    onion = next(line for line in run("list", "crops", "--origins").stdout.splitlines() if line.startswith("Onion"))
    assert all(source in onion for source in ("7 CFR 201.31", "7 CFR 201.46", "from memory", "1954"))


def test_schema_is_json() -> None:
    assert json.loads(run("schema").stdout)["type"] == "object"


def test_no_colour_where_it_is_not_wanted(plan: Path) -> None:
    plan.write_text(SMALL.replace("Onion", "Onoin"), encoding="utf-8")
    assert "\x1b" not in run("check", plan, env={"NO_COLOR": "1"}).stderr


def test_names_in_any_script_do_not_end_a_run_on_a_narrow_terminal(plan: Path) -> None:
    plan.write_text(SMALL.replace("Amber Vault", "Πράσινη Été Жёлтый"), encoding="utf-8")
    command = [sys.executable, "-m", "traysheets", "check", str(plan)]
    done = subprocess.run(command, capture_output=True, env={"PYTHONIOENCODING": "latin-1"}, check=True)
    assert b"\\u03a0" in done.stdout


def test_convert_to_a_spreadsheet_and_back(plan: Path, tmp_path: Path) -> None:
    assert run("convert", plan, "-o", tmp_path / "sheet.csv").exit_code == 0
    settings = tmp_path / "sheet.settings.toml"
    table = run("check", tmp_path / "sheet.csv", "--settings", settings)
    assert table.stdout == run("check", plan).stdout
    assert run("convert", tmp_path / "sheet.csv", "--settings", settings, "-o", tmp_path / "b.toml").exit_code == 0
    assert run("check", tmp_path / "b.toml").stdout == table.stdout


def test_convert_overwrites_nothing_unasked(plan: Path, tmp_path: Path) -> None:
    (tmp_path / "sheet.csv").write_text("mine", encoding="utf-8")
    result = run("convert", plan, "-o", tmp_path / "sheet.csv")
    assert result.exit_code == 1
    assert "is there already" in result.stderr
    assert (tmp_path / "sheet.csv").read_text(encoding="utf-8") == "mine"
    assert run("convert", plan, "-o", tmp_path / "sheet.csv", "--force").exit_code == 0


def test_only_what_a_command_needs_is_imported() -> None:
    code = """
import sys
from traysheets.cli.main import main
sys.argv = ["traysheets", "--version"]
try:
    main()
except SystemExit:
    print(sorted(module for module in sys.modules if module.startswith("traysheets.")))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "['traysheets.cli', 'traysheets.cli.harmless', 'traysheets.cli.main']"


def test_checking_a_plan_loads_nothing_that_draws(plan: Path) -> None:
    code = f"""
import sys
from traysheets.cli.main import main
sys.argv = ["traysheets", "check", "--quiet", {str(plan)!r}]
try:
    main()
except SystemExit:
    print(*sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.splitlines()[-1].split())
    assert "traysheets.pipeline.checking" in loaded
    assert loaded.isdisjoint({"reportlab", "jinja2", "qrcode", "icalendar", "flask", "traysheets.export"})


def test_the_sample_plan_is_made_whole(tmp_path: Path) -> None:
    result = run("make", SPRING, "-o", tmp_path / "sheets", "--book", tmp_path / "spring.book.sqlite")
    assert result.exit_code == 0
    assert "wrote maps.pdf, sticks.pdf, guide.pdf, seeds.pdf" in result.stderr


def test_a_lost_book_is_noticed_before_a_code_is_given_twice(plan: Path, tmp_path: Path) -> None:
    assert run("make", plan, "-q").exit_code == 0
    (tmp_path / "two.book.sqlite").unlink()
    before = files_below(tmp_path)
    result = run("make", plan)
    assert result.exit_code == 1
    assert "holds records of 27-001-7, which the book" in result.stderr
    assert files_below(tmp_path) == before
    assert run("make", plan, "--force", "-q").exit_code == 0


def test_a_printed_batch_that_moves_is_told(plan: Path) -> None:
    assert run("make", plan, "-q").exit_code == 0
    earlier = SMALL[SMALL.index("[[sowing]]") :].replace("Amber Vault", "Early").replace("03-06", "03-01")
    plan.write_text(SMALL + earlier, encoding="utf-8")
    said = run("check", plan).stderr
    assert (
        "27-001-7 'Amber Vault' was printed as standing in tray 1: A1-A2, and now stands in tray 2: A1-A2; print maps"
        ' and sticks again, or keep the place with at = ["1: A1-A2"]'
    ) in said


def test_of_many_that_move_five_are_told_and_the_others_counted(plan: Path) -> None:
    """Seven stand in tray 1; then a sowing before them is given it."""
    sown = SMALL[SMALL.index("[[sowing]]") :]
    seven = "".join(sown.replace("Amber Vault", f"Amber {name}") for name in "BCDEFGH")
    plan.write_text(SMALL.replace(sown, seven), encoding="utf-8")
    assert run("make", plan, "--only", "maps", "-q").exit_code == 0
    assert "moved" not in run("check", plan).stderr
    plan.write_text(SMALL.replace("03-06", "03-01") + seven, encoding="utf-8")
    said = run("check", plan).stderr
    assert said.count("and now stands in tray 2") == 5
    assert (
        "two.toml: warning: 2 more printed batches have moved or bear other letters; print their maps again\n" in said
    )


def test_an_address_that_the_records_are_not_filed_under_is_told(plan: Path) -> None:
    for address, told in (("HTTPS://A.EXAMPLE/B/{batch}", False), ("https://a.example/b/{batch}", True)):
        plan.write_text(SMALL.replace("season", f'record_url = "{address}"\nseason'), encoding="utf-8")
        assert ("as the record pages are filed" in run("check", plan).stderr) is told


def test_a_warning_names_the_file_that_it_is_about(plan: Path, tmp_path: Path) -> None:
    settings = tmp_path / "settings.toml"
    settings.write_text('\n[[bench]]\nname = "sill"\nlength = "300 mm"\ndepth = "100 mm"\n', encoding="utf-8")
    assert f"{settings}:2: warning: the bench 'sill'" in run("check", plan, "--settings", settings).stderr


def test_the_program_runs_only_where_it_is_what_was_called(capsys: pytest.CaptureFixture[str]) -> None:
    """Further processes that draw load the file of the first once more, where they are not its copies."""
    importlib.import_module("traysheets.__main__")
    assert capsys.readouterr() == ("", "")


def test_a_program_may_call_it_with_streams_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.StringIO()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "argv", ["traysheets", "--version"])
    with pytest.raises(SystemExit) as ended:
        main()
    assert (ended.value.code, out.getvalue()) == (0, f"traysheets {traysheets.__version__}\n")


def test_a_shell_that_completes_words_offers_every_command() -> None:
    offered = ShellComplete(cli, {}, "traysheets", "_TRAYSHEETS_COMPLETE").get_completions([], "")
    assert [item.value for item in offered] == list(COMMANDS)
