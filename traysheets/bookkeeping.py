"""The book put to use: each batch with its entries, what they amount to, and what a lot has shown.

Joins the book (what was printed and noted) with the reckoning (what was to be expected). Keeps nothing itself.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path

from traysheets.base.words import Words, languages, words_for
from traysheets.book.book import History
from traysheets.book.diary import add_entry, read_histories, read_history
from traysheets.book.due import Due, steps_of
from traysheets.book.entries import Entry, Kind, Note, Standing, latest
from traysheets.book.measures import Counted, Places, counted_in, measure_of, places_in, places_of, standing_of
from traysheets.book.model import Kept, Measure
from traysheets.plan.model import Method
from traysheets.reckon.lots import Counts
from traysheets.reckon.seen import Again, Count, Line, LotKey, Seen, Verdict, lot_key, seen, sow_again, verdict
from traysheets.reckon.stand import Stand, stand


@dataclass(frozen=True, slots=True)
class Account:
    """A batch, all its entries in the order of writing, and what they amount to today.

    `count` sets the latest count of seedlings against what was expected, `again` says what to sow to reach the plants
    wanted; None where nothing was counted, none is missing, or too little was printed to tell. `measure` is what its
    numbers are measured by, whatever the plan says now.
    """

    batch: Kept
    entries: tuple[Entry, ...]
    standing: Standing
    steps: tuple[Due, ...]
    count: Verdict | None
    again: Again | None
    measure: Measure

    @property
    def places(self) -> Places:
        """What may be counted now: in the cells that were sown, or are to be where none is yet."""
        return places_in(self.measure, self.standing.cells_sown or self.measure.cells)

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
    stands, measure = standing_of(batch, entries), measure_of(batch, entries)
    expected = _expected(batch, measure)
    account = Account(batch, entries, stands, steps_of(batch, entries, stands, today), None, None, measure)
    language = batch.told.get("language")
    words = words_for(str(language if language in languages() else "en"))
    told = (replace(step, details=details_in(account, step.step, step.details, words)) for step in account.steps)
    account = replace(account, steps=tuple(told))
    counted = latest(entries, Kind.EMERGED)
    if counted is None or counted.number is None or expected is None:
        return account
    of = counted_in(batch, entries, counted)
    if not of.cells:
        return account
    complete = _complete(batch, counted, of)
    count = verdict(counted.number, of.cells * expected.places, expected.chance, complete=complete)
    again = _again(account, count, expected, of, lot, today) if complete else None
    return replace(account, count=count, again=again)


def details_in(account: Account, step: str, printed: str, words: Words) -> str:
    """What is printed of a step in these words, put right where other cells than those printed were sown."""
    batch, stands, measure = account.batch, account.standing, account.measure
    if step == "sow" and stands.cells_sown and stands.to_sow:
        left = words("due.to_sow", n=stands.to_sow, all=stands.cells_sown + stands.to_sow)
        return " ".join(filter(None, (left, printed)))
    part = next((due.cells for due in account.steps if due.step == step and due.cells is not None), None)
    if part is not None:
        return " ".join(filter(None, (words("due.part", n=part, all=stands.cells_sown), printed)))
    sown, planned = places_in(measure, stands.cells_sown), places_of(batch)
    expected = _expected(batch, measure)
    if step != "emerge" or expected is None or sown == planned or not sown.places:
        return printed
    before = _seedlings(words, batch.told.get("plants_expected") or 0, planned)
    return printed.replace(before, _seedlings(words, expected.expected(sown.cells), sown))


def _seedlings(words: Words, plants: float, places: Places) -> str:
    """How many seedlings to look for, as record pages say it."""
    if places.called == "seeds":
        return words("records.emerge_clump", n=round(plants), seeds=places.places)
    return words("records.emerge_cells", n=round(plants), all=words(f"records.{places.called}", n=places.places))


def _expected(batch: Kept, measure: Measure) -> Stand | None:
    """What a cell may bring that was sown so, at the germination that was printed; None where none was."""
    germination = batch.told.get("germination")
    return None if germination is None else _stand(measure, float(germination))


def _stand(measure: Measure, germination: float) -> Stand:
    """What a cell may bring that was sown so, at a germination."""
    stations, seeds = _sown(measure)
    return stand(Method(measure.method), germination, seeds, stations)


def _sown(measure: Measure) -> tuple[int, int]:
    """Stations of a cell, and the seeds in each; of a clump and a single cell, 1 and all its seeds."""
    if measure.method == Method.CLUMP:
        return 1, measure.seeds_per_cell
    return measure.places_per_cell, measure.seeds_per_place


def _complete(batch: Kept, counted: Entry, of: Counted) -> bool:
    """Whether it was counted when all that come up should be up."""
    until = batch.told.get("emerge_to")
    return not until or counted.day >= date.fromisoformat(until) + timedelta(days=of.days_later)


def _again(
    account: Account, count: Verdict, as_printed: Stand, of: Counted, lot: Seen | None, today: date
) -> Again | None:
    told, measure = account.batch.told, account.measure
    as_seen = _stand(measure, lot.germination) if lot else as_printed
    confidence = told.get("confidence") or 0.9
    # Who wants plants wants to hear of every one that is missing; who fills cells, of a stand that is poor.
    wanted = _share(told.get("plants_wanted") or 0, of.cells, account.standing)
    if not wanted and count.line is Line.LOW:
        wanted = as_printed.low(of.cells, confidence)
    out = next((step.last or step.first for step in account.steps if step.step == "plant_out"), None)
    left = (out - today).days if out else None
    return sow_again(wanted, count.up, as_seen, measure.seeds_per_cell, confidence, told.get("days_to_raise"), left)


def _share(wanted: int, cells: int, stands: Standing) -> int:
    """Of the plants wanted of a batch, those that so many of its cells are to bring; the rest is still to be sown."""
    every = max(cells, stands.cells_sown + stands.to_sow)
    return -(-wanted * cells // every)


# ---- what lots have shown


def _lot(batch: Kept) -> LotKey:
    return lot_key(batch.identity.crop, batch.identity.variety, batch.identity.lot)


def lots_seen(histories: Iterable[History]) -> dict[LotKey, Seen]:
    """The germination that every lot has shown, pooled over its batches that were counted when all should be up."""
    return {lot: found for lot, of_lot in counts_in(histories).items() if (found := seen(of_lot))}


def counts_in(histories: Iterable[History]) -> Counts:
    """The finished counts of every lot."""
    counts: defaultdict[LotKey, list[Count]] = defaultdict(list)
    for history in histories:
        if history.batch.identity.lot and (count := _count(history)):
            counts[_lot(history.batch)].append(count)
    return counts


def _count(history: History) -> Count | None:
    batch, entries = history.batch, history.entries
    counted = latest(entries, Kind.EMERGED)
    if counted is None or counted.number is None:
        return None
    of, measure = counted_in(batch, entries, counted), measure_of(batch, entries)
    if not _complete(batch, counted, of):
        return None
    places = places_in(measure, of.cells).places
    return Count(places, measure.seeds_per_place, counted.number, batch.identity.sow)
