"""Jobs made by hand for tests of the records: all three methods, a batch cut over two trays, treated seed."""

from dataclasses import fields, replace
from datetime import date
from typing import Any

import map_jobs
import plans

from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.reckon.model import Batch, Emergence, Figure, Source
from traysheets.sheets.job import Job
from traysheets.trade.trays import Tray

POT_18 = map_jobs.TRAYS["pot-18"]
CELL_72 = map_jobs.TRAYS["cell-72"]
LATER = date(2027, 3, 20)


def emergence(first: date, last: date) -> Emergence:
    return Emergence(first, last, Source.EMERGENCE_TABLE)


ONION: dict[str, Any] = {
    "lot": "HB-2231",
    "place": "light shelf",
    "seed_grams": Figure(1.18, Source.CROP_TABLE),
    "plants_expected": 340.0,
    "plants_low": 331,
    "emergence": emergence(date(2027, 3, 13), date(2027, 3, 20)),
    "trim": date(2027, 4, 17),
    "harden_off": date(2027, 4, 24),
    "plant_out": Figure(date(2027, 5, 1), Source.CROP_TABLE),
    "plant_out_last": date(2027, 5, 29),
    "mix_litres": 9.2,
    "soil_temp_c": 18.0,
}
SHALLOT: dict[str, Any] = {
    "germination": Figure(0.70, Source.LEGAL_MINIMUM),
    "treated": True,
    "cover_mm": Figure(6.0, Source.CROP_TABLE),
    "plants_expected": 123.2,
    "plants_low": 114,
    "seeds_spare": 18,
    "seeds_left": 4,
    "notes": "Seed from the swap.\nKeep two pots back for the neighbours.",
}
BEET: dict[str, Any] = {
    "stand_chance": 0.9899,
    "plants_expected": 11.96,
    "plants_low": 12,
    "emergence": emergence(date(2027, 3, 12), date(2027, 3, 16)),
    "thin": date(2027, 3, 24),
    "cover_mm": None,
    "packets": 1,
}
CARROT: dict[str, Any] = {
    "stand_chance": 0.9775,
    "plants_expected": 45.9,
    "plants_low": 45,
    "sow": LATER,
    "thin": date(2027, 4, 3),
    "succession": 2,
    "successions": 3,
}


def batch(index: int, kind: Tray, cells: int, what: str, facts: dict[str, Any]) -> Batch:
    """A batch; a fact that a sowing and a batch both have is the batch's."""
    names = {field.name for field in fields(Batch)}
    asked = {name: fact for name, fact in facts.items() if name not in names}
    made = map_jobs.batch(index, kind, cells, what, **asked)
    return replace(made, **{name: fact for name, fact in facts.items() if name in names})


def batches() -> list[Batch]:
    return [
        batch(0, POT_18, 20, "clump 20", ONION),
        batch(1, POT_18, 8, "clump 22", SHALLOT),
        batch(2, POT_18, 4, "stations 3x3", BEET),
        batch(3, CELL_72, 47, "single 2", CARROT),
    ]


def trays() -> tuple[ArrangedTray, ...]:
    """Tray 1 full of onions; 2 with the rest of them, shallots and beet; 3 with carrots."""
    first = ArrangedTray(1, POT_18, plans.SATURDAY, "light shelf", (Run(1, 0, 0, 18),))
    second = (Run(2, 0, 0, 2), Run(2, 1, 2, 8), Run(2, 2, 10, 4))
    return (
        first,
        ArrangedTray(2, POT_18, plans.SATURDAY, "light shelf", second),
        ArrangedTray(3, CELL_72, LATER, "", (Run(3, 3, 0, 47),)),
    )


def job(**other: Any) -> Job:
    """The job. Words for `days` are a choice, others are of the plan."""
    days = other.pop("days", None)
    made = map_jobs.job(batches(), trays(), **other)
    return replace(made, choices=replace(made.choices, days=days))


def named(variety: str, **facts: Any) -> Job:
    """The job, its first variety under another name."""
    made = job()
    first, *rest = made.reckoned.batches
    first = replace(first, sowing=replace(first.sowing, variety=variety, **facts))
    return replace(made, reckoned=replace(made.reckoned, batches=(first, *rest)))


def many(number: int) -> Job:
    """As many batches of half a tray, two of them in each."""
    own = [map_jobs.batch(i, CELL_72, 36, "clump 6", code=f"{i % 100:02}") for i in range(number)]
    pairs = (own[i : i + 2] for i in range(0, number, 2))
    arranged = tuple(map_jobs.fill(CELL_72, pair, tray) for tray, pair in enumerate(pairs, 1))
    runs = {run.batch: (run,) for tray in arranged for run in tray.runs}
    made = map_jobs.job(own, arranged[:1])
    codes = {i: f"27-{i:04}-K" for i in range(number)}
    return replace(made, arranged=Trays(arranged, runs), codes=codes)


def one_batch(cells: int) -> Job:
    """One batch of so many cells of 72-cell trays."""
    whole, rest = divmod(cells, CELL_72.cells)
    parts = [CELL_72.cells] * whole + [rest] * (rest > 0)
    own = map_jobs.batch(0, CELL_72, cells, "single 1")
    arranged = [map_jobs.fill(CELL_72, [replace(own, cells=part)], number) for number, part in enumerate(parts, 1)]
    return map_jobs.job([own], arranged)
