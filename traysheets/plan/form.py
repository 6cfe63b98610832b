"""The form a plan file fills in: every table, every key, what kind of value it takes. The JSON Schema is made from it.

Only what can be told from one value alone is checked here. Every key may be left out; what a sowing cannot do without
is asked for where sowings and defaults are laid together.
"""

from typing import Annotated

from pydantic import BaseModel, ConfigDict

from traysheets.base import limits
from traysheets.plan.quantities import (
    BenchLength,
    Confidence,
    Cover,
    Day,
    GapDays,
    Germination,
    Measured,
    Minimum,
    Offset,
    OneOrTwoLengths,
    PageSize,
    Season,
    Shift,
    Spare,
    Temperature,
    TrayLength,
    TwoLengths,
    TwoOffsets,
    TwoTemperatures,
    Volume,
    above_nothing,
    whole,
)
from traysheets.plan.texts import Batch, Code, Languages, Name, Notes, OneOf, Sticks, Texts, Url

MethodName = Annotated[str, OneOf("single", "clump", "stations")]
SeedsInCell = Annotated[int, whole(1, limits.MOST_SEEDS_IN_CELL)]
SeedsInStation = Annotated[int, whole(1, limits.MOST_SEEDS_IN_STATION)]
Stations = Annotated[int, whole(1, limits.MOST_STATIONS)]
Seeds = Annotated[int, whole(1, limits.MOST_SEEDS)]
Rows = Annotated[int, whole(1, limits.MOST_ROWS)]
Weeks = Annotated[int, whole(0, limits.MOST_WEEKS)]
Pace = Annotated[float, above_nothing(limits.MOST_SECONDS_A_CELL)]


class Form(BaseModel):
    """A table of the plan file: unknown keys are errors, nothing is turned silently into another type."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        use_attribute_docstrings=True,
    )


class PlanForm(Form):
    """What holds for the whole plan."""

    title: Name | None = None
    """Stands on every sheet; the name of the file when left out."""
    grower: Name | None = None
    """Who grows this."""
    season: Season | None = None
    """The year of the batch codes; the year of the earliest day in the plan when left out."""
    last_frost: Day | None = None
    """Usual day of the last frost; `weeks_before_frost` counts back from it."""
    record_url: Url | None = None
    """Address of a batch's record, `{batch}` where its code goes; without it the QR code carries the record as text."""
    units: Annotated[str, OneOf("metric", "inch")] | None = None
    """What the sheets show."""
    language: Languages | None = None
    """Language of the sheets, or a list of two."""
    place: Name | None = None
    """Where trays stand, unless a sowing says otherwise."""
    stock: Name | None = None
    """What sticks are printed on; `traysheets list stocks` shows those there are."""
    paper: Name | None = None
    """What sheets are printed on; `traysheets list papers` shows those there are."""
    fonts: Texts | None = None
    """Font files, beside the plan, for names in scripts that the built-in fonts lack; of a collection the third font is
    `noto.ttc#2`.
    """


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


class CompareForm(Form):
    """What the plan is compared with."""

    tray: Name | None = None
    """One plant a cell in this tray."""


class BenchForm(Form):
    """A bench, or a rack of shelves."""

    name: Name | None = None
    """What it is called."""
    length: BenchLength | None = None
    """Length of a shelf."""
    depth: BenchLength | None = None
    """Depth of a shelf."""
    shelves: Annotated[int, whole(1, limits.MOST_SHELVES)] | None = None
    """How many, one over another."""


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
    seeds_per_gram: Annotated[float, above_nothing(1_000_000)] | None = None
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


class PaceForm(Form):
    """How fast sowing goes: seconds a cell, by method, and how many share the work."""

    single: Pace | None = None
    """Seconds a cell sown `single`."""
    clump: Pace | None = None
    """Seconds a cell sown as a `clump`."""
    stations: Pace | None = None
    """Seconds a cell of `stations`."""
    helpers: Annotated[int, whole(1, limits.MOST_HELPERS)] | None = None
    """How many share a sowing day."""


class PrinterForm(Form):
    """What a ruler said of the printer's check page, so that every sheet is corrected for it."""

    measured_across: Measured | None = None
    """Length of the line of 200 mm across the page."""
    measured_down: Measured | None = None
    """Length of the line of 200 mm down the page."""
    shift_right: Shift | None = None
    """How far everything stands too far right; less than nothing for left."""
    shift_down: Shift | None = None
    """How far everything stands too far down; less than nothing for up."""


class PlanFile(Form):
    """A sowing plan."""

    plan: PlanForm | None = None
    defaults: SowingForm | None = None
    """Any key of a sowing, for all sowings that do not say otherwise."""
    compare: CompareForm | None = None
    pace: PaceForm | None = None
    printer: PrinterForm | None = None
    bench: list[BenchForm] | None = None
    """Benches, to see whether the trays find room."""
    tray: list[TrayForm] | None = None
    """The grower's own trays, beside the built-in ones."""
    stock: list[StockForm] | None = None
    """The grower's own label stock."""
    crop: list[CropForm] | None = None
    """Crops that the tables lack."""
    sowing: list[SowingForm] | None = None
    """The sowings, in the grower's order."""
