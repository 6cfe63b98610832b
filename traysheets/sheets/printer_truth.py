"""What the plan says of the grower's printer: the correction of every sheet for it, and what is odd about that."""

from collections.abc import Collection, Iterator

from traysheets.base.notices import Notice
from traysheets.page.correction import UNCHANGED, Correction
from traysheets.page.marks import MARGIN_MM
from traysheets.plan.model import PrinterTruth
from traysheets.sheets.job import Job

_REACHED_MM = 4.3
"""What nearly every printer leaves blank: a sixth of an inch (common practice, no source)."""
_NO_PAPER = frozenset({"sticks", "records"})
"""Outputs that are not printed on the chosen paper."""


def correction(truth: PrinterTruth) -> Correction | None:
    """The correction of every page; None for a printer that is true, or that nobody has measured."""
    if truth == PrinterTruth():
        return None
    return Correction(truth.scale_across, truth.scale_down, truth.shift_right_mm, truth.shift_down_mm)


def printer_notices(job: Job, outputs: Collection[str]) -> tuple[Notice, ...]:
    """What is odd about the correction: marks near the edge of a kind of page, and rolls, which are not corrected."""
    found = correction(job.plan.printer)
    return tuple(Notice(text) for text in _said(job, outputs, found)) if found else ()


def _said(job: Job, outputs: Collection[str], printer: Correction) -> Iterator[str]:
    paper, stock = job.choices.paper, job.choices.stock
    if set(outputs) - _NO_PAPER:
        yield from _near_edge(f"{paper.name} paper", (paper.width_mm, paper.height_mm), printer)
    if "sticks" in outputs and printer.printed(*stock.page_mm) == UNCHANGED:
        yield f"sticks on '{stock.name}' are not corrected for the printer: [printer] is true of sheets, not of rolls"
    elif "sticks" in outputs:
        yield from _near_edge(f"the stock '{stock.name}'", stock.page_mm, printer)


def _near_edge(pages: str, size_mm: tuple[float, float], printer: Correction) -> Iterator[str]:
    """Where the correction brings marks to where many printers print nothing."""
    nearest_mm = printer.nearest_mm(*size_mm, MARGIN_MM)
    if nearest_mm < _REACHED_MM:
        yield (
            f"the correction under [printer] moves marks on {pages} to {max(nearest_mm, 0.0):.1f} mm from the edge of "
            "the page; the corner marks of the printer check page show whether the printer reaches that far"
        )
