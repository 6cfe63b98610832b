"""Jobs made by hand for tests of the maps: batches with what the map shows of them, laid out in reading order."""

from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

import plans

from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.base.words import words_for
from traysheets.page.marks import Page, Place, Stamp
from traysheets.reckon.model import Batch, Figure, Reckoned, Source
from traysheets.sheets.job import Choices, Job
from traysheets.trade.papers import PAPERS
from traysheets.trade.stocks import Stock
from traysheets.trade.trays import Tray, built_in_trays

TRAYS = built_in_trays()
STOCK = Stock("card", "card", (210, 297), (150, 25), 1, 1, (10, 10), (150, 25))
URL = "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"

VARIETIES = (
    ("Longstalk Winter", "Bunching onion", "LW"),
    ("Copper Bell", "Shallot", "CB"),
    ("Dusky Round", "Beetroot", "DR"),
    ("Short Stout", "Carrot", "ST"),
    ("Marsh Lantern", "Lettuce", "ML"),
    ("Wide Wren", "Spinach", "WW"),
    ("Iron Ivy", "Parsley", "II"),
    ("Granite Hill", "Cabbage", "GH"),
    ("Quiet Queen", "Chard", "QQ"),
    ("Old Paddock", "Leek", "OP"),
    ("Tinker's Pale", "Fennel", "TP"),
    ("Early Ember", "Tomato", "EE"),
)


def batch(index: int, kind: Tray, cells: int, what: str = "clump 25", **other: Any) -> Batch:
    """A batch of so many cells. `what` is `clump 25`, `stations 3x2` or `single 1`."""
    method, _, numbers = what.partition(" ")
    holes, seeds = (int(part) for part in numbers.split("x")) if "x" in numbers else (None, int(numbers))
    variety, crop_name, code = VARIETIES[index % len(VARIETIES)]
    facts = {"variety": variety, "crop_name": crop_name, "code": code if index < 12 else f"{code[0]}{index}"}
    sowing = plans.sowing(method=method, cells=cells, tray=kind, **facts)
    of_batch = {field.name for field in fields(Batch)}
    sowing = replace(sowing, **{name: other.pop(name) for name in list(other) if name not in of_batch})
    in_cell = seeds * (holes or 1)
    figures: dict[str, Any] = dict.fromkeys(
        (
            "seed_grams",
            "packets",
            "stand_chance",
            "emergence",
            "thin",
            "trim",
            "harden_off",
            "plant_out",
            "plant_out_last",
        )
    )
    figures |= {"cover_mm": Figure(6.0, Source.PLAN), "germination": Figure(0.85, Source.TESTED)}
    figures |= {
        "seeds_spare": 0,
        "seeds_left": 0,
        "plants_expected": 1.0,
        "plants_low": 1,
        "mix_litres": 1.0,
        "seconds": 60,
    }
    made = Batch(
        index=index,
        sowing=sowing,
        succession=1,
        successions=1,
        sow=plans.SATURDAY,
        cells=cells,
        seeds_per_cell=Figure(in_cell, Source.PLAN),
        stations=holes,
        seeds_per_station=Figure(seeds, Source.PLAN) if holes else None,
        seeds_total=cells * in_cell,
        **figures,
    )
    return replace(made, **other)


def fill(kind: Tray, batches: Iterable[Batch], number: int = 1, place: str = "greenhouse") -> ArrangedTray:
    """A tray with the batches in it one after the other."""
    runs, first = [], 0
    for one in batches:
        runs.append(Run(number, one.index, first, one.cells))
        first += one.cells
    return ArrangedTray(number, kind, plans.SATURDAY, place, tuple(runs))


def job(batches: Sequence[Batch], trays: Sequence[ArrangedTray], *, record_url: str | None = URL, **other: Any) -> Job:
    """A job on A4 unless told otherwise; words for `paper`, `scale`, `grey` are choices, others are of the plan."""
    choices = {name: other.pop(name) for name in ("scale", "grey") if name in other}
    paper = PAPERS[other.pop("paper", "a4")]
    facts = {"grower": "Millbrook Lane Growers", "title": "Spring, first sowings"} | other
    plan = plans.plan(*(one.sowing for one in batches), record_url=record_url, **facts)
    runs = {one.index: tuple(run for tray in trays for run in tray.runs if run.batch == one.index) for one in batches}
    codes = {one.index: f"27-{one.index + 14:03d}-{'K9X3A'[one.index % 5]}" for one in batches}
    arranged = Trays(tuple(trays), runs)
    return Job(
        Reckoned(plan, tuple(batches), (), ()),
        arranged,
        codes,
        words_for("en"),
        Choices(paper, STOCK, **choices),
        date(2027, 3, 1),
    )


def one_tray(kind: Tray | str, *parts: tuple[int, str], **other: Any) -> Job:
    """A job of one tray holding batches of (cells, what)."""
    kind = TRAYS[kind] if isinstance(kind, str) else kind
    batches = [batch(i, kind, cells, what) for i, (cells, what) in enumerate(parts)]
    return job(batches, [fill(kind, batches)], **other)


def stood_for(stamp: Stamp) -> set[str]:
    """What a stamp stands for, or what those placed in it do."""
    inside = (stood_for(mark.stamp) for mark in stamp.marks if isinstance(mark, Place))
    return {stamp.stands_for} if stamp.stands_for else set().union(*inside)


def cells_on(page: Page) -> list[Place]:
    """The cells and rows of cells that are placed on a page."""
    return [mark for mark in page.marks if isinstance(mark, Place) and stood_for(mark.stamp)]
