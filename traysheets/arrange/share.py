"""Chooses how rests share gaps: quick ways first, the exact search where it is small enough, the best score taken.

Ways that keep plan order come first, so that of layouts as good as each other the grower gets one in plan order.
"""

from collections.abc import Collection, Iterator

from traysheets.arrange import exact, fits
from traysheets.arrange.sharing import Filling, Task, bound, score

STEPS = 1_500_000
"""Steps of exact search that one plan may take: some tenths of a second. Plans of usual size come nowhere near."""


class Sharer:
    """Shares gaps for one plan. Keeps what it has found, since groups of a plan often repeat; counts the steps left."""

    def __init__(self, steps: int = STEPS) -> None:
        self._steps = steps
        self._found: dict[Task, Filling] = {}

    def share(self, task: Task) -> Filling:
        """The best filling found; one that none can beat when the task is within `exact.LIMIT` and steps are left."""
        if task not in self._found:
            self._found[task] = self._best(task)
        return self._found[task]

    def _best(self, task: Task) -> Filling:
        least = bound(task)
        ways = self._ways(task, least[0])
        best = next(ways)
        while score(best) > least and (filling := next(ways, None)) is not None:
            best = min(best, filling, key=score)
        return best

    def _ways(self, task: Task, at_least: int) -> Iterator[Filling]:
        """Fillings, those in plan order first. However it is done, at least so many rests are cut."""
        if at_least == 0:
            yield from (filling for filling in (fits.next_fit(task), fits.first_fit(task)) if filling is not None)
        yield fits.pour(task)
        yield from fits.cut_fewest(task, at_least)
        if _is_small(task):
            yield from self._searched(task)
        else:
            filling, rests, gaps = fits.fill_exactly(task, exact.LIMIT)
            for found in self._searched(_part(task, rests, gaps)):
                yield _put_back(filling, found, rests, gaps)

    def _searched(self, task: Task) -> Iterator[Filling]:
        """The filling that none can beat, if the task is small and the steps for it are left."""
        steps = exact.steps(task)
        if _is_small(task) and steps <= self._steps:
            self._steps -= steps
            yield exact.solve(task)


def _is_small(task: Task) -> bool:
    return len(task.rests) + len(task.kept) <= exact.LIMIT


def _part(task: Task, rests: Collection[int], gaps: Collection[int]) -> Task:
    """The task with only these rests and gaps."""
    fresh = sum(gap >= len(task.kept) for gap in gaps)
    return Task(tuple(task.rests[rest] for rest in rests), tuple(task.gaps[gap] for gap in gaps), fresh)


def _put_back(filling: Filling, part: Filling, rests: list[int], gaps: list[int]) -> Filling:
    """The filling with the part, under the names of the whole, put in its gaps. Changes `filling`."""
    for gap, taken in zip(gaps, part, strict=True):
        filling[gap] = {rests[rest]: cells for rest, cells in taken.items()}
    return filling
