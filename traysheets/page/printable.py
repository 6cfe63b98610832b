"""Printable: whether a page that is corrected for a printer still goes onto its paper."""

from traysheets.base.errors import SheetError
from traysheets.page.correction import Correction, Stretch
from traysheets.page.lettering import SLACK_MM
from traysheets.page.marks import Link, Page
from traysheets.page.reach import box

_SIDES = ("left", "top", "right", "bottom")


def corrected(page: Page, correction: Correction) -> Stretch:
    """How to stretch a page so that the printer brings it out true.

    Raises SheetError when marks would then reach off the page: no printer prints what is not on its page.
    """
    stretch = correction.corrected(page.width_mm, page.height_mm)
    side, over_mm = max(_over_mm(page, stretch).items(), key=lambda found: found[1])
    if over_mm > SLACK_MM:
        where = f"page '{page.title}'" if page.title else "a page"
        raise SheetError(
            f"{where}: corrected for the printer, marks would reach {over_mm:.1f} mm off the {side} of the page and be "
            "cut off; check the shifts and lengths under [printer], or choose other paper or another scale"
        )
    return stretch


def _over_mm(page: Page, stretch: Stretch) -> dict[str, float]:
    """How far marks reach over each edge of a stretched page; negative where they stay inside."""
    reaches = [stretch.box(box(mark)) for mark in page.marks if not isinstance(mark, Link)]
    if not reaches:
        return dict.fromkeys(_SIDES, 0.0)
    left, top, right, bottom = zip(*reaches, strict=True)
    edges = (-min(left), -min(top), max(right) - page.width_mm, max(bottom) - page.height_mm)
    return dict(zip(_SIDES, edges, strict=True))
