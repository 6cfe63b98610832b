"""What an edited plan says otherwise than was noted: batches that are sown already, and are planned differently now.

What was noted stays, and counts go by it; the grower is told, as one of both is wrong, or the rest is still to be sown.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from traysheets.base.notices import Notice
from traysheets.book.entries import Entry, in_force, sowings
from traysheets.book.measures import COUNTS_BY, measure_of, standing_of
from traysheets.book.model import Identity, Kept, Measure, Wanted

_COUNTS = "Counts go by what was noted; if it was sown as the plan says now, strike out that entry and note it anew"

MOST_TOLD = 5
"""Batches told of one by one; the rest are counted."""


def changed_notices(
    wanted: Sequence[Wanted],
    codes: Sequence[str],
    kept: Sequence[Kept],
    entries: Mapping[str, Sequence[Entry]],
    plan: str,
) -> Iterator[Notice]:
    """A notice on every batch noted as sown or counted that the plan says other figures of, or has no more."""
    by_code = {batch.code: batch for batch in kept if batch.code in entries}
    planned = [(by_code[code], one) for code, one in zip(codes, wanted, strict=True) if code in by_code]
    edited = (_edited(batch, entries[batch.code], one) for batch, one in planned)
    days = (_other_day(batch, entries[batch.code], one) for batch, one in planned)
    standing = set(codes)
    left = (batch for batch in by_code.values() if batch.in_plan and batch.plan == plan and batch.code not in standing)
    gone = (_gone(batch, entries[batch.code]) for batch in left)
    differing = ((edited, "planned otherwise now"), (days, "planned for another day"), (gone, "in the plan no more"))
    for notices, what in differing:
        found = (notice for notice in notices if notice)
        yield from islice(found, MOST_TOLD)
        if more := sum(1 for _ in found):
            batches = "batch noted as sown or counted is" if more == 1 else "batches noted as sown or counted are"
            yield Notice(f"{more} more {batches} {what}", passing=True)


def _edited(batch: Kept, entries: Sequence[Entry], wanted: Wanted) -> Notice | None:
    noted = _noted(entries)
    differing = list(_differences(batch, entries, wanted.identity)) if noted else []
    if not noted or not differing:
        return None
    was, now = (" and ".join(sides) for sides in zip(*differing, strict=True))
    name = f"{batch.code} '{batch.identity.variety}'"
    text = f"{name} is noted as {noted.kind.words} on {noted.day}, when the plan said {was}; now it says {now}"
    return Notice(f"{text}. {_COUNTS}", wanted.line, passing=True)


def _differences(batch: Kept, entries: Sequence[Entry], now: Identity) -> Iterator[tuple[str, str]]:
    """Each figure as it was when noted, and as it is planned now."""
    was = measure_of(batch, entries)
    if now.cells not in (was.cells, standing_of(batch, entries).cells_sown):
        yield _cells(was), _cells(now)
    if was.seeds_per_cell != now.seeds_per_cell:
        yield f"{was.seeds_per_cell:,} seeds a cell", f"{now.seeds_per_cell:,} seeds a cell"
    if was.method != now.method:
        yield f"the method {was.method}", f"the method {now.method}"
    if was.tray != now.tray:
        yield f"the tray {was.tray}", f"the tray {now.tray}"
    if was.sow != now.sow and not sowings(entries, 0):
        yield f"the sowing day {was.sow}", f"the sowing day {now.sow}"


def _other_day(batch: Kept, entries: Sequence[Entry], wanted: Wanted) -> Notice | None:
    """A word on a batch that was sown on another day than the plan says, by which its later days are printed."""
    days = [sown.day for sown in sowings(entries, 0)]
    if not days or wanted.identity.sow in days:
        return None
    text = f"{batch.code} '{batch.identity.variety}' is noted as sown on {days[0]}, the plan says {wanted.identity.sow}"
    if not wanted.repeated:
        text += f"; put the day into the plan (sow = {days[0]}), and the printed days follow"
    return Notice(text, wanted.line, passing=True)


def _cells(of: Measure | Identity) -> str:
    return f"{of.cells:,} cell{'' if of.cells == 1 else 's'}"


def _gone(batch: Kept, entries: Sequence[Entry]) -> Notice | None:
    noted = _noted(entries)
    if not noted:
        return None
    text = (
        f"{batch.code} '{batch.identity.variety}', noted as {noted.kind.words} on {noted.day}, is in the plan no more"
    )
    return Notice(f"{text}; the book keeps it", passing=True)


def _noted(entries: Sequence[Entry]) -> Entry | None:
    """The entry that tells how a batch was sown."""
    valid = in_force(entries)
    return next((entry for kind in COUNTS_BY for entry in reversed(valid) if entry.kind is kind), None)
