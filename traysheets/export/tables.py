"""Plain values as JSON and as CSV. What the keys mean is settled by whoever hands the values over.

JSON is for programs: UTF-8, no byte-order mark (RFC 8259, 8.1). CSV is for spreadsheets: RFC 4180, and UTF-8 with a
byte-order mark, without which the most used of them takes UTF-8 for an older code page and spoils every é; the others
read it too, and programs do as `utf-8-sig`.
"""

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence

BYTE_ORDER_MARK = "\ufeff"

# Cells that begin so are taken for formulas, or hide one behind white space ("CSV Injection", OWASP, from memory).
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def json_bytes(value: object) -> bytes:
    """A value as JSON, ended with a line break. Raises ValueError for a number that JSON has no way to write."""
    return (json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def csv_bytes(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> bytes:
    """Rows under headings, in the order of `columns`. None is an empty cell; a row may lack columns, not have others.

    A text that a spreadsheet would take for a formula gets a leading apostrophe, which shows it as text.
    """
    file = io.StringIO(newline="")
    table = csv.DictWriter(file, columns, restval="", dialect="excel")
    table.writeheader()
    table.writerows({key: _cell(value) for key, value in row.items()} for row in rows)
    return (BYTE_ORDER_MARK + file.getvalue()).encode()


def _cell(value: object) -> object:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str) and value.startswith(_FORMULA_STARTS):
        return "'" + value
    return value
