"""Phrases that several sheets share: what to do in every cell, how deep to cover, where a run stands."""

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.words import Words
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch, Source
from traysheets.sheets import measures
from traysheets.trade.papers import Paper
from traysheets.trade.trays import Tray


def in_every_cell(batch: Batch, words: Words) -> str:
    """What to put in every cell: `25 seeds, scattered`, `3 holes × 2 seeds`, `1 seed, in the middle`.

    Seed that is not covered gets no holes: `3 places × 2 seeds`.
    """
    if batch.stations and batch.seeds_per_station:
        holes = words("sow.places" if on_top(batch) else "sow.holes", n=batch.stations)
        return words("sow.stations", holes=holes, seeds=words("sow.seeds", n=batch.seeds_per_station.value))
    key = "sow.clump" if batch.sowing.method is Method.CLUMP else "sow.single"
    return words(key, n=batch.seeds_per_cell.value)


def count_in_cell(batch: Batch, words: Words) -> str:
    """The same as short as it can be said: `25`, `3 × 2`, `1`."""
    if batch.stations and batch.seeds_per_station:
        return f"{words.number(batch.stations)} × {words.number(batch.seeds_per_station.value)}"
    return words.number(batch.seeds_per_cell.value)


def on_top(batch: Batch) -> bool:
    """Whether the seed lies on the mix and stays uncovered."""
    return batch.cover_mm is not None and batch.cover_mm.value == 0


def cover(batch: Batch, words: Words, units: str) -> str:
    """How deep to cover the seed: `6 mm`, `on top, do not cover`; empty when nothing is known."""
    if batch.cover_mm is None:
        return ""
    if on_top(batch):
        return words("sow.uncovered")
    return words.length(batch.cover_mm.value, units)


def soil_assumed(batch: Batch, words: Words, units: str) -> str:
    """The soil that the days of emergence rest on, where nobody gave it: `soil of 23.5 °C assumed`; else empty."""
    soil = batch.emergence.soil_c if batch.emergence else None
    if soil is None or soil.source is Source.PLAN:
        return ""
    return words("records.soil_assumed", warmth=measures.temperature(soil.value, words, units))


def size(across_mm: float, down_mm: float, words: Words, units: str) -> str:
    """A size across and down: `76 mm`, `61 × 38 mm` (the unit said once)."""
    across, down = words.length(across_mm, units), words.length(down_mm, units)
    number, _, unit = across.rpartition(" ")
    return across if across == down else f"{number} × {down}" if down.endswith(f" {unit}") else f"{across} × {down}"


def paper_size(paper: Paper, words: Words, units: str) -> str:
    """A paper by its name, which is the same in all languages, and its size: `A4, 210 × 297 mm`."""
    name, _, _ = paper.title.partition(",")
    return f"{name}, {size(paper.width_mm, paper.height_mm, words, units)}"


def scale(name: str, words: Words) -> str:
    """A scale by its name as the language writes numbers: `1:2.5`, `1:2,5`."""
    return ":".join(words.number(float(part)) for part in name.split(":"))


def whereabouts(tray: ArrangedTray, batch: int) -> str:
    """The cells of a batch in a tray by its runs: `A1–B2, C5`."""
    return ", ".join(cells(tray.kind, run) for run in tray.runs if run.batch == batch)


def cells(kind: Tray, run: Run) -> str:
    """The cells of a run from the first to the last: `A1–B2`, `C5`."""
    first, last = kind.cell_name(run.first), kind.cell_name(run.last)
    return first if first == last else f"{first}–{last}"
