"""What a kind of tray is called on a sheet, in the language of the sheet: made from its shape, as names are in English.

The grower's own tray is called what the plan calls it.
"""

from traysheets.base.words import Words
from traysheets.sheets.phrases import size
from traysheets.trade.trays import Tray

_POT_FROM_MM = 62.0
_TRAY_FROM_MM = 150.0
"""Shorter side of a cell from which it is called a pot, and an open tray (judgement, no source)."""


def tray_title(tray: Tray, words: Words, units: str) -> str:
    """What a tray is: `flat of 18 pots`, `tray of 72 cells`; of a single pot, block or open tray also the size."""
    if not tray.built_in:
        return tray.title
    return words(f"trays.{_kind(tray)}", n=tray.cells, size=size(*tray.outer_mm, words, units))


def _kind(tray: Tray) -> str:
    """The key of the words for a tray."""
    single, side_mm = tray.cells == 1, min(tray.cell_mm)
    if tray.family == "soil block":
        return "block" if single else "blocks"
    if single and side_mm >= _TRAY_FROM_MM:
        return "open"
    if single:
        return "round_pot" if tray.shape == "round" else "pot"
    return "pots" if side_mm >= _POT_FROM_MM else "cells"
