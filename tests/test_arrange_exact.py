"""Layouts against an exact solver that knows nothing of ours: OR-Tools CP-SAT, on small plans drawn from seeds."""

import random

import pytest
from layouts import cut_batches, must_stand_in, pieces, sown
from ortools.sat.python import cp_model
from plans import tray

from traysheets.arrange.arrange import arrange
from traysheets.plan.model import Pin
from traysheets.reckon.model import Reckoned

TRAYS, CUTS = 10_000, 100


def best(given: Reckoned) -> tuple[int, int, int]:
    """Fewest trays, then fewest batches cut, then fewest pieces, as the solver finds them.

    Pinned trays are there whatever stands in them. Without pins a batch fills its whole trays first: they are left
    out of the model and counted afterwards.
    """
    capacity = given.batches[0].tray.cells
    pins = [pin for one in given.batches for pin in one.sowing.at]
    pinned = sorted({pin.tray for pin in pins})
    whole = [0 if pins else one.cells // capacity for one in given.batches]
    rests = [one.cells - capacity * trays for one, trays in zip(given.batches, whole, strict=True)]
    count = len(pinned) + -(-sum(rests) // capacity)
    model = cp_model.CpModel()
    used = [model.new_bool_var("") if j >= len(pinned) else model.new_constant(1) for j in range(count)]
    cells = [[model.new_int_var(0, capacity, "") for _ in range(count)] for _ in rests]
    stands = [[model.new_bool_var("") for _ in range(count)] for _ in rests]
    is_cut = [model.new_bool_var("") for _ in rests]
    for j in range(count):
        model.add(sum(row[j] for row in cells) <= capacity * used[j])
    for j in range(len(pinned), count - 1):
        model.add(sum(row[j] for row in cells) >= sum(row[j + 1] for row in cells))
    for i, one in enumerate(given.batches):
        model.add(sum(cells[i]) == rests[i])
        for j in range(count):
            kept = sum(pin.cells for pin in one.sowing.at if j < len(pinned) and pin.tray == pinned[j])
            model.add(cells[i][j] >= kept)
            model.add(cells[i][j] <= capacity * stands[i][j])
        model.add(sum(stands[i]) + whole[i] <= must_stand_in(one, given) + count * is_cut[i])
    in_trays = sum(sum(row) for row in stands)
    model.minimize(TRAYS * sum(used) + CUTS * sum(is_cut) + in_trays)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    value = solver.value
    return sum(map(value, used)) + sum(whole), sum(map(value, is_cut)), value(in_trays) + sum(whole)


def drawn(seed: int) -> Reckoned:
    """Up to eight batches, some larger than their tray of 6 to 20 cells; in half the plans they fill every tray."""
    draw = random.Random(seed)
    kind = tray("drawn", 2, draw.choice([3, 4, 6, 9, 10]), 20, 25)
    least, most = draw.choice([(1, 0.5), (1, 1), (0.4, 0.9), (0.3, 0.6), (1, 2.5)])
    cells = [
        draw.randint(round(least * kind.cells) if least < 1 else 1, round(most * kind.cells))
        for _ in range(draw.randint(3, 7))
    ]
    if draw.random() < 0.5:
        cells.append(-sum(cells) % kind.cells or 1)
    return sown(*cells, kind=kind)


@pytest.mark.parametrize("first", range(0, 100, 20))
def test_trays_cuts_and_pieces_are_the_fewest(first: int) -> None:
    for seed in range(first, first + 20):
        given = drawn(seed)
        arranged = arrange(given)
        ours = len(arranged.trays), cut_batches(given, arranged), pieces(arranged)
        assert ours == best(given), (seed, [one.cells for one in given.batches], given.batches[0].tray.cells)


def pinned(seed: int) -> Reckoned:
    """Up to six batches in trays of 6 to 12 cells, some with a stretch pinned in one of two trays."""
    draw = random.Random(seed)
    kind = tray("drawn", 2, draw.choice([3, 4, 6]), 20, 25)
    cells = [draw.randint(1, kind.cells - 1) for _ in range(draw.randint(2, 6))]
    end = {1: 0, 2: 0}
    pins: dict[int, tuple[Pin, ...]] = {}
    for index, count in enumerate(cells):
        number, first = draw.choice([1, 2]), 0
        first = end[number] + draw.randint(0, 2)
        last = first + draw.randint(1, count) - 1
        if draw.random() < 0.6 and last < kind.cells:
            pins[index] = (Pin(number, first, last),)
            end[number] = last + 1
    return sown(*cells, kind=kind, pins=pins)


@pytest.mark.parametrize("first", range(0, 80, 20))
def test_with_pins_too(first: int) -> None:
    for seed in range(first, first + 20):
        given = pinned(seed)
        arranged = arrange(given)
        ours = len(arranged.trays), cut_batches(given, arranged)
        assert ours == best(given)[:2], (seed, [(one.cells, one.sowing.at) for one in given.batches])
