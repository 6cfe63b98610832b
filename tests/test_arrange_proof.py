"""The proof of a layout, shown to fail: each way of losing, doubling or misplacing a cell is found."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from layouts import SIX, at, batch, reckoned

from traysheets.arrange.arrange import arrange
from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.arrange.proof import LayoutError, prove
from traysheets.reckon.model import Reckoned

PLAN = reckoned(batch(0, 4), batch(1, 2, at=(at(1, "B2-B3"),)), batch(2, 3, own_trays=True))
GOOD = arrange(PLAN)


def of(*trays: ArrangedTray) -> Trays:
    """A layout whose batches have the runs of these trays."""
    runs = {
        one.index: tuple(run for tray in trays for run in tray.runs if run.batch == one.index) for one in PLAN.batches
    }
    return Trays(trays, runs)


def with_runs(*runs: tuple[int, int, int]) -> Trays:
    """The good layout with other runs (batch, first, cells) in its first tray."""
    first, *others = GOOD.trays
    return of(replace(first, runs=tuple(Run(1, *run) for run in runs)), *others)


WRONG: list[tuple[str, Callable[[], Trays]]] = [
    ("is owned twice", lambda: with_runs((0, 0, 4), (1, 3, 3))),
    ("leaves it", lambda: with_runs((0, 0, 4), (1, 5, 2))),
    ("cells lost or doubled", lambda: with_runs((0, 0, 3), (1, 4, 2))),
    ("are not its own", lambda: with_runs((1, 0, 2), (0, 2, 4))),
    ("is to share no tray", lambda: with_runs((0, 0, 1), (2, 1, 3), (1, 4, 2))),
    ("doubled or out of order", lambda: of(*reversed(GOOD.trays))),
    ("doubled or out of order", lambda: of(GOOD.trays[0], replace(GOOD.trays[1], number=1))),
    ("does not belong", lambda: of(*(replace(tray, place="elsewhere") for tray in GOOD.trays))),
    ("stands in tray 5", lambda: of(GOOD.trays[0], replace(GOOD.trays[1], number=5))),
    ("is empty", lambda: of(*GOOD.trays, ArrangedTray(9, SIX, GOOD.trays[0].sow, "", ()))),
    ("tell of different runs", lambda: replace(GOOD, runs=GOOD.runs | {0: ()})),
    ("has a run of another", lambda: replace(GOOD, runs={0: GOOD.runs[1], 1: GOOD.runs[0], 2: GOOD.runs[2]})),
    ("has no runs", lambda: replace(GOOD, runs={0: GOOD.runs[0]})),
]


def test_a_good_layout_holds() -> None:
    """Else a LayoutError were raised, and what is found in the wrong ones below were no finding."""
    prove(PLAN, GOOD)


@pytest.mark.parametrize(("what", "layout"), WRONG, ids=[what for what, _ in WRONG])
def test_a_wrong_layout_is_found(what: str, layout: Callable[[], Trays]) -> None:
    with pytest.raises(LayoutError, match=what):
        prove(PLAN, layout())


def test_a_tray_too_many_is_found() -> None:
    plan: Reckoned = reckoned(batch(0, 4))
    two = arrange(reckoned(batch(0, 8))).trays
    trays = tuple(replace(tray, runs=(Run(tray.number, 0, 0, 2),)) for tray in two)
    with pytest.raises(LayoutError, match="more trays than it must"):
        prove(plan, Trays(trays, {0: tuple(run for tray in trays for run in tray.runs)}))
