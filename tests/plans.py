"""Plans, sowings, crops and trays made by hand with few words, for tests that start behind the plan file."""

from datetime import date
from typing import Any

from traysheets.base.notices import Notice
from traysheets.plan.model import Amount, Bench, Method, Plan, Sowing, Wanted
from traysheets.reckon.model import Reckoned
from traysheets.trade.crops import Crop, EmergencePoint, Fact
from traysheets.trade.trays import Tray

SATURDAY = date(2027, 3, 6)


def tray(name: str, rows: int, columns: int, cell_mm: float, pitch_mm: float, **other: Any) -> Tray:
    """A tray of square cells as large as a North American flat, unless told otherwise."""
    facts: dict[str, Any] = {"outer_mm": (540, 279), "depth_mm": 50, "volume_ml": 100}
    return Tray(name, name, rows, columns, cell_mm=(cell_mm,) * 2, pitch_mm=(pitch_mm,) * 2, **facts | other)


POT_3IN = tray("pot-3in", 1, 1, 73, 76, outer_mm=(76, 76), volume_ml=300)
POT_18 = tray("pot-18", 3, 6, 86, 88, volume_ml=500)
CELL_72 = tray("cell-72", 6, 12, 39, 43, volume_ml=45)
CELL_200 = tray("cell-200", 10, 20, 22.5, 25.8, volume_ml=12)


def points(*days: float | None) -> Fact[tuple[EmergencePoint, ...]]:
    """An emergence table of one crop: days at 0, 5, 10, ... degrees Celsius; None where nothing came up."""
    found = (
        EmergencePoint(5.0 * step, day, "emerged" if day is not None else "no germination")
        for step, day in enumerate(days)
    )
    return Fact(tuple(found), "found: a handbook table")


def crop(name: str = "Onion, bulb", **facts: Any) -> Crop:
    """A crop the tables know nothing of but what is given; bare values become facts."""
    known: dict[str, Any] = {"aliases": (), "family": "", "usual_method": "single"}
    silent = ("germination_minimum", "seeds_per_gram", "clump_seeds_3in", "clump_seeds_cell", "stations")
    silent += ("seeds_per_station", "seeds_single", "cover_mm", "soil_c", "weeks_to_transplant", "emergence")
    known |= dict.fromkeys(silent)
    for key, value in facts.items():
        plain = value is None or isinstance(value, bool | str | Fact) or key == "aliases"
        known[key] = value if plain else Fact(value, "a table")
    return Crop(name, **known)


ONION = crop(
    "Onion, bulb",
    family="Amaryllidaceae",
    usual_method="clump",
    germination_minimum=Fact(0.70, "found: 7 CFR 201.31"),
    seeds_per_gram=Fact(340.0, "found: 7 CFR 201.46"),
    clump_seeds_3in=(20, 30),
    clump_seeds_cell=(3, 6),
    seeds_single=(1, 2),
    cover_mm=(6, 12),
    soil_c=(18, 29),
    weeks_to_transplant=(8, 12),
    emergence=points(136, 31, 13, 7, 5, 4, 4, 13, None),
    trim=True,
)
BEET = crop(
    "Beet",
    family="Amaranthaceae",
    usual_method="stations",
    germination_minimum=Fact(0.65, "found: 7 CFR 201.31"),
    seeds_per_gram=Fact(60.0, "found: 7 CFR 201.46"),
    clump_seeds_cell=(2, 4),
    stations=3,
    seeds_per_station=(2, 3),
    seeds_single=(1, 2),
    cover_mm=(10, 15),
    soil_c=(15, 29),
    weeks_to_transplant=(4, 5),
    emergence=points(None, 42, 17, 10, 6, 5, 5, 5, None),
    cluster=True,
)
TOMATO = crop(
    "Tomato",
    family="Solanaceae",
    germination_minimum=Fact(0.75, "found: 7 CFR 201.31"),
    seeds_per_gram=Fact(405.0, "found: 7 CFR 201.46"),
    clump_seeds_3in=(10, 25),
    seeds_single=(1, 2),
    cover_mm=(6, 8),
    soil_c=(20, 29),
    weeks_to_transplant=(6, 8),
    emergence=points(None, None, 43, 14, 8, 6, 6, 9, None),
    compete=True,
)


def sowing(
    crop: Crop = ONION,
    method: str = "clump",
    *,
    cells: int | None = None,
    trays: int | None = None,
    plants: int | None = None,
    seeds: int | None = None,
    tray: Tray = POT_18,
    **other: Any,
) -> Sowing:
    """A sowing of 6 March 2027 in line 1, of one cell unless an amount is given."""
    amounts = {"cells": cells, "trays": trays, "plants": plants, "seeds": seeds}
    given = [Amount(Wanted(wanted), number) for wanted, number in amounts.items() if number is not None]
    amount = given[0] if given else Amount(Wanted.CELLS, 1)
    facts: dict[str, Any] = {"line": 1, "crop_name": crop.name, "variety": "Longstalk Winter"}
    if not other.keys() & {"sow", "plant_out", "weeks_before_frost"}:
        facts["sow"] = SATURDAY
    if method == "stations":
        facts["stations"] = 3
    return Sowing(crop=crop, method=Method(method), amount=amount, tray=tray, **facts | other)


def bench(name: str = "light shelf", length_mm: float = 1200, depth_mm: float = 600, shelves: int = 1) -> Bench:
    """A bench that holds four North American flats a shelf, unless told otherwise."""
    return Bench(name, length_mm, depth_mm, shelves, line=1)


def plan(*sowings: Sowing, **other: Any) -> Plan:
    """A plan of these sowings."""
    facts: dict[str, Any] = {"file": "plan.toml", "title": "Spring", "season": 2027, "stocks": {}}
    facts["trays"] = {kind.name: kind for kind in (POT_3IN, POT_18, CELL_72, CELL_200)}
    return Plan(sowings=sowings, **facts | other)


def of_sowings(found: Reckoned) -> tuple[Notice, ...]:
    """What is said of single sowings, not of the plan as a whole."""
    return tuple(notice for notice in found.notices if notice.line is not None)
