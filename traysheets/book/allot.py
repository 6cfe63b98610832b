"""Which batch of the plan bears which code: printed codes stay with their batches, new ones are never used twice.

A batch of the plan is matched with a printed one that was in the plan when that was last printed, in three rounds:
everything the same; the same seed on the same day; the same variety on the same day. The later rounds take a pair only
where there is no other that could be meant. A batch that had left the plan, or was printed from a plan of another name,
is matched last, if everything is the same and no other could be meant.
When in doubt a batch gets a new code: a printed stick must never come to mean another batch.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

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


def allot(printed: Sequence[Printed], wanted: Sequence[Wanted], season: int, plan: str) -> Allotment:
    """The codes of the wanted batches of a plan, given all that the book holds.

    Raises PlanError for every code of the grower's own that was printed for another variety.
    """
    by_code = {batch.code: batch for batch in printed}
    _refuse_taken(wanted, by_code, plan)
    own = {at: one.own_code for at, one in enumerate(wanted) if one.own_code}
    claimed = set(own.values())
    free = [batch for batch in printed if batch.code not in claimed]
    matched = _matches(free, {at: one for at, one in enumerate(wanted) if at not in own}, plan)
    kept = own | matched
    new = (code for code in codes_from(season) if code not in by_code and code not in claimed)
    return Allotment(
        codes=tuple(kept.get(at) or next(new) for at in range(len(wanted))),
        printed={at: by_code[code] for at, code in kept.items() if code in by_code},
        notices=(
            *_misspelt(wanted),
            *_moved(free, wanted, kept, plan),
            *_from_others((by_code[code] for code in matched.values()), plan),
        ),
    )


def _refuse_taken(wanted: Sequence[Wanted], by_code: dict[str, Printed], plan: str) -> None:
    """A code of the grower's own may be printed again for its batch, never for another.

    It is another when the batch it was printed for still stands elsewhere in the plan, or when crop or variety differ;
    a variety of the same lot, crop and day is the same under a mended name.
    """
    still_there = {one.identity: one.line for one in wanted if not one.own_code}
    problems = []
    for one in wanted:
        before = by_code.get(one.own_code or "")
        if before is None or before.identity == one.identity:
            continue
        identity = before.identity
        owner = (
            f"the batch code '{before.code}' was printed for {identity.crop} '{identity.variety}' sown {identity.sow}"
        )
        renamed = identity.same_packet is not None and identity.same_packet == one.identity.same_packet
        if identity.plant != one.identity.plant and not renamed:
            text = f"{owner}; a printed code is never used for another batch, so give a new one"
            problems.append(Problem(text, plan, one.line))
        elif identity in still_there:
            text = f"{owner}, which the plan still has in line {still_there[identity]}; give a new one"
            problems.append(Problem(text, plan, one.line))
    if problems:
        raise PlanError(problems)


def _matches(free: Iterable[Printed], wanted: dict[int, Wanted], plan: str) -> dict[int, str]:
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
    doubtful = {batch.identity.same_day for batch in standing}
    gone = [batch for batch in gone if batch.identity.same_day not in doubtful]
    return found | _pairs(wanted, gone, lambda identity: identity, only_pairs=False)


Key = Callable[[Identity], object]

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


def _moved(free: Iterable[Printed], wanted: Sequence[Wanted], kept: dict[int, str], plan: str) -> Iterator[Notice]:
    """A word on every batch that gets a new code while the book holds one that it may be, no longer in the plan so."""
    used = set(kept.values())
    gone: defaultdict[object, list[Printed]] = defaultdict(list)
    for batch in free:
        if batch.in_plan and batch.plan == plan and batch.code not in used:
            gone[batch.identity.plant].append(batch)
            if batch.identity.same_packet:
                gone[batch.identity.same_packet].append(batch)
    for at, one in enumerate(wanted):
        before = gone.get(one.identity.plant) or gone.get(one.identity.same_packet)
        if at not in kept and before:
            yield Notice(_new_code(one, before), one.line, passing=True)


def _new_code(one: Wanted, before: Sequence[Printed]) -> str:
    same_name = before[0].identity.plant == one.identity.plant
    held = ", ".join(
        f"{batch.code} sown {batch.identity.sow}" if same_name else f"{batch.code} '{batch.identity.variety}'"
        for batch in before
    )
    of = "of the same variety" if same_name else "of the same lot and day"
    text = f"this batch gets a new code; the book holds {held}, {of}, which the plan no longer has"
    return text + ("" if one.repeated else _how_to_keep(before))


def _how_to_keep(before: Sequence[Printed]) -> str:
    if len(before) > 1:
        return "; if it is one of them, write its code as batch"
    return f'; if it is the same batch, write batch = "{before[0].code}"'


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
