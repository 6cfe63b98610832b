"""The same plan, version and options give the same bytes: in processes of their own, wherever and however they run.

Every file that `make` writes is compared by its bytes, the book by what it holds. Only `today` may matter, as a day,
and only to what a book has noted: nothing is noted here, so not even the date line makes a difference.
"""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from traysheets.pipeline.outputs import OUTPUTS

PLAN = """
[plan]
title = "Frühling, première série"
grower = "Ødegård Growers"
season = 2027
last_frost = 2027-05-05
language = ["de", "es"]

[printer]
measured_across = "198.6 mm"
measured_down = "199.2 mm"

[defaults]
tray = "pot-18"

[compare]
tray = "cell-72"

[[bench]]
name = "light shelf"
length = "1.2 m"
depth = "0.6 m"

[[sowing]]
crop = "Bunching onion"
variety = "Longstalk Winter"
method = "clump"
seeds_per_cell = 60
cells = 8
sow = 2027-03-06
lot = "HB-2231"
germination = "85 %"
repeat = { every = "2 weeks", times = 3 }

[[sowing]]
crop = "Beetroot"
variety = "Ærø Dusky Round, a name that is longer than any stick is wide"
method = "stations"
stations = 3
plants = 60
sow = 2027-03-06
treated = true
place = "light shelf"

[[sowing]]
crop = "Tomato"
variety = "Little Anchor"
tray = "cell-72"
plants = 30
weeks_before_frost = 7
sticks = "cell"
at = ["3: B2-C4"]
"""

HOSTILE = "from reportlab import rl_config\npageCompression = 0\ninvariant = 0\npdfComments = pdfMultiLine = 1\n"
"""Settings that reportlab would run out of a home or off the path, and that change what it writes."""

POISON = 'raise SystemExit("a file beside the plan was run")\n'
UNSET = ""
"""In place of a value: the variable is not there at all."""


@dataclass(frozen=True)
class Way:
    """One way of running: variables, words to Python, where from, and what is done to the folder before."""

    env: Mapping[str, str] = field(default_factory=dict)
    flags: tuple[str, ...] = ()
    cwd: str = "."
    plan: str = "{folder}/plan.toml"
    output: str = "{folder}/out"
    umask: int = -1
    before: Callable[[Path], object] = lambda folder: None


def hostile_home(folder: Path) -> None:
    """Settings in the home, and a plan of 1970 that may only be read."""
    (folder / "home").mkdir()
    (folder / "home/.reportlab_settings").write_text(HOSTILE)
    os.utime(folder / "plan.toml", (0, 0))
    (folder / "plan.toml").chmod(0o444)


def hostile_neighbours(folder: Path) -> None:
    """Files beside the plan that are named as modules which are imported where they are found."""
    for name in ("reportlab_settings", "reportlab_mods"):
        (folder / f"{name}.py").write_text(HOSTILE)
    for name in ("sitecustomize", "usercustomize", "qrcode", "icalendar"):
        (folder / f"{name}.py").write_text(POISON)


def windows_lines(folder: Path) -> None:
    """Windows line ends and a byte-order mark; and folders for a path with dots, and for what is temporary."""
    (folder / "plan.toml").write_bytes(b"\xef\xbb\xbf" + PLAN.replace("\n", "\r\n").encode())
    (folder / "täm p").mkdir()


WAYS = {
    "east of the date line, in Turkish, beside hostile modules": Way(
        {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8", "HOME": "{folder}"},
        flags=("-O",),
        cwd="{folder}",
        plan="plan.toml",
        output="a/b c",
        umask=0o077,
        before=hostile_neighbours,
    ),
    "west of the date line, in no language, with hostile settings at home": Way(
        {
            "PYTHONHASHSEED": "4294967295",
            "TZ": "Pacific/Pago_Pago",
            "LC_ALL": "C",
            "PYTHONUTF8": "0",
            "PYTHONCOERCECLOCALE": "0",
            "HOME": "{folder}/home",
            "SOURCE_DATE_EPOCH": "315532800",
        },
        flags=("-OO", "-B"),
        before=hostile_home,
    ),
    "with nothing set, from elsewhere, with Windows line ends": Way(
        dict.fromkeys(os.environ, UNSET) | {"TMPDIR": "{folder}/täm p"},
        cwd="{folder}/täm p",
        plan="../täm p/../plan.toml",
        output="../out/../out",
        umask=0,
        before=windows_lines,
    ),
    "in German, with warnings as errors, on a narrow terminal": Way(
        {
            "LC_ALL": "de_DE.UTF-8",
            "LANGUAGE": "de",
            "PYTHONUTF8": "1",
            "COLUMNS": "20",
            "NO_COLOR": "1",
            "TERM": "dumb",
        },
        flags=("-W", "error", "-X", "dev"),
    ),
}
"""Each of them unlike the others in much at once; what differs is found by taking one thing away after the other."""


@dataclass(frozen=True)
class Result:
    """What a run left: the files by their path, and what stands in the book but for the days of printing."""

    files: dict[str, bytes]
    book: list[tuple[object, ...]]


def run(folder: Path, way: Way, today: str = "") -> Result:
    """Make all sheets of the plan in a new folder, in a process of its own."""
    folder.mkdir()
    (folder / "plan.toml").write_text(PLAN, encoding="utf-8")
    way.before(folder)
    plan, output, cwd = (text.format(folder=folder) for text in (way.plan, way.output, way.cwd))
    variables = {name: value.format(folder=folder) for name, value in {**os.environ, **way.env}.items() if value}
    only = [word for name in OUTPUTS for word in ("--only", name)]
    # Started as the installed command is: what stands in the folder it runs in is not on the path of its modules.
    begin = "import sys; from traysheets.cli.main import main; sys.argv[0] = 'traysheets'; main()"
    call = [sys.executable, *way.flags, "-P", "-c", begin, "make", plan, "-o", output, *only]
    done = subprocess.run(call, cwd=cwd, env=variables, umask=way.umask, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return Result(files_in(Path(cwd, output)), book(folder / "plan.book.sqlite"))


def files_in(folder: Path) -> dict[str, bytes]:
    paths = sorted(path for path in folder.rglob("*") if path.is_file() and ".traysheets" not in path.parts)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def book(file: Path) -> list[tuple[object, ...]]:
    """All batches, but for the two days they were first and last printed on."""
    with closing(sqlite3.connect(file)) as connection:
        columns = [row[1] for row in connection.execute("PRAGMA table_info(batches)") if "printed" not in row[1]]
        return list(connection.execute(f"SELECT {', '.join(columns)} FROM batches ORDER BY code"))


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Result:
    return run(tmp_path_factory.mktemp("plain") / "here", Way({"PYTHONHASHSEED": "0", "TZ": "UTC"}))


def test_everything_is_compared(plain: Result) -> None:
    assert {name.rpartition(".")[2] for name in plain.files} == {"pdf", "ics", "html", "css", "csv", "json"}
    assert len([name for name in plain.files if name.endswith(".pdf")]) == len(OUTPUTS) - 1
    assert len(plain.book) == 5


@pytest.mark.parametrize("name", WAYS)
def test_the_same_plan_gives_the_same_bytes(name: str, plain: Result, tmp_path: Path) -> None:
    other = run(tmp_path / name, WAYS[name])
    assert list(other.files) == list(plain.files)
    assert [file for file in plain.files if other.files[file] != plain.files[file]] == []
    assert other.book == plain.book
