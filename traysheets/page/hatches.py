"""Hatches: sixteen patterns told apart at 6 mm, in any quarter turn, in black and white."""

from traysheets.page.marks import Clip

HATCHES: tuple[str, ...] = (
    "solid", "diagonal", "dots", "squares", "bold-diagonal", "plus", "checker", "grid",
    "bold-horizontal", "cross", "zigzag", "waves", "rings", "horizontal", "big-dots", "brick",
)  # fmt: skip
"""In order: the first k differ most."""


def hatch(number: int) -> str:
    """The hatch of the `number`-th variety of a sheet, from 0: with the eight colours 128 pairs, the first 16 all differ in hatch."""
    return HATCHES[(number + number // 16) % 16]


def hatched(name: str, width_mm: float, height_mm: float, fill: str, radius_mm: float = 0.0) -> Clip:
    """A rectangle at the origin filled with a colour and hatched in black."""
    raise NotImplementedError
