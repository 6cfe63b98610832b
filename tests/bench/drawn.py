"""Rows that set the tools side by side: the same sheets, drawn by each, at one size after the other."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from bench import Bench
from lines import Line, line, said_bytes, said_ratio, said_seconds
from measure import Figures, Measured, NotMeasuredError, alternately
from tools import OURS, TOOLS, Tool

TOO_LONG = 1.5
"""A tool that must be expected to take so many times the limit is not tried."""


@dataclass(frozen=True)
class Drawn:
    """Sheets of one kind: `numbers` of batches with `each` sticks, or of trays with `each` batches.

    The first number is to try the bench, the second for a quick run, that and all after it for a full one. `what` may
    use {count} (sticks or maps) and {number}.
    """

    what: str
    kind: str
    numbers: tuple[int, ...]
    each: int

    def lines(self, bench: Bench) -> Iterator[Line]:
        """A line a tool and size; the ratio is of its time to ours."""
        each_took: dict[str, float] = {}
        for number in self._wanted(bench):
            found = self._found(bench, number, {name: each * number for name, each in each_took.items()})
            for tool in TOOLS:
                what = self.what.format(count=f"{self._count(number):,}", number=f"{number:,}") if tool is OURS else ""
                yield self._line(what, number, tool, found[tool.name], found[OURS.name])
            for name, it in found.items():
                least = max(each_took.get(name, 0.0), bench.limit_s / number)
                each_took[name] = it.seconds / number if isinstance(it, Figures) else least

    def _wanted(self, bench: Bench) -> tuple[int, ...]:
        return {"tiny": self.numbers[:1], "quick": self.numbers[1:2], "full": self.numbers[1:]}[bench.size]

    def _found(self, bench: Bench, number: int, expected: dict[str, float]) -> dict[str, Measured]:
        """The figures of every tool, or why there are none, given the seconds to be expected of it."""
        without = {tool.name: _why_not(tool, expected.get(tool.name, 0.0), bench.limit_s) for tool in TOOLS}
        tried = [tool for tool in TOOLS if not without[tool.name]]
        runs = alternately([partial(self._run, bench, number, tool) for tool in tried], bench.rounds)
        found = {tool.name: run for tool, run in zip(tried, runs, strict=True)}
        return found | {name: why for name, why in without.items() if why}

    def _run(self, bench: Bench, number: int, tool: Tool) -> Figures:
        """One run. What a browser's many processes took of the processors is not known to the one that started it."""
        ready = bench.ready(self.kind, number, self.each)
        figures = bench.drawn(partial(tool.start, self.kind, ready), tree=tool.tree, check=ready)
        return replace(figures, cpu_seconds=0.0) if tool.tree else figures

    def _line(self, what: str, number: int, tool: Tool, figures: Measured, first: Measured) -> Line:
        if isinstance(figures, NotMeasuredError):
            return Line(what, tool.name, str(figures))
        ratio = "" if tool is OURS else said_ratio(figures, first)
        coding = f"{said_seconds(figures.told['coding'])} of it coding" if "coding" in figures.told else ""
        wrong = f"DIFFERS: {figures.told['wrong']}" if figures.told["wrong"] else ""
        size = said_bytes(figures.told["bytes"] / self._count(number), "stick" if self.kind == "sticks" else "page")
        return line(what, tool.name, figures, size, "; ".join(part for part in (ratio, coding, wrong) if part))

    def _count(self, number: int) -> int:
        """How many sticks, or pages, there are."""
        return number * self.each if self.kind == "sticks" else number


def _why_not(tool: Tool, expected_s: float, limit_s: float) -> NotMeasuredError | None:
    """Why a tool is not tried at all."""
    if tool.version() is None:
        return NotMeasuredError(f"not at hand: {tool.get}")
    if expected_s > TOO_LONG * limit_s:
        return NotMeasuredError(f"not tried: {said_seconds(expected_s)} to be expected")
    return None
