"""Templates: cells, holes and measures read back from the PDF, against geometry and the table of trays."""

import io
import math
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from map_jobs import TRAYS, batch, fill, job
from readback import SeenPage, read_back

from traysheets.base.limits import MOST_LETTERS_IN_BATCH
from traysheets.base.words import words_for
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Circle, Document, Page, Rect
from traysheets.page.proof import overlaps
from traysheets.page.reach import text_boxes
from traysheets.reckon.model import Figure as Known
from traysheets.reckon.model import Source
from traysheets.sheets.dimensions import measure
from traysheets.sheets.template_figure import Figure
from traysheets.sheets.templates import template_pages
from traysheets.trade.papers import PAPERS

WITHIN_MM = 0.05
NAMES = [
    "Centre",
    "Pair",
    "Triangle",
    "Square",
    "Quincunx",
    "Two rows of three",
    "Ring of six, one inside",
    "Rows of three, two, three",
    "Three rows of three",
]


def sown(*specs: tuple[str, str], **other):
    """A job of batches (tray, how it is sown), each in a tray of its own."""
    batches = [batch(i, TRAYS[kind], 1 if TRAYS[kind].cells == 1 else 3, what) for i, (kind, what) in enumerate(specs)]
    return job(batches, [fill(one.tray, [one], number=i + 1) for i, one in enumerate(batches)], **other)


def pages(*specs: tuple[str, str], **other) -> list[Page]:
    return list(template_pages(sown(*specs, **other)))


def printed(*specs: tuple[str, str], **other) -> list[SeenPage]:
    file = io.BytesIO()
    write_pdf(Document("templates", iter(pages(*specs, **other))), file)
    return read_back(file.getvalue())


def cells(page: SeenPage, size: tuple[float, float]) -> list[Rect]:
    """Outlines of cells of that size, in reading order."""
    found = [r for r in page.rects if r.stroke and (r.width_mm, r.height_mm) == pytest.approx(size, abs=WITHIN_MM)]
    return sorted(found, key=lambda rect: (round(rect.y_mm), rect.x_mm))


def holes(page: SeenPage, cell: Rect) -> list[Circle]:
    """The holes in a cell, from its corner."""
    moved = [
        Circle(hole.x_mm - cell.x_mm, hole.y_mm - cell.y_mm, hole.radius_mm)
        for hole in page.circles
        if cell.x_mm < hole.x_mm < cell.x_mm + cell.width_mm and cell.y_mm < hole.y_mm < cell.y_mm + cell.height_mm
    ]
    return sorted(moved, key=lambda hole: (round(hole.y_mm, 1), hole.x_mm))


def distances(found: list[Circle]) -> list[float]:
    return sorted(math.dist((a.x_mm, a.y_mm), (b.x_mm, b.y_mm)) for a, b in combinations(found, 2))


# ---- the figures


def test_one_page_for_each_figure_and_size_of_cell():
    made = pages(
        ("pot-18", "stations 3x2"),
        ("pot-18", "stations 3x3"),
        ("cell-72", "stations 3x2"),
        ("pot-18", "clump 25"),
        ("pot-18", "clump 20"),
        ("pot-18", "single 1"),
        ("pot-18", "stations 1x4"),
    )
    titles = ["Triangle, Cell 86 mm", "Triangle, Cell 39 mm", "Scattered, Cell 86 mm", "Centre, Cell 86 mm"]
    assert [page.title for page in made] == titles
    said = [" ".join(text for text, _ in text_boxes(page.marks)) for page in made]
    assert "3 holes × 2 seeds" in said[0]
    assert "3 holes × 3 seeds" in said[0]
    assert "27-014-K" in said[0]
    assert "27-015-9" in said[0]


@pytest.mark.parametrize("number", range(1, 10))
def test_holes_are_where_they_belong_at_full_size(number):
    (page,) = printed(("pot-18", f"stations {number}x2"))
    cell = cells(page, (86, 86))[0]
    found = holes(page, cell)
    assert len(found) == number
    assert page.words[0] == NAMES[number - 1]
    middle = sum(hole.x_mm for hole in found) / number, sum(hole.y_mm for hole in found) / number
    assert middle == pytest.approx((43, 43), abs=WITHIN_MM)


def test_a_triangle_has_three_equal_sides():
    (page,) = printed(("pot-18", "stations 3x2"))
    assert distances(holes(page, cells(page, (86, 86))[0])) == pytest.approx([41.71] * 3, abs=WITHIN_MM)


def test_a_square_has_four_equal_sides_and_diagonals_longer_by_the_root_of_two():
    (page,) = printed(("pot-18", "stations 4x2"))
    found = distances(holes(page, cells(page, (86, 86))[0]))
    assert found[:4] == pytest.approx([found[0]] * 4, abs=WITHIN_MM)
    assert found[4:] == pytest.approx([found[0] * math.sqrt(2)] * 2, abs=WITHIN_MM)


def test_a_quincunx_is_a_square_and_its_middle():
    (page,) = printed(("pot-18", "stations 5x2"))
    found = distances(holes(page, cells(page, (86, 86))[0]))
    assert found[:4] == pytest.approx([found[4] / math.sqrt(2)] * 4, abs=WITHIN_MM)


def test_a_ring_of_six_has_its_neighbours_as_far_apart_as_from_the_middle():
    (page,) = printed(("pot-18", "stations 7x1"))
    assert distances(holes(page, cells(page, (86, 86))[0]))[:12] == pytest.approx([0.32 * 86] * 12, abs=WITHIN_MM)


@pytest.mark.parametrize("kind", ["pot-18", "cell-72", "cell-200", "cell-512", "pot-9cm-round", "cell-392"])
@pytest.mark.parametrize("number", range(1, 10))
def test_suggested_holes_stay_apart_and_inside(kind, number):
    figure = Figure(number, 2, TRAYS[kind].cell_mm, TRAYS[kind].shape == "round")
    assert 1.5 <= figure.hole_mm <= 12
    assert figure.hole_mm < figure.spacing_mm
    assert figure.hole_mm / 2 < figure.edge_mm


# ---- the measures


def chains(page: SeenPage, cell: Rect, read) -> tuple[list[float], list[float]]:
    """The measures below a cell in the order of their places, and those at its right; the overall ones left out."""
    numbers = [text for text in page.texts if text.size_pt == 9 and text.face == "regular" and text.text[:1].isdigit()]
    below = [t for t in numbers if 0 < t.y_mm - cell.y_mm - cell.height_mm < 10 and t.x_mm < cell.x_mm + cell.width_mm]
    right = [t for t in numbers if 2 < t.x_mm - cell.x_mm - cell.width_mm < 16 and t.y_mm < cell.y_mm + cell.height_mm]
    return [read(t.text) for t in sorted(below, key=lambda t: t.x_mm)], [
        read(t.text) for t in sorted(right, key=lambda t: t.y_mm)
    ]


@pytest.mark.parametrize("number", range(1, 10))
def test_measures_say_how_far_holes_are_from_each_other_and_from_the_edges(number):
    (page,) = printed(("pot-18", f"stations {number}x2"))
    cell = cells(page, (86, 86))[0]
    found = holes(page, cell)
    for measures, places in zip(
        chains(page, cell, float), ([h.x_mm for h in found], [h.y_mm for h in found]), strict=True
    ):
        at = sorted({round(place, 1) for place in places})
        assert measures == pytest.approx([b - a for a, b in zip((0, *at), (*at, 86), strict=True)], abs=0.15)
        assert sum(measures) == pytest.approx(86, abs=0.3)
    assert "86" in page.words


def test_in_inches_measures_are_fractions_that_a_rule_has():
    (page,) = printed(("pot-18", "stations 4x2"), units="inch", paper="letter")
    cell = cells(page, (86, 86))[0]
    found = holes(page, cell)
    across, _ = chains(page, cell, lambda text: float(sum(map(Fraction, text.split()))) * 25.4)
    at = sorted({round(hole.x_mm, 1) for hole in found})
    assert across == pytest.approx([b - a for a, b in zip((0, *at), (*at, 86), strict=True)], abs=25.4 / 32)
    assert "Full size  ·  measures in inches" in page.words


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [(20.93, "20.9", "13/16"), (86, "86", "3 3/8"), (2.4, "2.4", "3/32"), (38.1, "38.1", "1 1/2")],
)
def test_a_measure_is_to_a_tenth_of_a_millimetre_or_the_fraction_of_an_inch(mm, metric, inch):
    words = words_for("en")
    assert measure(mm, words, "metric") == metric
    assert measure(mm, words, "inch") == inch


def test_on_a_slant_the_distance_of_two_holes_is_said():
    (page,) = printed(("pot-18", "stations 5x2"))
    assert str(round(distances(holes(page, cells(page, (86, 86))[0]))[0], 1)) in page.words


# ---- sizes


@pytest.mark.parametrize(
    ("kind", "what"), [("cell-200", "single 1"), ("cell-512", "stations 7x1"), ("cell-72", "single 1")]
)
def test_small_cells_have_measures_in_a_larger_drawing_and_stand_side_by_side_at_full_size(kind, what):
    (page,) = printed((kind, what))
    tray = TRAYS[kind]
    (caption,) = (word for word in page.words if "times larger" in word)
    factor = int(caption.split()[0])
    assert len(cells(page, tuple(side * factor for side in tray.cell_mm))) == 1
    small = cells(page, tray.cell_mm)
    across = sorted({round(cell.x_mm, 2) for cell in small})
    down = sorted({round(cell.y_mm, 2) for cell in small})
    assert f"Full size, {len(across)} × {len(down)} cells as they stand in the tray" in page.words
    assert len(small) == len(across) * len(down)
    assert across[1] - across[0] == pytest.approx(tray.pitch_mm[0], abs=WITHIN_MM)
    assert down[1] - down[0] == pytest.approx(tray.pitch_mm[1], abs=WITHIN_MM)
    assert all(len(holes(page, cell)) == len(holes(page, small[0])) for cell in small)


def test_a_cell_larger_than_the_paper_is_reduced_and_the_page_says_so():
    (page,) = printed(("flat-1020", "stations 9x1"))
    assert "Scale 1:2.5: too large for a4 paper at full size  ·  measures in mm" in page.words
    assert "Scale 1:2.5" in page.words
    assert len(cells(page, (521 / 2.5, 267 / 2.5))) == 1
    assert {"521", "267"} <= set(page.words)


def test_a_scale_is_written_as_the_language_writes_numbers():
    made = sown(("flat-1020", "stations 9x1"))
    (page,) = template_pages(replace(made, words=words_for("de")))
    said = [text for text, _ in text_boxes(page.marks)]
    assert "Maßstab 1:2,5" in said
    assert not [text for text in said if "1:2.5" in text]


def test_a_round_cell_is_a_circle():
    (page,) = printed(("pot-9cm-round", "stations 3x2"))
    assert any(circle.radius_mm == pytest.approx(45, abs=WITHIN_MM) for circle in page.circles)
    assert page.words[1].startswith("Round cell 90 mm")


def test_scattered_seeds_are_as_many_as_most_cells_get_and_keep_clear_of_the_edge():
    (page,) = printed(("pot-18", "clump 25"))
    cell = cells(page, (86, 86))[0]
    found = holes(page, cell)
    assert len(found) == 25
    assert all(4 < hole.x_mm < 82 and 4 < hole.y_mm < 82 for hole in found)
    spacing = Figure(0, 25, (86, 86), False).spacing_mm
    assert distances(found)[0] == pytest.approx(spacing, abs=WITHIN_MM)
    assert f"25 seeds, evenly  ·  about {round(spacing, 1)} mm apart  ·  6 mm deep" in page.words


def test_numbers_of_seeds_that_differ_are_said_and_which_is_drawn():
    (page,) = printed(("pot-18", "clump 25"), ("pot-18", "clump 20"))
    assert any(words.startswith("20 to 25 seeds, evenly; drawn: 25  ·  ") for words in page.words)


def test_seed_on_top_has_a_template_of_its_own():
    """No board with dibbles is made for it."""
    kind, bare = TRAYS["cell-72"], Known(0.0, Source.PLAN)
    sunk, lying = batch(0, kind, 3, "single 1"), batch(1, kind, 3, "single 1", cover_mm=bare)
    scattered = batch(2, kind, 3, "clump 5", cover_mm=bare)
    made = list(template_pages(job([sunk, lying, scattered], [fill(kind, [sunk, lying, scattered])])))
    said = [" ".join(text for text, _ in text_boxes(page.marks)) for page in made]
    assert len(made) == 3
    assert "1 hole, about 12 mm wide  ·  6 mm deep" in said[0]
    assert "1 place  ·  on top, do not cover" in said[1]
    assert "do not cover" in said[2]
    assert not any("0 mm deep" in words for words in said)


def test_depths_that_differ_are_said_from_least_to_most():
    one = batch(0, TRAYS["pot-18"], 3, "stations 3x2", cover_mm=Known(12.0, Source.PLAN))
    other = batch(1, TRAYS["pot-18"], 3, "stations 3x2")
    unknown = batch(2, TRAYS["pot-18"], 3, "stations 3x2", cover_mm=None)
    batches = [one, other, unknown]
    trays = [fill(b.tray, [b], number=i + 1) for i, b in enumerate(batches)]
    (page,) = template_pages(job(batches, trays))
    assert "3 holes, about 12 mm wide  ·  6 mm to 12 mm deep" in [text for text, _ in text_boxes(page.marks)]


def test_of_a_depth_that_nobody_knows_nothing_is_said():
    one = batch(0, TRAYS["pot-18"], 3, "stations 3x2", cover_mm=None)
    (page,) = template_pages(job([one], [fill(one.tray, [one])]))
    said = [text for text, _ in text_boxes(page.marks)]
    assert "3 holes, about 12 mm wide" in said
    assert not any("deep" in words for words in said)


def test_more_batches_than_have_room_are_counted():
    batches = [batch(i, TRAYS["pot-18"], 3, "stations 3x2") for i in range(60)]
    trays = [fill(b.tray, [b], number=i + 1) for i, b in enumerate(batches)]
    (page,) = template_pages(job(batches, trays))
    words = [text for text, _ in text_boxes(page.marks)]
    listed = sum(word.startswith("27-") for word in words)
    assert f"and {60 - listed} more batches" in words


@pytest.mark.parametrize("paper", PAPERS)
def test_the_longest_batch_code_is_whole_and_clear_of_what_stands_before_it(paper):
    made, code = sown(("pot-18", "stations 3x2"), paper=paper), "W" * MOST_LETTERS_IN_BATCH
    (page,) = template_pages(replace(made, codes={0: code}))
    assert overlaps(page) == []
    assert code in [text for text, _ in text_boxes(page.marks)]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_nothing_meets_or_leaves_the_page_on_any_paper(paper, units):
    sizes = ["pot-18", "cell-72", "cell-200", "cell-512", "cell-392", "pot-9cm-round", "flat-1020", "eu-flat"]
    specs = [(kind, what) for kind in sizes for what in ("stations 7x2", "clump 25", "single 1", "stations 5x1")]
    for page in pages(*specs, paper=paper, units=units):
        assert overlaps(page) == [], page.title
        for text, (left, top, right, bottom) in text_boxes(page.marks):
            assert left > 6.35, text
            assert top > 6.35, text
            assert right < page.width_mm - 6.35, text
            assert bottom < page.height_mm - 6.35, text


def test_every_page_has_the_bar_of_fifty_millimetres():
    for page in printed(("pot-18", "stations 3x2"), ("flat-1020", "clump 300"), ("cell-200", "single 1")):
        assert any(line.x2_mm - line.x1_mm == pytest.approx(50, abs=0.01) for line in page.lines)


# ---- the foot


@pytest.mark.parametrize(
    ("kind", "what", "scale", "pricked"),
    [
        ("cell-72", "stations 3x2", "Scale 2:1 · 1:1", True),
        ("cell-72", "clump 8", "Scale 2:1", False),
        ("pot-18", "stations 3x2", "Scale 1:1", True),
        ("pot-18", "clump 25", "Scale 1:1", False),
        ("flat-1020", "stations 9x1", "Scale 1:2.5", False),
    ],
)
def test_the_foot_says_the_scale_of_every_drawing_and_to_prick_only_crosses_at_full_size(
    kind: str, what: str, scale: str, pricked: bool
) -> None:
    (page,) = printed((kind, what))
    assert scale in page.words
    how = "Lay what is 1:1 on a board or a lid and prick through the crosses."
    assert [word for word in page.words if "prick" in word] == ([how] if pricked else [])


def test_the_foot_of_seed_scattered_on_top_names_no_crosses() -> None:
    bare = batch(0, TRAYS["cell-72"], 3, "clump 5", cover_mm=Known(0.0, Source.PLAN))
    (page,) = template_pages(job([bare], [fill(bare.tray, [bare])]))
    said = [text for text, _ in text_boxes(page.marks)]
    assert "Scale 2:1" in said
    assert not any("prick" in text for text in said)
