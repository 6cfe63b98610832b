"""Which batch of the plan bears which code: printed codes stay with their batches, new ones are never used twice.

A batch of the plan is matched with a printed one in three rounds: everything the same; the same seed on the same day;
the same variety on the same day. The later rounds take a pair only where there is no other that could be meant.
When in doubt a batch gets a new code: a printed stick must never come to mean another batch.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from traysheets.base.errors import PlanError, Problem
from traysheets.base.notices import Notice
from traysheets.book.codes import codes_from
from traysheets.book.model import Identity, Printed, Wanted


@dataclass(frozen=True, slots=True)
class Allotment:
    """The code of every wanted batch, in their order, and what is worth saying about them.

    `printed` are the positions of those that were printed before.
    """

    codes: tuple[str, ...]
    printed: frozenset[int]
    notices: tuple[Notice, ...]


def allot(printed: Sequence[Printed], wanted: Sequence[Wanted], season: int, plan: str) -> Allotment:
    """The codes of the wanted batches of a plan, given all that the book holds.

    Raises PlanError for every code of the grower's own that was printed for another variety.
    """
    by_code = {batch.code: batch for batch in printed}
    _refuse_taken(wanted, by_code, plan)
    kept = {at: one.own_code for at, one in enumerate(wanted) if one.own_code}
    claimed = set(kept.values())
    free = [batch for batch in printed if batch.code not in claimed]
    matched = _matches(free, wanted, kept, plan)
    printed_before = frozenset(matched) | {at for at, code in kept.items() if code in by_code}
    kept |= matched
    notices = tuple(_moved(free, wanted, kept, plan))
    new = (code for code in codes_from(season) if code not in by_code and code not in claimed)
    codes = tuple(kept.get(at) or next(new) for at in range(len(wanted)))
    return Allotment(codes, printed_before, notices)


def _refuse_taken(wanted: Iterable[Wanted], by_code: dict[str, Printed], plan: str) -> None:
    """A code of the grower's own may be printed again for its batch, never for another crop or variety."""
    problems = []
    for one in wanted:
        before = by_code.get(one.own_code or "")
        if before and _plant(before.identity) != _plant(one.identity):
            text = (
                f"the batch code '{before.code}' was printed for {before.identity.crop} '{before.identity.variety}'"
                f" sown {before.identity.sow}; a printed code is never used for another batch, so give a new one"
            )
            problems.append(Problem(text, plan, one.line))
    if problems:
        raise PlanError(problems)


def _plant(identity: Identity) -> tuple[str, str]:
    return identity.crop, identity.variety


def _matches(free: Iterable[Printed], wanted: Sequence[Wanted], kept: dict[int, str], plan: str) -> dict[int, str]:
    """Codes of the batches that were printed before, by position in `wanted`."""
    open_wanted = {at: one for at, one in enumerate(wanted) if at not in kept}
    open_printed = {batch.code: batch for batch in free}
    found: dict[int, str] = {}

    def pair(key: Callable[[Identity], object], among: Iterable[Printed], *, only_pairs: bool) -> None:
        both: defaultdict[object, tuple[list[int], list[str]]] = defaultdict(lambda: ([], []))
        for at, one in open_wanted.items():
            both[key(one.identity)][0].append(at)
        for batch in among:
            both[key(batch.identity)][1].append(batch.code)
        for positions, codes in both.values():
            if only_pairs and not len(positions) == len(codes) == 1:
                continue
            for at, code in zip(positions, codes, strict=False):
                found[at] = code
                del open_wanted[at], open_printed[code]

    def standing() -> list[Printed]:
        return [batch for batch in open_printed.values() if batch.in_plan and batch.plan == plan]

    pair(lambda identity: identity, list(open_printed.values()), only_pairs=False)
    pair(lambda identity: identity.same_seed, standing(), only_pairs=True)
    pair(lambda identity: identity.same_day, standing(), only_pairs=True)
    return found


def _moved(free: Iterable[Printed], wanted: Sequence[Wanted], kept: dict[int, str], plan: str) -> Iterator[Notice]:
    """A word on every batch that gets a new code while the book holds its variety, no longer in the plan as printed."""
    used = set(kept.values())
    gone: defaultdict[tuple[str, str], list[Printed]] = defaultdict(list)
    for batch in free:
        if batch.in_plan and batch.plan == plan and batch.code not in used:
            gone[_plant(batch.identity)].append(batch)
    for at, one in enumerate(wanted):
        before = gone.get(_plant(one.identity))
        if at in kept or not before:
            continue
        held = ", ".join(f"{batch.code} sown {batch.identity.sow}" for batch in before)
        text = f"this batch gets a new code; the book holds {held}, of the same variety, which the plan no longer has"
        hint = f'; if it is the same batch, write batch = "{before[0].code}"'
        yield Notice(text + ("" if one.repeated else hint), one.line)
