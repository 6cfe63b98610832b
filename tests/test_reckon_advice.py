"""What a good grower says to odd but possible sowings, word by word, and that the usual ones pass without a word."""

from datetime import date

import pytest
from plans import (
    BEET,
    CELL_72,
    CELL_200,
    ONION,
    POT_3IN,
    POT_18,
    SATURDAY,
    TOMATO,
    crop,
    of_sowings,
    plan,
    points,
    sowing,
)

from traysheets.plan.model import Repeat, Sowing
from traysheets.reckon.reckon import reckon
from traysheets.trade.crops import Minimum

LETTUCE = crop("Lettuce", light=True, cover_mm=(0, 3), seeds_single=(1, 2))
CELERY = crop("Celery", light=True, surface=True, cover_mm=(0, 2))
CARROT = crop("Carrot", tap_root=True, usual_method="stations")


def said(*sowings: Sowing, today: date | None = None) -> list[str]:
    return [notice.text for notice in of_sowings(reckon(plan(*sowings), today))]


@pytest.mark.parametrize(
    "usual",
    [
        sowing(ONION, seeds_per_cell=25, soil_temp_c=18.0, cover_mm=6.0, germination=0.85),
        sowing(ONION, seeds_per_cell=30, tray=POT_3IN),
        sowing(ONION, "single", seeds_per_cell=2, tray=CELL_200),
        sowing(BEET, "stations", seeds_per_station=2, tray=CELL_72),
        sowing(TOMATO, "single"),
        sowing(TOMATO, "clump", seeds_per_cell=1, germination=0.9),
        sowing(LETTUCE, "single", cover_mm=3.0, germination=0.9),
        sowing(CELERY, "single", cover_mm=2.0, germination=0.9),
        sowing(CARROT, "single", germination=0.9),
    ],
)
def test_what_is_usual_passes_without_a_word(usual: Sowing) -> None:
    assert said(usual, today=date(2027, 3, 6)) == []


def test_tomato_in_clumps() -> None:
    (notice,) = of_sowings(reckon(plan(sowing(TOMATO, "clump", seeds_per_cell=12, line=31))))
    assert notice.line == 31
    assert notice.text == (
        "Tomato 'Longstalk Winter': plants of Tomato shade each other out when sown in clumps;"
        ' one a cell is usual (method = "single"), unless they are pricked out early'
    )


def test_tomato_in_stations() -> None:
    (text,) = said(sowing(TOMATO, "stations", seeds_per_station=2))
    assert "shade each other out when sown in stations" in text
    assert said(sowing(TOMATO, "stations", stations=1, seeds_per_station=2)) == []


def test_sixty_seeds_in_a_3_inch_pot() -> None:
    """Common practice, no source: 20 to 30 onion seeds in a 3-inch pot."""
    (text,) = said(sowing(ONION, seeds_per_cell=60, tray=POT_3IN))
    assert text == (
        "Onion, bulb 'Longstalk Winter': 60 seeds in a cell of 73 x 73 mm are crowded;"
        " up to 30 are usual for the crop there"
    )
    (larger,) = said(sowing(ONION, seeds_per_cell=60, tray=POT_18))
    assert "up to 41 are usual" in larger


@pytest.mark.parametrize(("seeds", "notices"), [(30, 0), (37, 0), (38, 1)])
def test_a_quarter_more_than_is_usual_is_let_pass(seeds: int, notices: int) -> None:
    assert len(said(sowing(ONION, seeds_per_cell=seeds, tray=POT_3IN))) == notices


def test_stations_in_a_small_cell_are_crowded_too() -> None:
    (text,) = said(sowing(BEET, "stations", stations=5, seeds_per_station=2, tray=CELL_200))
    assert "10 seeds in a cell of 22.5 x 22.5 mm are crowded; up to 4 are usual" in text


def test_too_few_seeds_for_the_stand() -> None:
    (text,) = said(sowing(BEET, "stations", seeds_per_station=1))
    assert text == (
        "Beet 'Longstalk Winter': with 1 seed a station, at 65 % germination 35 % of the stations stay empty;"
        " 3 seeds would fill 95.7 %"
    )
    (single,) = said(sowing(ONION, "single", seeds_per_cell=1, tray=CELL_200))
    assert "with 1 seed a cell, at 70 % germination 30 % of the cells stay empty; 2 seeds would fill 91 %" in single
    (poor,) = said(sowing(BEET, "stations", seeds_per_station=4, germination=0.2))
    assert poor.endswith("at 20 % germination 41 % of the stations stay empty")


def test_a_low_confidence_asks_for_no_more_than_that() -> None:
    assert said(sowing(BEET, "stations", seeds_per_station=1, confidence=0.6)) == []


def test_seed_so_poor_that_four_do_not_do() -> None:
    (text,) = said(sowing(BEET, "stations", germination=0.4))
    assert text == (
        "Beet 'Longstalk Winter': at 40 % germination even 4 seeds a station fill only 87 % of the stations,"
        " not the 90 % wanted"
    )


@pytest.mark.parametrize(
    "how", [sowing(CARROT, "clump", seeds_per_cell=5, line=8), sowing(CARROT, "stations", seeds_per_station=4, line=8)]
)
def test_roots_that_must_not_be_split(how: Sowing) -> None:
    """Once for the crop, at its first sowing."""
    (notice,) = of_sowings(reckon(plan(how, sowing(CARROT, "stations", seeds_per_station=4, line=20))))
    assert notice.line == 8
    assert notice.text == "the roots of Carrot must not be split apart; plant out every cell whole, and young"
    assert said(sowing(CARROT, "stations", stations=1, seeds_per_station=4)) == []


def test_light_germinators_covered() -> None:
    (lettuce,) = said(sowing(LETTUCE, "single", cover_mm=6.0, germination=0.9))
    assert lettuce == (
        "Lettuce 'Longstalk Winter': 6 mm of cover keeps light from seed that wants it to germinate; usual is 0 to 3 mm"
    )
    (bare,) = said(sowing(crop("Petunia", light=True), "single", cover_mm=2.0, germination=0.9))
    assert bare.endswith("usual is no cover")
    assert said(sowing(LETTUCE, "single", germination=0.9)) == []


def test_soil_too_cold_or_too_warm() -> None:
    (cold,) = said(sowing(ONION, soil_temp_c=12.0))
    assert cold == "Onion, bulb 'Longstalk Winter': a soil of 12 °C is cold for Onion, bulb; 18 to 29 °C suits it"
    (warm,) = said(sowing(ONION, soil_temp_c=32.2))
    assert "a soil of 32.2 °C is warm for" in warm
    assert said(sowing(ONION, soil_temp_c=15.0), sowing(ONION, soil_temp_c=32.0)) == [], "slow is not wrong"


def test_a_sowing_day_in_the_past() -> None:
    assert said(sowing(), today=date(2027, 3, 6)) == []
    assert said(sowing(), today=date(2027, 3, 7)) == ["the sowing day 2027-03-06 is past (today is 2027-03-07)"]


def test_past_days_are_told_of_once_for_the_plan_and_as_of_today_only() -> None:
    later, first = sowing(ONION, repeat=Repeat(14, 4), line=3), sowing(BEET, "stations", sow=date(2027, 3, 1), line=9)
    found = of_sowings(reckon(plan(later, first), date(2027, 3, 25)))
    assert [(notice.line, notice.text, notice.passing) for notice in found] == [
        (9, "3 sowing days are past, the first 2027-03-01 (today is 2027-03-25)", True)
    ]


def test_successions_are_spoken_of_once() -> None:
    several = sowing(ONION, seeds_per_cell=60, repeat=Repeat(14, 4))
    crowded, past = said(several, today=date(2027, 3, 25))
    assert "60 seeds" in crowded
    assert past.endswith("2 sowing days are past, the first 2027-03-06 (today is 2027-03-25)")


def test_an_assumed_germination_is_no_warning() -> None:
    found = reckon(plan(sowing(ONION)))
    assert found.batches[0].germination_assumed
    assert of_sowings(found) == ()


def test_a_lot_never_counted_falls_back_on_the_growers_own_figure() -> None:
    own = crop("Oca", germination_minimum=0.6, minimum_of=Minimum.GROWER, weeks_to_transplant=(4, 6))
    nothing = "the book has no finished count of an earlier sowing of lot A-1"
    taken = "your own figure for the crop, 60 %, is taken"
    assert f"Oca 'Amber': {nothing}; {taken}" in said(sowing(own, variety="Amber", lot="A-1", germination_seen=True))


def test_soil_so_cool_that_seedlings_come_up_at_planting_out() -> None:
    """Fourteen days at 10 °C, in a window to 1.4 times that, where the crop's weeks begin at two."""
    cool = sowing(crop("Cress", emergence=points(28, 14), weeks_to_transplant=(2, 4)), "single", soil_temp_c=5.0)
    assert said(cool)[-1].endswith(
        "at 5 °C seedlings come up until 2027-03-26, and planting out begins on 2027-03-20; keep the soil warmer,"
        " or plant out later"
    )


def test_the_soil_that_nobody_gave_is_told_of_once_for_the_plan() -> None:
    """The middle of 18 to 29 °C for onions, of 15 to 29 °C for beet."""
    assumed = sowing(ONION), sowing(BEET, "stations"), sowing(ONION)
    (notice,) = reckon(plan(*assumed, sowing(TOMATO, "single", soil_temp_c=24.0))).notices
    assert (notice.line, notice.text) == (
        None,
        "soil_temp is not given: seedlings are reckoned for the soil that suits each crop best"
        " (Onion, bulb 23.5 °C, Beet 22 °C); in cooler soil they come up later",
    )
    assert reckon(plan(sowing(ONION, soil_temp_c=20.0))).notices == ()


def test_days_that_are_left_out_are_told_of_once_for_the_plan() -> None:
    bare = {"germination_minimum": 0.9}
    unheard = crop("Moonwort", **bare)
    no_soil = crop("Sea kale", **bare, emergence=points(None, 42, 17), weeks_to_transplant=(5, 6))
    known = [notice.text for notice in reckon(plan(*(sowing(one, "single") for one in (unheard, no_soil)))).notices]
    assert known == [
        "when seedlings of Sea kale come up cannot be said without soil_temp",
        "when seedlings come up cannot be said: the emergence table has no Moonwort",
        "no table gives the weeks from sowing to planting out for Moonwort; a [[crop]] table may give"
        " weeks_to_transplant, or the crop it is like",
    ]
    given = sowing(unheard, "single", sow=SATURDAY, plant_out=date(2027, 5, 1))
    assert not any("planting out" in notice.text for notice in reckon(plan(given)).notices)
