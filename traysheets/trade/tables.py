"""Reads the tables of `data/`: CSV files a grower can open, every row with its origin. What they mean is for others."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"

# Sizes in the tables are rounded to 0.1 mm; what is out by less than this fits.
SLACK_MM = 0.05


def read_table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of `data/<name>.csv`, each by its column names; an empty field is the empty string."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def pair(row: dict[str, str], first: str, second: str) -> tuple[float, float]:
    """Two columns of a row as numbers."""
    return float(row[first]), float(row[second])
