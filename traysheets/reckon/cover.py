"""How deep seed is covered."""

from traysheets.plan.model import Sowing
from traysheets.reckon.model import Figure, Source
from traysheets.reckon.rounding import middle, nearest


def cover_mm(sowing: Sowing) -> Figure[float] | None:
    """The plan's cover, else the shallow end of the crop's range, as in cells rather than the open ground.

    Seed that is to be covered very lightly, not left bare, takes the middle of its range. None where no table says.
    """
    if sowing.cover_mm is not None:
        return Figure(sowing.cover_mm, Source.PLAN)
    usual = sowing.crop.cover_mm
    if usual is None:
        return None
    bare = sowing.crop.surface or usual.value[0] > 0
    depth = usual.value[0] if bare else float(nearest(middle(usual.value)))
    origin = f"{usual.value[0]:g} to {usual.value[1]:g} mm ({usual.origin})"
    return Figure(depth, Source.CROP_TABLE, origin)
