"""Finished sheets read back: whole ones pass in every form, on any paper and stock, in any language."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

import pytest
from map_jobs import cells_on
from mark_pages import URL, pdf_of
from verify_jobs import MADE, SPRING, read_back, said, sheet

from traysheets.base.words import words_for
from traysheets.page import qr
from traysheets.page.correction import Correction
from traysheets.page.marks import Page, Place
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS
from traysheets.trade.trays import built_in_trays
from traysheets.verify.report import Report
from traysheets.verify.scales import cells_mm, divided_by, scale_findings


@pytest.fixture
def looked(tmp_path: Path) -> Callable[[bytes], Report]:
    return partial(read_back, tmp_path)


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
@pytest.mark.parametrize("name", list(SHEETS))
def test_every_sheet_is_good_on_any_paper(name: str, paper: str, looked: Callable[[bytes], Report]) -> None:
    report = looked(sheet(name, most=99 if paper == "a4" else 3, paper=paper))
    assert report.findings == []
    assert (report.as_written, report.made_by, report.is_good) == (True, MADE, True)
    if name in {"maps", "templates"}:
        assert len(report.bars_mm) >= report.pages  # type: ignore[operator]
        assert all(length == pytest.approx(50, abs=0.02) for _, length in report.bars_mm)


@pytest.mark.parametrize("language", ["de", "es", "fr", "pt"])
@pytest.mark.parametrize("name", list(SHEETS))
def test_every_sheet_is_good_in_any_language(name: str, language: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet(name, most=2, languages=(language, "en"))).findings == []


STOCKS = check(Options(plan=SPRING), date(2027, 3, 1)).job.plan.stocks


@pytest.mark.parametrize("stock", list(STOCKS))
def test_sticks_are_good_on_every_stock_and_all_codes_are_found(stock: str, looked: Callable[[bytes], Report]) -> None:
    report = looked(sheet("sticks", most=2, stock=stock))
    assert said(report) == []
    assert report.codes
    width, height = STOCKS[stock].page_mm
    assert report.sizes_mm == ((round(width, 1), round(height, 1)),)
    assert min(code.module_mm for code in report.codes) > 0.33


@pytest.mark.parametrize("plan", ["spring", "season"])
def test_every_template_is_good(plan: str, looked: Callable[[bytes], Report]) -> None:
    """Some show a small cell at full size and, beside it, larger."""
    assert looked(sheet("templates", most=99, plan=SPRING.with_name(f"{plan}.toml"))).findings == []


@pytest.mark.parametrize("scale", ["1:1", "1:2.5", "1:10"])
def test_maps_are_good_at_any_scale(scale: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet("maps", scale=scale)).findings == []


@pytest.mark.parametrize("name", ["maps", "sticks", "guide", "overview"])
def test_the_other_sample_is_good(name: str, looked: Callable[[bytes], Report]) -> None:
    assert looked(sheet(name, plan=SPRING.with_name("season.toml"))).findings == []


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_the_scale_of_every_kind_of_tray_is_that_of_its_cells(
    units: str, tmp_path: Path, looked: Callable[[bytes], Report], monkeypatch: pytest.MonkeyPatch
) -> None:
    sowing = (
        '[[sowing]]\ncrop = "Onion"\nvariety = "V"\nmethod = "clump"\nseeds_per_cell = 3\nsow = 2027-03-06\ncells = 4\n'
    )
    head = f'[plan]\ntitle = "Trays"\ngrower = "G"\nseason = 2027\nunits = "{units}"\n'
    plan = tmp_path / "plan.toml"
    plan.write_text(head + "".join(f'{sowing}tray = "{tray}"\n' for tray in built_in_trays()))
    told: list[tuple[float | None, object]] = []
    monkeypatch.setattr(
        "traysheets.verify.pages.scale_findings",
        lambda foot, head, drawn, number: (
            told.append((divided_by(foot), cells_mm(head))) or scale_findings(foot, head, drawn, number)  # type: ignore[func-returns-value]
        ),
    )
    report = looked(sheet("maps", most=99, plan=plan))
    assert said(report) == []
    assert len(told) == report.pages >= len(built_in_trays())  # type: ignore[operator]
    assert all(divisor and cells for divisor, cells in told)


@pytest.mark.parametrize(
    ("foot", "head", "drawn", "wrong"),
    [
        ("Scale 1:2.5 black corner", "flat · 3 rows × 6 columns, cells of 76 mm", (30.4, 30.4), False),
        ("Maßstab 1:2,5", "3 × 6, Zellen von 61 × 38 mm", (24.4, 15.2), False),
        ("Scale 1:2", "cells of 3 in", (38.1, 38.1), False),
        ("Scale 1:2", "cells of 3 3/8 × 1/2 in", (42.9, 6.4), False),
        ("Scale 1:2", "cells of 76 mm", (30.4, 30.4), True),
        ("Scale 1:2", "cells of 61 × 38 mm", (15.2, 24.4), True),
        ("Scale 1:2", "no size", (1, 1), False),
        ("no scale", "cells of 76 mm", (1, 1), False),
        ("1:2 or 1:4", "cells of 76 mm", (1, 1), False),
        ("at 11:20", "cells of 76 mm", (1, 1), False),
        ("Scale 1:2", "flat 3/0 mm · 3 rows × 6 columns, cells of 80 mm", (40, 40), False),
        ("Scale 1:2", "flat 3/0 mm · 3 rows × 6 columns, cells of 80 mm", (1, 1), True),
        ("at 1:0", "cells of 76 mm", (1, 1), False),
    ],
)
def test_a_scale_is_held_against_the_cells(foot: str, head: str, drawn: tuple[float, float], wrong: bool) -> None:
    found = list(scale_findings(foot, head, [(5.0, 5.0), drawn], 3))
    assert [finding.page for finding in found] == ([3] if wrong else [])


def test_cells_of_another_scale_than_the_page_says_are_told(looked: Callable[[bytes], Report]) -> None:
    """The cells alone smaller, the bar left as it is, as no scaling does."""
    first = next(iter(SHEETS["maps"].pages(check(Options(plan=SPRING), date(2027, 3, 1)).job)))
    cells = set(cells_on(first))
    report = looked(pdf_of([replace(first, marks=tuple(mark for mark in first.marks if mark not in cells))]))
    assert said(report) == [
        "it says its scale is 1:2, but no cell is drawn 43.0 x 43.0 mm large; print the sheet itself"
    ]


def test_sheets_corrected_for_a_printer_are_understood(looked: Callable[[bytes], Report]) -> None:
    data = sheet("maps", correction=Correction(1.007, 0.994, 0.8, -0.4))
    report = looked(data)
    assert report.findings == []
    assert {round(length, 2) for _, length in report.bars_mm} == {round(50 / 0.994, 2)}


def test_the_page_to_try_a_printer_has_small_codes_on_purpose(looked: Callable[[bytes], Report]) -> None:
    report = looked(pdf_of(printer_pages(PAPERS["a4"], words_for("en"), "metric")))
    assert said(report) == []
    assert len(report.findings) == 4
    assert min(code.module_mm for code in report.codes) == pytest.approx(0.25, abs=0.01)


def test_codes_are_measured(looked: Callable[[bytes], Report]) -> None:
    """Made with the sizes that are then found on the drawn page."""
    codes = [(qr.code(URL, 14), (20, 20)), (qr.code("27-014-K", 30), (60, 20)), (qr.code("a" * 100, 40, 2), (20, 80))]
    report = looked(pdf_of([Page(210, 297, tuple(Place(code.stamp, *at) for code, at in codes))]))
    assert [code.text for code in report.codes] == [code.text for code, _ in codes]
    for seen, (meant, at) in zip(report.codes, codes, strict=True):
        quiet = (meant.stamp.width_mm / meant.module_mm - 17 - 4 * meant.version) / 2
        assert seen.module_mm == pytest.approx(meant.module_mm, rel=0.01)
        assert (seen.version, seen.level) == (meant.version, meant.level)
        assert seen.corner_mm == pytest.approx([side + quiet * meant.module_mm for side in at], abs=0.2)
        assert seen.quiet_modules == 4
