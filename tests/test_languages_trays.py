"""What trays are called on sheets: by what they are, in the language; the grower's own as the plan calls them."""

from dataclasses import replace

import pytest

from traysheets.base.words import languages, words_for
from traysheets.sheets.tray_titles import tray_title
from traysheets.trade.trays import built_in_trays

TRAYS = built_in_trays()


@pytest.mark.parametrize(
    ("name", "units", "title"),
    [
        ("pot-18", "metric", "flat of 18 pots"),
        ("cell-72", "metric", "tray of 72 cells"),
        ("flat-1020", "metric", "open tray, 543 × 279 mm"),
        ("eu-flat", "metric", "open tray, 600 × 400 mm"),
        ("pot-4in", "inch", "square pot, 4 in"),
        ("pot-9cm-round", "metric", "round pot, 90 mm"),
        ("block-1.5in", "inch", "soil block, 1 1/2 in"),
        ("block-2in", "metric", "tray of 50 soil blocks"),
    ],
)
def test_a_tray_is_called_by_what_it_is(name: str, units: str, title: str) -> None:
    assert tray_title(TRAYS[name], words_for("en"), units) == title


def test_the_growers_own_tray_is_called_what_the_plan_calls_it() -> None:
    own = replace(TRAYS["cell-72"], title="Grandfather's crate", built_in=False)
    assert {tray_title(own, words_for(code), "metric") for code in languages()} == {"Grandfather's crate"}


@pytest.mark.parametrize("name", TRAYS)
def test_every_built_in_tray_has_a_name_of_its_own_in_every_language(name: str) -> None:
    titles = [tray_title(TRAYS[name], words_for(code), "metric") for code in languages() if code not in ("es", "pt")]
    assert len(set(titles)) == len(titles)
    numbers = {str(TRAYS[name].cells)} if TRAYS[name].cells > 1 else {f"{TRAYS[name].outer_mm[0]:g}"}
    assert all(number in title for title in titles for number in numbers)
