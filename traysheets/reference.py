"""What can be looked up without a plan: the built-in tables, the schema of the plan file."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from traysheets.base.words import languages, words_for
from traysheets.trade.crops import Crop, Fact, crops
from traysheets.trade.papers import PAPERS
from traysheets.trade.stocks import built_in_stocks
from traysheets.trade.trays import built_in_trays


@dataclass(frozen=True, slots=True)
class Listing:
    """A table to show: its headings and rows, and which columns hold numbers."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()


def plan_schema() -> dict[str, Any]:
    """The JSON Schema of the plan file."""
    # Loads what checks plans, which nothing else here needs.
    from traysheets.plan.schema import plan_schema as schema

    return schema()


def listing(kind: str, *, origins: bool = False) -> Listing:
    """The table of a kind named in `KINDS`; `origins` adds where the figures come from."""
    rows = KINDS[kind]()
    headings, numbers = HEADINGS[kind]
    if not origins:
        return Listing(headings, tuple(row[:-1] for row in rows), numbers)
    return Listing((*headings, "origin"), tuple(rows), numbers)


def _size(pair: Iterable[float]) -> str:
    return " x ".join(f"{side:g}" for side in pair)


def _trays() -> list[tuple[str, ...]]:
    return [
        (
            tray.name,
            tray.title,
            str(tray.cells),
            f"{tray.rows} x {tray.columns}",
            _size(tray.outer_mm),
            _size(tray.cell_mm),
            f"{tray.depth_mm:g}",
            f"{tray.volume_ml:g}",
            f"{tray.origin}; volume: {tray.volume_origin}",
        )
        for tray in built_in_trays().values()
    ]


def _stocks() -> list[tuple[str, ...]]:
    return [
        (stock.name, stock.title, str(stock.labels), _size(stock.label_mm), _size(stock.page_mm), stock.origin)
        for stock in built_in_stocks().values()
    ]


def _papers() -> list[tuple[str, ...]]:
    return [
        (paper.name, paper.title, _size((paper.width_mm, paper.height_mm)), paper.origin) for paper in PAPERS.values()
    ]


def _shown(fact: Fact[Any] | None, write: Callable[[Any], str]) -> str:
    return write(fact.value) if fact else "-"


def _range(pair: tuple[float, float]) -> str:
    return f"{pair[0]:g}" if pair[0] == pair[1] else f"{pair[0]:g}-{pair[1]:g}"


def _crop(crop: Crop) -> tuple[str, ...]:
    return (
        crop.name,
        ", ".join(crop.aliases),
        crop.usual_method,
        _shown(crop.germination_minimum, lambda share: f"{share:.0%}"),
        _shown(crop.seeds_per_gram, lambda count: f"{count:g}"),
        _shown(crop.cover_mm, _range),
        _shown(crop.soil_c, _range),
        _shown(crop.weeks_to_transplant, _range),
        _crop_origins(crop),
    )


def _crop_origins(crop: Crop) -> str:
    """Where each figure of a crop comes from; figures of one origin are named together."""
    figures: dict[str, Fact[Any] | None] = {
        "germination": crop.germination_minimum,
        "seeds/g": crop.seeds_per_gram,
        "cover": crop.cover_mm,
        "soil": crop.soil_c,
        "weeks": crop.weeks_to_transplant,
        "emergence": crop.emergence,
        "seeds a cell": crop.clump_seeds_3in or crop.clump_seeds_cell or crop.seeds_single,
        "seed size": crop.seed_mm,
    }
    by_origin: dict[str, list[str]] = {crop.origin: ["names and method"]}
    for name, fact in figures.items():
        if fact is not None:
            by_origin.setdefault(fact.origin, []).append(name)
    return "; ".join(f"{', '.join(names)}: {origin}" for origin, names in by_origin.items())


def _crops() -> list[tuple[str, ...]]:
    return [_crop(crop) for crop in crops().values()]


def _languages() -> list[tuple[str, ...]]:
    names = ((code, words_for(code).locale.get_display_name("en") or code) for code in languages())
    return [(code, name, "words of this program") for code, name in names]


KINDS: dict[str, Callable[[], list[tuple[str, ...]]]] = {
    "trays": _trays,
    "stocks": _stocks,
    "crops": _crops,
    "papers": _papers,
    "languages": _languages,
}
"""What can be listed; the last column of every row is the origin."""

HEADINGS: dict[str, tuple[tuple[str, ...], tuple[int, ...]]] = {
    "trays": (("name", "what it is", "cells", "rows x cols", "outer mm", "cell mm", "deep mm", "cell ml"), (2, 6, 7)),
    "stocks": (("name", "what it is", "labels", "label mm", "page mm"), (2,)),
    "crops": (
        ("crop", "also", "method", "least germ.", "seeds/g", "cover mm", "soil C", "weeks to plant out"),
        (3, 4),
    ),
    "papers": (("name", "what it is", "mm"), ()),
    "languages": (("code", "language"), ()),
}
