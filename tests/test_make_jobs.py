"""`make` with several processes and in volumes: the same files whatever the number, all or none, none outdated."""

import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader
from scripts import fonts
from test_files import tree
from test_workers import METHODS, gone

from traysheets.base.errors import FileError
from traysheets.cli.main import cli
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options

TODAY = date(2027, 1, 15)
HEAD = """
[plan]
title = "Spring"
grower = "Millbrook Lane Growers"
season = 2027
"""
SOWING = """
[[sowing]]
crop = "Onion"
variety = "Variety {number}"
tray = "pot-18"
cells = 18
sow = 2027-03-06
lot = "HB-1"
germination = 0.85
soil_temp = "18 C"
"""
COMMAND = """
import multiprocessing, sys
multiprocessing.set_start_method(sys.argv.pop(1))
from traysheets.cli.main import main
main()
"""


def plan_in(folder: Path, sowings: int, more: str = "") -> Path:
    plan = folder / "plan.toml"
    plan.write_text(HEAD + more + "".join(SOWING.format(number=number) for number in range(sowings)))
    return plan


def run(*words: str | Path) -> Result:
    result = CliRunner().invoke(cli, ["make", *map(str, words)], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result


def started(method: str, *words: str | Path) -> "subprocess.Popen[str]":
    command = [sys.executable, "-c", COMMAND, method, "make", *map(str, words)]
    return subprocess.Popen(command, stderr=subprocess.PIPE, text=True, start_new_session=True)


@pytest.mark.parametrize("more", ["--scale=1:1", "--pages-per-file=2"])
def test_the_same_bytes_whatever_the_number_of_processes(tmp_path: Path, more: str) -> None:
    plan, made = plan_in(tmp_path, 5), []
    for jobs in "1", "2", "3":
        run(plan, "-o", tmp_path / jobs, "--jobs", jobs, more, "--only", "templates", *usual())
        made.append(tree(tmp_path / jobs))
        (tmp_path / "plan.book.sqlite").unlink()
    assert made[0] == made[1] == made[2]
    assert len(made[0]) > 20


def usual() -> list[str]:
    names = "maps sticks guide seeds aftercare overview logs records"
    return [word for name in names.split() for word in ("--only", name)]


@pytest.mark.parametrize("method", METHODS)
def test_the_same_bytes_however_processes_are_started_and_with_fonts_of_the_plan(tmp_path: Path, method: str) -> None:
    """A name in Hebrew, Hindi and Japanese letters is drawn with fonts that are at hand in every process."""
    named = ", ".join(f'"{file.path}#{file.number}"' for file in fonts())
    plan = plan_in(tmp_path, 2, f"fonts = [{named}]\n")
    plan.write_text(plan.read_text().replace("Variety 1", "בצל ירוק हरी प्याज 九条ねぎ"))
    with started(method, plan, "-o", tmp_path / "two", "--jobs", "2") as process:
        assert process.stderr
        said = process.stderr.read()
        assert process.wait() == 0, said
    (tmp_path / "plan.book.sqlite").unlink()
    run(plan, "-o", tmp_path / "one", "--jobs", "1")
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_progress_is_told_of_every_page_by_every_number_of_processes(tmp_path: Path) -> None:
    plan, told = plan_in(tmp_path, 3), []
    for jobs in 1, 2:
        told.append([])
        make(Options(plan, jobs=jobs, force=True), TODAY, lambda name, pages, said=told[-1]: said.append((name, pages)))
    assert sorted(told[0]) == sorted(told[1])
    for name in {name for name, _ in told[1]}:
        numbers = [pages for other, pages in told[1] if other == name]
        assert numbers == list(range(1, len(numbers) + 1))


def test_an_error_of_another_process_is_told_as_it_would_be_of_this_one(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, 2)
    said = [
        CliRunner().invoke(cli, ["make", str(plan), "--scale", "1:2", "--paper", "a5", "--jobs", jobs]).stderr
        for jobs in ("1", "2")
    ]
    assert said[0] == said[1]
    assert "does not fit" in said[0]
    assert not (tmp_path / "plan").exists()


@pytest.mark.parametrize("method", METHODS)
def test_a_stop_by_hand_ends_all_and_writes_nothing(tmp_path: Path, method: str) -> None:
    plan = plan_in(tmp_path, 150)
    with started(method, plan, "--jobs", "2") as process:
        children = children_of(process.pid)
        os.killpg(process.pid, signal.SIGINT)
        assert process.wait(20) != 0
        assert all(map(gone, children))
        assert process.stderr
        assert process.stderr.read() == "Stopped: nothing was written\nAborted!\n"
    assert {path.name for path in tmp_path.iterdir()} == {"plan.toml"}


def children_of(process: int) -> list[int]:
    """The processes started by one, when there are two that have been at work for a while."""
    for _ in range(400):
        children = [
            int(status.parent.name) for status in Path("/proc").glob("[0-9]*/status") if parent(status) == process
        ]
        if len(children) >= 2:
            time.sleep(0.3)
            return children
        time.sleep(0.05)
    raise AssertionError("no further process was started")


def parent(status: Path) -> int:
    """The process that started the one whose status this is; none of one that has ended meanwhile."""
    with suppress(OSError):
        return int(status.read_text().partition("PPid:")[2].split()[0])
    return 0


# ---- volumes


def names(folder: Path, start: str) -> list[str]:
    return sorted(path.name for path in folder.glob(f"{start}*.pdf"))


def test_a_sheet_in_volumes_holds_the_same_pages(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, 5)
    run(plan, "-o", tmp_path / "one", "--only", "maps")
    run(plan, "-o", tmp_path / "two", "--only", "maps", "--pages-per-file", "2")
    assert names(tmp_path / "two", "") == ["maps-001.pdf", "maps-002.pdf", "maps-003.pdf"]
    whole = PdfReader(tmp_path / "one/maps.pdf")
    parts = [PdfReader(tmp_path / "two" / name) for name in names(tmp_path / "two", "")]
    assert [page.extract_text() for part in parts for page in part.pages] == [
        page.extract_text() for page in whole.pages
    ]
    assert [[str(mark.title) for mark in part.outline] for part in parts] == [  # type: ignore[union-attr]
        ["Tray 1", "Tray 2"],
        ["Tray 3", "Tray 4"],
        ["Tray 5"],
    ]
    assert [str(part.metadata and part.metadata.title) for part in parts] == [
        "Tray maps: Spring, part 1",
        "Tray maps: Spring, part 2",
        "Tray maps: Spring, part 3",
    ]
    assert [label for part in parts for label in part.page_labels] == ["1", "2", "3", "4", "5"]
    assert "3 of 5" in parts[1].pages[0].extract_text()


def test_volumes_of_an_earlier_run_go_when_fewer_do(tmp_path: Path) -> None:
    plan, out = plan_in(tmp_path, 5), tmp_path / "out"
    run(plan, "-o", out, "--only", "maps", "--only", "seeds", "--pages-per-file", "2")
    plan = plan_in(tmp_path, 3)
    result = run(plan, "-o", out, "--only", "maps", "--pages-per-file", "2")
    assert names(out, "") == ["maps-001.pdf", "maps-002.pdf", "seeds.pdf"]
    assert f"{out}: removed maps-003.pdf: an earlier run wrote that, and this one supersedes it" in result.stderr
    result = run(plan, "-o", out, "--only", "maps")
    assert names(out, "") == ["maps.pdf", "seeds.pdf"]
    assert "removed maps-001.pdf, maps-002.pdf: an" in result.stderr
    result = run(plan, "-o", out, "--only", "maps", "--pages-per-file", "1")
    assert names(out, "maps") == ["maps-001.pdf", "maps-002.pdf", "maps-003.pdf"]
    assert "removed maps.pdf: an" in result.stderr


def test_a_volume_that_was_changed_is_left_and_told(tmp_path: Path) -> None:
    plan, out = plan_in(tmp_path, 3), tmp_path / "out"
    run(plan, "-o", out, "--only", "maps", "--pages-per-file", "1")
    (out / "maps-003.pdf").write_bytes(b"with notes of mine")
    (out / "maps-004.pdf").write_bytes(b"never written by a run")
    result = run(plan, "-o", out, "--only", "maps")
    assert names(out, "") == ["maps-003.pdf", "maps-004.pdf", "maps.pdf"]
    assert "warning: maps-003.pdf is of an earlier run and was changed since, so it was left" in result.stderr
    assert "maps-004" not in result.stderr


def test_volumes_stay_when_the_run_fails(tmp_path: Path) -> None:
    plan, out = plan_in(tmp_path, 3), tmp_path / "out"
    run(plan, "-o", out, "--only", "maps", "--pages-per-file", "1")
    before = tree(out)
    (out / "seeds.pdf").write_bytes(b"mine")
    with pytest.raises(FileError):
        make(Options(plan, folder=out, only=("maps", "seeds")), TODAY)
    assert tree(out) == before | {"seeds.pdf": b"mine"}
