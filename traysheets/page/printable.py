"""Printable: whether a page that is corrected for a printer still goes onto its paper."""

from collections.abc import Iterable, Iterator
from weakref import WeakKeyDictionary

from traysheets.base.errors import SheetError
from traysheets.page.correction import UNCHANGED, Correction, Stretch
from traysheets.page.lettering import SLACK_MM
from traysheets.page.marks import Link, Mark, Page, Place, Stamp
from traysheets.page.reach import Box, around, box, turned

_SIDES = ("left", "top", "right", "bottom")
_inked: WeakKeyDictionary[Stamp, Box | None] = WeakKeyDictionary()


def corrected(page: Page, correction: Correction) -> Stretch | None:
    """How to stretch a page so that the printer brings it out true; None where it is to be left as it is.

    Raises SheetError when marks would then reach off the page: no printer prints what is not on its page.
    """
    stretch = correction.corrected(page.width_mm, page.height_mm)
    if stretch == UNCHANGED:
        return None
    over_mm, side = max(zip(_over_mm(page, stretch), _SIDES, strict=True))
    if over_mm > SLACK_MM:
        where = f"page '{page.title}'" if page.title else "a page"
        raise SheetError(
            f"{where}: corrected for the printer, marks would reach {over_mm:.1f} mm off the {side} of the page and be "
            "cut off; check the shifts and lengths under [printer], or choose other paper or another scale"
        )
    return stretch


def _over_mm(page: Page, stretch: Stretch) -> tuple[float, float, float, float]:
    """How far the marks of a stretched page reach over its left, top, right and bottom; negative where they do not."""
    ink = around(_boxes(page.marks))
    if ink is None:
        return (0.0,) * 4
    left, top, right, bottom = stretch.box(ink)
    return -left, -top, right - page.width_mm, bottom - page.height_mm


def _boxes(marks: Iterable[Mark]) -> Iterator[Box]:
    """Where marks leave ink; of a stamp, where its own marks do."""
    for mark in marks:
        if isinstance(mark, Place):
            ink = _ink(mark.stamp)
            if ink:
                yield turned(ink, mark)
        elif not isinstance(mark, Link):
            yield box(mark)


def _ink(stamp: Stamp) -> Box | None:
    """Around all ink of a stamp, which is looked at once."""
    if stamp not in _inked:
        _inked[stamp] = around(_boxes(stamp.marks))
    return _inked[stamp]
