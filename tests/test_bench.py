"""The bench itself: that it measures what it says, and prints every row. No test looks at how fast anything is."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from bench.measure import Figures, NotMeasuredError, alternately, once

BENCH = Path(__file__).parent / "bench"


def python(program: str) -> list[str]:
    return [sys.executable, "-c", program]


def test_a_run_tells_its_seconds_and_what_it_printed_last() -> None:
    figures = once(python("import time; time.sleep(0.2); print('words'); print('{\"bytes\": 7}')"), 30)
    assert figures.seconds >= 0.2
    assert figures.told == {"bytes": 7}


def measured_mib(command: list[str], *, tree: bool = False) -> float:
    """What a small process measures of a command; this one, with all that tests load, would count as part of it."""
    program = f"from measure import once; print(once({command!r}, 30, tree={tree}).mib)"
    return float(subprocess.run(python(program), capture_output=True, text=True, check=True, cwd=BENCH).stdout)


def test_memory_is_that_of_the_command_alone() -> None:
    small, large = measured_mib(python("pass")), measured_mib(python("x = bytearray(200 << 20)"))
    assert small < 50
    assert 190 < large - small < 210


def test_memory_of_a_tree_is_added_up_where_the_system_tells_it() -> None:
    child = "import time; x = bytearray(100 << 20); time.sleep(2)"
    parent = f"import subprocess, sys; c = [sys.executable, '-c', {child!r}]; a = subprocess.Popen(c)"
    tree = python(f"{parent}; b = subprocess.Popen(c); a.wait(); b.wait()")
    held = 200 if Path("/proc/self/smaps_rollup").exists() else 100
    assert held < measured_mib(tree, tree=True) < held + 100


def test_a_command_is_stopped_with_all_that_it_started_at_the_end_of_its_time(tmp_path: Path) -> None:
    late = tmp_path / "late"
    child = f"import time; time.sleep(3); open({str(late)!r}, 'w')"
    started = python(f"import subprocess, sys; subprocess.run([sys.executable, '-c', {child!r}])")
    with pytest.raises(NotMeasuredError, match="stopped after 1 s"):
        once(started, 1)
    assert not late.exists()


def test_a_command_that_fails_gives_no_figures_but_its_last_words() -> None:
    with pytest.raises(NotMeasuredError, match="FAILED: ZeroDivisionError: division by zero"):
        once(python("1 / 0"), 30)


def test_cases_are_taken_in_turn_and_the_middle_run_counts() -> None:
    order: list[str] = []

    def case(name: str, seconds: list[float]) -> Callable[[], Figures]:
        def run() -> Figures:
            order.append(name)
            return Figures(seconds.pop(0), 1.0, 1.0, {})

        return run

    found = alternately([case("a", [3.0, 1.0, 2.0]), case("b", [16.0])], 3)
    assert "".join(order) == "abaa"
    assert [figures.seconds for figures in found if isinstance(figures, Figures)] == [2.0, 16.0]


def test_a_case_that_cannot_be_measured_is_not_tried_again() -> None:
    tries = []

    def fails() -> Figures:
        tries.append(1)
        raise NotMeasuredError("stopped after 1 s")

    assert [str(it) for it in alternately([fails], 3)] == ["stopped after 1 s"]
    assert len(tries) == 1


def test_tiny_sheets_of_every_tool_at_hand_are_alike_and_every_row_is_printed() -> None:
    done = subprocess.run([sys.executable, str(BENCH), "--tiny"], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    head, _, table = done.stdout.partition("\n\n")
    assert "cores" in head
    assert "Python" in head
    lines = [[cell.strip() for cell in line.split("|")[1:-1]] for line in table.splitlines()]
    assert lines[0] == ["what", "by", "time", "CPU", "memory", "size", "ratio", "reach"]
    drawn = [line for line in lines if line[1] in {"traysheets", "reportlab", "typst", "Chromium", "WeasyPrint"}]
    assert len(drawn) == 10
    assert all(line[2] or "not at hand: " in " ".join(line) for line in drawn)
    assert {"make --pages-per-file 100", "make --jobs 2", "check", "book show", "import click"} <= {
        it[1] for it in lines
    }


def test_sheets_that_differ_are_found(tmp_path: Path) -> None:
    made = [sys.executable, str(BENCH / "ready.py")]
    subprocess.run([*made, "sticks", "1", "3", str(tmp_path)], check=True)
    job = json.loads((tmp_path / "job.json").read_text())
    drawn = tmp_path / "drawn.pdf"
    subprocess.run(
        [sys.executable, str(BENCH / "peers" / "with_reportlab.py"), tmp_path / "job.json", drawn], check=True
    )
    assert wrong(job, drawn, tmp_path) == ""
    batch = job["batches"][0]
    assert wrong(job | {"batches": [batch | {"url": "OTHER"}]}, drawn, tmp_path) == "0 of 1 QR codes read"
    assert wrong(job | {"batches": [batch | {"count": 4}]}, drawn, tmp_path) == "3 x 27-001-7, not 4"
    assert wrong(job | {"batches": [batch | {"count": 22}]}, drawn, tmp_path) == "1 pages, not 2"


def wrong(job: dict[str, object], drawn: Path, folder: Path) -> str:
    """What `alike.py` finds."""
    (folder / "other.json").write_text(json.dumps(job))
    command = [sys.executable, str(BENCH / "alike.py"), str(folder / "other.json"), str(drawn)]
    found: str = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)["wrong"]
    return found
