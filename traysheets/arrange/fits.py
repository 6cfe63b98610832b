"""Quick ways to fill gaps with rests. Each is good at something; `share` tries them and takes the best.

The decreasing and snug ways are common ones for bin packing: best fit decreasing, and minimum bin slack (Gupta and Ho,
1999; from memory).
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from heapq import heapify, heappop, heappush

from traysheets.arrange.sharing import Filling, Task, highest_bit

WINDOW = 48
"""How many rests are weighed against each other for one gap."""

PROBES = 20_000
"""How many rests, over all tries, are packed snugly in search of the fewest cuts."""


def next_fit(task: Task) -> Filling | None:
    """In plan order, never cut and never going back to an earlier gap; None when the gaps do not do."""
    filling, gap, used = task.empty(), 0, 0
    for rest, size in enumerate(task.rests):
        while gap < len(task.gaps) and used + size > task.gaps[gap]:
            gap, used = gap + 1, 0
        if gap == len(task.gaps):
            return None
        filling[gap][rest] = size
        used += size
    return filling


def first_fit(task: Task) -> Filling | None:
    """In plan order, never cut, each into the first gap with room; None when the gaps do not do.

    Gaps only get smaller, so for rests of one size the search goes on where it last ended.
    """
    filling, left = task.empty(), list(task.gaps)
    start: dict[int, int] = {}
    for rest, size in enumerate(task.rests):
        gap = start.get(size, 0)
        while gap < len(left) and left[gap] < size:
            gap += 1
        if gap == len(left):
            return None
        start[size] = gap
        filling[gap][rest] = size
        left[gap] -= size
    return filling


def pour(task: Task) -> Filling:
    """In plan order, each gap filled to its last cell before the next is begun."""
    filling = task.empty()
    pour_into(filling, list(task.gaps), [(rest, size) for rest, size in enumerate(task.rests)], range(len(task.gaps)))
    return filling


def pour_into(filling: Filling, left: list[int], rests: Sequence[tuple[int, int]], gaps: Sequence[int]) -> None:
    """Pour rests (which, cells) through the gaps, both in the order given. Changes `filling` and `left`."""
    waiting = iter(gaps)
    gap = -1
    for rest, cells in rests:
        while cells:
            while gap < 0 or not left[gap]:
                gap = next(waiting)
            take = min(cells, left[gap])
            filling[gap][rest] = filling[gap].get(rest, 0) + take
            left[gap] -= take
            cells -= take


def cut_fewest(task: Task, at_least: int) -> Iterator[Filling]:
    """Fillings that cut the largest rests, as few as are found to do, `at_least` or more, and keep the others whole.

    A larger rest cut instead of a smaller one never needs more room, so it is always the largest that are cut.
    """
    order = task.largest_first()
    probes = max(2, PROBES // max(1, len(order)))
    fewest = _fewest(lambda cuts: best_fit(task, order[cuts:]) is not None, at_least, len(order), len(order))
    fewest = _fewest(lambda cuts: snug_fit(task, order[cuts:]) is not None, at_least, fewest, probes)
    for way in (best_fit, snug_fit):
        if (filling := way(task, order[fewest:])) is not None:
            cut(task, filling, order[:fewest])
            yield filling


def _fewest(enough: Callable[[int], bool], low: int, high: int, probes: int) -> int:
    """The least number found to be enough in so many probes, the first of them at `low`; `high` is known to be."""
    middle = low
    while low < high and probes:
        low, high = (low, middle) if enough(middle) else (middle + 1, high)
        middle, probes = (low + high) // 2, probes - 1
    return high


def cut(task: Task, filling: Filling, rests: Sequence[int], gaps: Sequence[int] | None = None) -> None:
    """Put the rests into what is left of the gaps (all, or those named), in few pieces. Changes `filling`.

    A rest that fills two gaps to the last cell leaves no gap half used; the others are poured, the largest gaps first.
    """
    left = [gap - sum(taken.values()) for gap, taken in zip(task.gaps, filling, strict=True)]
    open_gaps = [gap for gap in (range(len(left)) if gaps is None else gaps) if left[gap]]
    by_left: dict[int, list[int]] = {}
    for gap in reversed(open_gaps):
        by_left.setdefault(left[gap], []).append(gap)
    poured: list[tuple[int, int]] = []
    for rest in rests:
        size = task.rests[rest]
        pair = _exact_gaps(by_left, size)
        if pair:
            pour_into(filling, left, [(rest, size)], pair)
        else:
            poured.append((rest, size))
    pour_into(filling, left, poured, sorted((gap for gap in open_gaps if left[gap]), key=lambda gap: -left[gap]))


def _exact_gaps(by_left: dict[int, list[int]], size: int) -> list[int]:
    """One or two gaps that `size` cells fill exactly, taken out of `by_left`; none where there are no such gaps."""
    for first in [size, *sorted(by_left)]:
        second = size - first
        if not by_left.get(first) or second < 0 or (second and not by_left.get(second)):
            continue
        if first == second and len(by_left[first]) < 2:
            continue
        return [by_left[part].pop() for part in (first, second) if part]
    return []


def best_fit(task: Task, rests: Sequence[int]) -> Filling | None:
    """Each rest, in the order given, whole into the gap it leaves least of; None when one fits nowhere."""
    filling = task.empty()
    by_left: dict[int, list[int]] = {}
    for gap, cells in enumerate(task.gaps):
        by_left.setdefault(cells, []).append(gap)
    lefts = 0
    for cells, gaps in by_left.items():
        heapify(gaps)
        lefts |= 1 << cells
    for rest in rests:
        size = task.rests[rest]
        fitting = lefts >> size
        if not fitting:
            return None
        left = size + highest_bit(fitting & -fitting)
        gap = heappop(by_left[left])
        if not by_left[left]:
            lefts ^= 1 << left
        heappush(by_left.setdefault(left - size, []), gap)
        lefts |= 1 << (left - size)
        filling[gap][rest] = size
    return filling


class Pool:
    """Rests not placed yet, by size; those alike are taken in plan order."""

    def __init__(self, task: Task, rests: Iterable[int]) -> None:
        self.by_size: dict[int, list[int]] = {}
        for rest in sorted(rests, reverse=True):
            self.by_size.setdefault(task.rests[rest], []).append(rest)
        self.sizes = sorted(self.by_size)

    def window(self, cells: int) -> list[int]:
        """Sizes, the largest first, to be weighed for so many cells: of each no more than could fit or are there."""
        window: list[int] = []
        for place in reversed(range(bisect_right(self.sizes, cells))):
            size = self.sizes[place]
            window += [size] * min(cells // size, len(self.by_size[size]))
            if len(window) >= WINDOW:
                break
        return window[:WINDOW]

    def take(self, size: int) -> int:
        """Take out a rest of that size."""
        rest = self.by_size[size].pop()
        if not self.by_size[size]:
            del self.by_size[size]
            self.sizes.remove(size)
        return rest

    def take_snug(self, cells: int, exactly: bool = False) -> list[int]:
        """Take out the largest rest that fits and those that fill the cells best with it; `exactly`: wholly or none.

        Of rests that fill alike, large ones are taken, since small ones are easier to place later.
        """
        largest, *others = self.window(cells) or [0]
        if not largest:
            return []
        reached = [1]
        for size in reversed(others):
            reached.append(reached[-1] | reached[-1] << size)
        wanted = highest_bit(reached[-1] & ((2 << (cells - largest)) - 1))
        if exactly and wanted != cells - largest:
            return []
        taken = [largest]
        for size, before in zip(others, reversed(reached[:-1]), strict=True):
            if wanted >= size and before >> (wanted - size) & 1:
                taken.append(size)
                wanted -= size
        return [self.take(size) for size in taken]

    def set_aside(self) -> list[int]:
        """Take out all rests of the largest size."""
        return self.by_size.pop(self.sizes.pop())


def snug_fit(task: Task, rests: Sequence[int]) -> Filling | None:
    """Gap after gap, the largest rest that fits and with it those that leave least of the gap.

    None when some rests are left over.
    """
    filling, pool = task.empty(), Pool(task, rests)
    for gap in sorted(range(len(task.gaps)), key=lambda gap: task.gaps[gap]):
        for rest in pool.take_snug(task.gaps[gap]):
            filling[gap][rest] = task.rests[rest]
    return None if pool.sizes else filling


def fill_exactly(task: Task, enough: int) -> tuple[Filling, list[int], list[int]]:
    """Fill gaps to the last cell with whole rests until `enough` rests and kept gaps, or fewer, are left.

    Gives the filling, and the rests and gaps left. Rests with which no gap is filled are set aside, largest first.
    """
    filling = task.empty()
    rests, gaps = set(range(len(task.rests))), set(range(len(task.gaps)))
    kept = set(range(len(task.kept)))
    for cells in sorted(set(task.gaps)):
        pool = Pool(task, rests)
        alike = [gap for gap in range(len(task.gaps)) if task.gaps[gap] == cells]
        while alike and pool.sizes and len(rests) + len(kept) > enough:
            if taken := pool.take_snug(cells, exactly=True):
                gap = alike.pop(0)
                filling[gap] = {rest: task.rests[rest] for rest in taken}
                rests -= filling[gap].keys()
                gaps.remove(gap)
                kept.discard(gap)
            else:
                pool.set_aside()
    return filling, sorted(rests), sorted(gaps)
