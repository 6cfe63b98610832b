"""Rows that show how cost grows: the same kind of sheets at one size after the other, by our own command alone."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from bench import Bench
from lines import Line, line, said_bytes
from measure import Figures, Measured, NotMeasuredError, alternately
from tools import ours


@dataclass(frozen=True)
class Grown:
    """One kind of sheets at several sizes, `numbers` of batches with `each` sticks or of trays with `each` batches.

    The largest is drawn again with each of the `ways`, options of `make`. Fewer sizes are drawn in a smaller run.
    """

    kind: str
    numbers: tuple[int, ...]
    each: int
    ways: tuple[tuple[str, ...], ...] = ()
    reach: str = ""

    @property
    def what(self) -> str:
        """What it is about."""
        return f"growing {self.kind}"

    def lines(self, bench: Bench) -> Iterator[Line]:
        """A line a size: what one stick or page took, as a ratio to the first."""
        numbers = self.numbers[: bench.pick(1, 2, len(self.numbers))]
        first: Measured | None = None
        for number in numbers:
            ways = ((), *self.ways) if number == numbers[-1] else ((),)
            found = alternately([partial(self._run, bench, number, way) for way in ways], bench.rounds)
            first = first or found[0]
            for way, figures in zip(ways, found, strict=True):
                yield self._line(number, way, figures, first)

    def _run(self, bench: Bench, number: int, way: tuple[str, ...]) -> Figures:
        ready = bench.ready(self.kind, number, self.each)
        return bench.drawn(lambda out: ours(self.kind, ready, out, *way))

    def _line(self, number: int, way: tuple[str, ...], figures: Measured, first: Measured) -> Line:
        count, thing = self._count(number), "stick" if self.kind == "sticks" else "page"
        what = f"{count:,} {self.kind}"
        by = " ".join(("make", *way))
        if isinstance(figures, NotMeasuredError) or isinstance(first, NotMeasuredError):
            return Line(what, by, str(figures))
        each, first_each = figures.seconds / count, first.seconds / self._count(self.numbers[0])
        beside = f"{each * 1000:.2f} ms a {thing}, {each / first_each:.2f} x of the first"
        files = f" in {figures.told['files']} files" if figures.told["files"] > 1 else ""
        reach = self.reach if number == self.numbers[-1] and not way else ""
        return line(what, by, figures, said_bytes(figures.told["bytes"] / count, thing) + files, beside, reach)

    def _count(self, number: int) -> int:
        return number * self.each if self.kind == "sticks" else number
