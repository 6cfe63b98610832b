"""What a batch came to, in words of whatever language: what is on hand, counts against expectation, what to sow again.

The one place that puts these into sentences, for terminals and phones alike. Pure.
"""

from traysheets.base.words import Words
from traysheets.book.entries import Standing
from traysheets.bookkeeping import Account
from traysheets.reckon.seen import Again, Line, Verdict

_LEAST_ODDS = 1e-6
_PERCENT_ODDS = 0.05
"""Chances above are told as a percentage, below as one in so many."""


def on_hand(account: Account, words: Words) -> str:
    """What is there now, and where the rest went: `On hand: 14 of 18 cells, 310 plants; 4 planted out.`."""
    stands = account.standing
    if not stands.cells_sown and not stands.over:
        return words("bench.not_sown", cells=words("records.cells", n=stands.to_sow or account.measure.cells))
    there = [words("bench.cells_left", left=stands.cells, n=stands.cells_sown)]
    there += [words("bench.plants", n=stands.plants)] if stands.plants is not None else []
    gone = (("planted_out", stands.planted_out), ("sold", stands.sold), ("lost", stands.lost))
    went = [words(f"bench.gone_{how}", count=count) for how, count in gone if count]
    went += [words("bench.to_sow", n=stands.to_sow)] if stands.to_sow else []
    told = words("bench.on_hand", what="; ".join((", ".join(there), *went)))
    return f"{told} {words('bench.over', count=stands.over)}" if stands.over else told


def in_short(account: Account, words: Words) -> str:
    """What is there, in a word for a list: `8 cells`, `3 of 8 cells`, `8 cells to sow`, `all gone`."""
    stands = account.standing
    to_sow = [words("bench.to_sow", n=stands.to_sow)] if stands.to_sow else []
    if not stands.cells_sown and not stands.over:
        return to_sow[0] if to_sow else words("bench.left_plan")
    return ", ".join((_there(stands, words), *to_sow))


def _there(stands: Standing, words: Words) -> str:
    if stands.gone and not stands.cells:
        return words("bench.all_gone")
    if stands.cells == stands.cells_sown:
        return words("records.cells", n=stands.cells_sown)
    return words("bench.cells_left", left=stands.cells, n=stands.cells_sown)


# ---- counts


def counted(account: Account, words: Words) -> tuple[str, ...]:
    """What the latest count says, in sentences; nothing when nobody counted or nothing was expected.

    Who would have to sow more than was sown at first is told to look for the reason before.
    """
    if account.count is None:
        return ()
    said = [verdict(account.count, words)]
    if (again := account.again) is not None:
        doubtful = again.cells is not None and again.cells > account.standing.cells_sown
        said += [words("bench.again_check")] if doubtful else []
        said.append(sow_again(again, account.count.up, words))
    return tuple(said)


def verdict(count: Verdict, words: Words) -> str:
    """A count against expectation: `Low: 31 of 70 expected, fewer than chance alone brings (one in 1,000).`."""
    values = {"up": count.up, "expected": round(count.expected)}
    match count.line:
        case Line.EARLY if count.up >= count.places:
            return words("bench.count_all", **values)
        case Line.EARLY:
            return words("bench.count_early", **values)
        case Line.IN_LINE:
            return words("bench.count_in_line", **values, low=count.low, high=count.high)
    return words(f"bench.count_{count.line.name.lower()}", **values, odds=odds(count.chance, words))


def odds(chance: float, words: Words) -> str:
    """A small chance in words, rounded to one figure that counts: `one in 40`."""
    if chance < _LEAST_ODDS:
        return words("bench.odds_least")
    if chance > _PERCENT_ODDS:
        return words.percent(round(chance, 2))
    return words("bench.odds_one_in", times=round(float(f"{1 / chance:.1g}")))


def sow_again(again: Again, up: int, words: Words) -> str:
    """What to sow again where so many came up, in a sentence.

    It counts from the plants that were planned for, which are fewer than those expected: by that number they were to
    come with the confidence of the plan.
    """
    missing = words("bench.missing", n=again.missing, wanted=up + again.missing)
    if again.cells is None or again.seeds is None:
        return words("bench.again_dead", missing=missing)
    more = {"cells": words("records.cells", n=again.cells), "seeds": words("bench.seeds", n=again.seeds)}
    if again.days_short:
        return words("bench.again_late", missing=missing, **more, n=again.days_short)
    return words("bench.again_in_time" if again.days_short == 0 else "bench.again", missing=missing, **more)
