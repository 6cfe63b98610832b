"""What is printed or kept is the same whenever it is made: nothing in it is true on one day only."""

import json
from datetime import date
from pathlib import Path
from typing import Any

from traysheets.pipeline import Options, check, make

PLAN = """
[[sowing]]
crop = "Onion"
variety = "Longstalk Winter"
tray = "pot-18"
cells = 1
seeds_per_cell = 60
soil_temp = "18 C"
sow = 2027-03-06
"""
BEFORE, AFTER = date(2027, 3, 1), date(2027, 4, 1)


def records(folder: Path, today: date) -> dict[str, Any]:
    plan = folder / "plan.toml"
    folder.mkdir()
    plan.write_text(PLAN)
    make(Options(plan, only=("records",)), today)
    read: dict[str, Any] = json.loads((folder / "plan/records/records.json").read_text())
    return read


def test_a_day_that_is_past_is_told_and_not_kept(tmp_path: Path) -> None:
    early, late = records(tmp_path / "early", BEFORE), records(tmp_path / "late", AFTER)
    assert early == late
    assert any("crowded" in warning["text"] for warning in late["warnings"])
    told = check(Options(tmp_path / "early/plan.toml"), AFTER).facts["warnings"]
    assert {"line": 2, "text": "the sowing day 2027-03-06 is past (today is 2027-04-01)"} in told  # type: ignore[operator]
