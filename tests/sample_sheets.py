"""Every kind of sheet of the samples as PDF files, made once for all tests that look at finished files."""

import io
from datetime import date
from functools import cache
from typing import Any

from mark_pages import pdf_of

from traysheets.base.bundle import bundled
from traysheets.base.words import words_for
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Document
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.sheets.job import Job
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS

NAMES = (*SHEETS, "printer check")


@cache
def job(plan: str = "spring", **choices: Any) -> Job:
    """A sample read, reckoned and arranged."""
    return check(Options(plan=bundled("sample_plans") / f"{plan}.toml", **choices), date(2027, 3, 1)).job


@cache
def sheet(name: str, plan: str = "spring", most: int = 1000, **choices: Any) -> bytes:
    """A sheet of a sample, or its first pages."""
    if name == "printer check":
        return pdf_of(printer_pages(PAPERS["a4"], words_for("en"), "metric"), "Printer check")
    made = job(plan, **choices)
    pages = (page for page, _ in zip(SHEETS[name].pages(made), range(most), strict=False))
    file = io.BytesIO()
    title = f"{made.words(SHEETS[name].title)}: {made.plan.title}"
    write_pdf(Document(title, pages, author=made.plan.grower, language=made.words.language), file)
    return file.getvalue()
