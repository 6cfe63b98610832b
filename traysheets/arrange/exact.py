"""The best filling there is, for a few rests and gaps: fewest rests cut, then fewest pieces. Nothing here is guessed.

A filling falls into closed groups: rests and gaps tied together by cut rests. A group of g gaps needs g - 1 cuts at
most, so fewest pieces means most groups. Inside a group it is enough that all but its k largest rests go whole into
its gaps: the k others are poured over what is left, and a smaller rest never needs more room than a larger one. So:
for every set of rests and gaps its least k, and then the best way to part the whole into such sets, by dynamic
programming over sets.

A set is a number whose bits are the rests, the smallest first, and above them the gaps that are no empty trays. How
many empty trays a set takes follows from its sum: fewer would not hold it, and the task has none to waste.
"""

from functools import cached_property

from traysheets.arrange.fits import cut
from traysheets.arrange.sharing import Filling, Task

LIMIT = 12
"""Rests and kept gaps, together, up to which the search is made."""

_GAP = 1 << 20
"""A place in a row of gaps is the gap's position times this, and the cells used in it."""

_CUT = 1 << 10
"""What one cut rest weighs against one more piece."""


def steps(task: Task) -> int:
    """Steps the search may take, to be weighed against what may be spent."""
    count = len(task.rests) + len(task.kept)
    return int(3 ** max(0, count - 1) + (count << count))


def solve(task: Task) -> Filling:
    """A filling that none can beat. Meant for tasks within `LIMIT`."""
    return _Search(task).filling()


class _Search:
    """Tables over every set of rests and kept gaps of one task."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.order = task.largest_first()[::-1]
        self.sizes = [task.rests[rest] for rest in self.order]
        self.count = len(self.sizes)
        self.rests_mask = (1 << self.count) - 1
        self.packed: dict[int, list[int]] = {}
        self.parted: dict[int, tuple[int, int]] = {}

    @cached_property
    def fresh(self) -> list[int]:
        """For every set the empty trays it takes beside its own gaps."""
        need = [0]
        for size in self.sizes:
            need += [cells + size for cells in need]
        for gap in self.task.kept:
            need += [cells - gap for cells in need]
        return [max(0, -(-cells // self.task.fresh_cells)) for cells in need]

    def gaps(self, group: int) -> list[int]:
        """Positions of the kept gaps in a set."""
        kept = group >> self.count
        return [gap for gap in range(len(self.task.kept)) if kept >> gap & 1]

    def pack(self, group: int) -> list[int]:
        """For every set of rests the furthest place it takes when packed whole into the set's gaps, then empty trays.

        The gaps stand in a row and are begun one after another. Whatever order the rests come in, a
        smaller place is never worse, so the least over which rest comes last is the least of all orders.
        """
        kept = group >> self.count
        if kept not in self.packed:
            row = [self.task.gaps[gap] for gap in self.gaps(group)] + [self.task.fresh_cells] * self.task.fresh
            places = [0] * (self.rests_mask + 1)
            for rests in range(1, self.rests_mask + 1):
                places[rests] = min(
                    _placed(row, places[rests ^ 1 << rest], size)
                    for rest, size in enumerate(self.sizes)
                    if rests >> rest & 1
                )
            self.packed[kept] = places
        return self.packed[kept]

    def whole(self, group: int) -> int:
        """The rests of a set that need not be cut in its own gaps and empty trays: all but the largest few."""
        places, most = self.pack(group), self.gap_count(group) * _GAP
        rests = group & self.rests_mask
        while places[rests] >= most and rests:
            rests ^= 1 << (rests.bit_length() - 1)
        return rests

    def gap_count(self, group: int) -> int:
        """Gaps of a set, its empty trays counted."""
        return (group >> self.count).bit_count() + self.fresh[group]

    def cost(self, group: int) -> int:
        """What a set costs as one closed group: its cut rests before its pieces."""
        cut_rests = (group & self.rests_mask & ~self.whole(group)).bit_count()
        return cut_rests * _CUT + self.gap_count(group) - 1

    def part(self, whole: int) -> tuple[int, int]:
        """The least cost of a set and the closed group, holding its largest rest, to begin with."""
        if not whole & self.rests_mask:
            return 0, whole
        if whole not in self.parted:
            largest = 1 << ((whole & self.rests_mask).bit_length() - 1)
            others = rest = whole ^ largest
            best = (self.cost(whole), whole)
            while rest:
                group = whole ^ rest
                if self.fresh[group] + self.fresh[rest] == self.fresh[whole] and (cost := self.cost(group)) < best[0]:
                    best = min(best, (cost + self.part(rest)[0], group))
                rest = (rest - 1) & others
            self.parted[whole] = best
        return self.parted[whole]

    def filling(self) -> Filling:
        """The best filling of the whole task."""
        filling = self.task.empty()
        fresh = len(self.task.kept)
        left = len(self.fresh) - 1
        while left & self.rests_mask:
            group = self.part(left)[1]
            gaps = self.gaps(group) + list(range(fresh, fresh + self.fresh[group]))
            fresh += self.fresh[group]
            self.fill(filling, group, gaps)
            left ^= group
        return filling

    def fill(self, filling: Filling, group: int, gaps: list[int]) -> None:
        """Put one closed group into its gaps: the whole rests as the table tells, then the cut ones."""
        places, rests = self.pack(group), self.whole(group)
        row = [self.task.gaps[gap] for gap in gaps]
        while rests:
            last = next(
                rest
                for rest, size in enumerate(self.sizes)
                if rests >> rest & 1 and _placed(row, places[rests ^ 1 << rest], size) == places[rests]
            )
            filling[gaps[places[rests] // _GAP]][self.order[last]] = self.sizes[last]
            rests ^= 1 << last
        to_cut = group & self.rests_mask & ~self.whole(group)
        cut(self.task, filling, [self.order[rest] for rest in reversed(range(self.count)) if to_cut >> rest & 1], gaps)


def _placed(row: list[int], place: int, size: int) -> int:
    """The place after one more rest, in the gap begun or the next with room; past the row when there is none."""
    gap, used = divmod(place, _GAP)
    while gap < len(row):
        if used + size <= row[gap]:
            return gap * _GAP + used + size
        gap, used = gap + 1, 0
    return len(row) * _GAP
