"""Trays: every built-in one holds its cells, cells are named and placed right, and a tray that cannot be is seen."""

import math
from dataclasses import replace
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.cells import row_letters, row_number
from traysheets.trade.tables import read_table
from traysheets.trade.trays import (
    Tray,
    built_in_trays,
    misfits,
    top_area_mm2,
    usual_volume_ml,
)

TRAYS = built_in_trays()
CRATE = Tray(
    name="crate-40",
    title="crate",
    rows=5,
    columns=8,
    outer_mm=(400, 250),
    cell_mm=(44, 44),
    pitch_mm=(48, 48),
    depth_mm=50,
    volume_ml=80,
)


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
def test_every_built_in_tray_holds_its_cells(tray: Tray) -> None:
    assert misfits(tray) == ()
    assert tray.origin
    assert tray.volume_origin
    assert tray.shape in {"square", "round"}


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
def test_every_cell_lies_inside_the_tray_and_clear_of_the_next(tray: Tray) -> None:
    for cell in range(tray.cells):
        for centre, size, outer in zip(tray.centre_mm(cell), tray.cell_mm, tray.outer_mm, strict=True):
            assert centre - size / 2 >= -0.05
            assert centre + size / 2 <= outer + 0.05
    steps = [abs(a - b) for a, b in zip(tray.centre_mm(0), tray.centre_mm(tray.cells - 1), strict=True)]
    assert steps == pytest.approx([(tray.columns - 1) * tray.pitch_mm[0], (tray.rows - 1) * tray.pitch_mm[1]])


@pytest.mark.parametrize("row", read_table("trays"), ids=lambda row: row["name"])
def test_cells_stand_inside_the_carrier(row: dict[str, str]) -> None:
    tray = TRAYS[row["name"]]
    for count, pitch, cell, inner in (
        (tray.columns, *(float(row[f"{name}_length_mm"]) for name in ("pitch", "cell", "inner"))),
        (tray.rows, *(float(row[f"{name}_width_mm"]) for name in ("pitch", "cell", "inner"))),
    ):
        assert (count - 1) * pitch + cell <= inner + 0.05


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
def test_a_cell_holds_no_more_than_its_box(tray: Tray) -> None:
    # A soil block is a cube whose volume the table rounds to two figures.
    assert tray.volume_ml <= top_area_mm2(tray.cell_mm, tray.shape) * tray.depth_mm / 1000 * 1.01


@pytest.mark.parametrize(
    ("name", "rows", "columns"),
    [
        ("pot-18", 3, 6),
        ("cell-50", 5, 10),
        ("cell-72", 6, 12),
        ("cell-128", 8, 16),
        ("cell-200", 10, 20),
        ("cell-288", 12, 24),
        ("cell-392", 14, 28),
        ("cell-512", 16, 32),
        ("eu-77", 7, 11),
        ("eu-260", 13, 20),
        ("jp-288", 12, 24),
    ],
)
def test_layouts_of_common_trays(name: str, rows: int, columns: int) -> None:
    # Common practice, no source: a tray is called by its number of cells.
    assert (TRAYS[name].rows, TRAYS[name].columns) == (rows, columns)
    assert str(TRAYS[name].cells) == name.partition("-")[2]


def test_outer_sizes() -> None:
    # Measured sizes of the 10 x 20 in flat (from retail listings); 600 x 400 mm is the module of ISO 3394.
    assert TRAYS["flat-1020"].outer_mm == (543, 279)
    assert {tray.outer_mm for name, tray in TRAYS.items() if name.startswith("eu-")} == {(600, 400)}
    assert TRAYS["cell-128"].cell_mm == pytest.approx((9 / 8 * 25.4, 9 / 8 * 25.4), abs=0.05)


def test_a_usual_volume_is_the_middle_of_the_known_ones() -> None:
    # Trays without a volume of their own are reckoned by the formula; soil blocks and open flats do not taper.
    own = [tray for name, tray in TRAYS.items() if not name.startswith(("jp-", "block-")) and "flat" not in name]
    shares = [tray.volume_ml / usual_volume_ml(tray.cell_mm, tray.depth_mm, tray.shape) for tray in own]
    assert median(shares) == pytest.approx(1, abs=0.05)


@given(st.floats(5, 100), st.floats(5, 100))
def test_a_usual_volume_is_that_of_the_frustum(side: float, depth: float) -> None:
    base = side * 0.55
    by_slices = sum((base + (side - base) * (i + 0.5) / 1000) ** 2 for i in range(1000)) * depth / 1000 / 1000
    assert usual_volume_ml((side, side), depth, "square") == pytest.approx(by_slices, rel=1e-5)


def test_top_area() -> None:
    assert CRATE.top_area_mm2 == 44 * 44
    assert replace(CRATE, shape="round").top_area_mm2 == pytest.approx(math.pi * 22**2)
    assert replace(CRATE, cell_mm=(44, 38)).top_area_mm2 == 44 * 38


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
def test_every_cell_is_found_by_its_name(tray: Tray) -> None:
    assert [tray.cell_number(tray.cell_name(cell)) for cell in range(tray.cells)] == list(range(tray.cells))
    assert tray.cell_name(0) == "A1"


def test_cells_are_named_row_by_row() -> None:
    assert [CRATE.cell_name(cell) for cell in (0, 7, 8, 39)] == ["A1", "A8", "B1", "E8"]
    assert CRATE.cell_number(" b2 ") == 9


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("A9", "there is no cell A9 in crate-40: its cells run from A1 to E8"),
        ("F1", "there is no cell F1 in crate-40: its cells run from A1 to E8"),
        ("zz99", "there is no cell ZZ99 in crate-40: its cells run from A1 to E8"),
        ("A0", "'A0' is not a cell; cells are named by row letter and column number, like A1"),
        ("1A", "'1A' is not a cell; cells are named by row letter and column number, like A1"),
        ("", "'' is not a cell; cells are named by row letter and column number, like A1"),
        ("A99999", "'A99999' is not a cell; cells are named by row letter and column number, like A1"),
    ],
)
def test_a_cell_that_is_not_there_is_refused(name: str, sentence: str) -> None:
    with pytest.raises(ValueError, match=f"^{sentence}$"):
        CRATE.cell_number(name)


def test_rows_are_lettered_as_in_a_spreadsheet() -> None:
    assert [row_letters(row) for row in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


@given(st.integers(0, 20000))
def test_row_letters_are_read_back(row: int) -> None:
    assert row_number(row_letters(row)) == row


@pytest.mark.parametrize(
    ("changes", "sentences"),
    [
        ({}, ()),
        ({"shape": "round"}, ()),
        ({"outer_mm": (380, 236)}, ()),
        (
            {"cell_mm": (50, 44)},
            ("cells of 50 mm every 48 mm along the tray would overlap: the pitch is at least a cell",),
        ),
        (
            {"outer_mm": (400, 200)},
            ("5 rows of 44 mm cells every 48 mm take 236 mm, but the tray is 200 mm wide",),
        ),
        (
            {"outer_mm": (370, 200)},
            (
                "8 columns of 44 mm cells every 48 mm take 380 mm, but the tray is 370 mm long",
                "5 rows of 44 mm cells every 48 mm take 236 mm, but the tray is 200 mm wide",
            ),
        ),
        (
            {"rows": 1, "columns": 1, "cell_mm": (410, 44)},
            ("its cell takes 410 mm, but the tray is 400 mm long",),
        ),
        (
            {"shape": "round", "cell_mm": (44, 38)},
            ("a round cell has one width, not 44 mm and 38 mm",),
        ),
    ],
)
def test_a_tray_that_cannot_be_is_seen(changes: dict[str, object], sentences: tuple[str, ...]) -> None:
    assert misfits(replace(CRATE, **changes)) == sentences
