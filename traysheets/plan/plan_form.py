"""The form of a whole plan file, and of its sections on the plan, the benches, the pace and the printer."""

from typing import Annotated

from traysheets.base import limits
from traysheets.plan.form import Form, Pace, whole
from traysheets.plan.own_forms import CropForm, StockForm, TrayForm
from traysheets.plan.quantities import BenchLength, Day, Measured, Season, Shift
from traysheets.plan.sowing_form import SowingForm
from traysheets.plan.texts import Languages, Name, OneOf, Texts, Url


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
