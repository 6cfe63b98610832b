"""Rows of whole commands, as a user waits for them, side by side: each a fresh process, with its ratio to the last."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from bench import Bench
from lines import Line, line, said_ratio
from measure import Figures, NotMeasuredError, alternately

Command = Callable[[Path, Path], list[str]]
"""Makes a command from the folder of the job and a folder for what it writes."""


@dataclass(frozen=True)
class Job:
    """What must lie ready (`ready.py`): its kind, and its number and how many each in a tiny, quick and full run."""

    kind: str
    numbers: tuple[int, int, int]
    each: int


@dataclass(frozen=True)
class Commands:
    """Commands on one job, by what they are called; the ratio is to the last of them. `what` may use {number}."""

    what: str
    job: Job
    commands: tuple[tuple[str, Command], ...]
    reach: str = ""

    def lines(self, bench: Bench) -> Iterator[Line]:
        """A line a command."""
        number = bench.pick(*self.job.numbers)
        found = alternately([partial(self._run, bench, number, command) for _, command in self.commands], bench.rounds)
        last = found[-1]
        for place, ((by, _), figures) in enumerate(zip(self.commands, found, strict=True)):
            what = self.what.format(number=f"{number:,}", entries=f"{number * self.job.each:,}") if not place else ""
            if isinstance(figures, NotMeasuredError):
                yield Line(what, by, str(figures))
            else:
                ratio = "" if figures is last else said_ratio(figures, last)
                yield line(what, by, figures, beside=ratio, reach="" if place else self.reach)

    def _run(self, bench: Bench, number: int, command: Command) -> Figures:
        ready = bench.ready(self.job.kind, number, self.job.each)
        return bench.drawn(partial(command, ready), tree=True)
