"""The figures of a batch from what was printed of it and kept in the book: label and value, for reading. Pure."""

from collections.abc import Iterator

from traysheets.book.model import Kept
from traysheets.serve.shown import day, number


def facts_of(batch: Kept) -> tuple[tuple[str, str], ...]:
    """What is known of a batch without its plan. Values that were not kept are left out."""
    return tuple((label, value) for label, value in _facts(batch) if value)


def _facts(batch: Kept) -> Iterator[tuple[str, str]]:
    named, told = batch.identity, batch.told
    yield "Sowing day", day(named.sow)
    yield "Cells", number(named.cells)
    yield "Seeds a cell", number(named.seeds_per_cell)
    yield "Seeds in all", _number(told.get("seeds_total"))
    yield "Germination", _percent(told.get("germination"))
    yield "Expected plants", _number(told.get("plants_expected"))
    yield "Lot", named.lot
    yield "Tray", _tray(batch)
    yield "Place", named.place
    yield "Notes", str(told.get("notes") or "")
    yield "First printed", day(batch.first_printed)
    yield "Last printed", day(batch.last_printed)
    yield "Plan", batch.plan if batch.in_plan else f"{batch.plan}, which no longer has it"


def _tray(batch: Kept) -> str:
    kind = batch.told.get("tray_kind")
    return str(kind.get("title") or batch.identity.tray) if isinstance(kind, dict) else batch.identity.tray


def _number(value: object) -> str:
    return number(round(value)) if isinstance(value, int | float) else ""


def _percent(value: object) -> str:
    return f"{value:.0%}" if isinstance(value, int | float) else ""
