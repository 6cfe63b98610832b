"""The house: which room may import which, over every import, also those inside functions and for types only."""

import ast
import re
from pathlib import Path

import pytest

import traysheets.base

PACKAGE = Path(traysheets.base.__file__).resolve().parent.parent

SHEETS = {"base", "trade", "plan", "reckon", "arrange", "page"}
ALLOWED = {
    "base": set(),
    "trade": {"base"},
    "plan": {"base", "trade"},
    "reckon": {"base", "trade", "plan"},
    "arrange": {"base", "trade", "plan", "reckon"},
    "book": {"base", "plan"},
    "page": {"base"},
    "sheets": SHEETS,
    "export": {"base", "page"},
    "telling": {"base", "reckon", "book", "bookkeeping"},
    "serve": {"book", "bookkeeping", "telling", "export", "base"},
    "bookkeeping": {"base", "plan", "reckon", "book"},
    "book_report": {"base", "book", "bookkeeping", "telling", "export"},
    "pipeline": SHEETS | {"book", "bookkeeping", "sheets", "export"},
    "bench_site": SHEETS | {"book", "book_report", "sheets", "export", "pipeline", "serve"},
    "reference": {"base", "trade", "plan"},
    "verify": {"base", "trade", "page"},
    "cli": {"pipeline", "verify", "bench_site", "book_report", "reference", "serve", "base"},
    "__init__": {"base", "plan", "reckon", "arrange", "pipeline"},
    "__main__": {"cli"},
}
ONLY_IN = {
    "pydantic": {"plan"},
    "reportlab": {"export"},
    "jinja2": {"export"},
    "click": {"cli"},
    "sqlite3": {"book"},
    "qrcode": {"page"},
    "pypdfium2": {"verify"},
    "zxingcpp": {"verify"},
    "fontTools": {"page"},
    "uharfbuzz": {"page"},
    "flask": {"serve"},
    "werkzeug": {"serve"},
    "waitress": {"serve"},
}


def imports(path: Path) -> set[str]:
    """Every module a file imports, in full, wherever the import stands."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            found.add(str(node.module))
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


def room(module_or_path: str) -> str:
    return module_or_path.split(".")[1] if "." in module_or_path else ""


def files() -> list[Path]:
    return sorted(path for path in PACKAGE.rglob("*.py") if "bundled" not in path.parts)


def room_of(path: Path) -> str:
    inside = path.relative_to(PACKAGE)
    return inside.parts[0] if len(inside.parts) > 1 else inside.stem


def trespasses(path: Path, own: str) -> list[str]:
    """The imports of a file that the table of rooms forbids."""
    wrong = []
    for module in imports(path):
        top = module.split(".")[0]
        if top == "traysheets":
            other = room(module)
            if other and other not in ALLOWED[own] | {own} and other in ALLOWED:
                wrong.append(module)
        elif own not in ONLY_IN.get(top, {own}):
            wrong.append(module)
    return wrong


@pytest.mark.parametrize("path", files(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_arrow_runs_back(path: Path) -> None:
    assert trespasses(path, room_of(path)) == []


def test_every_room_stands_in_the_table_for_contributors() -> None:
    table = re.findall(
        r"^\| `(\w+)(?:/|\.py)` \|", (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8"), re.M
    )
    rooms = {room_of(path) for path in files()} - {"__init__", "__main__"}
    assert sorted(table) == sorted(rooms) == sorted(ALLOWED.keys() - {"__init__", "__main__"})


def test_a_trespass_is_seen(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.py"
    wrong.write_text("def f():\n    from traysheets.export.pdf import write_pdf\n    import reportlab.pdfgen\n")
    assert len(trespasses(wrong, "reckon")) == 3
