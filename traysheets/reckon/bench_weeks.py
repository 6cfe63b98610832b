"""Benches by week: what stands where from the first sowing to the last planting out, against what the benches hold.

A tray whose place is the name of a bench stands on that bench. All others stand on the benches that no tray names,
filled in the plan's order; where there is none, they stand somewhere the plan says nothing of and are not counted.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from traysheets.base.days import iso_week, week_monday
from traysheets.base.notices import Notice
from traysheets.plan.model import Bench
from traysheets.reckon.bench import area_m2, holds
from traysheets.reckon.model import Batch
from traysheets.reckon.rounding import down
from traysheets.trade.trays import Tray

# How long trays are taken to stand whose crop no table gives the weeks of (judgement, no source).
UNKNOWN_STAY = timedelta(weeks=6)


@dataclass(frozen=True, slots=True)
class Standing:
    """A tray of the plan as a bench sees it: its kind, and the first and last day it stands at a place."""

    kind: Tray
    first: date
    last: date
    place: str = ""


@dataclass(frozen=True, slots=True)
class BenchUse:
    """What stands on one bench. `holds` counts trays of `kind`, the kind that most of its trays are.

    `trays` stand there and `over` of them have no room, week by week. `filled` is the share of the bench that they
    take, above 1 where some have no room, and `filled_over` the part of it that those take; kinds may stand `mixed`.
    `peak_week` is the Monday of the fullest week.
    """

    bench: Bench
    kind: Tray | None
    holds: int
    trays: tuple[int, ...]
    over: tuple[int, ...]
    peak_trays: int
    peak_week: date | None
    filled: tuple[float, ...] = ()
    filled_over: tuple[float, ...] = ()
    mixed: bool = False

    @property
    def peak_filled(self) -> float:
        """The share of the bench that is taken in its fullest week."""
        return max(self.filled, default=0.0)


@dataclass(frozen=True, slots=True)
class BenchWeeks:
    """Weeks of the plan by their Mondays, all trays that stand in each, and each bench.

    `peak_m2` is the most that trays take at once.
    """

    mondays: tuple[date, ...]
    trays: tuple[int, ...]
    benches: tuple[BenchUse, ...]
    peak_m2: float = 0.0

    @property
    def peak_trays(self) -> int:
        """Trays standing in the fullest week."""
        return max(self.trays, default=0)

    @property
    def peak_week(self) -> date | None:
        """Monday of the first week in which most trays stand; None for a plan without trays."""
        return self.mondays[self.trays.index(self.peak_trays)] if self.mondays else None


def standing(kind: Tray, sow: date, batches: Iterable[Batch], place: str = "") -> Standing:
    """How long a tray with these batches stands: from its sowing day to the last planting-out day of them all."""
    return Standing(
        kind, sow, max((batch.plant_out_last or sow + UNKNOWN_STAY for batch in batches), default=sow), place
    )


def _weeks(standings: Sequence[Standing]) -> list[date]:
    """Mondays of all weeks from the first tray's to the last one's."""
    if not standings:
        return []
    monday = week_monday(min(one.first for one in standings))
    last = max(one.last for one in standings)
    return [monday + timedelta(weeks=week) for week in range((last - monday).days // 7 + 1)]


def _kinds_by_week(standings: Iterable[Standing], mondays: Sequence[date]) -> list[Counter[Tray]]:
    """How many trays of each kind stand in each week; a tray stands in the week of its last day too."""
    weeks: list[Counter[Tray]] = [Counter() for _ in mondays]
    for one in standings:
        first = (one.first - mondays[0]).days // 7
        last = (one.last - mondays[0]).days // 7
        for week in range(first, max(first, last) + 1):
            weeks[week][one.kind] += 1
    return weeks


@dataclass(frozen=True, slots=True)
class _Week:
    """One bench in one week: its trays, those of them without room, and the share of it that each of the two take."""

    trays: int = 0
    over: int = 0
    filled: float = 0.0
    filled_over: float = 0.0


def _spread(kinds: Counter[Tray], benches: Sequence[Bench]) -> list[_Week]:
    """The trays of one week on each bench.

    A tray takes 1 / (trays of its kind that the bench holds) of a bench, so kinds may stand mixed; one that is larger
    than the bench takes all of it. The largest kinds find their places first. What finds no room is laid on the last
    bench, over.
    """
    room = [1.0] * len(benches)
    laid = [0] * len(benches)
    homeless, homeless_part = 0, 0.0
    for kind in sorted(kinds, key=lambda kind: (-area_m2(kind), kind.name)):
        left = kinds[kind]
        for at, bench in enumerate(benches):
            whole = holds(bench, kind)
            here = min(left, down(room[at] * whole))
            laid[at], left = laid[at] + here, left - here
            room[at] -= here / whole if whole else 0
        homeless, homeless_part = homeless + left, homeless_part + left / max(holds(benches[-1], kind), 1)
    weeks = [_Week(trays, 0, _share(1 - free)) for trays, free in zip(laid, room, strict=True)]
    last = weeks.pop()
    filled = _share(1 - room[-1] + homeless_part)
    return [*weeks, _Week(last.trays + homeless, homeless, filled, _share(homeless_part))]


def _share(part: float) -> float:
    """A share without the last bits, which depend on the order of the sum."""
    return round(part, 9)


def _groups(standings: Iterable[Standing], benches: Sequence[Bench]) -> list[tuple[list[Bench], list[Standing]]]:
    """Benches that share the same trays, with those trays: each named place, then all the rest."""
    names = {bench.name.casefold() for bench in benches}
    by_place: dict[str, list[Standing]] = {}
    for one in standings:
        place = one.place.casefold()
        by_place.setdefault(place if place in names else "", []).append(one)
    by_bench: dict[str, list[Bench]] = {}
    for bench in benches:
        name = bench.name.casefold()
        by_bench.setdefault(name if name in by_place else "", []).append(bench)
    return [(group, by_place.get(place, [])) for place, group in by_bench.items()]


def _use(bench: Bench, kind: Tray | None, mixed: bool, weeks: Sequence[_Week], mondays: Sequence[date]) -> BenchUse:
    """One bench over the weeks: its peak is the week that fills it most, of the same the first with most trays."""
    peak = max(range(len(weeks)), key=lambda week: (weeks[week].filled, weeks[week].trays, -week), default=None)
    peak_trays = 0 if peak is None else weeks[peak].trays
    return BenchUse(
        bench=bench,
        kind=kind,
        holds=holds(bench, kind) if kind else 0,
        trays=tuple(week.trays for week in weeks),
        over=tuple(week.over for week in weeks),
        peak_trays=peak_trays,
        peak_week=mondays[peak] if peak is not None and peak_trays else None,
        filled=tuple(week.filled for week in weeks),
        filled_over=tuple(week.filled_over for week in weeks),
        mixed=mixed,
    )


def _main_kind(standings: Iterable[Standing]) -> Tray | None:
    """The kind that most trays are; of two, the larger."""
    counts = Counter(one.kind for one in standings)
    return max(counts, key=lambda kind: (counts[kind], area_m2(kind), kind.name), default=None)


def bench_weeks(standings: Sequence[Standing], benches: Sequence[Bench]) -> BenchWeeks:
    """What stands on each bench in each week from the first sowing to the last planting out."""
    mondays = _weeks(standings)
    uses: dict[Bench, BenchUse] = {}
    for group, trays in _groups(standings, benches):
        kind = _main_kind(trays) or _main_kind(standings)
        mixed = len({one.kind for one in trays}) > 1
        spread = [_spread(kinds, group) for kinds in _kinds_by_week(trays, mondays)]
        for at, bench in enumerate(group):
            uses[bench] = _use(bench, kind, mixed, [week[at] for week in spread], mondays)
    everything = _kinds_by_week(standings, mondays)
    return BenchWeeks(
        tuple(mondays),
        tuple(kinds.total() for kinds in everything),
        tuple(uses[bench] for bench in benches),
        max((sum(area_m2(kind) * number for kind, number in kinds.items()) for kinds in everything), default=0.0),
    )


def bench_notices(weeks: BenchWeeks) -> tuple[Notice, ...]:
    """A notice for each bench that does not hold what stands there in some week, or holds no tray at all."""
    return tuple(notice for use in weeks.benches for notice in (_too_small(use) or _too_full(use, weeks)))


def _too_small(use: BenchUse) -> list[Notice]:
    if use.kind is None or use.holds:
        return []
    bench, (long, wide) = use.bench, use.kind.outer_mm
    size = f"{bench.length_mm:g} x {bench.depth_mm:g} mm"
    text = f"the bench '{bench.name}' ({size}) is too small for a {use.kind.name} tray ({long:g} x {wide:g} mm)"
    return [Notice(text, bench.line, file=bench.file)]


def _too_full(use: BenchUse, weeks: BenchWeeks) -> list[Notice]:
    full = [iso_week(monday) for monday, over in zip(weeks.mondays, use.over, strict=True) if over]
    if not full or use.peak_week is None or use.kind is None:
        return []
    span = f"in week {full[0]}" if len(full) == 1 else f"in {len(full)} weeks, {full[0]} to {full[-1]}"
    homeless = use.over[weeks.mondays.index(use.peak_week)]
    text = (
        f"the bench '{use.bench.name}' is too full {span}: of {use.peak_trays} trays in {iso_week(use.peak_week)}"
        f" it has no room for {homeless} ({_capacity(use.holds, use.kind.name, use.mixed)})"
    )
    return [Notice(text, use.bench.line, file=use.bench.file)]


def _capacity(trays: int, kind: str, mixed: bool) -> str:
    """What a bench holds; where kinds are mixed, trays of the main one are a measure, not what stands there."""
    return f"kinds are mixed there; of {kind} alone it holds {trays}" if mixed else f"it holds {trays} trays of {kind}"
