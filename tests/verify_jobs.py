"""Finished sheets of the sample to be read back, whole or changed as another program would."""

import io
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pikepdf

from traysheets import __version__
from traysheets.base.bundle import bundled
from traysheets.export.pdf import write_pdf
from traysheets.page.correction import Correction
from traysheets.page.marks import Document
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.verify.report import Report
from traysheets.verify.verify import verify

SPRING = bundled("sample_plans") / "spring.toml"
MADE = f"traysheets {__version__}"


def sheet(name: str, most: int = 3, correction: Correction | None = None, **choices: object) -> bytes:
    """The first pages of a sheet of the sample."""
    job = check(Options(**{"plan": SPRING} | choices), date(2027, 3, 1)).job  # type: ignore[arg-type]
    pages = (page for page, _ in zip(SHEETS[name].pages(job), range(most), strict=False))
    file = io.BytesIO()
    write_pdf(Document(name, pages, language=job.words.language, correction=correction), file)
    return file.getvalue()


@cache
def maps() -> bytes:
    return sheet("maps")


@cache
def sticks() -> bytes:
    return sheet("sticks")


def read_back(folder: Path, data: bytes) -> Report:
    """What is found in a file of these bytes."""
    file = folder / "sheet.pdf"
    file.write_bytes(data)
    return verify(file)


def said(report: Report) -> list[str]:
    return [finding.text for finding in report.findings if finding.wrong]


def changed(data: bytes, change: Callable[[pikepdf.Pdf], object]) -> bytes:
    """A copy that another program saved after a change."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        saved = io.BytesIO()
        pdf.save(saved)
    return saved.getvalue()


def scaled(pdf: pikepdf.Pdf, share: float = 0.97, *, page_too: bool = True) -> None:
    """All pages smaller, as a print to a file that was fitted to its page."""
    for page in pdf.pages:
        page.contents_add(pikepdf.Stream(pdf, f"{share} 0 0 {share} 0 0 cm".encode()), prepend=True)
        if page_too:
            page.mediabox = [float(side) * share for side in page.mediabox]


def painted(pdf: pikepdf.Pdf, page: int, operators: str) -> None:
    """Something drawn over a page, in points from its lower left corner."""
    pdf.pages[page].contents_add(pikepdf.Stream(pdf, b"q"), prepend=True)
    pdf.pages[page].contents_add(pikepdf.Stream(pdf, f"Q {operators}".encode()))
