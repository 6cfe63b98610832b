"""What the sheets of a plan say, as plain values for tools that know nothing of sowing.

Taken from the facts that `check` tells of the plan, so that every tool draws the same sticks and the same cells.
"""

from datetime import date
from pathlib import Path
from typing import Any

from traysheets.base.cells import row_letters
from traysheets.page.palette import FILLS
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.trade.stocks import built_in_stocks
from traysheets.trade.trays import Tray, built_in_trays

ADDRESS = "HTTPS://RECORDS.EXAMPLE.ORG"
STOCK = "a4-21"
TRAY = "cell-200"
SCALE = 2.5
PAGE_MM = (297.0, 210.0)
TRAY_TOP_MM = 32.0
"""Where a tray begins on its page, below the head."""
LEGEND_MM = (7.0, 19.0, 31.0, 90.0, 150.0, 172.0, 205.0, 228.0)
"""Where the columns of a legend begin: the cell as drawn, then the texts."""

INSET_MM = 0.3
STEPS = 5
"""Lines or dots across a cell."""

Plain = dict[str, Any]
Segment = tuple[float, float, float, float]


def sticks_of(plan: Path, each: int) -> Plain:
    """`each` sticks of every batch on the stock measured: the sheet, and of each batch the name and lines of text."""
    stock = built_in_stocks()[STOCK]
    sheet = {
        "page": stock.page_mm,
        "corners": [stock.corner_mm(label) for label in range(stock.labels)],
        "label": stock.label_mm,
    }
    return sheet | {"batches": [_stick(sowing, each) for sowing in _facts(plan)["sowings"]]}


def maps_of(plan: Path) -> Plain:
    """A page for every tray: the sheet to scale, and of each tray its head, the look of each cell and the legend."""
    facts, kind = _facts(plan), built_in_trays()[TRAY]
    sowings = {sowing["batch"]: sowing for sowing in facts["sowings"]}
    trays = [_tray(tray, sowings, len(facts["trays"])) for tray in facts["trays"]]
    return {"page": PAGE_MM, **_to_scale(kind), "trays": trays}


def _facts(plan: Path) -> Plain:
    return check(Options(plan), date(2027, 1, 15)).facts


def _stick(sowing: Plain, each: int) -> Plain:
    first = sowing["runs"][0]
    return {
        "url": f"{ADDRESS}/B/{sowing['batch']}",
        "count": each,
        "name": sowing["variety"],
        "lines": [
            f"{sowing['code']} · {sowing['crop']}",
            sowing["batch"],
            f"{sowing['seeds_per_cell']} a cell, do not thin",
            f"sown {_day(sowing['sow'])}",
            f"plant out from {_day(sowing['plant_out'])[:-5]}",
            f"tray {first['tray']}, {first['first']}–{first['last']}",
        ],
    }


def _to_scale(kind: Tray) -> Plain:
    """The tray as it lies on the page: its outer edge, and the left and top edge of every cell."""
    outer, cell = ([length / SCALE for length in pair] for pair in (kind.outer_mm, kind.cell_mm))
    left = (PAGE_MM[0] - outer[0]) / 2
    centres = [kind.centre_mm(number) for number in range(kind.cells)]
    return {
        "outer": (left, TRAY_TOP_MM, *outer),
        "cell": cell,
        "rows": [row_letters(row) for row in range(kind.rows)],
        "columns": [str(column + 1) for column in range(kind.columns)],
        "corners": [
            (left + across / SCALE - cell[0] / 2, TRAY_TOP_MM + down / SCALE - cell[1] / 2) for across, down in centres
        ],
        "hatches": [{"lines": lines, "stroke": stroke} for lines, stroke in hatches(*cell)],
        "legend_top": TRAY_TOP_MM + outer[1] + 9,
        "legend_columns": LEGEND_MM,
        "headings": ["", "", "Variety", "In every cell", "Cells", "Where", "Seeds", "Batch"],
        "scale": f"Scale 1:{SCALE:g}",
    }


def hatches(width: float, height: float) -> list[tuple[list[Segment], float]]:
    """Four ways to mark a cell: bare, diagonals, dots (short lines with round ends), a grid; and how wide."""
    left, step = INSET_MM, (width - 2 * INSET_MM) / STEPS
    right, top, bottom = width - left, left, height - left
    places = [left + step * (number + 0.5) for number in range(STEPS)]
    diagonals = [(left, left + step * n, left + step * n, top) for n in range(1, STEPS + 1)]
    diagonals += [(left + step * n, bottom, right, top + step * n) for n in range(1, STEPS)]
    dots = [(x, y, x + 0.01, y) for x in places for y in places]
    grid = [line for at in places for line in ((at, top, at, bottom), (left, at, right, at))]
    return [([], 0.0), (diagonals, 0.35), (dots, 0.7), (grid, 0.35)]


def _tray(tray: Plain, sowings: dict[str, Plain], trays: int) -> Plain:
    batches = list(dict.fromkeys(tray["cells"].values()))
    seeds = sum(sowings[batch]["seeds_per_cell"] for batch in tray["cells"].values())
    return {
        "url": f"{ADDRESS}/T/{tray['number']}",
        "title": f"Tray {tray['number']}",
        "of": f"of {trays}",
        "head": [
            f"Sow {_day(tray['sow'])}",
            "tray of 200 cells · 10 rows × 20 columns, cells of 22.5 mm",
            f"{len(tray['cells'])} cells · {seeds} seeds · Invented Growers",
        ],
        "cells": [batches.index(batch) for batch in tray["cells"].values()],
        "looks": [_look(sowings[batch], place) for place, batch in enumerate(batches)],
        "legend": [_legend_row(sowings[batch]) for batch in batches],
    }


def _look(sowing: Plain, place: int) -> Plain:
    """How the cells of a batch look: letters, colour and hatch, which differ within a tray."""
    return {
        "letters": sowing["code"],
        "fill": FILLS[place % len(FILLS)],
        "hatch": place % 4,
    }


def _legend_row(sowing: Plain) -> list[str]:
    run = sowing["runs"][0]
    return [
        sowing["code"],
        f"{sowing['variety']} {sowing['crop']}",
        f"{sowing['seeds_per_cell']} seeds, scattered",
        f"{sowing['cells']}",
        f"{run['first']}–{run['last']}",
        f"{sowing['seeds_total']}",
        sowing["batch"],
    ]


def _day(iso: str) -> str:
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%b %Y}"
