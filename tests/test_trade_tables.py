"""The tables of the trade: every row says where it comes from, and the links between them hold."""

import pytest

from traysheets.trade.tables import DATA, read_table

TABLES = sorted(path.stem for path in DATA.glob("*.csv"))
LINKS = {
    "practice_row": "crop_practice",
    "federal_minimum_row": "germination_minimum",
    "state_minimum_row": "germination_minimum_state",
    "seeds_per_gram_row": "seeds_per_gram",
    "emergence_row": "emergence",
    "test_row": "germination_test",
}


def test_there_are_tables() -> None:
    assert {"trays", "stocks", "papers", "scales", "crops", "seed_size", *LINKS.values()} == set(TABLES)


@pytest.mark.parametrize("table", TABLES)
def test_every_row_has_its_origin_and_as_many_fields_as_headings(table: str) -> None:
    rows = read_table(table)
    assert rows
    for row in rows:
        assert None not in row
        assert None not in row.values()
        assert row["origin"].strip(), row
        assert all(field == field.strip() for field in row.values()), row


@pytest.mark.parametrize("table", TABLES)
def test_no_name_stands_twice(table: str) -> None:
    names = [next(iter(row.values())) for row in read_table(table)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(("column", "table"), LINKS.items())
def test_a_crop_names_rows_that_are_there(column: str, table: str) -> None:
    wanted = {row[column] for row in read_table("crops")} - {""}
    assert wanted
    assert wanted <= {row["crop"] for row in read_table(table)}


@pytest.mark.parametrize("table", ["crop_practice", "germination_minimum", "emergence", "germination_test"])
def test_every_row_is_used_by_a_crop(table: str) -> None:
    column = next(key for key, value in LINKS.items() if value == table)
    assert {row["crop"] for row in read_table(table)} <= {row[column] for row in read_table("crops")}


def test_every_crop_has_the_size_of_its_seed() -> None:
    assert [row["crop"] for row in read_table("seed_size")] == [row["crop"] for row in read_table("crops")]
