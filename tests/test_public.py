"""What programs may call: the flow from a plan to its sheets, under the names of the package itself."""

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

import traysheets

PLAN = """
[plan]
title = "By program"
season = 2027

[[sowing]]
crop = "Bunching onion"
variety = "Longstalk Winter"
method = "clump"
seeds_per_cell = 25
cells = 8
tray = "pot-18"
sow = 2027-03-06
"""


def test_a_plan_is_read_reckoned_arranged_and_made_by_the_names_of_the_package(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text(PLAN, encoding="utf-8")
    reckoned = traysheets.reckon(traysheets.read_plan(file))
    arranged = traysheets.arrange(reckoned)
    made = traysheets.make_sheets(reckoned, arranged, tmp_path / "sheets", today=date(2027, 3, 1), only=("maps",))
    assert (made.folder, made.files) == (tmp_path / "sheets", ("maps.pdf",))
    assert (tmp_path / "sheets" / "maps.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "plan.book.sqlite").exists()


def test_functions_are_not_hidden_by_the_rooms_of_their_names() -> None:
    code = """
import traysheets
import traysheets.arrange.arrange
from traysheets.reckon.model import Batch
from traysheets import arrange, reckon
assert traysheets.reckon is reckon and traysheets.arrange is arrange
print(reckon.__module__, arrange.__module__)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "traysheets.reckon.reckon traysheets.arrange.arrange\n"


def test_every_public_name_is_there_and_no_other() -> None:
    assert all(getattr(traysheets, name) for name in traysheets.__all__)
    with pytest.raises(AttributeError, match="module 'traysheets' has no attribute 'nothing'"):
        _ = traysheets.nothing


def test_errors_are_one_family() -> None:
    errors = (traysheets.PlanError, traysheets.BookError, traysheets.SheetError, traysheets.FileError)
    assert all(issubclass(error, traysheets.TraysheetsError) for error in errors)
