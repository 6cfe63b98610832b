"""Crops: how each is usually sown and grown on, each figure with where it comes from.

`data/crops.csv` names the crops and says which row of each other table is a crop's own. Where that is empty, or a
table is silent, the figure is None: nothing is guessed. What follows from the figures is reckoned elsewhere.
"""

import math
import re
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Generic, TypeVar

from traysheets.trade.tables import read_table

T = TypeVar("T")
N = TypeVar("N", int, float)


@dataclass(frozen=True, slots=True)
class Fact(Generic[T]):
    """A figure of the trade and its origin: `found: ...`, `from memory`, or `computed`."""

    value: T
    origin: str


class Minimum(StrEnum):
    """Whose figure a least germination is."""

    FEDERAL = "federal"
    STATE = "state"
    GROWER = "grower"


@dataclass(frozen=True, slots=True)
class EmergencePoint:
    """Days from sowing to emergence at one soil temperature; `days` is None where nothing came up or was tested."""

    temp_c: float
    days: float | None
    state: str


@dataclass(frozen=True, slots=True)
class Crop:
    """A crop under its table name, with the other names it is written under.

    Ranges are (least, most). None where the tables are silent. `usual_method` is "single", "clump" or "stations".
    `clump_seeds_3in` is for a 3-inch pot sown as one clump, `clump_seeds_cell` for a small plug.
    `light` says that the seed wants light to germinate; `surface` that it is not covered at all.
    `cluster` marks seeds that are fruits holding several (beet, chard). `compete` marks crops whose plants
    shade each other out when sown in clumps or stations; `tap_root` those whose roots must not be split apart;
    `trim` alliums that are cut back when long in the pot.
    `tender` marks crops that frost kills. `seed_mm` is the usual (length, width) of one seed.
    `germination_minimum` is a fraction; `minimum_of` says whose: a state's where the federal table is silent.
    """

    name: str
    aliases: tuple[str, ...]
    family: str
    usual_method: str
    germination_minimum: Fact[float] | None
    seeds_per_gram: Fact[float] | None
    clump_seeds_3in: Fact[tuple[int, int]] | None
    clump_seeds_cell: Fact[tuple[int, int]] | None
    stations: Fact[int] | None
    seeds_per_station: Fact[tuple[int, int]] | None
    seeds_single: Fact[tuple[int, int]] | None
    cover_mm: Fact[tuple[float, float]] | None
    soil_c: Fact[tuple[float, float]] | None
    weeks_to_transplant: Fact[tuple[int, int]] | None
    emergence: Fact[tuple[EmergencePoint, ...]] | None
    light: bool = False
    surface: bool = False
    cluster: bool = False
    compete: bool = False
    tap_root: bool = False
    trim: bool = False
    tender: bool = False
    seed_mm: Fact[tuple[float, float]] | None = None
    minimum_of: Minimum = Minimum.FEDERAL
    origin: str = ""


Row = dict[str, str]

_YES_OR_NO = ("cluster", "compete", "tap_root", "trim", "tender")
"""Columns of `data/crops.csv` named as the fields of a crop that they fill."""


def crops() -> dict[str, Crop]:
    """Every crop by its table name, in the order of `data/crops.csv`."""
    return dict(_crops())


def find_crop(name: str) -> Crop | None:
    """The crop called so, by its table name or another; None when there is none.

    Small or capital letters, accents, word order (`chard, Swiss`) and a plural ending make no difference.
    """
    known = _by_key()
    return next((known[key] for key in _keys(name) if key in known), None)


def crop_names() -> tuple[str, ...]:
    """All names and other names of the crops, to suggest from."""
    return tuple(name for crop in _crops().values() for name in (crop.name, *crop.aliases))


@cache
def _crops() -> dict[str, Crop]:
    return {row["crop"]: _crop(row) for row in read_table("crops")}


@cache
def _by_key() -> dict[str, Crop]:
    return {next(_keys(name)): crop for crop in _crops().values() for name in (crop.name, *crop.aliases)}


def _keys(name: str) -> Iterator[str]:
    """What a name is looked up by: as written, then as if it were a plural."""
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    key = " ".join(sorted(re.findall(r"[a-z0-9]+", bare.replace("'", ""))))
    yield key
    for ending, single in (("ies", "y"), ("oes", "o"), ("es", ""), ("s", "")):
        yield re.sub(rf"{ending}\b", single, key)


@cache
def _rows(table: str) -> dict[str, Row]:
    return {row["crop"]: row for row in read_table(table)}


def _crop(link: Row) -> Crop:
    practice = _rows("crop_practice").get(link["practice_row"], {})
    test = _rows("germination_test").get(link["test_row"], {})
    federal = _fraction(_rows("germination_minimum"), link["federal_minimum_row"])
    state = _fraction(_rows("germination_minimum_state"), link["state_minimum_row"])
    light = practice.get("light_to_germinate", "")
    return Crop(
        name=link["crop"],
        aliases=tuple(filter(None, link["also_called"].split("; "))),
        family=link["family"],
        usual_method=link["usual_method"],
        germination_minimum=federal or state,
        seeds_per_gram=_seeds_per_gram(link["seeds_per_gram_row"]),
        clump_seeds_3in=_range(practice, "community_pot_seeds_3in", int),
        clump_seeds_cell=_range(practice, "clump_seeds_per_plug", int),
        stations=Fact(int(practice["drops"]), practice["origin"]) if practice.get("drops") else None,
        seeds_per_station=_range(practice, "seeds_per_drop", int),
        seeds_single=_range(practice, "single_seeds_per_cell", int),
        cover_mm=_range(practice, "cover_mm", float),
        soil_c=_range(practice, "soil_c_opt", float),
        weeks_to_transplant=_range(practice, "weeks_to_transplant", int),
        emergence=_emergence(link["emergence_row"], link["emergence_as"]),
        # The federal test is the second best word on light: some seed is tested in light that growers cover.
        light=light.startswith("yes") or (not practice and test.get("light_required_in_test") == "light"),
        surface="surface" in light,
        **{column: link[column] == "yes" for column in _YES_OR_NO},
        seed_mm=_seed_mm(link["crop"]),
        minimum_of=Minimum.STATE if federal is None and state is not None else Minimum.FEDERAL,
        origin=link["origin"],
    )


def _fraction(rows: dict[str, Row], name: str) -> Fact[float] | None:
    """A percentage of a table as a fraction."""
    row = rows.get(name)
    return Fact(int(row["percent"]) / 100, row["origin"]) if row else None


def _range(row: Row, column: str, number: Callable[[str], N]) -> Fact[tuple[N, N]] | None:
    """The columns `<column>_min` and `<column>_max` of a row, when they are filled in."""
    if not row.get(f"{column}_min"):
        return None
    return Fact((number(row[f"{column}_min"]), number(row[f"{column}_max"])), row["origin"])


def _seeds_per_gram(name: str) -> Fact[float] | None:
    """Seeds in a gram; of a range its geometric middle, which is as many times its least as its most is of it."""
    row = _rows("seeds_per_gram").get(name)
    if not row:
        return None
    least, _, most = row["seeds_per_gram"].partition("-")
    if not most:
        return Fact(float(least), row["origin"])
    middle = float(f"{math.sqrt(float(least) * float(most)):.3g}")
    return Fact(middle, f"{row['origin']}; geometric middle of {least} to {most}")


def _emergence(name: str, stands_for: str) -> Fact[tuple[EmergencePoint, ...]] | None:
    """The row of days to emergence, coldest first; `stands_for` says why another crop's row is taken."""
    row = _rows("emergence").get(name)
    if not row:
        return None
    points = tuple(_point(column, text) for column, text in row.items() if column.endswith(" C"))
    return Fact(points, "; ".join(filter(None, (row["origin"], row["note"], stands_for))))


def _point(column: str, text: str) -> EmergencePoint:
    """One field of the table: a number of days, `none` where nothing came up, empty where none was tested."""
    temp_c = float(column.removesuffix(" C"))
    if text.isdigit():
        return EmergencePoint(temp_c, float(text), "emerged")
    return EmergencePoint(temp_c, None, "no germination" if text else "not tested")


def _seed_mm(name: str) -> Fact[tuple[float, float]] | None:
    row = _rows("seed_size").get(name)
    return Fact((float(row["length_mm"]), float(row["width_mm"])), row["origin"]) if row else None


def _general_minimum() -> Fact[float]:
    row = _rows("germination_minimum_state")["Other vegetables and herbs not listed"]
    return Fact(int(row["percent"]) / 100, row["origin"])


# The least germination, a fraction, of vegetables and herbs that no table lists by name.
GENERAL_MINIMUM: Fact[float] = _general_minimum()
