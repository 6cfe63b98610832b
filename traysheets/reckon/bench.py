"""Trays and benches in the flat: the room a tray takes, and how many whole trays a bench holds."""

from math import floor

from traysheets.plan.model import Bench
from traysheets.trade.trays import Tray

# A shelf of exactly four widths holds four trays, whatever the last bit of a float says.
FIT_SLACK_MM = 1e-6


def area_m2(tray: Tray) -> float:
    """Bench area of a tray: its outer size."""
    return tray.outer_mm[0] * tray.outer_mm[1] / 1e6


def trays_on_shelf(length_mm: float, depth_mm: float, tray: Tray) -> int:
    """Whole trays on a shelf, all laid the same way round, whichever way holds more."""
    long, wide = tray.outer_mm

    def along(shelf_mm: float, side_mm: float) -> int:
        return floor((shelf_mm + FIT_SLACK_MM) / side_mm)

    return max(along(length_mm, long) * along(depth_mm, wide), along(length_mm, wide) * along(depth_mm, long))


def holds(bench: Bench, tray: Tray) -> int:
    """Whole trays of one kind on all shelves of a bench."""
    return bench.shelves * trays_on_shelf(bench.length_mm, bench.depth_mm, tray)
