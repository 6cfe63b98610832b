"""What a batch came to, told in the language of whoever reads: what is on hand, counts, entries, cautions. Pure."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from traysheets.base.words import sentence
from traysheets.book.entries import Entry, in_force, strikes_out
from traysheets.book.model import Kept
from traysheets.bookkeeping import Account
from traysheets.reckon.seen import Again, Line, Verdict
from traysheets.serve.speech import Speech
from traysheets.serve.trays import TrayPlan

_LEAST_ODDS = 1e-6
_PERCENT_ODDS = 0.05
"""Chances above are told as a percentage, below as one in so many."""


def on_hand(account: Account, say: Speech) -> str:
    """What is there now, and where the rest went: `On hand: 14 of 18 cells, 310 plants; 4 planted out.`."""
    stands = account.standing
    if not stands.cells_sown and not stands.over:
        return say("bench.not_sown", cells=say("records.cells", n=stands.to_sow))
    there = [say("bench.cells_left", left=stands.cells, n=stands.cells_sown)]
    there += [say("bench.plants", n=stands.plants)] if stands.plants is not None else []
    gone = (("planted_out", stands.planted_out), ("sold", stands.sold), ("lost", stands.lost))
    went = [say(f"bench.gone_{how}", count=count) for how, count in gone if count]
    went += [say("bench.to_sow", n=stands.to_sow)] if stands.to_sow else []
    told = say("bench.on_hand", what="; ".join((", ".join(there), *went)))
    return f"{told} {say('bench.over', count=stands.over)}" if stands.over else told


def in_short(account: Account, say: Speech) -> str:
    """What is there, in a word for a list: `8 cells`, `3 of 8 cells`, `8 cells to sow`, `all gone`."""
    stands = account.standing
    if stands.gone and not stands.cells:
        return say("bench.all_gone")
    if not stands.cells_sown:
        return say("bench.to_sow", n=stands.to_sow)
    if stands.cells == stands.cells_sown:
        return say("records.cells", n=stands.cells_sown)
    return say("bench.cells_left", left=stands.cells, n=stands.cells_sown)


# ---- counts


def counted(account: Account, say: Speech) -> tuple[str, ...]:
    """What the latest count says, in sentences; nothing when nobody counted or nothing was expected."""
    if account.count is None:
        return ()
    again = (sow_again(account.again, say),) if account.again else ()
    return verdict(account.count, say), *again


def verdict(count: Verdict, say: Speech) -> str:
    """A count against expectation: `Low: 31 of 70 expected, one in 1,000 by chance.`."""
    values = {"up": count.up, "expected": round(count.expected)}
    match count.line:
        case Line.EARLY:
            return say("bench.count_early", **values)
        case Line.IN_LINE:
            return say("bench.count_in_line", **values, low=count.low, high=count.high)
    return say(f"bench.count_{count.line.name.lower()}", **values, odds=odds(count.chance, say))


def odds(chance: float, say: Speech) -> str:
    """A small chance in words, rounded to one figure that counts: `one in 40`."""
    if chance < _LEAST_ODDS:
        return say("bench.odds_least")
    if chance > _PERCENT_ODDS:
        return say.words.percent(round(chance, 2))
    return say("bench.odds_one_in", times=round(float(f"{1 / chance:.1g}")))


def sow_again(again: Again, say: Speech) -> str:
    """What to sow again, in a sentence."""
    missing = say("bench.missing", n=again.missing)
    if again.cells is None or again.seeds is None:
        return say("bench.again_dead", missing=missing)
    more = {"cells": say("records.cells", n=again.cells), "seeds": say("bench.seeds", n=again.seeds)}
    if again.days_short:
        return say("bench.again_late", missing=missing, **more, n=again.days_short)
    return say("bench.again_in_time" if again.days_short == 0 else "bench.again", missing=missing, **more)


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


def plan_words(plan: TrayPlan, say: Speech) -> str:
    """The plan of a tray in words, for those who do not see it."""
    contents = (
        say("records.picture_batch", letters=one.letters, variety=one.variety, cells=_from_to(one.first, one.last, say))
        for one in plan.contents
    )
    return say("records.picture", rows=plan.rows, columns=plan.columns, contents=" ".join(contents))


def _from_to(first: str, last: str, say: Speech) -> str:
    return first if first == last else say("sticks.from_to", first=first, last=last)


FILTERS: Mapping[str, Callable[..., str]] = {"in_short": in_short, "on_hand": on_hand, "plan_words": plan_words}
"""What the templates call by these names, with the speech of the page."""
