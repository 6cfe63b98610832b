"""`traysheets verify`: what it says of good and bad files, and how it ends."""

import json
import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from verify_jobs import MADE, changed, maps, painted, scaled, sheet

from traysheets.cli.main import cli
from traysheets.cli.verify_command import lines
from traysheets.page.correction import Correction
from traysheets.page.note import Note, NotedPage
from traysheets.verify import pdfium
from traysheets.verify.report import Report


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


@pytest.mark.parametrize(
    ("correction", "told"),
    [
        (Correction(1.007, 0.994, 0.8, -0.4), "0.6 % longer across, 0.7 % shorter down"),
        (Correction(1.0, 0.994), "0.6 % longer across"),
        (Correction(1.0, 0.9939995), "0.6 % longer across"),
    ],
)
@pytest.mark.parametrize("with_extra", [True, False])
def test_of_a_sheet_corrected_for_a_printer_that_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, correction: Correction, told: str, with_extra: bool
) -> None:
    (tmp_path / "maps.pdf").write_bytes(sheet("maps", most=1, correction=correction))
    monkeypatch.setattr(pdfium, "is_there", lambda: with_extra)
    lines = run(tmp_path / "maps.pdf").stdout.splitlines()
    assert lines[3] == f"  corrected for a printer: {told}; print it on that one only"
    (fact,) = json.loads(run("--json", tmp_path / "maps.pdf").stdout)["files"][0]["corrected"]
    assert fact["across"] == pytest.approx(1 / correction.scale_down, abs=1e-6)
    assert fact["down"] == pytest.approx(1 / correction.scale_across, abs=1e-6)


def test_of_sheets_that_lie_and_stand_both_corrections_are_told() -> None:
    """The printer takes all of them upright, so what is across on one is down on the other."""
    note = Note("0.1.0", 1, [NotedPage(297, 210, across=1.01), NotedPage(210, 297), NotedPage(210, 297, down=1.01)])
    report = Report("mixed.pdf", corrected=note.corrected)
    assert lines(report)[-2] == (
        "  corrected for a printer: 1 % longer across, on other pages 1 % longer down; print it on that one only"
    )


def test_of_what_is_corrected_for_no_printer_or_does_not_tell_json_says_so(files: tuple[Path, Path]) -> None:
    good, bad = json.loads(run("--json", *files).stdout)["files"]
    assert (good["corrected"], bad["corrected"]) == ([], None)


def test_of_a_page_that_is_all_there_is_its_one_code_is_told(tmp_path: Path) -> None:
    map_of_one = tmp_path / "map.pdf"
    map_of_one.write_bytes(sheet("maps", most=1))
    assert run(map_of_one).stdout.endswith("  scannable: yes, 1 QR code read, modules of 0.44 mm or more\n")


def test_of_a_sheet_without_codes_that_is_told(tmp_path: Path) -> None:
    (tmp_path / "seeds.pdf").write_bytes(sheet("seeds"))
    done = run(tmp_path / "seeds.pdf")
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout.endswith("\n  scannable: yes, there are no QR codes\n")


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


NOT_MEASURED = "  to scale: not known\n  scannable: not known\n"

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
    assert "yes" not in done.stdout


@pytest.mark.parametrize("name", [name for name, (content, _) in NOT_SHEETS.items() if content is not None])
def test_what_was_never_seen_is_not_known(name: str, tmp_path: Path) -> None:
    content, _ = NOT_SHEETS[name]
    (tmp_path / name).write_bytes(content or b"")
    assert run(tmp_path / name).stdout == f"{tmp_path / name}\n  whole: no\n{NOT_MEASURED}"
    (told,) = json.loads(run("--json", tmp_path / name).stdout)["files"]
    assert (told["good"], told["whole"], told["to_scale"], told["scannable"]) == (False, False, None, None)


def test_what_another_program_wrote_again_is_no_plain_yes(tmp_path: Path) -> None:
    """The bar painted over: its lines are still in the file, and measure 50 mm."""
    file = tmp_path / "painted.pdf"
    file.write_bytes(changed(maps(), lambda pdf: painted(pdf, 0, "1 g 0 0 842 80 re f")))
    done = run(file)
    assert done.stdout.splitlines()[1] == "  whole: not known"
    assert "written again by another program: what it shows may have been changed" in done.stderr
    assert json.loads(run("--json", file).stdout)["files"][0]["whole"] is None


def test_a_folder_is_told(tmp_path: Path) -> None:
    done = run(tmp_path)
    assert (done.exit_code, done.stderr) == (
        1,
        f"{tmp_path} is a folder; name a file in it, such as {tmp_path / 'maps.pdf'}\n",
    )


def test_one_file_that_is_missing_does_not_keep_the_others_from_being_told(files: tuple[Path, Path]) -> None:
    missing, folder = files[0].with_name("none.pdf"), files[0].parent
    done = run(missing, files[0], folder)
    assert (done.exit_code, done.stdout) == (1, run(files[0]).stdout)
    assert done.stderr.splitlines() == [
        f"{missing} cannot be read: No such file or directory",
        f"{folder} is a folder; name a file in it, such as {folder / 'maps.pdf'}",
    ]
    told = json.loads(run("--json", missing, files[0]).stdout)
    assert [it["file"] for it in told["files"]] == [str(files[0])]
    assert told["unread"] == [f"{missing} cannot be read: No such file or directory"]


def test_a_pipe_is_told_and_not_waited_for(tmp_path: Path) -> None:
    devices = [file for file in map(Path, ("/dev/zero", "/dev/tty")) if file.exists()]
    if hasattr(os, "mkfifo"):  # not on Windows
        os.mkfifo(tmp_path / "pipe.pdf")
        devices.append(tmp_path / "pipe.pdf")
    for file in devices:
        done = run(file)
        assert (done.exit_code, done.stderr) == (1, f"{file} is a device, which may have no end; name a file\n")


def test_wrong_use_is_told() -> None:
    assert run().exit_code == 2


def test_without_the_extra_what_can_be_said_is_said(files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdfium, "is_there", lambda: False)
    good = run(files[0])
    assert good.exit_code == 0
    assert (
        good.stdout
        == f"{files[0]}: made by {MADE}, 3 pages\n  whole: yes, every byte as it was written\n{NOT_MEASURED}"
    )
    remedy = "in your copy of traysheets: pip install '.[verify]'"
    assert good.stderr == f"{files[0]}: its pages and QR codes were not looked at: that takes an extra; {remedy}\n"
    damaged = bytearray(maps())
    damaged[40000] ^= 4
    files[1].write_bytes(damaged)
    bad = run(files[1])
    assert bad.exit_code == 1
    assert "some of its bytes are not those that were written" in bad.stderr
