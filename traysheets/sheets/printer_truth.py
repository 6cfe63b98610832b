"""What the plan says of the grower's printer: the correction of every sheet for it, and what is odd about that."""

from collections.abc import Collection, Iterator

from traysheets.base.notices import Notice
from traysheets.page.correction import Correction
from traysheets.plan.model import PrinterTruth
from traysheets.sheets.job import Job

_EDGE_MM = 6.35
"""Nothing on a sheet stands nearer to its edge."""
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
    """A notice for every size of page on which the correction brings marks to where many printers print nothing."""
    found = correction(job.plan.printer)
    if found is None:
        return ()
    nearest = {name: found.nearest_mm(across, down, _EDGE_MM) for name, across, down in _pages(job, outputs)}
    return tuple(
        Notice(
            f"the correction under [printer] moves marks on {name} to {max(mm, 0.0):.1f} mm from the edge of the page; "
            "the corner marks of the printer check page show whether the printer reaches that far"
        )
        for name, mm in nearest.items()
        if mm < _REACHED_MM
    )


def _pages(job: Job, outputs: Collection[str]) -> Iterator[tuple[str, float, float]]:
    """Names and sizes of the pages of a run: the paper upright, and the stock of the sticks where it is a sheet."""
    paper, stock = job.choices.paper, job.choices.stock
    if set(outputs) - _NO_PAPER:
        yield f"{paper.name} paper", paper.width_mm, paper.height_mm
    if "sticks" in outputs and stock.labels > 1:
        yield f"the stock '{stock.name}'", *stock.page_mm
