"""Trays, stocks and crops by name: those of the trade's tables and the grower's own, which stand in the plan file."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, Protocol, TypeVar

from traysheets.base.errors import Problem
from traysheets.plan.filling import Answers
from traysheets.plan.tables import Table, told_line
from traysheets.plan.texts import listed, meant, shown
from traysheets.trade import stocks, trays
from traysheets.trade.crops import Crop, Fact, Minimum, crop_names, find_crop
from traysheets.trade.stocks import Stock
from traysheets.trade.trays import Tray

ORIGIN = "plan file"
"""Where a figure that the grower gave comes from."""

Found = TypeVar("Found", Tray, Stock)
Thing = TypeVar("Thing")


class _Named(Protocol):
    """What stands in a table under its name."""

    @property
    def name(self) -> str: ...


Own = TypeVar("Own", bound=_Named)


@dataclass(frozen=True)
class Shelf:
    """Everything a plan may name. A name is looked for once, however often it stands in the plan.

    `broken` are the grower's own trays and stocks, by kind and name, that cannot be made and were complained about:
    naming one is no further problem. A crop can always be made of what is right about it.
    """

    trays: dict[str, Tray]
    stocks: dict[str, Stock]
    crops: dict[str, Crop] = field(default_factory=dict)
    broken: frozenset[tuple[str, str]] = frozenset()
    _seen: dict[tuple[str, str], Any] = field(default_factory=dict, repr=False)

    def tray(self, name: str) -> Tray | None:
        """The tray of that name, None when it is broken. Raises ValueError with the nearest there is."""
        tray: Tray | None = self._once("tray", name, lambda: self._among(self.trays, "tray", name))
        return tray

    def stock(self, name: str) -> Stock | None:
        """The label stock of that name, None when it is broken. Raises ValueError with the nearest there is."""
        stock: Stock | None = self._once("stock", name, lambda: self._among(self.stocks, "stock", name))
        return stock

    def crop(self, name: str) -> Crop:
        """The crop of that name, the grower's own first. Raises ValueError with the nearest there is."""
        crop: Crop = self._once("crop", name, lambda: self._crop(name))
        return crop

    def _crop(self, name: str) -> Crop:
        found = self.crops.get(name.casefold()) or find_crop(name)
        if found is None:
            known = (*(crop.name for crop in self.crops.values()), *crop_names())
            lists = "; `traysheets list crops` shows those there are, and a [[crop]] table adds one"
            raise ValueError(f"there is no crop {shown(name)}{meant(name, known) or lists}")
        return found

    def _among(self, things: dict[str, Found], kind: str, name: str) -> Found:
        if name in things:
            return things[name]
        known = (*things, *(broken for broken_kind, broken in self.broken if broken_kind == kind))
        lists = f"; `traysheets list {kind}s` shows those there are"
        raise ValueError(f"there is no {kind} {shown(name)}{meant(name, known) or lists}")

    def _once(self, kind: str, name: str, find: Callable[[], Any]) -> Any:
        if (kind, name) in self.broken:
            return None
        if (kind, name) not in self._seen:
            try:
                self._seen[kind, name] = find()
            except ValueError as error:
                self._seen[kind, name] = error
        found = self._seen[kind, name]
        if isinstance(found, ValueError):
            raise ValueError(str(found))
        return found


def found(answers: Answers, key: str, find: Callable[[str], Thing | None], problems: list[Problem]) -> Thing | None:
    """What the name under a key means. None where none stands there, or none that is known: that goes to `problems`."""
    name = answers.get(key)
    try:
        return find(name) if name else None
    except ValueError as error:
        problems.append(answers.problem(str(error), key))
        return None


def shelf(
    own_trays: Iterable[Answers], own_stocks: Iterable[Answers], own_crops: Iterable[Answers], problems: list[Problem]
) -> Shelf:
    """The built-in tables and the grower's own together."""
    built_in = Shelf(trays.built_in_trays(), stocks.built_in_stocks())
    more_trays = _own(own_trays, "tray", built_in.trays.__contains__, _tray, problems)
    more_stocks = _own(own_stocks, "stock", built_in.stocks.__contains__, _stock, problems)
    own_crops = list(own_crops)
    names = frozenset(str(answers.get("name")).casefold() for answers in own_crops if answers.get("name"))
    crop = partial(_crop, own=names)
    more_crops = _own(own_crops, "crop", lambda name: find_crop(name) is not None, crop, problems)
    may_be_broken: dict[str, dict[str, Any]] = {"tray": more_trays, "stock": more_stocks}
    return Shelf(
        built_in.trays | {name: tray for name, tray in more_trays.items() if tray},
        built_in.stocks | {name: stock for name, stock in more_stocks.items() if stock},
        {name.casefold(): crop for name, crop in more_crops.items() if crop},
        frozenset(
            (kind, name) for kind, made in may_be_broken.items() for name, thing in made.items() if thing is None
        ),
    )


def _own(
    tables: Iterable[Answers],
    kind: str,
    is_built_in: Callable[[str], bool],
    make: Callable[[Answers, list[Problem]], Own | None],
    problems: list[Problem],
) -> dict[str, Own | None]:
    """The grower's own of a kind by name; None for one that cannot be made."""
    first: dict[str, Table] = {}
    made: dict[str, Own | None] = {}
    for answers in tables:
        thing = make(answers, problems)
        name = answers.get("name")
        if answers.lacking("name"):
            problems.append(answers.problem(f"this {kind} lacks name"))
        if name is None:
            continue
        if is_built_in(name):
            text = f"name: there is a built-in {kind} {shown(name)}; give yours another name"
            problems.append(answers.problem(text, "name"))
        elif other := first.get(name.casefold()):
            line = told_line(other.line, other.file, answers.table.file)
            text = f"name: a {kind} {shown(name)} stands in {line} already; give this one another name"
            problems.append(answers.problem(text, "name"))
        else:
            first[name.casefold()] = answers.table
            made[name] = thing
    return made


def asked(answers: Answers, kind: str, keys: Iterable[str], problems: list[Problem]) -> bool:
    """Whether all keys that a table cannot do without are there and good."""
    missing = answers.lacking(*keys)
    if missing:
        problems.append(answers.problem(f"this {kind} lacks {listed(missing)}"))
    return not missing and not answers.bad


def _tray(answers: Answers, problems: list[Problem]) -> Tray | None:
    if not asked(answers, "tray", ("rows", "columns", "outer", "cell", "depth"), problems):
        return None
    get = answers.get
    outer, cell, depth, shape = get("outer"), get("cell"), get("depth"), get("shape", "square")
    volume, volume_origin = get("volume"), ORIGIN
    if volume is None:
        volume, volume_origin = (
            trays.usual_volume_ml(cell, depth, shape),
            "computed: full to the brim, narrowing downwards",
        )
    tray = Tray(
        name=get("name", ""),
        title=get("title", get("name", "")),
        rows=get("rows"),
        columns=get("columns"),
        outer_mm=outer,
        cell_mm=cell,
        pitch_mm=get("pitch", (outer[0] / get("columns"), outer[1] / get("rows"))),
        depth_mm=depth,
        volume_ml=volume,
        shape=shape,
        origin=ORIGIN,
        volume_origin=volume_origin,
        built_in=False,
    )
    wrong = trays.misfits(tray)
    problems.extend(answers.problem(text) for text in wrong)
    return None if wrong else tray


def _stock(answers: Answers, problems: list[Problem]) -> Stock | None:
    if not asked(answers, "stock", ("page", "label"), problems):
        return None
    get = answers.get
    stock = Stock(
        name=get("name", ""),
        title=get("title", get("name", "")),
        page_mm=get("page"),
        label_mm=get("label"),
        rows=get("rows", 1),
        columns=get("columns", 1),
        first_mm=get("first", (0.0, 0.0)),
        pitch_mm=get("pitch", get("label")),
        point=get("point", "none"),
        radius_mm=get("corner", 0.0),
        cut=get("cut", False),
        origin=ORIGIN,
        built_in=False,
    )
    wrong = stocks.misfits(stock)
    problems.extend(answers.problem(text) for text in wrong)
    return None if wrong else stock


_UNKNOWN = Crop(
    name="",
    aliases=(),
    family="",
    usual_method="single",
    germination_minimum=None,
    seeds_per_gram=None,
    clump_seeds_3in=None,
    clump_seeds_cell=None,
    stations=None,
    seeds_per_station=None,
    seeds_single=None,
    cover_mm=None,
    soil_c=None,
    weeks_to_transplant=None,
    emergence=None,
)
"""A crop of which nothing is known."""


def _crop(answers: Answers, problems: list[Problem], own: frozenset[str]) -> Crop:
    """A crop with the figures of the one it is like, its own put over them; `own` are the names of the grower's own."""
    like = _UNKNOWN
    if name := answers.get("like"):
        known = find_crop(name)
        if known is None:
            problems.append(answers.problem(_unlike(name, own), "like"))
        like = known or like
    figures = {field: Fact(answers.get(key), ORIGIN) for key, field in _FIGURES.items() if answers.get(key) is not None}
    ranges = {
        field: Fact((answers.get(key),) * 2, ORIGIN) for key, field in _RANGES.items() if answers.get(key) is not None
    }
    flags = {key: answers.get(key) for key in _FLAGS if answers.get(key) is not None}
    changes: dict[str, Any] = figures | ranges | flags
    if "germination_minimum" in changes:
        changes["minimum_of"] = Minimum.GROWER
    if answers.get("cover") is not None:
        changes["surface"] = answers.get("cover") == 0
    return replace(
        like,
        name=answers.get("name", ""),
        aliases=(),
        usual_method=answers.get("method", like.usual_method),
        origin=ORIGIN,
        **changes,
    )


def _unlike(name: str, own: frozenset[str]) -> str:
    """What is wrong with a name that no built-in crop has."""
    if name.casefold() in own:
        return (
            f"like: {shown(name)} is a crop of your own, and like names a built-in one; give this one its own figures"
        )
    return f"like: there is no crop {shown(name)} in the tables{meant(name, crop_names())}"


_FIGURES = {
    "germination": "germination_minimum",
    "stations": "stations",
    "seeds_per_gram": "seeds_per_gram",
    "soil_temp": "soil_c",
    "seed_size": "seed_mm",
}
_RANGES = {
    "seeds_per_cell": "clump_seeds_3in",
    "seeds_per_station": "seeds_per_station",
    "cover": "cover_mm",
    "weeks_to_transplant": "weeks_to_transplant",
}
_FLAGS = ("light", "cluster", "compete", "tap_root", "trim", "tender")
