"""Accents on capitals under the tails of letters, and at the top of a page: long names, on all sheets and papers."""

from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from traysheets.page.proof import prove
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.sheets.job import Job
from traysheets.trade.papers import PAPERS

USUAL = "Überwinterungszwiebel Gelbe Ångström-Königin y Ñora Ähren Gelbe frühjahrsfüllige Éclat früh jaspergrün Çay "
TALLEST = "Éçgy Ǻq Ůlg Ñandújpg ŐJąĘg Ågjpqy Übergangsgj g "
"""Rings and double strokes reach higher over capitals than other accents do."""


def words(text: str, letters: int) -> str:
    return (text * 9)[:letters].strip()


@cache
def plan(text: str, letters: int) -> str:
    """A title, a crop, varieties and lots of so many letters, in trays of several shapes."""
    name, short = words(text, letters), words(text, min(letters, 90))
    head = f'[plan]\ntitle = "{name}"\ngrower = "{short}"\nseason = 2027\n[defaults]\nsow = 2027-03-06'
    crop = f'[[crop]]\nname = "{words(text[9:], letters // 2)}"\nlike = "Onion"'
    sowings = (
        f'[[sowing]]\ncrop = "{crop_name}"\nvariety = "{words(text[cut:], letters)}"\nlot = "{short}"\n'
        f'cells = 2\ntray = "{tray}"\ntreated = {treated}'
        for cut, tray, crop_name, treated in (
            (0, "pot-18", words(text[9:], letters // 2), "true"),
            (5, "cell-200", "Beetroot", "false"),
            (11, "pot-9cm", words(text[9:], letters // 2), "false"),
        )
    )
    return "\n".join((head, crop, *sowings))


def jobs(folder: Path, text: str, paper: str) -> Iterator[Job]:
    for letters in (24, 60, 96, 240):
        file = folder / f"{letters}.toml"
        file.write_text(plan(text, letters), encoding="utf-8")
        yield check(Options(plan=file, paper=paper, languages=("fr",)), date(2027, 3, 1)).job


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("text", [USUAL, TALLEST], ids=["usual", "tallest"])
def test_accents_touch_nothing_on_any_sheet(text: str, paper: str, tmp_path: Path) -> None:
    for made in jobs(tmp_path, text, paper):
        for sheet in SHEETS.values():
            for page in sheet.pages(made):
                prove(page)
