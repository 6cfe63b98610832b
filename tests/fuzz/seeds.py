"""What fuzzing starts from: good plans, tables, books and sheets, and the scraps that are put into them."""

import os
import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime, time
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner

from traysheets.book.diary import add_entry
from traysheets.book.entries import Kind, Note
from traysheets.cli.main import cli

SAMPLES = Path(__file__).parents[2] / "sample_plans"
PLAN = """\
[plan]
title = "Spring"
grower = "Millbrook Lane Growers"
season = 2027
last_frost = 2027-05-05
language = ["en"]
paper = "a4"
[defaults]
tray = "pot-18"
germination = "85 %"
[printer]
measured_across = "198.6 mm"
[pace]
helpers = 2
[compare]
tray = "cell-72"
[[bench]]
name = "light shelf"
length = "1.2 m"
depth = "0.6 m"
[[tray]]
name = "crate"
rows = 2
columns = 3
outer = ["40 cm", "25 cm"]
cell = "9 cm"
depth = "2 in"
[[crop]]
name = "Skirret"
like = "Parsnip"
[[sowing]]
crop = "Onion"
variety = "Copper Bell"
method = "clump"
cells = 8
sow = 2027-03-06
soil_temp = "18 C"
cover = "6 mm"
at = ["1: A1-A3"]
lot = "HB-2231"
notes = '''two
lines'''
[[sowing]]
crop = "Beetroot"
variety = "Dusky Round"
method = "stations"
stations = 3
seeds_per_station = 2
plants = 20
sow = "2027-W09"
repeat = { every = "2 weeks", times = 2 }
[[sowing]]
crop = "Tomato"
variety = "Little Anchor"
tray = "cell-72"
seeds = 40
weeks_before_frost = 7
place = "light shelf"
sticks = "cell"
"""
TABLE = """\
crop,variety,cells,tray,sow,germination,cover,at,repeat every,repeat times,treated,sticks,notes
Onion,Copper Bell,8,pot-18,2027-03-06,85 %,6 mm,1: A1-A3,,,yes,run,"one
two"
Leek,Grey Spire,8,cell-72,2027-W09,"0,85",,,2 weeks,3,,4,
"""
SETTINGS = '[plan]\ntitle = "T"\nlast_frost = 2027-05-05\n[defaults]\nplace = "shelf"\n[[bench]]\nname = "b"\n'

NAMES = (
    "<script>alert(1)</script>", "<b>", "&amp;", '"', "'", ") Tj ET", "\\) Tj", "%PDF-1.4", "endstream endobj",
    "../../x", "..", "/", "CON", "nul.txt", "\x1b[2J", "\x9b2J", "=cmd|' /C calc'!A0", "+1", "-1", "@SUM(A1)", "\t=1",
    "a\r\nBEGIN:VEVENT", "a;b,c\\n", "javascript:alert(1)", "{batch}", "{{ 7*7 }}", "{0}", "%s", "%n",
    "\u202eabc", "\u2066x", "Z\u0351\u036b\u0343\u036a\u0302\u036b\u033d\u034f\u0334\u0319\u0324",
    "\U0001f331", "\u0645\u0631\u062d",
    "e\u0301", "\u200b", "\ufeff", "\u2028", "\ud800", "\x00", "\x07", "\x7f", "\ufffe", "\U0010ffff", "x" * 600,
)  # fmt: skip
"""Texts that would do something where they are not taken as text."""

SCRAPS = (
    "", '"', "'", "'''", '"""', "\n", "\r", "\r\n", ",", ";", "\t", "[", "]", "[[", "]]", "{", "}", "=", "#",
    ".", "-", "\\",
    "0", "-1", "1e400", "-0.0", "nan", "inf", "9" * 30, "9" * 5000, "1_0", "0x10", "1e5", "true", "false",
    "0.1", "85 %",
    "1-01-01", "9999-12-31", "0000-00-00", "2027-02-30", "2027-W53", "2027-03-06T10:00:00Z", "10:00", "1e9 mm", "0 mm",
    "1/0 in", "½ in", "-273.16 C", "5 ft 3 in", "[[sowing]]\n", "[plan]\n", "[[tray]]\n", "\ncells = 1\n",
    "\ntrays = 50000\n",
    "\nplants = 1000000\n", '\nrepeat = { every = "1 day", times = 366 }\n',
    '\nat = ["1: A1-Z99", "50000: A1"]\n', "sep=;\n",
    "\\u0000", "\\ud800", "[" * 30, "a." * 60, *NAMES,
)  # fmt: skip
"""Pieces of files and of command lines."""


@cache
def book() -> bytes:
    """A good book with a few entries, of the sample plan."""
    with TemporaryDirectory() as folder:
        run("new", f"{folder}/p.toml")
        run("make", f"{folder}/p.toml", "-o", f"{folder}/out", "--only", "records", "-q")
        file = Path(folder, "p.book.sqlite")
        with closing(sqlite3.connect(file)) as opened:
            codes = [code for (code,) in opened.execute("SELECT code FROM batches ORDER BY code LIMIT 3")]
            sow = dict(opened.execute("SELECT code, sow FROM batches"))
        for code in codes:
            day = date.fromisoformat(sow[code])
            for kind, remark in ((Kind.SOWN, ""), (Kind.REMARK, "all well")):
                note = Note(batch=code, kind=kind, day=day, remark=remark, key=f"{code} {kind}")
                add_entry(file, note, day, datetime.combine(day, time(), UTC))
        return file.read_bytes()


@cache
def codes() -> tuple[str, ...]:
    """The codes of the batches in the book."""
    with TemporaryDirectory() as folder:
        file = Path(folder, "book")
        file.write_bytes(book())
        with closing(sqlite3.connect(file)) as opened:
            return tuple(code for (code,) in opened.execute("SELECT code FROM batches ORDER BY code"))


@cache
def sheet() -> bytes:
    """A good PDF of sticks."""
    with TemporaryDirectory() as folder:
        run("new", f"{folder}/p.toml")
        run("make", f"{folder}/p.toml", "-o", f"{folder}/out", "--only", "sticks", "-q")
        return Path(folder, "out", "sticks.pdf").read_bytes()


def run(*words: str) -> tuple[int, str, str]:
    """Exit status, stdout and stderr of a command line, through the front door; a crash goes through."""
    result = CliRunner().invoke(cli, list(words), catch_exceptions=False)
    return result.exit_code, result.stdout, result.stderr


def put(folder: str, name: str, content: bytes) -> str:
    """A file with this content; gives its path."""
    path = os.path.join(folder, name)
    with open(path, "wb") as file:
        file.write(content)
    return path
