"""Sheets of paper and drawing scales, from the standards that fix them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, portrait: short side `width_mm`, long side `height_mm`."""

    name: str
    title: str
    width_mm: float
    height_mm: float
    origin: str = ""
