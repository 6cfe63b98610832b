"""What a TOML plan comes to: values, defaults laid under sowings, names looked up."""

from datetime import date

import pytest

from traysheets.base.errors import PlanError
from traysheets.plan.model import Amount, Bench, Method, Pace, Pin, Plan, PrinterTruth, Repeat, Wanted
from traysheets.plan.read import plan_from_toml

WHOLE = """\
[plan]
title = "Spring, first sowings"
grower = "Millbrook Lane Growers"
season = 2027
last_frost = 2027-05-05
record_url = "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"
units = "Inch"
language = ["en"]
place = "greenhouse"
stock = "my-labels"
paper = "A4"
fonts = "fonts/greek.ttf"

[defaults]
tray = "pot-18"
confidence = "95 %"
spare = 0.1

[compare]
tray = "cell-72"

[pace]
single = 4.5
stations = 9
helpers = 3

[printer]
measured_across = "198 mm"
measured_down = "8 in"
shift_right = "-1.5 mm"
shift_down = 0.5

[[bench]]
name = "light shelf"
length = "4 ft"
depth = "0.6 m"
shelves = 3

[[tray]]
name = "crate-40"
rows = 5
columns = 8
outer = ["400 mm", "250 mm"]
cell = "44 mm"
pitch = ["48 mm", "47 mm"]
depth = "2 in"
volume = "80 ml"

[[stock]]
name = "my-labels"
page = "a4"
label = ["63.5 mm", "38.1 mm"]
rows = 7
columns = 3
first = ["7.2 mm", "15.1 mm"]
pitch = ["66 mm", "38.1 mm"]
point = "none"
corner = "1.5 mm"


[[sowing]]
crop = "Bunching onion"
variety = "Longstalk Winter"
method = "Clump"
seeds_per_cell = 25
cells = 8
tray = "crate-40"
sow = 2027-03-06
lot = "HB-2231"
germination = 0.85
soil_temp = "65 F"
cover = "1/4 in"
on_hand = 900
packet = 250
treated = true
code = "lw"
batch = "27-014-k"
sticks = 12
at = ["3: A1-A6", "4:c4"]
own_trays = true
place = "heat mat"
notes = "first\\nsecond"

[[sowing]]
crop = "Beetroot"
variety = "Dusky Round"
method = "stations"
seeds_per_station = 2
plants = 120
plant_out = "2027-W20"
repeat = { every = "2 weeks", times = 4 }
germination = "seen"
lot = "HB-1987"

[[sowing]]
crop = "leeks"
variety = "Grey Spire"
trays = 2
weeks_before_frost = 9
repeat = { every = "10 days", times = 1 }
"""


@pytest.fixture(scope="module")
def whole() -> Plan:
    return plan_from_toml(WHOLE, "plans/spring.toml")


def test_the_plan_itself(whole: Plan) -> None:
    assert (whole.file, whole.title, whole.season) == ("plans/spring.toml", "Spring, first sowings", 2027)
    assert (whole.grower, whole.last_frost, whole.place) == ("Millbrook Lane Growers", date(2027, 5, 5), "greenhouse")
    assert whole.record_url == "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"
    assert (whole.units, whole.languages, whole.stock, whole.paper) == ("inch", ("en",), "my-labels", "a4")
    assert whole.fonts == ("plans/fonts/greek.ttf",)
    assert whole.compare is whole.trays["cell-72"]
    assert whole.pace == Pace(4.5, None, 9.0, 3)


def test_the_printers_truth_is_measured_by_meant(whole: Plan) -> None:
    assert whole.printer == PrinterTruth(0.99, 8 * 25.4 / 200, -1.5, 0.5)


def test_benches_trays_and_stocks_are_in_millimetres(whole: Plan) -> None:
    assert whole.benches == (Bench("light shelf", 1219.2, 600, 3, line=33, file="plans/spring.toml"),)
    tray = whole.trays["crate-40"]
    assert (tray.rows, tray.columns, tray.outer_mm, tray.cell_mm) == (5, 8, (400, 250), (44, 44))
    assert (tray.pitch_mm, tray.depth_mm, tray.volume_ml, tray.shape) == ((48, 47), 50.8, 80, "square")
    assert (tray.title, tray.built_in, tray.origin, tray.volume_origin) == ("crate-40", False, "plan file", "plan file")
    stock = whole.stocks["my-labels"]
    assert (stock.page_mm, stock.label_mm, stock.labels) == ((210, 297), (63.5, 38.1), 21)
    assert (stock.first_mm, stock.pitch_mm, stock.radius_mm, stock.built_in) == ((7.2, 15.1), (66, 38.1), 1.5, False)
    assert {"pot-18", "cell-512"} <= whole.trays.keys()
    assert {"a4-21", "letter-30"} <= whole.stocks.keys()


def test_a_sowing_with_every_key(whole: Plan) -> None:
    sowing = whole.sowings[0]
    assert (sowing.line, sowing.crop.name, sowing.crop_name) == (61, "Bunching onion", "Bunching onion")
    assert (sowing.method, sowing.seeds_per_cell, sowing.amount) == (Method.CLUMP, 25, Amount(Wanted.CELLS, 8))
    assert (sowing.tray.name, sowing.sow, sowing.lot) == ("crate-40", date(2027, 3, 6), "HB-2231")
    assert (sowing.germination, sowing.germination_seen) == (0.85, False)
    assert (sowing.soil_temp_c, sowing.cover_mm) == (pytest.approx(18.333, abs=0.001), 6.35)
    assert (sowing.on_hand, sowing.packet, sowing.treated) == (900, 250, True)
    assert (sowing.code, sowing.batch, sowing.sticks) == ("LW", "27-014-K", 12)
    assert sowing.at == (Pin(3, 0, 5), Pin(4, 19, 19))
    assert (sowing.own_trays, sowing.place, sowing.notes) == (True, "heat mat", "first\nsecond")
    assert (sowing.confidence, sowing.spare, sowing.repeat) == (0.95, 0.1, None)


def test_a_sowing_that_leaves_things_to_the_defaults_and_the_crop(whole: Plan) -> None:
    beet, leek = whole.sowings[1:]
    assert (beet.stations, beet.seeds_per_station, beet.seeds_per_cell) == (beet.crop.stations.value, 2, None)
    assert (beet.sow, beet.plant_out) == (None, date(2027, 5, 17))
    assert beet.repeat == Repeat(every_days=14, times=4)
    assert (beet.germination, beet.germination_seen) == (None, True)
    assert (beet.tray.name, beet.place, beet.confidence) == ("pot-18", "greenhouse", 0.95)
    assert (leek.crop.name, leek.crop_name, leek.method.value) == ("Leek", "leeks", leek.crop.usual_method)
    assert (leek.amount, leek.weeks_before_frost) == (Amount(Wanted.TRAYS, 2), 9)
    assert leek.repeat is None, "once is no repeat"
    assert (leek.sticks, leek.treated, leek.batch, leek.notes) == ("run", False, None, "")


def plan_of(sowings: str, defaults: str = "", more: str = "") -> Plan:
    """A plan of sowings that only say what matters."""
    usual = 'crop = "Onion"\nvariety = "Copper Bell"\ntray = "pot-18"\n'
    return plan_from_toml(f"{more}\n[defaults]\n{usual}{defaults}\n{sowings}", "plans/spring.toml")


def test_what_is_left_out_of_the_plan() -> None:
    plan = plan_of("[[sowing]]\ncells = 1\nsow = 2027-03-06\n[[sowing]]\ncells = 1\nplant_out = 2026-12-01")
    assert (plan.title, plan.season) == ("spring", 2026)
    assert (plan.units, plan.languages, plan.place, plan.compare) == ("metric", ("en",), "", None)
    assert (plan.pace, plan.printer, plan.benches, plan.notices) == (Pace(), PrinterTruth(), (), ())


def test_the_season_may_come_from_the_frost_date() -> None:
    plan = plan_of("[[sowing]]\ncells = 1\nweeks_before_frost = 7", more="[plan]\nlast_frost = 2028-05-05")
    assert plan.season == 2028


def test_a_default_amount_or_day_gives_way_to_a_sowings_own() -> None:
    defaults = "cells = 8\nsow = 2027-03-06"
    plan = plan_of("[[sowing]]\n[[sowing]]\nplants = 9\nplant_out = 2027-05-01", defaults)
    assert [sowing.amount for sowing in plan.sowings] == [Amount(Wanted.CELLS, 8), Amount(Wanted.PLANTS, 9)]
    assert [sowing.sow for sowing in plan.sowings] == [date(2027, 3, 6), None]
    assert plan.sowings[1].plant_out == date(2027, 5, 1)


@pytest.mark.parametrize(
    ("defaults", "methods", "seeds", "stations"),
    [
        ("seeds_per_cell = 25", "clump single stations", [25, None, None], [None, None, 3]),
        ('method = "single"\nseeds_per_cell = 2', "clump single stations", [None, 2, None], [None, None, 3]),
        ("stations = 4\nseeds_per_station = 2", "clump single stations", [None] * 3, [None, None, 4]),
    ],
)
def test_a_default_for_one_method_is_not_used_by_another(
    defaults: str, methods: str, seeds: list[int | None], stations: list[int | None]
) -> None:
    sowings = "\n".join(
        f'[[sowing]]\ncrop = "Beetroot"\nmethod = "{method}"\ncells = 1\nsow = 2027-03-06' for method in methods.split()
    )
    plan = plan_of(sowings, defaults)
    assert [sowing.seeds_per_cell for sowing in plan.sowings] == seeds
    assert [sowing.stations for sowing in plan.sowings] == stations


def test_empty_text_is_as_good_as_nothing() -> None:
    plan = plan_of('[[sowing]]\ncells = 1\nsow = 2027-03-06\nplace = " "\nlot = ""\nnotes = ""', 'place = "mat"')
    assert (plan.sowings[0].place, plan.sowings[0].lot, plan.sowings[0].notes) == ("mat", None, "")


def test_nine_stations_in_a_tray_of_the_growers_own() -> None:
    own = '[[tray]]\nname = "nine"\nrows = 2\ncolumns = 4\nouter = [400, 250]\ncell = 90\ndepth = 80\nshape = "round"\n'
    plan = plan_of(f'{own}[[sowing]]\ntray = "nine"\nmethod = "stations"\nstations = 9\ntrays = 1\nsow = 2027-03-06')
    tray = plan.sowings[0].tray
    assert (plan.sowings[0].stations, tray.pitch_mm, tray.shape) == (9, (100, 125), "round")
    assert tray.volume_origin == "computed: full to the brim, narrowing downwards"
    assert 0 < tray.volume_ml < 90 * 90 * 80 / 1000


def test_a_crop_of_the_growers_own_takes_the_figures_of_another() -> None:
    own = """
[[crop]]
name = "Лук-порей"
like = "Leek"
germination = "55 %"
cover = 0
soil_temp = ["50 F", "25 C"]
seeds_per_cell = 12
weeks_to_transplant = 11
trim = false
light = true
cluster = true
compete = true
tap_root = true
tender = true
seed_size = ["3 mm", "2 mm"]
notes = "from the hill farm"
"""
    plan = plan_of(f'{own}[[sowing]]\ncrop = "лук-порей"\ncells = 1\nsow = 2027-03-06')
    crop, leek = plan.sowings[0].crop, plan_of('[[sowing]]\ncrop = "Leek"\ncells = 1\nsow = 2027-03-06').sowings[0].crop
    assert (crop.name, crop.family, crop.usual_method) == ("Лук-порей", leek.family, leek.usual_method)
    assert (crop.emergence, crop.seeds_per_gram) == (leek.emergence, leek.seeds_per_gram)
    assert (crop.germination_minimum.value, crop.germination_minimum.origin) == (0.55, "plan file")
    assert (crop.cover_mm.value, crop.surface, crop.trim) == ((0, 0), True, False)
    assert crop.soil_c.value == (10, 25)
    assert (crop.clump_seeds_3in.value, crop.weeks_to_transplant.value) == ((12, 12), (11, 11))


def test_a_crop_that_nothing_is_known_of() -> None:
    plan = plan_of('[[crop]]\nname = "Oca"\n[[sowing]]\ncrop = "Oca"\ncells = 1\nsow = 2027-03-06')
    crop = plan.sowings[0].crop
    assert (crop.usual_method, crop.germination_minimum, crop.emergence, crop.origin) == (
        "single",
        None,
        None,
        "plan file",
    )


def test_a_thousand_sowings_keep_their_order_and_lines() -> None:
    sowings = "".join(f'[[sowing]]\nvariety = "V {number}"\ncells = 1\nsow = 2027-03-06\n' for number in range(1000))
    plan = plan_of(sowings)
    assert [sowing.variety for sowing in plan.sowings] == [f"V {number}" for number in range(1000)]
    assert [sowing.line for sowing in plan.sowings] == list(range(7, 4007, 4))


@pytest.mark.parametrize("defaults", ["", "seeds_per_cell = 25\n"])
def test_pins_of_an_amount_in_seeds(defaults: str) -> None:
    """A default for clumps does not count the seeds of a cell of stations."""
    text = f'[defaults]\n{defaults}[[sowing]]\ncrop = "Beetroot"\nvariety = "A"\ntray = "pot-18"\nsow = 2027-03-06\n'
    text += 'method = "stations"\nstations = 3\nseeds_per_station = 2\nseeds = 60\nat = "1: A1-B4"\n'
    assert plan_from_toml(text, "plan.toml").sowings[0].at[0].cells == 10
    with pytest.raises(PlanError) as error:
        plan_from_toml(text.replace("seeds = 60", "seeds = 59"), "plan.toml")
    assert str(error.value).endswith("10 cells are kept here, but the sowing has 9")


def test_a_comparison_with_nothing() -> None:
    with pytest.raises(PlanError) as error:
        plan_of("[[sowing]]\ncells = 1\nsow = 2027-03-06", more="[compare]")
    assert str(error.value) == "plans/spring.toml:1: [compare] lacks tray"


def test_a_crop_is_like_a_built_in_one_alone() -> None:
    text = """
[[crop]]
name = "Meadow Beet"
like = "Beet"

[[crop]]
name = "Pond Beet"
like = "meadow beet"

[[sowing]]
crop = "Pond Beet"
variety = "Dusky"
tray = "pot-18"
cells = 8
sow = 2027-03-06
"""
    with pytest.raises(PlanError) as caught:
        plan_from_toml(text, "plan.toml")
    assert [problem.text for problem in caught.value.problems] == [
        "like: 'meadow beet' is a crop of your own, and like names a built-in one; give this one its own figures"
    ]
