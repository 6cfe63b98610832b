"""Rows of what is measured inside a process (`cases.py`): a stage alone, without the start of Python around it."""

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from bench import Bench
from lines import Line, line
from measure import HERE, Figures, NotMeasuredError, alternately, once


@dataclass(frozen=True)
class Inside:
    """One line: the case that it is about, those it is compared with, and what to say of them all.

    `say` gives the size of one thing, and the ratio. A `heavy` row is left out of smaller runs.
    """

    what: str
    cases: tuple[str, ...]
    say: Callable[..., tuple[str, str]]
    reach: str = ""
    heavy: bool = False

    def lines(self, bench: Bench) -> Iterator[Line]:
        """The line."""
        if bench.size == "tiny" or (self.heavy and bench.size != "full"):
            return
        found = alternately([partial(_run, bench, case) for case in self.cases], bench.rounds)
        measured = [figures for figures in found if isinstance(figures, Figures)]
        if len(measured) < len(found):
            yield from (Line(self.what, "inside", str(it)) for it in found if isinstance(it, NotMeasuredError))
            return
        size, beside = self.say(*(figures.told | {"seconds": figures.seconds} for figures in measured))
        yield line(self.what, "inside", measured[0], size, beside, self.reach)


def _run(bench: Bench, case: str) -> Figures:
    """A case in a process of its own; its seconds are those it measured itself."""
    figures = once([sys.executable, str(HERE / "cases.py"), case], bench.limit_s)
    return replace(figures, seconds=figures.told["seconds"], cpu_seconds=figures.told["cpu_seconds"])
