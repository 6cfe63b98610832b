"""Rows that set the tools side by side: the same sheets, drawn by each, at one size."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from bench import Bench
from lines import Line, line, said_bytes, said_ratio
from measure import Figures, Measured, NotMeasuredError, alternately
from tools import OURS, TOOLS, Tool


@dataclass(frozen=True)
class Drawn:
    """Sheets of one kind: `number` batches with `each` sticks, or `number` trays with `each` batches.

    `least` is the least size of run at which it is drawn; `what` names the job, `reach` what ours is to reach.
    """

    what: str
    kind: str
    number: int
    each: int
    sizes: tuple[str, ...] = ("full",)
    reach: str = ""

    @property
    def count(self) -> int:
        """How many sticks, or pages, there are."""
        return self.number * self.each if self.kind == "sticks" else self.number

    def lines(self, bench: Bench) -> Iterator[Line]:
        """A line a tool; the ratio is of its time to ours."""
        if bench.size not in self.sizes:
            return
        at_hand = [tool for tool in TOOLS if tool.version() is not None]
        cases = [partial(self._run, bench, tool) for tool in at_hand]
        found = dict(zip((tool.name for tool in at_hand), alternately(cases, bench.rounds), strict=True))
        first = found[OURS.name]
        for tool in TOOLS:
            what = self.what if tool is OURS else ""
            if tool.name not in found:
                yield Line(what, tool.name, beside=f"not at hand: {tool.get}")
            else:
                yield self._line(what, tool, found[tool.name], first)

    def _run(self, bench: Bench, tool: Tool) -> Figures:
        ready = bench.ready(self.kind, self.number, self.each)
        return bench.drawn(partial(tool.start, self.kind, ready), tree=tool.tree, check=ready)

    def _line(self, what: str, tool: Tool, figures: Measured, first: Measured) -> Line:
        if isinstance(figures, NotMeasuredError):
            return Line(what, tool.name, str(figures))
        ratio = "" if tool is OURS else said_ratio(figures, first)
        coding = f"{figures.told['coding']:.2f} s of it coding" if "coding" in figures.told else ""
        wrong = f"DIFFERS: {figures.told['wrong']}" if figures.told["wrong"] else ""
        size = said_bytes(figures.told["bytes"] / self.count, "stick" if self.kind == "sticks" else "page")
        beside = "; ".join(part for part in (ratio, coding, wrong) if part)
        return line(what, tool.name, figures, size, beside, self.reach if tool is OURS else "")
