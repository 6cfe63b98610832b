"""The form of a sowing, which the defaults fill in too."""

from typing import Annotated

from traysheets.base import limits
from traysheets.plan.form import Form, MethodName, Seeds, SeedsInCell, SeedsInStation, Stations, Weeks, whole
from traysheets.plan.quantities import Confidence, Cover, Day, GapDays, Germination, Spare, Temperature
from traysheets.plan.texts import Batch, Code, Name, Notes, Sticks, Texts


class RepeatForm(Form):
    """Successions, each a batch of its own."""

    every: GapDays | None = None
    """Time from one sowing to the next."""
    times: Annotated[int, whole(1, limits.MOST_REPEATS)] | None = None
    """How many sowings in all."""


class SowingForm(Form):
    """One variety, sown one way, on one day, in one kind of tray."""

    crop: Name | None = None
    """What it is; `traysheets list crops` shows those there are."""
    variety: Name | None = None
    """The variety, as on the packet."""
    method: MethodName | None = None
    """`single`: one plant a cell; `clump`: many seeds, no thinning; `stations`: spaced holes, thinned to one a hole."""
    seeds_per_cell: SeedsInCell | None = None
    """For `clump` and `single`."""
    stations: Stations | None = None
    """Holes in a cell, for `stations`."""
    seeds_per_station: SeedsInStation | None = None
    """Seeds in each hole, for `stations`."""
    cells: Annotated[int, whole(1, limits.MOST_CELLS)] | None = None
    """How much: so many cells. Exactly one of cells, trays, plants, seeds."""
    trays: Annotated[int, whole(1, limits.MOST_TRAYS)] | None = None
    """How much: so many full trays."""
    plants: Annotated[int, whole(1, limits.MOST_PLANTS)] | None = None
    """How much: as many cells as it takes to have so many plants."""
    seeds: Seeds | None = None
    """How much: as many whole cells as so many seeds fill."""
    tray: Name | None = None
    """Kind of tray; `traysheets list trays` shows those there are."""
    sow: Day | None = None
    """Sowing day, or an ISO week. One of sow, plant_out, weeks_before_frost."""
    plant_out: Day | None = None
    """Planting-out day; the sowing day is reckoned from it."""
    weeks_before_frost: Weeks | None = None
    """Sown so many weeks before the plan's last_frost."""
    lot: Name | None = None
    """The seed lot, as on the packet."""
    germination: Germination | None = None
    """A fraction or text like `85 %`; `seen`: as the book has seen of the lot; else the legal minimum is assumed."""
    soil_temp: Temperature | None = None
    """Temperature of the mix."""
    cover: Cover | None = None
    """Depth of cover over the seed; 0 for none."""
    repeat: RepeatForm | None = None
    """Successions."""
    on_hand: Annotated[int, whole(0, limits.MOST_SEEDS)] | None = None
    """Seeds of this lot in the tin."""
    packet: Seeds | None = None
    """Seeds in a packet, for the buying list."""
    treated: bool | None = None
    """Chemically treated seed: a caution is printed wherever it is handled."""
    code: Code | None = None
    """Two characters on the map; made from the variety when left out."""
    batch: Batch | None = None
    """The grower's own batch code."""
    sticks: Sticks | None = None
    """`run` or `cell` for one each, or a number in all."""
    at: Texts | None = None
    """Cells kept for it: tray number and cells, as `3: A1-B2` for A1 to B2 in reading order."""
    own_trays: bool | None = None
    """Whether it shares no tray with another sowing."""
    place: Name | None = None
    """Where its trays stand; sowings of different places share no tray."""
    notes: Notes | None = None
    """Anything worth knowing; stands on the record."""
    confidence: Confidence | None = None
    """Chance wanted that a wanted stand is reached."""
    spare: Spare | None = None
    """Extra seed set aside, as a fraction of what is sown."""
