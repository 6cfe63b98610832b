"""The book as rows of plain values, for spreadsheets and programs: a row an entry, and a row a batch without any."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from traysheets.book.book import History
from traysheets.book.diary import read_histories
from traysheets.book.entries import Entry, in_force
from traysheets.book.model import Kept

COLUMNS: tuple[str, ...] = (
    "batch", "crop", "variety", "lot", "sow", "cells", "method", "tray", "place", "plan", "entry", "day", "kind",
    "number", "who", "remark", "written_at", "corrects", "counts", "of_cells", "of_seeds_per_cell",
)  # fmt: skip
"""What a row holds; `counts` is whether the entry is in force: not corrected, not struck out, and no striking out.

`of_cells` and `of_seeds_per_cell` are what was printed when the entry was written; `cells` is what was printed last.
"""


def table_rows(file: Path) -> Iterator[dict[str, object]]:
    """A row for every entry, in the order of batches and of writing, with its batch; one for a batch without entries.

    Raises BookError.
    """
    for history in read_histories(file):
        facts = _batch(history.batch)
        valid = {entry.id for entry in in_force(history.entries)}
        yield from ({**facts, **_entry(entry, valid)} for entry in history.entries)
        if not history.entries:
            yield facts


def plain(file: Path) -> dict[str, object]:
    """The whole book: every batch with all that was printed about it, and its entries. Raises BookError."""
    return {"batches": [_history(history) for history in read_histories(file)]}


def _history(history: History) -> dict[str, object]:
    batch = history.batch
    valid = {entry.id for entry in in_force(history.entries)}
    return {
        **_batch(batch),
        "season": batch.season,
        "in_plan": batch.in_plan,
        "first_printed": batch.first_printed.isoformat(),
        "last_printed": batch.last_printed.isoformat(),
        "printed": batch.told,
        "entries": [_entry(entry, valid) for entry in history.entries],
    }


def _batch(batch: Kept) -> dict[str, object]:
    one = batch.identity
    return {
        "batch": batch.code,
        "crop": one.crop,
        "variety": one.variety,
        "lot": one.lot,
        "sow": one.sow.isoformat(),
        "cells": one.cells,
        "method": one.method,
        "tray": one.tray,
        "place": one.place,
        "plan": batch.plan,
    }


def _entry(entry: Entry, valid: Iterable[int]) -> dict[str, object]:
    return {
        "entry": entry.id,
        "day": entry.day.isoformat(),
        "kind": entry.kind.value,
        "number": entry.number,
        "who": entry.who,
        "remark": entry.remark,
        "written_at": entry.written_at.isoformat(),
        "corrects": entry.corrects,
        "counts": entry.id in valid,
        "of_cells": entry.measure.cells if entry.measure else None,
        "of_seeds_per_cell": entry.measure.seeds_per_cell if entry.measure else None,
    }
