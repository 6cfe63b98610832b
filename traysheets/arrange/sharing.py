"""The sum behind sharing trays: rests of batches, the gaps they are to fill, and what makes one filling better.

Nothing here knows of trays, days or pins, and nothing here searches. A rest is what a batch leaves after its whole
trays; a gap is room in one tray, or one stretch of free cells inside a tray. Both go by their position in the task.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Filling = list[dict[int, int]]
"""For each gap, the cells that each rest takes in it."""


@dataclass(frozen=True, slots=True)
class Task:
    """Rests, in plan order, to be put into gaps. The last `fresh` gaps are empty trays, all alike; no rest is larger.

    The gaps together hold the rests, and with one empty tray less they would not.
    """

    rests: tuple[int, ...]
    gaps: tuple[int, ...]
    fresh: int = 0

    @property
    def kept(self) -> tuple[int, ...]:
        """The gaps that are no empty trays."""
        return self.gaps[: len(self.gaps) - self.fresh]

    @property
    def fresh_cells(self) -> int:
        """Cells of an empty tray; 1 where there is none to be had."""
        return self.gaps[-1] if self.fresh else 1

    def empty(self) -> Filling:
        """The filling with nothing in it."""
        return [{} for _ in self.gaps]

    def largest_first(self) -> list[int]:
        """The rests by size, the largest first, those alike in plan order."""
        return sorted(range(len(self.rests)), key=lambda rest: -self.rests[rest])


Score = tuple[int, int]
"""Rests cut over more than one gap, then pieces in all. Less is better."""


def score(filling: Filling) -> Score:
    """How good a filling is."""
    pieces: dict[int, int] = {}
    for gap in filling:
        for rest in gap:
            pieces[rest] = pieces.get(rest, 0) + 1
    return sum(count > 1 for count in pieces.values()), sum(pieces.values())


def bound(task: Task) -> Score:
    """A score that no filling can beat: so many rests are cut at least, each of them in two pieces."""
    cut = max(_too_many_large(task), _too_much_whole(task))
    return cut, len(task.rests) + cut


def _too_many_large(task: Task) -> int:
    """Of the rests of t cells or more, each gap holds no more than gap // t whole; taken at the worst t."""
    worst = 0
    sizes = sorted(task.rests)
    counts = _counted(task.gaps)
    for place, size in enumerate(sizes):
        if place and size == sizes[place - 1]:
            continue
        whole = sum(gap // size * count for gap, count in counts.items())
        worst = max(worst, len(sizes) - place - whole)
    return worst


def _too_much_whole(task: Task) -> int:
    """Whole rests fill a gap no further than some sum of rests reaches; what they cannot fill is left to cut ones."""
    sums = sums_within(task.rests, max(task.gaps, default=0))
    room = sum(highest_bit(sums & ((2 << gap) - 1)) * count for gap, count in _counted(task.gaps).items())
    cut = len(task.rests)
    for size in sorted(task.rests):
        room -= size
        if room < 0:
            break
        cut -= 1
    return cut


def _counted(numbers: Iterable[int]) -> dict[int, int]:
    counts: dict[int, int] = {}
    for number in numbers:
        counts[number] = counts.get(number, 0) + 1
    return counts


def sums_within(sizes: Sequence[int], most: int) -> int:
    """Every sum up to `most` that some of the sizes give, as the bits of a number: bit s is set when s is a sum."""
    sums, mask = 1, (2 << most) - 1
    for size, count in sorted(_counted(sizes).items()):
        for _ in range(min(count, most // size)):
            sums |= sums << size & mask
    return sums


def highest_bit(bits: int) -> int:
    """Position of the highest bit set."""
    return bits.bit_length() - 1
