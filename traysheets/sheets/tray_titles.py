"""What a kind of tray is called on a sheet, in the language of the sheet: made from its shape, as names are in English.

The grower's own tray is called what the plan calls it.
"""

from traysheets.base.words import Words
from traysheets.sheets.lesson import Vessel, vessel
from traysheets.sheets.phrases import size
from traysheets.trade.trays import Tray


def tray_title(tray: Tray, words: Words, units: str) -> str:
    """What a tray is: `flat of 18 pots`, `tray of 72 cells`; of a single pot, block or open tray also the size."""
    if not tray.built_in:
        return tray.title
    return words(f"trays.{_kind(tray)}", n=tray.cells, size=size(*tray.outer_mm, words, units))


def _kind(tray: Tray) -> str:
    """The key of the words for a tray."""
    cell = vessel(tray)
    if tray.cells > 1:
        return "cells" if cell is Vessel.TRAY else f"{cell}s"
    if cell in (Vessel.BLOCK, Vessel.TRAY):
        return "block" if cell is Vessel.BLOCK else "open"
    return "round_pot" if tray.shape == "round" else "pot"
