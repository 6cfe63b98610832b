"""Crops: figures against the federal tables they were read from, names as growers write them, and no figure guessed."""

import pytest

from traysheets.base.units import GRAMS_PER_OUNCE
from traysheets.trade.crops import GENERAL_MINIMUM, Crop, EmergencePoint, Minimum, crop_names, crops, find_crop
from traysheets.trade.tables import read_table

CROPS = crops()


@pytest.mark.parametrize(
    ("name", "percent"),
    [
        # US 7 CFR 201.31, minimum germination standards for vegetable seed.
        ("Artichoke", 60),
        ("Asparagus", 70),
        ("Beet", 65),
        ("Broccoli", 75),
        ("Bunching onion", 70),
        ("Carrot", 55),
        ("Celery", 55),
        ("Chives", 50),
        ("Collards", 80),
        ("Sweet corn", 75),
        ("Cucumber", 80),
        ("Eggplant", 60),
        ("Leek", 60),
        ("Lettuce", 80),
        ("New Zealand spinach", 40),
        ("Onion", 70),
        ("Parsley", 60),
        ("Pea", 80),
        ("Pepper", 55),
        ("Radish", 75),
        ("Spinach", 60),
        ("Swiss chard", 65),
        ("Tomatillo", 50),
        ("Tomato", 75),
        ("Turnip", 80),
        ("Watermelon", 70),
    ],
)
def test_federal_minimum_germination(name: str, percent: int) -> None:
    minimum = CROPS[name].germination_minimum
    assert minimum is not None
    assert minimum.value == percent / 100
    assert "7 CFR 201.31" in minimum.origin
    assert CROPS[name].minimum_of is Minimum.FEDERAL


@pytest.mark.parametrize(("name", "percent"), [("Basil", 70), ("Thyme", 50), ("Rosemary", 30), ("Arugula", 60)])
def test_a_state_minimum_stands_in_where_the_federal_table_is_silent(name: str, percent: int) -> None:
    # New Hampshire Agr 2203.01.
    minimum = CROPS[name].germination_minimum
    assert minimum is not None
    assert minimum.value == percent / 100
    assert "NH Agr 2203.01" in minimum.origin
    assert CROPS[name].minimum_of is Minimum.STATE


def test_vegetables_and_herbs_of_no_table() -> None:
    # New Hampshire Agr 2203.01(b).
    assert GENERAL_MINIMUM.value == 0.5
    assert "NH Agr 2203.01(b)" in GENERAL_MINIMUM.origin
    assert CROPS["Zinnia"].germination_minimum is None


@pytest.mark.parametrize(
    ("name", "seeds"),
    [
        # US 7 CFR 201.46 Table 1, approximate number of seeds per gram.
        ("Beet", 60),
        ("Broccoli", 315),
        ("Carrot", 825),
        ("Celery", 2520),
        ("Leek", 395),
        ("Lettuce", 890),
        ("Onion", 340),
        ("Pepper", 165),
        ("Radish", 75),
        ("Swiss chard", 60),
        ("Tomato", 405),
        ("Watercress", 5170),
    ],
)
def test_federal_seeds_per_gram(name: str, seeds: int) -> None:
    figure = CROPS[name].seeds_per_gram
    assert figure is not None
    assert figure.value == seeds
    assert "7 CFR 201.46" in figure.origin


def test_a_range_of_seeds_per_gram_gives_its_geometric_middle() -> None:
    chives = CROPS["Chives"].seeds_per_gram
    assert chives is not None
    assert chives.value == pytest.approx((700 * 1000) ** 0.5, rel=0.001)
    assert chives.origin == "from memory; geometric middle of 700 to 1000"


def test_seeds_per_gram_and_per_ounce_agree() -> None:
    # The avoirdupois ounce of the 1959 agreement.
    for row in read_table("seeds_per_gram"):
        if "201.46" in row["origin"] and row["seeds_per_ounce"]:
            seeds = float(row["seeds_per_gram"]) * GRAMS_PER_OUNCE
            assert float(row["seeds_per_ounce"]) == pytest.approx(seeds, abs=0.51), row["crop"]


def days(name: str) -> list[float | None]:
    emergence = CROPS[name].emergence
    assert emergence is not None
    assert [point.temp_c for point in emergence.value] == list(range(0, 41, 5))
    return [point.days for point in emergence.value]


def test_days_to_emergence() -> None:
    # Harrington & Minges 1954, as reprinted in handbooks after Knott; 0 to 40 C.
    assert days("Onion") == [136, 31, 13, 7, 5, 4, 4, 13, None]
    assert days("Beet") == [None, 42, 17, 10, 6, 5, 5, 5, None]
    assert days("Tomato") == [None, None, 43, 14, 8, 6, 6, 9, None]
    assert days("Pepper") == [None, None, None, 25, 13, 8, 8, 9, None]


def test_a_blank_of_the_emergence_table_says_whether_anything_was_tested() -> None:
    tomato, beet = CROPS["Tomato"].emergence, CROPS["Beet"].emergence
    assert tomato is not None
    assert beet is not None
    assert tomato.value[0] == EmergencePoint(0, None, "no germination")
    assert beet.value[0] == EmergencePoint(0, None, "not tested")
    assert beet.value[1] == EmergencePoint(5, 42, "emerged")


def test_another_crops_days_to_emergence_are_owned_up_to() -> None:
    for row in read_table("crops"):
        own = row["emergence_row"] in {"", row["crop"], "Bean, snap", "Bean, lima", "Corn, sweet", "Muskmelon"}
        assert own or row["emergence_as"] or row["crop"] == "Pea shoots"
        emergence = CROPS[row["crop"]].emergence
        assert not row["emergence_as"] or (emergence is not None and row["emergence_as"] in emergence.origin)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("Bunching onion", "Bunching onion"),
        ("spring  ONIONS", "Bunching onion"),
        ("Scallion", "Bunching onion"),
        ("Beetroot", "Beet"),
        ("beets", "Beet"),
        ("Tomatoes", "Tomato"),
        ("Radishes", "Radish"),
        ("Chard, Swiss", "Swiss chard"),
        ("Leaf beet", "Swiss chard"),
        ("Aubergine", "Eggplant"),
        ("Courgettes", "Summer squash"),
        ("Zucchini", "Summer squash"),
        ("Cilantro", "Coriander"),
        ("Rocket", "Arugula"),
        ("Swede", "Rutabaga"),
        ("Maize", "Sweet corn"),
        ("Mâche", "Cornsalad"),
        ("Jalapeño", "Pepper"),
        ("bachelors button", "Bachelor's button"),
        ("Lamb’s lettuce", "Cornsalad"),
        ("Pansies", "Pansy"),
        ("Pak-choi", "Pak choi"),
    ],
)
def test_crops_are_found_as_growers_write_them(written: str, name: str) -> None:
    assert find_crop(written) is CROPS[name]


@pytest.mark.parametrize("written", ["", "s", "Onoin", "лук", "!!"])
def test_an_unknown_crop_is_not_found(written: str) -> None:
    assert find_crop(written) is None


def test_every_name_leads_to_its_own_crop() -> None:
    for crop in CROPS.values():
        for name in (crop.name, *crop.aliases):
            assert find_crop(name) is crop, name
    assert len(crop_names()) == len(set(crop_names()))


@pytest.mark.parametrize("crop", CROPS.values(), ids=CROPS)
def test_every_crop_can_be_sown_as_it_usually_is(crop: Crop) -> None:
    assert crop.usual_method in {"single", "clump", "stations"}
    assert crop.usual_method != "clump" or crop.clump_seeds_3in or crop.clump_seeds_cell
    assert crop.usual_method != "stations" or (crop.stations and crop.seeds_per_station)
    assert not (crop.compete and crop.usual_method != "single")
    assert crop.seed_mm is not None
    assert crop.seed_mm.value[0] >= crop.seed_mm.value[1] > 0
    assert crop.family.endswith("aceae")


@pytest.mark.parametrize("crop", CROPS.values(), ids=CROPS)
def test_figures_are_in_their_ranges_and_have_an_origin(crop: Crop) -> None:
    for fact in (
        crop.clump_seeds_3in,
        crop.clump_seeds_cell,
        crop.seeds_per_station,
        crop.seeds_single,
        crop.cover_mm,
        crop.soil_c,
        crop.weeks_to_transplant,
    ):
        assert fact is None or (0 <= fact.value[0] <= fact.value[1] <= 52 and fact.origin)
    assert crop.germination_minimum is None or 0 < crop.germination_minimum.value < 1
    assert crop.seeds_per_gram is None or crop.seeds_per_gram.value > 0


def test_multi_sown_crops() -> None:
    # Common practice, no source: 20 to 30 onion seeds in a 3-inch pot; three holes of two or three beet clusters.
    onion, beet = CROPS["Onion"], CROPS["Beet"]
    assert onion.clump_seeds_3in is not None
    assert onion.clump_seeds_3in.value == (20, 30)
    assert beet.stations is not None
    assert beet.seeds_per_station is not None
    assert (beet.stations.value, beet.seeds_per_station.value) == (3, (2, 3))
    assert {name for name, crop in CROPS.items() if crop.trim} == {
        "Onion", "Shallot", "Bunching onion", "Leek", "Chives", "Garlic chives",
    }  # fmt: skip
    assert all(CROPS[name].compete for name in ("Tomato", "Cabbage", "Summer squash", "Eggplant"))
    assert CROPS["Carrot"].tap_root
    assert CROPS["Beet"].cluster
    assert CROPS["Swiss chard"].cluster


def test_seed_that_wants_light() -> None:
    # US 7 CFR 201.58 Table 2 asks for light in the test of these.
    for name in ("Lettuce", "Celery", "Celeriac", "Endive", "Chicory", "Rhubarb", "Sorrel", "Dandelion"):
        assert CROPS[name].light, name
    assert not CROPS["Onion"].light
    for crop in CROPS.values():
        # Nothing that is pressed on the surface is covered by more than a dusting.
        assert not crop.surface or (crop.light and crop.cover_mm is not None and crop.cover_mm.value[1] <= 2)


def test_what_the_tables_do_not_know_is_not_made_up() -> None:
    mint = CROPS["Mint"]
    assert (mint.germination_minimum, mint.cover_mm, mint.weeks_to_transplant, mint.emergence) == (None,) * 4


def test_crops_that_frost_kills() -> None:
    # Common practice, no source: of the half-hardy ones those that are set out only after the last frost.
    tender = ("Tomato", "Pepper", "Eggplant", "Tomatillo", "Cucumber", "Melon", "Watermelon", "Summer squash", "Okra")
    tender += ("French bean", "Runner bean", "Lima bean", "Sweet corn", "Basil", "Zinnia", "Cosmos", "Celosia")
    tender += ("Nasturtium", "Petunia", "Marigold", "Begonia")
    hardy = ("Onion", "Leek", "Beet", "Cabbage", "Kale", "Lettuce", "Pea", "Broad bean", "Spinach", "Parsley")
    hardy += ("Snapdragon", "Pansy", "Calendula", "Sweet pea", "Bachelor's button", "Rosemary")
    assert [name for name in tender if not CROPS[name].tender] == []
    assert [name for name in hardy if CROPS[name].tender] == []
    gourds = [crop for crop in CROPS.values() if crop.family == "Cucurbitaceae"]
    assert len(gourds) > 5
    assert all(crop.tender for crop in gourds)
