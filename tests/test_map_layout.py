"""Which scale a map takes: the largest that leaves the legend room, against plain sums over tray and paper."""

import map_jobs
import pytest
from map_jobs import TRAYS, batch, fill, job, one_tray
from meant import flat
from readback import SeenText

from traysheets.base.errors import SheetError
from traysheets.sheets.maps import map_pages
from traysheets.trade.papers import PAPERS, SCALES


def scale_of(page):
    (said,) = (m.text for m in flat(page.marks) if isinstance(m, SeenText) and m.text.startswith("Scale "))
    return said.removeprefix("Scale ")


def fitted(name, batches=1, **other):
    kind = TRAYS[name]
    pages = list(
        map_pages(one_tray(kind, *((max(kind.cells // batches, 1), "single 1") for _ in range(batches)), **other))
    )
    return scale_of(pages[0]), len(pages)


def test_the_scales_are_the_named_ones():
    """ISO 5455 recommends 1:1, 1:2, 1:5 and 1:10 (from memory); 1:2.5, 1:3 and 1:4 are common drafting practice."""
    assert {name: round(1 / factor, 6) for name, factor in SCALES.items()} == {
        "1:1": 1, "1:2": 2, "1:2.5": 2.5, "1:3": 3, "1:4": 4, "1:5": 5, "1:10": 10,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("name", "paper", "scale"),
    [
        ("flat-1020", "a4", "1:2"),
        ("flat-1020", "letter", "1:2.5"),
        ("cell-200", "a4", "1:2"),
        ("eu-104", "a4", "1:3"),
        ("eu-104", "a3", "1:2"),
        ("cell-72", "tabloid", "1:2"),
        ("cell-72", "legal", "1:2"),
        ("cell-72", "a5", "1:4"),
        ("pot-3in", "a4", "1:1"),
        ("pot-4in", "a5", "1:1"),
        ("block-0.75in", "a5", "1:1"),
    ],
)
def test_the_largest_scale_that_goes_on_the_paper(name, paper, scale):
    """1020 flats (540 mm) are 270 mm long at 1:2: they go on A4 (297 mm), not on Letter (279.4 mm) with its margins."""
    assert fitted(name, paper=paper) == (scale, 1)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", TRAYS)
def test_no_larger_scale_could_have_been_taken(name, paper):
    """With one batch, the next larger scale leaves no room at all beside the tray for margins, head, a row and foot."""
    kind, names = TRAYS[name], list(SCALES)
    scale, _ = fitted(name, paper=paper)
    if scale == "1:1":
        return
    factor = SCALES[names[names.index(scale) - 1]]
    length, width = (side * factor for side in kind.outer_mm)
    sheet = PAPERS[paper]
    for across, down in ((sheet.width_mm, sheet.height_mm), (sheet.height_mm, sheet.width_mm)):
        assert length > across - 24 or width > down - 62


@pytest.mark.parametrize(
    ("batches", "scale", "pages"),
    [(3, "1:2", 1), (4, "1:2.5", 1), (7, "1:2.5", 1), (8, "1:3", 1), (9, "1:3", 1), (12, "1:3", 1), (40, "1:2.5", 3)],
)
def test_a_longer_legend_costs_a_step_of_scale_and_then_a_page(batches, scale, pages):
    assert fitted("cell-200", batches) == (scale, pages)


def test_paper_is_turned_when_that_gives_the_larger_scale_or_the_same():
    for name, turned in (("pot-18", True), ("pot-3in", True), ("flat-1010", True)):
        page = next(map_pages(one_tray(name, (1, "single 1"))))
        assert (page.width_mm > page.height_mm) == turned
    upright = next(map_pages(one_tray("pot-4in", (1, "single 1"), paper="a5")))
    assert (upright.width_mm, upright.height_mm) == (148, 210)


def test_a_named_scale_is_taken_as_it_is():
    assert fitted("cell-200", 3, scale="1:5") == ("1:5", 1)
    assert fitted("cell-200", 7, scale="1:2") == ("1:2", 2)


def refusal(one):
    with pytest.raises(SheetError) as refused:
        next(map_pages(one))
    return [problem.text for problem in refused.value.problems]


def test_a_tray_that_takes_the_whole_page_has_its_legend_on_the_next():
    first, second = map_pages(one_tray("cell-72", (1, "clump 25"), (1, "stations 3x2"), paper="a5", scale="1:3"))
    shown, after = ([m.text for m in flat(page.marks) if isinstance(m, SeenText)] for page in (first, second))
    names = {"Longstalk Winter", "Copper Bell"}
    assert (names & set(shown), names & set(after)) == (set(), names)
    assert [text for text in shown if "next page" in text] == ["2 more batches on the next page"]


def test_a_scale_too_large_for_the_paper_is_refused_with_what_would_do():
    assert refusal(one_tray("cell-72", (72, "single 1"), scale="1:2", paper="letter")) == [
        "a map of the tray cell-72 (540 x 279 mm) at 1:2 does not fit letter paper; what fits: "
        "letter at 1:2.5 or smaller, 1:2 on a4 or a3 or tabloid or legal"
    ]
    assert refusal(one_tray("eu-77", (72, "single 1"), scale="1:2")) == [
        "a map of the tray eu-77 (600 x 400 mm) at 1:2 does not fit a4 paper; what fits: "
        "a4 at 1:2.5 or smaller, 1:2 on a3 or tabloid"
    ]


def test_every_kind_of_tray_that_does_not_fit_is_named_once():
    big, small = TRAYS["cell-72"], TRAYS["pot-3in"]
    batches = [batch(0, big, 72), batch(1, big, 72), batch(2, small, 1), batch(3, TRAYS["eu-77"], 7)]
    trays = [fill(b.sowing.tray, [b], number=i + 1) for i, b in enumerate(batches)]
    found = refusal(job(batches, trays, scale="1:2", paper="a5"))
    assert [text.split("(")[0] for text in found] == ["a map of the tray cell-72 ", "a map of the tray eu-77 "]


def test_a_tray_larger_than_any_paper_at_any_scale_is_refused():
    giant = map_jobs.replace(TRAYS["flat-1020"], name="giant", outer_mm=(9000, 4000))
    assert refusal(one_tray(giant, (1, "single 1"))) == [
        "a map of the tray giant (9000 x 4000 mm) at 1:10 does not fit a4 paper; what fits: no paper there is"
    ]
