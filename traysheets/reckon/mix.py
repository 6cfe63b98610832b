"""Potting mix: how much a number of cells takes."""

from traysheets.base.units import LITRES_PER_CUBIC_FOOT

# Mix is pressed level as cells are filled (common practice, no source).
PRESSING = 0.15


def mix_litres(cells: int, volume_ml: float) -> float:
    """Cell volume x cells x (1 + allowance for pressing), in litres."""
    return cells * volume_ml / 1000 * (1 + PRESSING)


def cubic_feet(litres: float) -> float:
    """The same volume in cubic feet, as bags are sold: 28.316846592 litres each, exactly (0.3048 m cubed)."""
    return litres / LITRES_PER_CUBIC_FOOT
