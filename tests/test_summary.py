"""The tables of `check`: the same figures, in the same words, as the overview has."""

from dataclasses import replace

import plans
from list_jobs import job
from plans import BEET, CELL_72, ONION, sowing

from traysheets.plan.model import Amount, Pin, Wanted
from traysheets.reckon.totals import totals
from traysheets.sheets.bars import weeks_of
from traysheets.sheets.job import Job
from traysheets.sheets.overview import tiles
from traysheets.sheets.summary import summary

ONIONS = sowing(ONION, cells=8, seeds_per_cell=25, spare=0.1, code="LW", germination=0.85, soil_temp_c=20.0)
BEETS = sowing(BEET, "stations", cells=1, seeds_per_station=2, code="DR", soil_temp_c=15.0, tray=CELL_72)


def in_all(made: Job) -> dict[str, str]:
    """The last table by its first column."""
    whole = totals(made.batches, [tray.kind for tray in made.trays])
    return {row[0]: row[1] for row in summary(made, whole, None, weeks_of(made).benches)[-1].rows}


def rows(made: Job) -> list[tuple[str, ...]]:
    whole = totals(made.batches, [tray.kind for tray in made.trays])
    return [row for day in summary(made, whole, None, ())[:-1] for row in day.rows]


def test_a_cell_alone_is_named_once_and_a_full_tray_by_its_number() -> None:
    full = replace(ONIONS, amount=Amount(Wanted.TRAYS, 1), own_trays=True)
    assert [row[5] for row in rows(job(ONIONS, BEETS, full))] == ["1 A1-B2", "2 A1", "3"]


def test_many_trays_are_named_by_their_numbers() -> None:
    def named(*numbers: int) -> list[str]:
        whole = tuple(Pin(number, 0, 17) for number in numbers)
        return [row[5] for row in rows(job(replace(ONIONS, amount=Amount(Wanted.TRAYS, len(whole)), at=whole)))]

    assert named(1, 2, 3, 4) == ["1-4"]
    assert named(1, 2, 3, 5) == ["1, 2, 3, 5"]


def test_seeds_set_aside_are_told_beside_those_that_are_sown() -> None:
    """8 x 25 seeds and a tenth of them; a beet cell of 3 x 2, none aside."""
    made = job(ONIONS, BEETS)
    assert [row[6] for row in rows(made)] == ["200 and 20 spare", "6"]
    assert in_all(made)["seeds"] == "206 and 20 spare"


def test_the_totals_are_those_of_the_overview() -> None:
    """8 x 120 / 18 s + 3 x 4.5 s = 66.8 s are a minute; 8 x 0.5 l + 0.045 l, and 15 %, are 4.65 l; 2 x 0.151 m2."""
    made = job(ONIONS, BEETS)
    found = in_all(made)
    assert (found["sowing"], found["mix"], found["bench"]) == ("1 minute", "4.65 litres", "0.301 m² of trays in all")
    shown = {tile.what: tile.figure for tile in tiles(made, totals(made.batches, [tray.kind for tray in made.trays]))}
    assert (shown["minutes of sowing"], shown["litres of potting mix"]) == ("1", "4.65")
    assert (shown["m² of trays in all"], shown["grams of seed"]) == ("0.301", found["seed"].removesuffix(" g"))
    assert in_all(job(ONIONS, BEETS, units="inch"))["bench"] == "3.24 sq ft of trays in all"


def test_long_work_is_told_in_hours() -> None:
    """1,000 clumps of 120 / 18 s are 111 minutes; one of 890 is 99."""
    assert in_all(job(replace(ONIONS, amount=Amount(Wanted.CELLS, 1_000))))["sowing"] == "1 h 51 min"
    assert in_all(job(replace(ONIONS, amount=Amount(Wanted.CELLS, 890))))["sowing"] == "99 minutes"


def test_a_bench_says_how_full_it_gets() -> None:
    """Of a shelf that holds four flats two stand there; a board for tools holds none."""
    found = in_all(job(ONIONS, BEETS, benches=(plans.bench(),)))
    assert found["light shelf"] == "mixed kinds, of pot-18 alone it holds 4; fullest in 2027-W09 with 2 trays, 50% full"
    one = in_all(job(ONIONS, benches=(plans.bench(),)))
    assert one["light shelf"] == "holds 4 pot-18; fullest in 2027-W09 with 1 tray, 25% full"
    small = in_all(job(replace(ONIONS, place="board"), benches=(plans.bench("board", 100, 100),)))
    assert small["board"] == "too small for a tray: pot-18"


def test_a_bench_on_which_nothing_stands_says_so() -> None:
    made = job(replace(ONIONS, place="light shelf"), benches=(plans.bench(), plans.bench("far")))
    assert in_all(made)["far"] == "no trays stand there"


def test_seed_that_no_table_weighs_has_no_row() -> None:
    unknown = sowing(plans.crop("Skirret"), cells=2, seeds_per_cell=5)
    assert "seed" in in_all(job(unknown, ONIONS))
    assert "seed" not in in_all(job(unknown))
