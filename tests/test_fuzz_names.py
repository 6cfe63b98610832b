"""Names that would do something where they are not taken as text, in every text a grower writes, over every output.

Each is compared with the same plan under plain names: the same files, the same parts in them, and the name as text.
"""

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator, Sequence
from pathlib import Path

import icalendar
import pikepdf
import pypdf
import pytest
from click.testing import CliRunner
from fuzz.targets import answered
from html_reader import read_html

from traysheets.cli.main import cli

PLAN = """\
[plan]
title = {0}
grower = {0}
season = 2027
last_frost = 2027-05-05
place = {0}
"""
EACH = """\
[[tray]]
name = {0}
title = {0}
rows = 2
columns = 3
outer = ["40 cm", "25 cm"]
cell = "9 cm"
depth = "5 cm"
[[crop]]
name = {0}
like = "Parsnip"
[[bench]]
name = {0}
length = "1.2 m"
depth = "0.6 m"
[[sowing]]
crop = {0}
variety = {0}
lot = {0}
place = {0}
notes = {0}
tray = {0}
method = "clump"
seeds_per_cell = 5
cells = 4
sow = 2027-03-06
"""
NAMES = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "'onmouseover='alert(1)",
    "&lt;b&gt; &amp;",
    ") Tj ET (",
    "\\) Tj /A << /S /JavaScript >>",
    "endstream endobj %%EOF",
    "../../x",
    "..\\..\\x",
    "CON",
    "/etc/passwd",
    "=cmd|' /C calc'!A0",
    "+1+1",
    "-1+1",
    "@SUM(A1:A9)",
    "a;b,c:d\\n",
    "BEGIN:VEVENT END:VCALENDAR",
    "javascript:alert(1)",
    "HTTPS://EXAMPLE.ORG/B/1",
    "{batch} {0} %s {{ 7*7 }} {% x %}",
    "L\u0327o\u0301ng\u0323",
    "x" * 300,
]
GROUPS = [NAMES[start::4] for start in range(4)]
DOES_SOMETHING = {
    "/JavaScript",
    "/JS",
    "/OpenAction",
    "/AA",
    "/Launch",
    "/URI",
    "/GoToR",
    "/SubmitForm",
    "/EmbeddedFile",
}

OWN_NAME = re.compile(r"/F[0-9]+(\+[0-9]+)?|/FormXob[.].*|/[a-z].*")


def made(folder: Path, names: Sequence[str]) -> tuple[Path, str]:
    """The sheets of a plan with these names in every text, a sowing each, and the code of its first batch."""
    plan = folder / "plan.toml"
    parts = [PLAN.replace("{0}", json.dumps(names[0])), *(EACH.replace("{0}", json.dumps(name)) for name in names)]
    plan.write_text("".join(parts), encoding="utf-8")
    result = CliRunner().invoke(cli, ["make", str(plan), "-o", str(folder / "out")], catch_exceptions=False)
    answered((result.exit_code, result.stdout, result.stderr))
    assert result.exit_code == 0, result.stderr
    assert {path.name for path in folder.iterdir()} <= {"plan.toml", "plan.book.sqlite", "out"}
    facts = json.loads((folder / "out" / "records" / "records.json").read_text(encoding="utf-8"))
    return folder / "out", facts["sowings"][0]["batch"]


@pytest.mark.parametrize("names", GROUPS, ids=range(len(GROUPS)))
def test_names_arrive_as_text_and_do_nothing(tmp_path: Path, names: list[str]) -> None:
    (tmp_path / "plain").mkdir()
    (tmp_path / "names").mkdir()
    plain, _ = made(tmp_path / "plain", [f"Plain {at}" for at in range(len(names))])
    out, code = made(tmp_path / "names", names)
    names = [unicodedata.normalize("NFC", name) for name in names]
    files = {path.relative_to(out) for path in out.rglob("*") if path.is_file()}
    assert files == {path.relative_to(plain) for path in plain.rglob("*") if path.is_file()}
    for file in sorted(file for file in files if ".traysheets" not in file.parts):
        check = {".pdf": _pdf, ".html": _html, ".csv": _csv, ".json": _json, ".ics": _ics}.get(file.suffix)
        if check:
            check(out / file, plain / file, names)
    book = str(tmp_path / "names" / "plan.book.sqlite")
    shown = CliRunner().invoke(cli, ["book", "show", book, code], catch_exceptions=False)
    answered((shown.exit_code, shown.stdout, shown.stderr))


def _pdf(file: Path, plain: Path, names: list[str]) -> None:
    """The structure holds no more kinds of things than that of the plain one; the name can be read from its pages."""
    with pikepdf.open(file) as opened, pikepdf.open(plain) as other:
        assert not opened.check_pdf_syntax()
        keys = {key for thing in opened.objects for key in _keys(thing)}
        assert keys <= {key for thing in other.objects for key in _keys(thing)}
        assert not keys & DOES_SOMETHING
        for page in opened.pages:
            pikepdf.parse_content_stream(page)
    if file.name == "maps.pdf":
        text = "".join("".join(page.extract_text() for page in pypdf.PdfReader(file).pages).split())
        assert all("".join(name.split()) in text for name in names if len(name) < 30)


def _keys(thing: object) -> Iterator[str]:
    """The keys of a dictionary of a PDF and of those in it, but for the names that fonts and forms are given."""
    if isinstance(thing, pikepdf.Stream):
        thing = thing.stream_dict
    if isinstance(thing, pikepdf.Dictionary):
        for key, value in thing.items():
            if not OWN_NAME.fullmatch(key):
                yield key
            if not getattr(value, "is_indirect", False):
                yield from _keys(value)
    elif isinstance(thing, pikepdf.Array):
        for value in thing:
            if not getattr(value, "is_indirect", False):
                yield from _keys(value)


def _html(file: Path, plain: Path, names: list[str]) -> None:
    page, other = read_html(file.read_text(encoding="utf-8")), read_html(plain.read_text(encoding="utf-8"))
    assert {element.name for element in page.all()} == {element.name for element in other.all()}
    assert {key for element in page.all() for key in element.attributes} <= {
        key for element in other.all() for key in element.attributes
    }
    for element in page.all():
        for key in ("href", "src"):
            assert not element.attributes.get(key, "").lower().startswith(("javascript:", "data:text", "//", "http"))
    body = " ".join(element.text for element in page.all("body"))
    assert any(name in body for name in names)


def _csv(file: Path, plain: Path, names: list[str]) -> None:
    rows, others = (
        list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline=""))) for path in (file, plain)
    )
    assert [len(row) for row in rows] == [len(row) for row in others]
    fields = [field for row in rows for field in row]
    assert not any(field.startswith(("=", "+", "-", "@")) for field in fields)
    assert all(name in fields or "'" + name in fields for name in names)


def _json(file: Path, plain: Path, names: list[str]) -> None:
    assert set(names) <= set(_texts(json.loads(file.read_text(encoding="utf-8"))))


def _texts(value: object) -> list[str]:
    if isinstance(value, dict):
        value = list(value.values())
    return [text for part in value for text in _texts(part)] if isinstance(value, list) else [str(value)]


def _ics(file: Path, plain: Path, names: list[str]) -> None:
    calendar, other = (icalendar.Calendar.from_ical(path.read_bytes()) for path in (file, plain))
    assert [part.name for part in calendar.walk()] == [part.name for part in other.walk()]
    assert [sorted(part) for part in calendar.walk()] == [sorted(part) for part in other.walk()]
    said = " ".join(str(part.get("summary", "")) for part in calendar.walk())
    assert all(name in said for name in names)
