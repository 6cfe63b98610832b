"""Files to text: the one place of this room that reads a file. Whatever is wrong with it becomes a `PlanError`."""

import codecs
from dataclasses import dataclass
from pathlib import Path

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import MOST_BYTES

_CSV = {".csv", ".tsv"}
_WITH_SHEETS = {".xlsx", ".xls", ".xlsm", ".ods"}
# How the spreadsheet files of today (an archive) and of old begin, whatever their names end in.
_SPREADSHEETS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
_LOOKED_AT_BYTES = 8_000
_UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


@dataclass(frozen=True, slots=True)
class Source:
    """The text of a file and its name as the user gave it."""

    text: str
    file: str


def is_csv(path: Path) -> bool:
    """Whether a file is a spreadsheet saved as CSV, by its ending."""
    return path.suffix.lower() in _CSV


def has_sheets(path: Path) -> bool:
    """Whether a file is a spreadsheet's own, by its ending."""
    return path.suffix.lower() in _WITH_SHEETS


def read_source(path: Path) -> Source:
    """The text of a file in UTF-8, with or without a byte-order mark. Raises PlanError when it cannot be had."""
    return Source(decoded(_bytes(path), str(path)), str(path))


def _bytes(path: Path) -> bytes:
    file = str(path)
    try:
        with path.open("rb") as opened:
            content = opened.read(MOST_BYTES + 1)  # and no more: a device has no size, and no end
    except FileNotFoundError:
        raise PlanError(Problem("there is no such file", file)) from None
    except IsADirectoryError:
        raise PlanError(Problem("this is a folder; name the plan file in it", file)) from None
    except OSError as error:
        raise PlanError(Problem(f"this file cannot be read: {error.strerror}", file)) from None
    except ValueError:
        raise PlanError(Problem("this file cannot be read: no file can have such a name", file)) from None
    if len(content) > MOST_BYTES:
        size = f"{MOST_BYTES // 1_000_000} MB"
        raise PlanError(Problem(f"this file is larger than {size}; make several plans of it", file))
    return content


def decoded(content: bytes, file: str) -> str:
    """Bytes as text. Raises PlanError naming the line that is not UTF-8, or saying that there is nothing."""
    if content.startswith(_UTF_16):
        raise PlanError(Problem("this file is saved as UTF-16; save it as UTF-8", file, 1))
    if content.startswith(_SPREADSHEETS):
        said = (
            "this is a spreadsheet's own file, whatever its name ends in; save the sheet as CSV in UTF-8 and name that"
        )
        raise PlanError(Problem(said, file))
    if b"\0" in content[:_LOOKED_AT_BYTES]:
        raise PlanError(Problem("this is not a text file; a plan is text in UTF-8", file))
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        help_text = f"this line is not UTF-8 (byte {content[error.start]:02X}); save the file as UTF-8"
        raise PlanError(Problem(help_text, file, line)) from None
    if not text.strip():
        raise PlanError(Problem(f"this file is empty; {_begin(Path(file))}", file, 1))
    return text


def _begin(empty: Path) -> str:
    """How to begin a plan that is empty yet. One in TOML does not belong into a spreadsheet."""
    if not is_csv(empty):
        return "`traysheets new FILE` writes a plan to start from"
    rows = "give it a row of headings, as crop,variety,tray,cells,sow, and a row for each sowing"
    plan = empty.with_suffix(".toml")
    turned = f"`traysheets convert {plan} -o {empty} --force` makes a spreadsheet of it"
    return f"{rows}; or `traysheets new {plan}` writes a plan to start from, and {turned}"
