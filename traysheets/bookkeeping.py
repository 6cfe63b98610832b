"""The book put to use: each batch with its entries, what they amount to, and what a lot has shown.

Joins the book (what was printed and noted) with the reckoning (what was to be expected). Keeps nothing itself.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from traysheets.book.diary import History, add_entry, read_histories, read_history
from traysheets.book.due import Due, steps_of
from traysheets.book.entries import Entry, Kind, Note, Standing, latest
from traysheets.book.measures import Places, places_of, standing_of
from traysheets.book.model import Kept
from traysheets.plan.model import Method
from traysheets.reckon.lots import Counts
from traysheets.reckon.seen import Again, Count, Line, LotKey, Seen, Verdict, lot_key, seen, sow_again, verdict
from traysheets.reckon.stand import Stand, stand


@dataclass(frozen=True, slots=True)
class Account:
    """A batch, all its entries in the order of writing, and what they amount to today.

    `count` sets the latest count of seedlings against what was expected, `again` says what to sow to reach the plants
    wanted; None where nothing was counted, none is missing, or too little was printed to tell.
    """

    batch: Kept
    entries: tuple[Entry, ...]
    standing: Standing
    steps: tuple[Due, ...]
    count: Verdict | None
    again: Again | None

    @property
    def due(self) -> tuple[Due, ...]:
        """The steps that should be done today."""
        return tuple(step for step in self.steps if step.is_due)


def book_beside(plan: Path) -> Path:
    """The book of a plan, unless another is given: beside it and named after it."""
    return plan.with_name(f"{plan.stem}.book.sqlite")


def account(file: Path, code: str, today: date) -> Account:
    """One batch of a book; the code may be typed sloppily. Raises BookError, with the nearest code for one unknown."""
    history = read_history(file, code)
    own = history.batch.identity.lot
    lots = lots_seen(read_histories(file, own)) if own else {}
    return _account(history, lots.get(_lot(history.batch)), today)


def accounts(file: Path, today: date) -> tuple[Account, ...]:
    """Every batch of a book, by sowing day, then code. Raises BookError."""
    histories = read_histories(file)
    lots = lots_seen(histories)
    return tuple(_account(history, lots.get(_lot(history.batch)), today) for history in histories)


def note(file: Path, entry: Note, today: date, now: datetime) -> Entry:
    """Write an entry; gives back what is stored, once it is on the disk. Raises BookError; nothing is then changed."""
    return add_entry(file, entry, today, now)


def _account(history: History, lot: Seen | None, today: date) -> Account:
    batch, entries = history.batch, history.entries
    stands = standing_of(batch, entries)
    steps = steps_of(batch, entries, stands, today)
    expected = _stand(batch, batch.told.get("germination"))
    counted = latest(entries, Kind.EMERGED)
    if counted is None or counted.number is None or expected is None or not stands.cells_sown:
        return Account(batch, entries, stands, steps, None, None)
    places = stands.cells_sown * expected.places
    complete = _complete(batch, counted)
    count = verdict(counted.number, places, expected.chance, complete=complete)
    return Account(batch, entries, stands, steps, count, _again(batch, count, lot, today) if complete else None)


def _stand(batch: Kept, germination: object) -> Stand | None:
    """What a cell of a batch may bring, at a germination; None where too little was printed to tell."""
    if not isinstance(germination, int | float) or not 0 <= germination <= 1:
        return None
    stations, seeds = _sown(batch)
    return stand(Method(batch.identity.method), float(germination), seeds, stations)


def _sown(batch: Kept) -> tuple[int, int]:
    """Stations of a cell, and the seeds in each; of a clump and a single cell, 1 and all its seeds."""
    each = batch.told.get("seeds_per_station")
    if batch.identity.method == Method.STATIONS and isinstance(each, int) and each > 0:
        return max(1, places_of(batch).places // batch.identity.cells), each
    return 1, batch.identity.seeds_per_cell


def _complete(batch: Kept, counted: Entry) -> bool:
    """Whether it was counted when all that come up should be up."""
    until = batch.told.get("emerge_to")
    return not until or counted.day.isoformat() >= until


def _again(batch: Kept, count: Verdict, lot: Seen | None, today: date) -> Again | None:
    told = batch.told
    # Who wants plants wants to hear of every one that is missing; who fills cells, of a stand that is poor.
    wanted = told.get("plants_wanted") or (told.get("plants_low") if count.line is Line.LOW else 0) or 0
    as_seen = _stand(batch, lot.germination if lot else told.get("germination"))
    if as_seen is None:
        return None
    last = told.get("plant_out_last") or told.get("plant_out")
    left = (date.fromisoformat(last) - today).days if last else None
    confidence = told.get("confidence") or 0.9
    return sow_again(
        wanted, count.up, as_seen, batch.identity.seeds_per_cell, confidence, told.get("days_to_raise"), left
    )


# ---- what lots have shown


def _lot(batch: Kept) -> LotKey:
    return lot_key(batch.identity.crop, batch.identity.variety, batch.identity.lot)


def counts_in(file: Path) -> Counts:
    """The finished counts of every lot of a book; none when there is no book. Raises BookError."""
    return _counts(read_histories(file)) if file.exists() else {}


def lots_seen(histories: Iterable[History]) -> dict[LotKey, Seen]:
    """The germination that every lot has shown, pooled over its batches that were counted when all should be up."""
    return {lot: found for lot, of_lot in _counts(histories).items() if (found := seen(of_lot))}


def _counts(histories: Iterable[History]) -> dict[LotKey, list[Count]]:
    counts: defaultdict[LotKey, list[Count]] = defaultdict(list)
    for history in histories:
        if history.batch.identity.lot and (count := _count(history)):
            counts[_lot(history.batch)].append(count)
    return counts


def _count(history: History) -> Count | None:
    batch = history.batch
    counted = latest(history.entries, Kind.EMERGED)
    if counted is None or counted.number is None or not _complete(batch, counted):
        return None
    sown = latest(history.entries, Kind.SOWN, counted=True)
    cells = batch.identity.cells if sown is None or sown.number is None else sown.number
    if batch.identity.method == Method.CLUMP:
        return Count(cells * batch.identity.seeds_per_cell, 1, counted.number, batch.identity.sow)
    stations, seeds = _sown(batch)
    return Count(cells * stations, seeds, counted.number, batch.identity.sow)


def places(batch: Kept) -> Places:
    """What a batch can hold, and what is counted in it: seeds, holes or cells."""
    return places_of(batch)
