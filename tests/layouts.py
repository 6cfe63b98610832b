"""Reckoned plans made by hand for arranging, and layouts as pictures: a letter a cell, `/` between rows."""

from collections.abc import Iterable
from datetime import date
from string import ascii_letters, ascii_uppercase
from typing import Any

from plans import SATURDAY, plan, sowing, tray

from traysheets.arrange.model import ArrangedTray, Trays
from traysheets.plan.model import Pin, Sowing
from traysheets.reckon.model import Batch, Figure, Reckoned, Source
from traysheets.trade.trays import Tray

_LETTERS = ascii_uppercase + ascii_letters[:26]

SIX = tray("six", 2, 3, 80, 90)
TEN = tray("ten", 2, 5, 80, 90)


def batch(index: int, cells: int, asked: Sowing | None = None, sow: date = SATURDAY, **facts: Any) -> Batch:
    """A batch of so many cells; `facts` are of its sowing, whose line is ten times its place in the plan."""
    if asked is None:
        facts = {"tray": SIX, "line": 10 * (index + 1), "variety": f"Variety {ascii_uppercase[index % 26]}"} | facts
        asked = sowing(cells=cells, **facts)
    figure = Figure(1, Source.PLAN)
    fraction = Figure(0.9, Source.PLAN)
    figures = ("stations", "seeds_per_station", "seed_grams", "packets", "stand_chance", "cover_mm", "emergence")
    nothing = dict.fromkeys((*figures, "thin", "trim", "harden_off", "plant_out", "plant_out_last"))
    known: dict[str, Any] = {"succession": 1, "successions": 1, "seeds_spare": 0, "seeds_left": 0}
    known |= {"seeds_per_cell": figure, "germination": fraction, "seeds_total": cells, "plants_expected": 0.9 * cells}
    known |= {"plants_low": cells // 2, "mix_litres": 1.0, "seconds": 60.0}
    return Batch(index=index, sowing=asked, sow=sow, cells=cells, **known, **nothing)


def reckoned(*batches: Batch) -> Reckoned:
    """A plan of these batches, reckoned."""
    return Reckoned(plan(*dict.fromkeys(batch.sowing for batch in batches)), batches, (), ())


def sown(*cells: int, kind: Tray = SIX, pins: dict[int, tuple[Pin, ...]] | None = None) -> Reckoned:
    """A plan of one group: a batch for each number of cells, with the pins of those that have some."""
    return reckoned(*(batch(index, n, tray=kind, at=(pins or {}).get(index, ())) for index, n in enumerate(cells)))


def at(number: int, cells: str, kind: Tray = SIX) -> Pin:
    """A pin as a plan writes it: `A1-B2` of a tray of that kind."""
    names = [kind.cell_name(cell) for cell in range(kind.cells)]
    first, _, last = cells.partition("-")
    return Pin(number, names.index(first), names.index(last or first))


def picture(arranged: ArrangedTray) -> str:
    """One tray in letters: `AAB/BB.`."""
    owners = [None if owner is None else _LETTERS[owner % 52] for owner in arranged.cell_batches()]
    row = arranged.kind.columns
    return "/".join(
        "".join(owner or "." for owner in owners[first : first + row]) for first in range(0, len(owners), row)
    )


def pictures(arranged: Trays | Iterable[ArrangedTray]) -> list[str]:
    """Every tray in letters, with its number: `1 AAB/BB.`."""
    trays = arranged.trays if isinstance(arranged, Trays) else arranged
    return [f"{one.number} {picture(one)}" for one in trays]


def cut_batches(given: Reckoned, arranged: Trays) -> int:
    """Batches that stand in more trays than their cells and their pins ask for."""
    return sum(len({run.tray for run in arranged.runs[one.index]}) > must_stand_in(one, given) for one in given.batches)


def must_stand_in(one: Batch, given: Reckoned) -> int:
    """The fewest trays for the batch if all free cells were its own: its pinned ones, and what they cannot hold."""
    own = {pin.tray for pin in one.sowing.at}
    pinned = [pin for other in given.batches for pin in other.sowing.at]
    free = sum(one.tray.cells - sum(pin.cells for pin in pinned if pin.tray == number) for number in own)
    beyond = one.cells - sum(pin.cells for pin in one.sowing.at) - free
    return len(own) + max(0, -(-beyond // one.tray.cells))


def pieces(arranged: Trays) -> int:
    """Batch and tray pairs: how many trays the batches stand in, summed."""
    return sum(len(one.batches) for one in arranged.trays)
