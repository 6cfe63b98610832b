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

    The two largest are drawn again with each of the `ways`, options of `make`. A smaller run draws fewer sizes.
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
        """A line a size and way of drawing."""
        numbers = self.numbers[: bench.pick(1, 2, len(self.numbers))]
        before: list[tuple[int, Measured]] = []
        for number in numbers:
            ways = ((), *self.ways) if number in numbers[-2:] else ((),)
            found = alternately([partial(self._run, bench, number, way) for way in ways], bench.rounds)
            for way, figures in zip(ways, found, strict=True):
                yield self._line(number, way, figures, before)
            before.append((number, found[0]))

    def _run(self, bench: Bench, number: int, way: tuple[str, ...]) -> Figures:
        ready = bench.ready(self.kind, number, self.each)
        return bench.drawn(lambda out: ours(self.kind, ready, out, *way))

    def _line(self, number: int, way: tuple[str, ...], figures: Measured, before: list[tuple[int, Measured]]) -> Line:
        count, thing = self._count(number), "stick" if self.kind == "sticks" else "page"
        what, by = f"{count:,} {self.kind}", " ".join(("make", *way))
        if isinstance(figures, NotMeasuredError):
            return Line(what, by, str(figures))
        files = f" in {figures.told['files']} files" if figures.told["files"] > 1 else ""
        size = said_bytes(figures.told["bytes"] / count, thing) + files
        reach = self.reach if number == self.numbers[-1] and not way else ""
        return line(what, by, figures, size, self._beside(number, figures, before), reach)

    def _beside(self, number: int, figures: Figures, before: list[tuple[int, Measured]]) -> str:
        """What one stick or page took of the processors, as a ratio to the smallest job and to the next smaller."""
        each = figures.cpu_seconds / number
        others = [it.cpu_seconds / of for of, it in (*before[:1], *before[-1:]) if isinstance(it, Figures)]
        ratios = " and ".join(f"{each / other:.2f} x" for other in dict.fromkeys(others))
        said = f"CPU {figures.cpu_seconds / self._count(number) * 1000:.2f} ms each"
        return f"{said}, {ratios}" if ratios else said

    def _count(self, number: int) -> int:
        return number * self.each if self.kind == "sticks" else number
