"""Which batch of the plan bears which code: printed codes stay with their batches, new ones are never used twice.

A batch of the plan is matched with a printed one that was in the plan when that was last printed, in four rounds:
everything the same; the same seed on the same day; the same variety on the same day; the same variety on the day that
it is noted as sown. The later rounds take a pair only where there is no other that could be meant. A batch that had
left the plan, or was printed from a plan of another name, is matched last, if everything is the same and no other could
be meant.
When in doubt a batch gets a new code: a printed stick must never come to mean another batch. The grower is then told
which it may be, and can say so with `batch = CODE`.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import TypeAlias

from traysheets.base.errors import PlanError, Problem
from traysheets.base.notices import Notice
from traysheets.book.codes import check_character, codes_from, is_valid
from traysheets.book.model import Identity, Printed, Wanted


@dataclass(frozen=True, slots=True)
class Allotment:
    """The code of every wanted batch, in their order, and what is worth saying about them.

    `printed` are those that were printed before, by position, as they were then.
    """

    codes: tuple[str, ...]
    printed: Mapping[int, Printed]
    notices: tuple[Notice, ...]


NOTHING_SOWN: Mapping[str, date] = MappingProxyType({})


def allot(
    printed: Sequence[Printed],
    wanted: Sequence[Wanted],
    season: int,
    plan: str,
    sown: Mapping[str, date] = NOTHING_SOWN,
) -> Allotment:
    """The codes of the wanted batches of a plan, given all that the book holds; `sown` are the days noted, by code.

    Raises PlanError for every code of the grower's own that was printed for another batch.
    """
    by_code = {batch.code: batch for batch in printed}
    own = {at: one.own_code for at, one in enumerate(wanted) if one.own_code}
    claimed = set(own.values())
    free = [batch for batch in printed if batch.code not in claimed]
    matched = _matches(free, {at: one for at, one in enumerate(wanted) if at not in own}, plan, sown)
    kept = own | matched
    _refuse_taken(wanted, by_code, kept, plan)
    new = (code for code in codes_from(season) if code not in by_code and code not in claimed)
    return Allotment(
        codes=tuple(kept.get(at) or next(new) for at in range(len(wanted))),
        printed={at: by_code[code] for at, code in kept.items() if code in by_code},
        notices=(
            *_misspelt(wanted),
            *_renamed(wanted, by_code),
            *_moved(free, wanted, kept, plan),
            *_from_others((by_code[code] for code in matched.values()), plan),
        ),
    )


def _refuse_taken(wanted: Sequence[Wanted], by_code: Mapping[str, Printed], kept: Mapping[int, str], plan: str) -> None:
    """A code of the grower's own may be printed again for its batch, under a mended name too, never for another.

    It is another when the crop differs, or when the batch it was printed for still stands: elsewhere in this plan, or,
    where the name differs, in another plan.
    """
    standing = _lines_of(one for at, one in enumerate(wanted) if at not in kept)
    problems = []
    for one in wanted:
        before = by_code.get(one.own_code or "")
        if before and before.identity != one.identity and (why := _another(before, one, standing, plan)):
            identity = before.identity
            owner = f"the batch code '{before.code}' was printed for {identity.crop} '{identity.variety}'"
            problems.append(Problem(f"{owner} sown {identity.sow}{why}", plan, one.line))
    if problems:
        raise PlanError(problems)


def _lines_of(standing: Iterable[Wanted]) -> dict[object, int]:
    """The first line of the plan that has a batch, by all that tells it from others, and by its variety and day."""
    lines: dict[object, int] = {}
    for one in standing:
        for key in (one.identity, one.identity.same_day):
            lines.setdefault(key, one.line)
    return lines


def _another(before: Printed, one: Wanted, standing: Mapping[object, int], plan: str) -> str | None:
    """Why a printed batch is another than the wanted one that claims its code; None where it may be the same."""
    was, now = before.identity, one.identity
    if was.crop.casefold() != now.crop.casefold():
        return "; a printed code is never used for another batch, so give a new one"
    renamed = was.plant != now.plant
    if (line := standing.get(was.same_day if renamed else was)) is not None:
        return f", which the plan still has in line {line}; give a new one"
    if renamed and before.in_plan and before.plan != plan:
        return f", which {before.plan} has; give a new one"
    return None


def _matches(free: Iterable[Printed], wanted: dict[int, Wanted], plan: str, sown: Mapping[str, date]) -> dict[int, str]:
    """Codes of the batches that were printed before, by position."""
    standing: list[Printed] = []
    gone: list[Printed] = []
    for batch in free:
        (standing if batch.in_plan and batch.plan == plan else gone).append(batch)
    found: dict[int, str] = {}
    for key, only_pairs in _ROUNDS:
        pairs = _pairs(wanted, standing, key, only_pairs)
        found |= pairs
        wanted = {at: one for at, one in wanted.items() if at not in pairs}
        standing = [batch for batch in standing if batch.code not in pairs.values()]
    pairs = _pairs(wanted, _as_sown(standing, sown), lambda identity: identity.same_day, only_pairs=True)
    wanted = {at: one for at, one in wanted.items() if at not in pairs}
    standing = [batch for batch in standing if batch.code not in pairs.values()]
    doubtful = {batch.identity.same_day for batch in standing}
    gone = [batch for batch in gone if batch.identity.same_day not in doubtful]
    return found | pairs | _pairs(wanted, gone, lambda identity: identity, only_pairs=False)


def _as_sown(printed: Iterable[Printed], sown: Mapping[str, date]) -> Iterator[Printed]:
    """The batches that are noted as sown, each as if planned for that day: into the plan the grower may put it."""
    for batch in printed:
        if day := sown.get(batch.code):
            yield replace(batch, identity=replace(batch.identity, sow=day))


Key: TypeAlias = Callable[[Identity], object]

_ROUNDS: tuple[tuple[Key, bool], ...] = (
    (lambda identity: identity, False),
    (lambda identity: identity.same_seed, True),
    (lambda identity: identity.same_day, True),
)
"""What must be the same in each round, and whether only where there is one batch on either side."""


def _pairs(wanted: dict[int, Wanted], printed: Iterable[Printed], key: Key, only_pairs: bool) -> dict[int, str]:
    """Codes by position for the batches that are the same by the key, those alike in plan order, as they were then."""
    both: defaultdict[object, tuple[list[int], list[str]]] = defaultdict(lambda: ([], []))
    for at, one in wanted.items():
        both[key(one.identity)][0].append(at)
    for batch in sorted(printed, key=lambda batch: batch.position):
        both[key(batch.identity)][1].append(batch.code)
    fit = (sides for sides in both.values() if not only_pairs or len(sides[0]) == len(sides[1]) == 1)
    return {at: code for positions, codes in fit for at, code in zip(positions, codes, strict=False)}


def _misspelt(wanted: Iterable[Wanted]) -> Iterator[Notice]:
    """A word on every code of the grower's own that looks like one of the book's but has another check character."""
    for one in wanted:
        parts = (one.own_code or "").split("-")
        if len(parts) == 3 and all(map(str.isdecimal, parts[:2])) and not is_valid(one.own_code or ""):
            right = f"{parts[0]}-{parts[1]}-{check_character(''.join(parts[:2]))}"
            text = f"the batch code '{one.own_code}' has a wrong check character; {right} has the right one"
            yield Notice(text, one.line)


def _renamed(wanted: Iterable[Wanted], by_code: Mapping[str, Printed]) -> Iterator[Notice]:
    """A word on every printed batch that goes on under another name because the grower says so."""
    for one in wanted:
        before = by_code.get(one.own_code or "")
        if before and before.identity.plant != one.identity.plant:
            was, now = before.identity.variety, one.identity.variety
            text = f"{before.code} goes on as '{now}'; its sticks were printed for '{was}', so print them again"
            yield Notice(text, one.line, passing=True)


_Likeness: TypeAlias = tuple[Key, str, bool]

_LIKE: tuple[_Likeness, ...] = (
    (lambda identity: identity.plant, "of the same variety", False),
    (lambda identity: identity.same_packet, "of the same lot and day", True),
    (lambda identity: identity.same_work, "of the same crop, day and method", True),
)
"""By what a batch may be one that the book holds: what is then the same, in words, and whether its name is another."""


MOST_NAMED = 5
"""Batches that the book holds named one by one; of more the number is said."""


def _moved(free: Iterable[Printed], wanted: Sequence[Wanted], kept: dict[int, str], plan: str) -> Iterator[Notice]:
    """A word on every batch that gets a new code while the book holds one that it may be, no longer in the plan so."""
    used = set(kept.values())
    gone = [batch for batch in free if batch.in_plan and batch.plan == plan and batch.code not in used]
    held = [(_by(key, gone), key, of, renamed) for key, of, renamed in _LIKE]
    for at, one in enumerate(wanted):
        likely = ((by.get(key(one.identity)), of, renamed) for by, key, of, renamed in held)
        found = next(((before, of, renamed) for before, of, renamed in likely if before), None)
        if at not in kept and found:
            yield Notice(_new_code(one, *found), one.line, passing=True)


def _by(key: Key, printed: Iterable[Printed]) -> dict[object, list[Printed]]:
    found: defaultdict[object, list[Printed]] = defaultdict(list)
    for batch in printed:
        found[key(batch.identity)].append(batch)
    found.pop(None, None)
    return dict(found)


def _new_code(one: Wanted, before: Sequence[Printed], of: str, renamed: bool) -> str:
    held = ", ".join(
        f"{batch.code} '{batch.identity.variety}'" if renamed else f"{batch.code} sown {batch.identity.sow}"
        for batch in before[:MOST_NAMED]
    )
    held += f" and {more:,} more" if (more := len(before) - MOST_NAMED) > 0 else ""
    text = f"this batch gets a new code; the book holds {held}, {of}, which the plan no longer has"
    return text + ("" if one.repeated else _how_to_keep(before, renamed))


def _how_to_keep(before: Sequence[Printed], renamed: bool) -> str:
    if len(before) > 1:
        return f"; if it is one of them{' renamed' if renamed else ''}, write its code as batch"
    code = before[0].code
    meant = f"this is {code} renamed" if renamed else "it is the same batch"
    return f'; if {meant}, write batch = "{code}"'


def _from_others(matched: Iterable[Printed], plan: str) -> Iterator[Notice]:
    """A word on every other plan whose printed batches this plan goes on with: the same plan renamed, or a mistake."""
    counts = Counter(batch.plan for batch in matched if batch.plan != plan)
    for other, count in sorted(counts.items()):
        keep = "1 batch keeps its code" if count == 1 else f"{count} batches keep their codes"
        yield Notice(
            f"{keep} from {other}, being the same in everything; "
            "if that is another plan, give this one a book of its own with --book",
            passing=True,
        )
