"""What is printed or kept is the same whenever it is made: nothing in it is true on one day only."""

import json
from datetime import date
from pathlib import Path
from typing import Any

from traysheets.pipeline.checking import check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import OUTPUTS

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


def made(folder: Path, today: date) -> dict[str, bytes]:
    """All sheets and records by their path."""
    plan = folder / "plan.toml"
    folder.mkdir()
    plan.write_text(PLAN)
    run = make(Options(plan, only=OUTPUTS), today)
    return {name: (run.folder / name).read_bytes() for name in run.files}


def test_a_day_that_is_past_is_told_and_not_kept(tmp_path: Path) -> None:
    early, late = made(tmp_path / "early", BEFORE), made(tmp_path / "late", AFTER)
    assert list(early) == list(late)
    assert [name for name in early if early[name] != late[name]] == []
    kept: dict[str, Any] = json.loads(late["records/records.json"])
    assert any("crowded" in warning["text"] for warning in kept["warnings"])
    told = check(Options(tmp_path / "early/plan.toml"), AFTER).facts["warnings"]
    assert {"line": 2, "text": "the sowing day 2027-03-06 is past (today is 2027-04-01)"} in told  # type: ignore[operator]


def test_what_changed_since_the_last_printing_is_told_and_not_kept(tmp_path: Path) -> None:
    """A batch that moved, and one that looks like an earlier one: told at the first printing, and done with then."""
    made(tmp_path / "here", BEFORE)
    plan = tmp_path / "here/plan.toml"
    plan.write_text(PLAN.replace("soil_temp", 'code = "ZZ"\nsoil_temp') + PLAN.replace("Winter", 'Winter"\nlot = "B2'))
    told = check(Options(plan), BEFORE).notices
    assert sum("was printed as" in notice.text or "new code" in notice.text for notice in told) == 1, told
    first, second = (make(Options(plan, only=("records",)), BEFORE) for _ in range(2))
    assert first.files == second.files
    assert len(second.notices) < len(first.notices)
