"""Jobs made by hand for tests of the sticks: batches with what a stick says of them, on any stock."""

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import date, timedelta
from typing import Any

import plans

from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.base.words import words_for
from traysheets.reckon.model import Batch, Figure, Reckoned, Source
from traysheets.sheets.job import Choices, Job
from traysheets.trade.papers import Paper
from traysheets.trade.stocks import Stock, built_in_stocks

STOCKS = built_in_stocks()
URL = "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"

SHORT = ("Short Stout", "Carrot", "HB-7")
USUAL = ("Longstalk Winter", "Bunching onion", "HB-2231")
LONG = (
    "Grandmother's Long-Keeping Purple Winter Bunching, Early Selection",
    "Welsh bunching onion for overwintering",
    "HB-2231-2026-B",
)
GREEK = ("Ψηλό Χειμωνιάτικο της Πλαγιάς", "Φρέσκο κρεμμύδι", "ΘΕΣ-118")
CYRILLIC = ("Зимний длинноствольный", "Лук-батун", "СЕМ-0417")
ACCENTS = ("Übergroße Ährenkönigin", "Küchenzwiebel Åse", "ÄÖ-12")


def batch(index: int, names: tuple[str, str, str] = USUAL, what: str = "clump 25", **other: Any) -> Batch:
    """A batch of eight cells of (variety, crop, lot). `what` is `clump 25`, `stations 3x2` or `single 1`.

    Other words are of the sowing or of the batch.
    """
    method, _, numbers = what.partition(" ")
    holes, seeds = (int(part) for part in numbers.split("x")) if "x" in numbers else (None, int(numbers))
    variety, crop_name, lot = names
    cells = other.pop("cells", 8)
    sowing = plans.sowing(
        method=method, cells=cells, variety=variety, crop_name=crop_name, lot=lot, line=10 + 10 * index
    )
    of_batch = {field.name for field in fields(Batch)}
    sowing = replace(sowing, **{name: other.pop(name) for name in list(other) if name not in of_batch})
    silent = (
        "seed_grams",
        "packets",
        "stand_chance",
        "emergence",
        "thin",
        "trim",
        "harden_off",
        "plant_out_last",
        "cover_mm",
    )
    facts: dict[str, Any] = dict.fromkeys(silent)
    facts |= {"plant_out": Figure(plans.SATURDAY + timedelta(weeks=8), Source.RECKONED)}
    facts |= {"germination": Figure(0.85, Source.TESTED), "seeds_spare": 0, "seeds_left": 0}
    facts |= {"plants_expected": 1.0, "plants_low": 1, "mix_litres": 1.0, "seconds": 60.0, "sow": plans.SATURDAY}
    facts |= {"seeds_per_station": Figure(seeds, Source.PLAN) if holes else None, "stations": holes}
    facts |= {"seeds_per_cell": Figure(seeds * (holes or 1), Source.PLAN), "seeds_total": cells * seeds * (holes or 1)}
    return Batch(index=index, sowing=sowing, succession=1, successions=1, cells=cells, **facts | other)


def job(batches: Sequence[Batch], stock: Stock | str = "a4-21", *, record_url: str | None = URL, **other: Any) -> Job:
    """A job with the batches one after the other in trays of their kind.

    `codes`, `runs`, words of the plan and choices of the run may be given.
    """
    stock = STOCKS[stock] if isinstance(stock, str) else stock
    names = ("first_label", "outlines", "days", "grey")
    choices = {name: other.pop(name) for name in names if name in other}
    runs = other.pop("runs", None) or _runs(batches)
    codes = other.pop("codes", None) or {
        one.index: f"27-{one.index + 14:03d}-{'K9X3A'[one.index % 5]}" for one in batches
    }
    facts = {"title": "Spring, first sowings", "stocks": STOCKS} | other
    plan = plans.plan(*(one.sowing for one in batches), record_url=record_url, **facts)
    reckoned = Reckoned(plan, tuple(batches), (), ())
    choice = Choices(Paper("a4", "A4", 210, 297), stock, **choices)
    return Job(reckoned, Trays(_trays(batches, runs), runs), codes, words_for("en"), choice, date(2027, 3, 1))


def _runs(batches: Sequence[Batch]) -> dict[int, tuple[Run, ...]]:
    """Every batch in trays of its own kind, one after the other, cut where a tray is full."""
    tray, first, found = 1, 0, {}
    for one in batches:
        left, runs = one.cells, []
        while left:
            taken = min(left, one.tray.cells - first)
            runs.append(Run(tray, one.index, first, taken))
            left, first = left - taken, first + taken
            if first == one.tray.cells:
                tray, first = tray + 1, 0
        found[one.index] = tuple(runs)
    return found


def _trays(batches: Sequence[Batch], runs: dict[int, tuple[Run, ...]]) -> tuple[ArrangedTray, ...]:
    by_number: dict[int, list[Run]] = {}
    kinds = {one.index: one.tray for one in batches}
    for run in (run for of_batch in runs.values() for run in of_batch):
        by_number.setdefault(run.tray, []).append(run)
    return tuple(ArrangedTray(n, kinds[r[0].batch], plans.SATURDAY, "", tuple(r)) for n, r in sorted(by_number.items()))
