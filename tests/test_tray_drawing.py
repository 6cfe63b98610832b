"""Trays from above: which code stands where, as letters; sizes read back from the PDF against the table of trays."""

import io
from collections import Counter
from dataclasses import replace

import map_jobs
import meant
import pytest
from map_jobs import TRAYS, batch, fill, job, one_tray
from readback import SeenText, read_back

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.cells import row_letters
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Circle, Document, Page, Path, Place, Rect
from traysheets.page.proof import overlaps, prove
from traysheets.sheets.cells import FADED
from traysheets.sheets.tray_drawing import TrayDrawing, segments, tray_picture
from traysheets.trade.papers import SCALES

WITHIN_MM = 0.05
EDGE_MM = 10.0


def drawn(one, scale="1:2.5", picked=None):
    """The first tray of a job alone on a page, its corner `EDGE_MM` from the page's."""
    drawing, factor, tray = TrayDrawing(one), SCALES[scale], one.trays[0]
    scaled = drawing.scaled(tray.kind, factor)
    marks = tuple(drawing.marks(tray, factor, EDGE_MM - scaled.left_mm, EDGE_MM - scaled.top_mm, picked))
    return Page(650, 450, marks, margin_mm=0)


def printed(page):
    file = io.BytesIO()
    write_pdf(Document("tray", iter([page])), file)
    return read_back(file.getvalue())[0]


def letters(page, kind, scale):
    """The page as letters: what is written in each cell, `.` where nothing is, rows parted by `/`."""
    factor = SCALES[scale]
    words = [mark for mark in meant.flat(page.marks) if isinstance(mark, SeenText)]
    rows = []
    for row in range(kind.rows):
        names = []
        for column in range(kind.columns):
            x, y = (EDGE_MM + side * factor for side in kind.centre_mm(row * kind.columns + column))
            half_x, half_y = kind.cell_mm[0] * factor / 2, kind.cell_mm[1] * factor / 2
            inside = [w.text for w in words if abs(w.x_mm - x) < half_x and abs(w.y_mm - y) < half_y]
            names.append(inside[0] if inside else ".")
        rows.append("".join(names))
    return "/".join(rows)


def lettered(kind, runs, scale="1:2.5"):
    """A tray of runs (letter, first cell, cells), drawn and read as letters."""
    names = sorted({name for name, _, _ in runs})
    batches = [batch(i, kind, 1, "single 1", code=name) for i, name in enumerate(names)]
    placed = tuple(Run(1, names.index(name), first, cells) for name, first, cells in runs)
    tray = ArrangedTray(1, kind, batches[0].sow, "", placed)
    return letters(drawn(job(batches, [tray]), scale), kind, scale)


def test_every_cell_bears_the_code_of_its_batch():
    assert lettered(TRAYS["pot-18"], [("A", 0, 8), ("B", 8, 4), ("C", 12, 6)]) == "AAAAAA/AABBBB/CCCCCC"


def test_empty_cells_bear_none():
    assert lettered(TRAYS["pot-18"], [("A", 2, 3), ("B", 11, 2)]) == "..AAA./.....B/B....."


def test_a_batch_may_stand_in_several_runs():
    assert lettered(TRAYS["pot-18"], [("A", 0, 2), ("B", 2, 9), ("A", 11, 3)]) == "AABBBB/BBBBBA/AA...."


@pytest.mark.parametrize("scale", SCALES)
def test_the_scale_changes_nothing_in_who_stands_where(scale):
    kind = TRAYS["cell-32"]
    assert lettered(kind, [("A", 0, 11), ("B", 11, 12)], scale) == "AAAAAAAA/AAABBBBB/BBBBBBB./........"


def outlines(seen, kind, factor):
    """The outlines of cells on a page that was read back: (x, y, width, height) about their middles."""
    width, height = kind.cell_mm[0] * factor, kind.cell_mm[1] * factor
    found = []
    for mark in seen.marks:
        if isinstance(mark, Circle) and mark.stroke and abs(2 * mark.radius_mm - width) < WITHIN_MM:
            found.append((mark.x_mm, mark.y_mm, 2 * mark.radius_mm, 2 * mark.radius_mm))
        elif isinstance(mark, Rect) and mark.stroke and abs(mark.width_mm - width) + abs(mark.height_mm - height) < 0.1:
            middle = mark.x_mm + mark.width_mm / 2, mark.y_mm + mark.height_mm / 2
            found.append((*middle, mark.width_mm, mark.height_mm))
    return found


@pytest.mark.parametrize("scale", ["1:1", "1:2", "1:2.5", "1:5"])
@pytest.mark.parametrize("name", TRAYS)
def test_true_geometry_read_back_from_the_pdf(name, scale):
    """Centres and sizes of all cells, and the outer edge, against the table of trays, in millimetres on paper."""
    kind, factor = TRAYS[name], SCALES[scale]
    one = one_tray(kind, (max(kind.cells // 2, 1), "single 1"))
    seen = printed(drawn(one, scale))
    cells = outlines(seen, kind, factor)
    width, height = kind.cell_mm[0] * factor, kind.cell_mm[1] * factor
    for cell in range(kind.cells):
        x, y = (EDGE_MM + side * factor for side in kind.centre_mm(cell))
        here = [c for c in cells if abs(c[0] - x) < WITHIN_MM and abs(c[1] - y) < WITHIN_MM]
        assert here, kind.cell_name(cell)
        assert all(abs(c[2] - width) < WITHIN_MM and abs(c[3] - height) < WITHIN_MM for c in here)
    edge = (EDGE_MM, EDGE_MM, kind.outer_mm[0] * factor, kind.outer_mm[1] * factor)
    edges = [(r.x_mm, r.y_mm, r.width_mm, r.height_mm) for r in seen.rects if r.stroke and r.stroke_mm > 0.4]
    assert any(all(abs(a - b) < WITHIN_MM for a, b in zip(found, edge, strict=True)) for found in edges)


def test_a_misplaced_cell_would_be_seen():
    kind = TRAYS["pot-18"]
    wrong = replace(kind, pitch_mm=(86.8, 88))
    cells = outlines(printed(drawn(one_tray(wrong, (18, "single 1")))), kind, 0.4)
    x, y = (EDGE_MM + side * 0.4 for side in kind.centre_mm(0))
    assert not [c for c in cells if abs(c[0] - x) < WITHIN_MM and abs(c[1] - y) < WITHIN_MM]


@pytest.mark.parametrize("name", TRAYS)
def test_the_black_corner_is_at_a1(name):
    kind = TRAYS[name]
    seen = printed(drawn(one_tray(kind, (1, "single 1"))))
    (corner,) = (
        p for p in seen.paths if p.fill == "#000000" and min(abs(float(d[1]) - EDGE_MM) for d in p.d[:-1]) < 0.1
    )
    xs, ys = [float(d[1]) for d in corner.d[:-1]], [float(d[2]) for d in corner.d[:-1]]
    assert min(xs) == pytest.approx(EDGE_MM, abs=1.3)
    assert min(ys) == pytest.approx(EDGE_MM, abs=1.3)
    assert max(xs) < EDGE_MM + kind.outer_mm[0] * 0.4 / 2
    first = tuple(
        EDGE_MM + (middle - cell / 2) * 0.4 for middle, cell in zip(kind.centre_mm(0), kind.cell_mm, strict=True)
    )
    over = [(x, y) for x, y in zip(xs, ys, strict=True) if x > first[0] + 0.01 and y > first[1] + 0.01]
    assert not over, "the corner covers no cell"


@pytest.mark.parametrize("name", ["pot-18", "cell-72", "cell-512", "eu-260"])
def test_rows_are_lettered_and_columns_numbered_where_they_are(name):
    kind = TRAYS[name]
    words = [mark for mark in meant.flat(drawn(one_tray(kind, (1, "single 1"))).marks) if isinstance(mark, SeenText)]
    for column in range(kind.columns):
        x = EDGE_MM + kind.centre_mm(column)[0] * 0.4
        above = [w.text for w in words if w.y_mm < EDGE_MM and abs(w.x_mm + w.width_mm / 2 - x) < 0.1]
        assert above == [str(column + 1)]
    for row in range(kind.rows):
        y = EDGE_MM + kind.centre_mm(row * kind.columns)[1] * 0.4
        beside = [w.text for w in words if w.x_mm + w.width_mm < EDGE_MM and abs(w.y_mm - y) < 2.5]
        assert row_letters(row) in beside


def test_names_that_would_touch_are_left_out_but_not_the_first():
    page = drawn(one_tray("cell-512", (1, "single 1")), "1:10")
    above = [w.text for w in meant.flat(page.marks) if isinstance(w, SeenText) and w.y_mm < EDGE_MM]
    assert above == ["1", "5", "10", "15", "20", "25", "30"]


def test_like_rows_are_one_stamp_so_that_a_full_tray_takes_few_marks():
    page = drawn(one_tray("cell-200", (200, "clump 6")))
    stamps = Counter(mark.stamp for mark in page.marks if isinstance(mark, Place))
    assert sorted(stamps.values()) == [1, 10]


def test_trays_of_one_job_share_their_stamps():
    kind = TRAYS["cell-72"]
    one = batch(0, kind, 144)
    halves = [replace(fill(kind, [replace(one, cells=72)], number=n)) for n in (1, 2)]
    drawing = TrayDrawing(job([one], halves))
    first, second = ({m.stamp for m in drawing.marks(tray, 0.4, 0, 0)} for tray in halves)
    assert first == second


def test_segments_part_the_rows():
    kind = TRAYS["pot-18"]
    tray = ArrangedTray(1, kind, map_jobs.plans.SATURDAY, "", (Run(1, 0, 4, 5), Run(1, 1, 9, 3)))
    found = [(s.batch, s.row, s.column, s.cells) for s in segments(tray)]
    assert found == [(None, 0, 0, 4), (0, 0, 4, 2), (0, 1, 0, 3), (1, 1, 3, 3), (None, 2, 0, 6)]


def test_very_small_cells_have_their_codes_on_plates_over_rows():
    page = drawn(one_tray("cell-512", (100, "single 1"), (40, "single 1")), "1:4")
    words = Counter(w.text for w in meant.flat(page.marks) if isinstance(w, SeenText))
    assert words["LW"] == 4
    assert words["CB"] == 2


def test_cells_too_low_for_a_plate_have_one_over_all_their_rows():
    page = drawn(one_tray("cell-512", (100, "single 1"), (3, "single 1"), (60, "single 1")), "1:10")
    words = Counter(w.text for w in meant.flat(page.marks) if isinstance(w, SeenText))
    assert (words["LW"], words["CB"], words["DR"]) == (1, 0, 1)
    assert overlaps(page) == []


def test_a_picked_batch_stands_in_full_among_faint_ones():
    one = one_tray("pot-18", (8, "clump 25"), (4, "stations 3x3"))
    page = tray_picture(one, one.trays[0], picked=1)
    marks = list(meant.flat(page.marks))
    colours = {text.text: text.colour for text in marks if isinstance(text, SeenText)}
    assert colours["LW"] == FADED
    assert colours["CB"] == "#000000"
    dots = [mark for mark in marks if isinstance(mark, Circle) and mark.fill == "#000000" and not mark.stroke]
    assert len(dots) in (0, 4 * 9)
    assert "25" not in colours


@pytest.mark.parametrize("name", TRAYS)
def test_a_picture_for_a_record_page_is_the_drawing_and_no_more(name):
    one = one_tray(name, (1, "single 1"))
    page = tray_picture(one, one.trays[0])
    prove(page)
    assert page.width_mm < 165
    assert overlaps(page) == []
    ground = page.marks[0]
    assert isinstance(ground, Place)
    assert (ground.stamp.width_mm + 1, ground.stamp.height_mm + 1) == (page.width_mm, page.height_mm)
    assert any(isinstance(mark, Path) for mark in meant.flat(page.marks))
