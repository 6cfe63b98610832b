"""A small plan of which sheets have much to say, in Cyrillic names, as a job in any language; a language made up."""

import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from string import ascii_letters
from typing import Any

from traysheets.arrange.arrange import arrange
from traysheets.base.words import Words, words_for
from traysheets.plan.model import Plan, Sowing
from traysheets.plan.read import read_plan
from traysheets.reckon.reckon import reckon
from traysheets.sheets.job import Choices, Job, Noted
from traysheets.trade.papers import PAPERS

SAMPLE = """
[plan]
title = "Весна"
grower = "Сад"
season = 2027
last_frost = 2027-05-05
place = "дом"
[defaults]
tray = "pot-18"
sow = 2027-03-06
[compare]
tray = "cell-72"
[pace]
helpers = 2
[[bench]]
name = "дом"
length = "2.4 m"
depth = "0.9 m"
[[bench]]
name = "полка"
length = "50 mm"
depth = "50 mm"
[[sowing]]
crop = "Bunching onion"
variety = "Зимний длинный"
code = "21"
seeds_per_cell = 25
cells = 20
lot = "7-2231"
soil_temp = "18 C"
packet = 250
treated = true
spare = 0.1
notes = "две гряды"
[[sowing]]
crop = "Beetroot"
variety = "Тёмный"
code = "22"
method = "stations"
stations = 3
seeds_per_station = 2
plants = 40
germination = "80 %"
soil_temp = "16 C"
cover = "12 mm"
on_hand = 900
[[sowing]]
crop = "Onion"
variety = "Янтарь"
code = "23"
method = "clump"
seeds_per_cell = 22
seeds = 90
sticks = "cell"
place = "полка"
[[sowing]]
crop = "Tomato"
variety = "Якорь"
code = "24"
tray = "cell-72"
plants = 30
seeds_per_cell = 2
weeks_before_frost = 7
soil_temp = "22 C"
[[sowing]]
crop = "Lettuce"
variety = "Фонарь"
code = "25"
tray = "cell-200"
cells = 61
seeds_per_cell = 1
sow = 2027-03-13
cover = "0 mm"
repeat = { every = "2 weeks", times = 2 }
[[sowing]]
crop = "Leek"
variety = "Ручей"
code = "26"
tray = "block-2in"
cells = 4
seeds_per_cell = 6
sow = 2027-03-13
soil_temp = "18 C"
"""
CROPS = {"Bunching onion": "Лук", "Beetroot": "Свёкла", "Onion": "Репчатый", "Tomato": "Томат"}
CROPS |= {"Lettuce": "Салат", "Leek": "Порей"}

GREEK = str.maketrans(ascii_letters, "αβχδεφγηιξκλμνοπθρστυωψξυζΑΒΧΔΕΦΓΗΙΞΚΛΜΝΟΠΘΡΣΤΥΩΨΞΥΖ")

NOTED = [key for key in words_for("en").entries["records"] if key.startswith("noted_")][2:]
"""Kinds of entries in the book: all that there are words for, but how it stood and what counts."""


@cache
def plan(path: Path, units: str = "metric") -> Plan:
    """The sample, crops under Cyrillic names."""
    file = path / "sample.toml"
    file.write_text(SAMPLE, encoding="utf-8")
    read = read_plan(file)
    return replace(read, units=units, sowings=tuple(map(_renamed, read.sowings)))


def _renamed(sowing: Sowing) -> Sowing:
    return replace(sowing, crop_name=CROPS[sowing.crop_name])


def job(folder: Path, *words: Words, units: str = "metric", stock: str = "stake-20x100-a4") -> Job:
    """The sample in a language, its guide in all that are given."""
    made = plan(folder, units)
    reckoned = reckon(made)
    codes = {batch.index: f"27-{batch.index + 1:03}-K" for batch in reckoned.batches}
    choices = Choices(PAPERS["a4"], made.stocks[stock])
    noted = tuple(Noted(date(2027, 3, 20), kind.removeprefix("noted_"), 12, "дождь") for kind in NOTED)
    return Job(reckoned, arrange(reckoned), codes, words[0], choices, date(2027, 4, 1), words, {0: noted})


def greek() -> Words:
    """English in Greek letters, with the days and numbers of Greek."""
    english = words_for("en")
    return Words("el", {section: _greek_section(section, found) for section, found in english.entries.items()})


def _greek_section(section: str, entries: dict[str, Any]) -> dict[str, Any]:
    return {key: entry if section == "day" or "month" in key else _greek(entry) for key, entry in entries.items()}


def _greek(entry: Any) -> Any:
    if isinstance(entry, dict):
        return {form: _greek(text) for form, text in entry.items()}
    parts = re.split(r"(\{\w+\}|shift_right|shift_down)", entry)
    return "".join(part if i % 2 else part.translate(GREEK) for i, part in enumerate(parts))
