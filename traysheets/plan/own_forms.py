"""The forms of what a grower may add to the tables of the trade: trays, label stocks and crops."""

from typing import Annotated

from traysheets.plan.form import (
    Form,
    MethodName,
    Rows,
    SeedsInCell,
    SeedsInGram,
    SeedsInStation,
    Stations,
    Weeks,
)
from traysheets.plan.quantities import (
    Cover,
    Minimum,
    Offset,
    OneOrTwoLengths,
    PageSize,
    TrayLength,
    TwoLengths,
    TwoOffsets,
    TwoTemperatures,
    Volume,
)
from traysheets.plan.texts import Name, Notes, OneOf


class TrayForm(Form):
    """A tray of the grower's own, seen from above with its long side across."""

    name: Name | None = None
    """What sowings call it."""
    title: Name | None = None
    """What sheets call it; its name when left out."""
    rows: Rows | None = None
    """Rows of cells, one below another."""
    columns: Rows | None = None
    """Cells in a row."""
    outer: TwoLengths | None = None
    """Length and width of the tray."""
    cell: OneOrTwoLengths | None = None
    """Side of a square cell, width of a round one, or length and width."""
    shape: Annotated[str, OneOf("square", "round")] | None = None
    """Shape of a cell."""
    pitch: OneOrTwoLengths | None = None
    """From one cell to the next; cells stand evenly over the tray when left out."""
    depth: TrayLength | None = None
    """Depth of a cell."""
    volume: Volume | None = None
    """Mix that a cell takes; reckoned from its size when left out."""


class StockForm(Form):
    """Label stock of the grower's own: a grid of labels on a page, a roll, or card."""

    name: Name | None = None
    """What it is called."""
    title: Name | None = None
    """What it is, in a few words."""
    page: PageSize | None = None
    """Width and height of the page as it lies in the printer, or the name of a paper."""
    label: TwoLengths | None = None
    """Width and height of a label."""
    rows: Rows | None = None
    """Rows of labels, one below another."""
    columns: Rows | None = None
    """Labels in a row."""
    first: TwoOffsets | None = None
    """Left and top edge of the first label on the page."""
    pitch: TwoLengths | None = None
    """From one label to the next, across and down; the label's own size when left out."""
    point: Annotated[str, OneOf("none", "right")] | None = None
    """`right`: a stake, pointed at that end."""
    corner: Offset | None = None
    """Radius of rounded corners."""
    cut: bool | None = None
    """Whether the page is plain card, so that lines to cut along are printed."""


class CropForm(Form):
    """A crop the tables lack, or one the grower knows better."""

    name: Name | None = None
    """What sowings call it."""
    like: Name | None = None
    """A crop of the tables whose figures it takes where this table gives none."""
    method: MethodName | None = None
    """How it is usually sown."""
    seeds_per_cell: SeedsInCell | None = None
    """Usual seeds of a clump in a 3-inch pot."""
    stations: Stations | None = None
    """Usual holes in a cell."""
    seeds_per_station: SeedsInStation | None = None
    """Usual seeds in a hole."""
    germination: Minimum | None = None
    """Germination to assume for a lot that was not tested."""
    seeds_per_gram: SeedsInGram | None = None
    """Seeds in a gram."""
    cover: Cover | None = None
    """Usual depth of cover; 0 for none."""
    soil_temp: TwoTemperatures | None = None
    """Coolest and warmest mix it comes up well in."""
    weeks_to_transplant: Weeks | None = None
    """Weeks from sowing to planting out."""
    seed_size: TwoLengths | None = None
    """Length and width of a seed."""
    light: bool | None = None
    """Whether the seed wants light to germinate."""
    cluster: bool | None = None
    """Whether a seed is a fruit holding several."""
    compete: bool | None = None
    """Whether its plants shade each other out in clumps and stations."""
    tap_root: bool | None = None
    """Whether its roots must not be split apart."""
    trim: bool | None = None
    """Whether it is cut back when long in the pot."""
    tender: bool | None = None
    """Whether frost kills it."""
    notes: Notes | None = None
    """Anything worth knowing, for whoever reads the plan; it stands on no sheet."""
