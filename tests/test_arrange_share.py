"""Sharing gaps: every quick way keeps every cell, no score beats the bound, and the exact search finds the least."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from traysheets.arrange import exact, fits
from traysheets.arrange.share import Sharer
from traysheets.arrange.sharing import Filling, Score, Task, bound, score


@st.composite
def tasks(draw: st.DrawFn, most_rests: int = 30) -> Task:
    """Rests of up to one empty tray, and for them the kept gaps and as many empty trays as they need."""
    cells = draw(st.integers(2, 24))
    rests = tuple(draw(st.lists(st.integers(1, cells), min_size=1, max_size=most_rests)))
    kept = tuple(draw(st.lists(st.integers(1, cells - 1), max_size=2)))
    fresh = max(0, -(-(sum(rests) - sum(kept)) // cells))
    return Task(rests, kept + (cells,) * fresh, fresh)


def holds(task: Task, filling: Filling) -> bool:
    """Whether every rest is placed to the last cell and no gap holds more than its cells."""
    placed = [sum(gap.get(rest, 0) for gap in filling) for rest in range(len(task.rests))]
    within = all(sum(taken.values()) <= gap for gap, taken in zip(task.gaps, filling, strict=True))
    return placed == list(task.rests) and within and all(cells > 0 for gap in filling for cells in gap.values())


def by_trying_everything(task: Task) -> Score:
    """The least score, by trying every way to part each rest over the gaps."""

    def partings(cells: int, gaps: tuple[int, ...]) -> list[tuple[int, ...]]:
        if not gaps:
            return [()] if cells == 0 else []
        heads = range(min(cells, gaps[0]) + 1)
        return [(head, *tail) for head in heads for tail in partings(cells - head, gaps[1:])]

    least: Score | None = None
    for rows in product(*(partings(rest, task.gaps) for rest in task.rests)):
        if all(sum(column) <= gap for column, gap in zip(zip(*rows, strict=True), task.gaps, strict=True)):
            filling = [
                {rest: cells for rest, cells in enumerate(column) if cells} for column in zip(*rows, strict=True)
            ]
            least = min(least or score(filling), score(filling))
    assert least is not None
    return least


def test_a_rest_in_two_gaps_is_cut() -> None:
    assert score([{0: 3, 1: 1}, {1: 2}]) == (1, 3)


def test_the_bound_counts_rests_too_large_to_stand_together() -> None:
    assert bound(Task((10,) * 9, (18,) * 5, 5)) == (4, 13)


def test_the_bound_counts_what_no_sum_of_rests_fills() -> None:
    """Sevens fill 14 of 18 cells: of seven in three trays six stand whole at most."""
    assert bound(Task((7,) * 7, (18,) * 3, 3)) == (1, 8)


def test_large_rests_are_put_with_those_that_fill_the_tray() -> None:
    task = Task((5, 6, 7, 11, 12, 13), (18, 18, 18), 3)
    assert score(Sharer().share(task)) == (0, 6)


@settings(deadline=None, max_examples=150)
@given(tasks())
def test_whatever_the_way_every_cell_is_placed(task: Task) -> None:
    ways = [fits.pour(task), *fits.cut_fewest(task, bound(task)[0]), Sharer().share(task), Sharer(steps=0).share(task)]
    ways += [filling for filling in (fits.next_fit(task), fits.first_fit(task)) if filling is not None]
    for filling in ways:
        assert holds(task, filling)
        assert score(filling) >= bound(task)


@settings(deadline=None, max_examples=100)
@given(tasks(most_rests=8))
def test_no_quick_way_beats_the_exact_search(task: Task) -> None:
    filling = exact.solve(task)
    assert holds(task, filling)
    assert score(filling) <= score(Sharer(steps=0).share(task))


@settings(deadline=None, max_examples=100)
@given(tasks(most_rests=4).filter(lambda task: sum(task.rests) <= 20 and len(task.gaps) <= 4))
def test_the_exact_search_finds_the_least(task: Task) -> None:
    assert score(exact.solve(task)) == by_trying_everything(task)


def test_gaps_are_filled_to_the_last_cell_while_many_rests_are_left() -> None:
    task = Task((9, 9, 9, 9, 5, 6, 7), (18, 18, 18), 3)
    filling, rests, gaps = fits.fill_exactly(task, 3)
    assert filling[0] == {0: 9, 1: 9}
    assert filling[1] == {2: 9, 3: 9}
    assert (rests, gaps) == ([4, 5, 6], [2])
