"""A plan as plain values, as JSON and as CSV."""

import csv
import io
import json
import math
from typing import Any

import plans
import pytest
import record_jobs
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.notices import Notice
from traysheets.export.tables import csv_bytes, json_bytes
from traysheets.reckon.bench_weeks import bench_weeks, standing
from traysheets.reckon.totals import plan_comparison, totals
from traysheets.sheets.facts import TABLE_COLUMNS, plan_facts, sowing_facts, sowing_row, tray_facts
from traysheets.sheets.job import Job

SOWING_KEYS = [
    "batch", "code", "crop", "variety", "method", "tray", "cells", "seeds_per_cell", "stations", "seeds_per_station",
    "seeds_total", "seeds_spare", "seed_grams", "germination", "germination_assumed",
    "plants_expected", "plants_low", "stand_chance", "sow", "emerge_from", "emerge_to", "thin", "plant_out", "runs",
]  # fmt: skip


def whole(job: Job) -> dict[str, Any]:
    """All facts of a job, through JSON and back."""
    trays = [standing(tray.kind, tray.sow, map(job.batch, tray.batches), tray.place) for tray in job.trays]
    facts = plan_facts(
        job,
        totals(job.batches, [tray.kind for tray in job.trays]),
        plan_comparison(job.plan, job.batches),
        bench_weeks(trays, job.plan.benches).benches,
        [Notice("too full", 12), Notice("of the settings", 3, file="settings.toml"), Notice("odd")],
    )
    read: dict[str, Any] = json.loads(json_bytes(facts))
    return read


def test_the_keys_are_those_that_programs_rely_on() -> None:
    job = record_jobs.job(compare=record_jobs.CELL_72, benches=(plans.bench("light shelf"),))
    facts = whole(job)
    assert list(facts) == ["plan", "sowings", "trays", "totals", "compare", "benches", "warnings"]
    assert list(facts["plan"]) == ["title", "season"]
    assert all(list(sowing) == SOWING_KEYS for sowing in facts["sowings"])
    assert list(facts["sowings"][0]["runs"][0]) == ["tray", "first", "last", "cells"]
    assert all(list(tray) == ["number", "kind", "sow", "place", "cells", "spare"] for tray in facts["trays"])
    assert list(facts["totals"]) == ["trays", "cells", "seeds", "seed_grams", "mix_litres", "bench_m2", "minutes"]
    assert list(facts["compare"]) == ["tray", "trays", "cells", "bench_m2", "minutes"]
    assert [list(bench) for bench in facts["benches"]] == [["name", "holds", "peak_trays", "peak_week"]]
    assert facts["warnings"] == [
        {"line": 12, "text": "too full"},
        {"line": None, "text": "of the settings"},
        {"line": None, "text": "odd"},
    ]


def test_the_facts_of_a_clump() -> None:
    job = record_jobs.job()
    assert sowing_facts(job, job.batch(0)) == {
        "batch": "27-014-K",
        "code": "LW",
        "crop": "Bunching onion",
        "variety": "Longstalk Winter",
        "method": "clump",
        "tray": "pot-18",
        "cells": 20,
        "seeds_per_cell": 20,
        "stations": None,
        "seeds_per_station": None,
        "seeds_total": 400,
        "seeds_spare": 0,
        "seed_grams": 1.18,
        "germination": 0.85,
        "germination_assumed": False,
        "plants_expected": 340.0,
        "plants_low": 331,
        "stand_chance": None,
        "sow": "2027-03-06",
        "emerge_from": "2027-03-13",
        "emerge_to": "2027-03-20",
        "thin": None,
        "plant_out": "2027-05-01",
        "runs": [
            {"tray": 1, "first": "A1", "last": "C6", "cells": 18},
            {"tray": 2, "first": "A1", "last": "A2", "cells": 2},
        ],
    }


def test_the_facts_of_stations_and_of_assumed_germination() -> None:
    job = record_jobs.job()
    beet, shallot = sowing_facts(job, job.batch(2)), sowing_facts(job, job.batch(1))
    assert (beet["stations"], beet["seeds_per_station"], beet["seeds_per_cell"]) == (3, 3, 9)
    assert (beet["stand_chance"], beet["thin"], beet["plant_out"]) == (0.9899, "2027-03-24", None)
    assert shallot["germination_assumed"] is True


def test_the_facts_of_a_tray() -> None:
    job = record_jobs.job()
    facts = tray_facts(job, job.trays[1])
    onion, shallot, beet = (job.codes[i] for i in range(3))
    cells = dict.fromkeys(("A1", "A2"), onion) | dict.fromkeys(
        ("A3", "A4", "A5", "A6", "B1", "B2", "B3", "B4"), shallot
    )
    assert facts["cells"] == cells | dict.fromkeys(("B5", "B6", "C1", "C2"), beet)
    assert (facts["number"], facts["kind"], facts["sow"]) == (2, "pot-18", "2027-03-06")
    assert (facts["place"], facts["spare"]) == ("light shelf", 4)


def test_only_what_is_sown_on_the_chosen_days() -> None:
    later = record_jobs.LATER
    facts = whole(record_jobs.job(days=(later, later)))
    assert [sowing["batch"] for sowing in facts["sowings"]] == ["27-017-3"]
    assert [tray["number"] for tray in facts["trays"]] == [3]


def test_cells_of_the_trays_are_those_of_the_runs() -> None:
    facts = whole(record_jobs.job())
    in_trays = [code for tray in facts["trays"] for code in tray["cells"].values()]
    for sowing in facts["sowings"]:
        assert in_trays.count(sowing["batch"]) == sowing["cells"] == sum(run["cells"] for run in sowing["runs"])


# ---- JSON


def test_json_has_no_byte_order_mark_and_keeps_its_letters() -> None:
    assert json_bytes({"name": "Été"}) == '{\n "name": "Été"\n}\n'.encode()


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_json_takes_no_number_that_is_none(number: float) -> None:
    with pytest.raises(ValueError, match="JSON"):
        json_bytes([number])


# ---- CSV


def read_csv(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_csv_as_rfc_4180_has_it() -> None:
    """Section 2: CRLF after each record (1), a header (3), quotes round what holds CRLF, quotes or commas (6, 7)."""
    rows = [{"a": 'with "quotes"', "b": "x,y"}, {"a": "two\nlines", "b": None}, {"b": 3}]
    assert csv_bytes(["a", "b"], rows) == (b'\xef\xbb\xbfa,b\r\n"with ""quotes""","x,y"\r\n"two\nlines",\r\n,3\r\n')


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "＝"])
def test_no_cell_is_a_formula(start: str) -> None:
    formula = f'{start}HYPERLINK("http://example.org","x")'
    assert read_csv(csv_bytes(["a"], [{"a": formula}]))[1] == ["'" + formula]


def test_numbers_below_nothing_stay_numbers() -> None:
    assert read_csv(csv_bytes(["a"], [{"a": -1.5}]))[1] == ["-1.5"]


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0")), min_size=2, max_size=2))
def test_cells_come_back_as_they_were(cells: list[str]) -> None:
    back = read_csv(csv_bytes(["a", "b"], [dict(zip("ab", cells, strict=True))]))[1]
    assert [cell.removeprefix("'") for cell in back] == [cell.removeprefix("'") for cell in cells]


def test_a_row_of_the_table() -> None:
    job = record_jobs.job()
    rows = [sowing_row(job, batch) for batch in job.batches]
    headings, *table = read_csv(csv_bytes(TABLE_COLUMNS, rows))
    assert headings == list(TABLE_COLUMNS)
    assert len(table) == 4
    onion, shallot = (dict(zip(headings, cells, strict=True)) for cells in table[:2])
    assert (onion["batch"], onion["stands"], onion["lot"]) == ("27-014-K", "1 A1-C6, 2 A1-A2", "HB-2231")
    assert (onion["trim"], onion["harden_off"], onion["stand_chance"]) == ("2027-04-17", "2027-04-24", "")
    assert (onion["treated"], shallot["treated"]) == ("no", "yes")
    assert shallot["notes"] == "Seed from the swap.\nKeep two pots back for the neighbours."
