"""What the pages tell of a batch in the language of whoever reads: entries, cautions, the plan of a tray. Pure."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from traysheets.base.directions import isolated
from traysheets.base.words import Words, sentence
from traysheets.book.entries import Entry, Kind, in_force, strikes_out
from traysheets.book.model import Kept
from traysheets.bookkeeping import Account
from traysheets.serve.speech import Speech
from traysheets.serve.trays import TrayPlan, runs_of
from traysheets.telling import in_short, on_hand

# ---- entries


@dataclass(frozen=True, slots=True)
class EntryLine:
    """An entry for reading: whether it counts still, and what became of it or what it stands in for."""

    entry: Entry
    counts: bool
    became: str = ""


def entry_lines(account: Account, say: Speech) -> tuple[EntryLine, ...]:
    """The entries, the latest day first. One that only strikes another out is told at that."""
    valid = {entry.id for entry in in_force(account.entries)}
    after = {entry.corrects: entry for entry in account.entries if entry.corrects is not None}
    shown = sorted(account.entries, key=lambda entry: (entry.day, entry.id), reverse=True)
    return tuple(
        EntryLine(entry, entry.id in valid, _became(entry, after, say)) for entry in shown if not strikes_out(entry)
    )


def _became(entry: Entry, after: Mapping[int, Entry], say: Speech) -> str:
    later = after.get(entry.id)
    if later is None:
        return "" if entry.corrects is None else say("bench.corrected_entry")
    return say("bench.struck_out") if strikes_out(later) else say("bench.corrected", what=say.entry(later))


def saved_what(account: Account, saved: Entry, say: Speech) -> str:
    """What was just stored: the entry, or the one it struck out; of a sowing in parts also how far it has come."""
    struck = next((entry for entry in account.entries if strikes_out(saved) and entry.id == saved.corrects), None)
    if struck:
        return say("bench.struck", what=say.entry(struck), day=struck.day)
    told = say("bench.saved_what", what=say.entry(saved), day=saved.day)
    return f"{told} {_so_far(account, say)}" if saved.kind is Kind.SOWN else told


def _so_far(account: Account, say: Speech) -> str:
    stands = account.standing
    key = "bench.sown_so_far" if stands.to_sow else "bench.sown_whole"
    return say(key, sown=stands.cells_sown, left=stands.to_sow)


# ---- what was printed


@dataclass(frozen=True, slots=True)
class Caution:
    """What to beware of, and how."""

    heading: str
    text: str


def cautions(batch: Kept, say: Speech) -> Iterator[Caution]:
    """What to beware of in handling a batch: treated seed."""
    if batch.told.get("treated"):
        how = sentence(say("cautions.treated_how"))
        yield Caution(say("cautions.treated"), f"{how} {say('cautions.follow')}")


def where(batch: Kept, say: Speech) -> str:
    """The trays and cells a batch stands in, and the place: `Tray 3: A1 to B4 · Bench 2`; of many the first."""
    runs = runs_of(batch)
    shown = [_run(run, say) for run in runs[:_MOST_RUNS]] + ["…"] * (len(runs) > _MOST_RUNS)
    place = batch.identity.place
    return " · ".join(filter(None, (", ".join(shown), isolated(place) if place else "")))


_MOST_RUNS = 3


def _run(run: Mapping[str, Any], say: Speech) -> str:
    cells = _from_to(str(run["first"]), str(run["last"]), say)
    return say("records.picked", number=str(run["tray"]), cells=cells)


def plan_words(plan: TrayPlan, say: Speech) -> str:
    """The plan of a tray in words, for those who do not see it."""
    contents = (
        say("records.picture_batch", letters=one.letters, variety=one.variety, cells=_from_to(one.first, one.last, say))
        for one in plan.contents
    )
    return say("records.picture", rows=plan.rows, columns=plan.columns, contents=" ".join(contents))


def _from_to(first: str, last: str, say: Speech) -> str:
    return first if first == last else say("sticks.from_to", first=first, last=last)


def _spoken(tell: Callable[[Account, Words], str]) -> Callable[[Account, Speech], str]:
    return lambda account, say: tell(account, say.words)


FILTERS: Mapping[str, Callable[..., str]] = {
    "in_short": _spoken(in_short),
    "on_hand": _spoken(on_hand),
    "plan_words": plan_words,
    "where": where,
}
"""What the templates call by these names, with the speech of the page."""
