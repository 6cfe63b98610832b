"""The figures of a batch from what was printed of it and kept in the book: label and value, for reading. Pure."""

from collections.abc import Iterator

from traysheets.book.model import Kept
from traysheets.serve.speech import Speech


def facts_of(batch: Kept, say: Speech) -> tuple[tuple[str, str], ...]:
    """What is known of a batch without its plan. Values that were not kept are left out."""
    return tuple((say(label), value) for label, value in _facts(batch, say) if value)


def _facts(batch: Kept, say: Speech) -> Iterator[tuple[str, str]]:
    named, told = batch.identity, batch.told
    yield "bench.sowing_day", say.day(named.sow)
    yield "bench.cells", say.number(named.cells)
    yield "bench.seeds_a_cell", say.number(named.seeds_per_cell)
    yield "records.seeds_total", _number(told.get("seeds_total"), say)
    yield "records.germination", _percent(told.get("germination"), say)
    yield "records.expected", _number(told.get("plants_expected"), say)
    yield "records.lot", named.lot
    yield "records.kind", _tray(batch)
    yield "records.place", named.place
    yield "records.notes", str(told.get("notes") or "")
    yield "bench.first_printed", say.day(batch.first_printed)
    yield "bench.last_printed", say.day(batch.last_printed)
    yield "bench.plan", batch.plan if batch.in_plan else say("bench.plan_gone", plan=batch.plan)


def _tray(batch: Kept) -> str:
    kind = batch.told.get("tray_kind")
    return str(kind.get("title") or batch.identity.tray) if isinstance(kind, dict) else batch.identity.tray


def _number(value: object, say: Speech) -> str:
    return say.number(round(value)) if isinstance(value, int | float) else ""


def _percent(value: object, say: Speech) -> str:
    return say.words.percent(value) if isinstance(value, int | float) else ""
