"""Trays at full size over several pages: read back from the PDF, laid together, compared with the whole tray."""

import io
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product

import meant
import pytest
from eyes import blurred, render
from map_jobs import TRAYS, batch, fill, job, one_tray
from PIL import Image, ImageChops
from readback import SeenPage, SeenText, read_back

from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Circle, Document, Line, Page, Rect
from traysheets.page.proof import overlaps
from traysheets.page.reach import text_boxes
from traysheets.sheets.maps import map_pages
from traysheets.sheets.tray_drawing import TrayDrawing
from traysheets.trade.trays import Tray

WITHIN_MM = 0.05
LEAST_OVERLAP_MM = 10.0
RIMLESS = replace(
    TRAYS["pot-18"], name="rimless", rows=4, columns=3, outer_mm=(300, 200), cell_mm=(100, 50), pitch_mm=(100, 50)
)
BY_NAME = {**TRAYS, "rimless": RIMLESS}
CASES = [
    ("pot-18", "a4"),
    ("pot-18", "letter"),
    ("pot-18", "a5"),
    ("cell-72", "a5"),
    ("cell-200", "letter"),
    ("cell-392", "a4"),
    ("cell-512", "a4"),
    ("eu-77", "a4"),
    ("eu-260", "a3"),
    ("flat-1020", "a4"),
    ("flat-1020", "a5"),
    ("rimless", "letter"),
]
every_case = pytest.mark.parametrize(("name", "paper"), CASES)


def full_size(name: str, paper: str):
    """A job at full size: a tray three quarters full of two batches, or with one where it has one cell."""
    kind = BY_NAME[name]
    some = max(kind.cells // 2, 1)
    parts = [(some, "clump 25"), (kind.cells // 4, "stations 3x2")] if kind.cells > 1 else [(1, "clump 60")]
    return one_tray(kind, *parts, paper=paper, scale="1:1")


def printed(pages: list[Page]) -> bytes:
    file = io.BytesIO()
    write_pdf(Document("maps", iter(pages)), file)
    return file.getvalue()


@dataclass(frozen=True)
class Tile:
    """A tile as it was read back: the page, where on it the tray's own corner would be, and the window."""

    seen: SeenPage
    corner: tuple[float, float]
    window: Rect

    @property
    def span(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """From where to where the window shows the tray, along it and across it."""
        (x, y), w = self.corner, self.window
        return (w.x_mm - x, w.x_mm + w.width_mm - x), (w.y_mm - y, w.y_mm + w.height_mm - y)

    def cells(self, kind: Tray) -> list[tuple[float, float, float, float]]:
        """Outlines of cells that are seen whole: middle from the tray's corner, width and height."""
        return [found for found in self.outlines(kind) if self.holds(found)]

    def outlines(self, kind: Tray) -> list[tuple[float, float, float, float]]:
        width, found = kind.cell_mm[0], []
        for mark in self.seen.marks:
            if isinstance(mark, Circle) and mark.stroke and abs(2 * mark.radius_mm - width) < WITHIN_MM:
                found.append((mark.x_mm, mark.y_mm, 2 * mark.radius_mm, 2 * mark.radius_mm))
            elif isinstance(mark, Rect) and mark.stroke and mark.stroke_mm < 0.4 and like(mark, kind.cell_mm):
                middle = mark.x_mm + mark.width_mm / 2, mark.y_mm + mark.height_mm / 2
                found.append((*middle, mark.width_mm, mark.height_mm))
        return [(x - self.corner[0], y - self.corner[1], w, h) for x, y, w, h in found]

    def holds(self, cell: tuple[float, float, float, float]) -> bool:
        middles, sizes = cell[:2], cell[2:]
        return all(
            start - WITHIN_MM <= middle - size / 2 and middle + size / 2 <= end + WITHIN_MM
            for (start, end), middle, size in zip(self.span, middles, sizes, strict=True)
        )

    @property
    def cut_marks(self) -> tuple[list[float], list[float]]:
        """Where the sheet is to be cut, along the tray and across it, from the tray's corner."""
        lines = [line for line in self.seen.lines if line.stroke_mm == pytest.approx(0.2, abs=0.01)]
        upright = [line for line in lines if abs(line.x1_mm - line.x2_mm) < 0.01 and self.leaves(line)]
        level = [line for line in lines if abs(line.y1_mm - line.y2_mm) < 0.01 and self.leaves(line)]
        return (
            sorted({round(line.x1_mm - self.corner[0], 1) for line in upright}),
            sorted({round(line.y1_mm - self.corner[1], 1) for line in level}),
        )

    def leaves(self, line: Line) -> bool:
        """Whether a line crosses an edge of the window, as only marks to cut at do."""
        w = self.window
        ends = ((line.x1_mm, line.y1_mm), (line.x2_mm, line.y2_mm))
        inside = [w.x_mm <= x <= w.x_mm + w.width_mm and w.y_mm <= y <= w.y_mm + w.height_mm for x, y in ends]
        return inside[0] != inside[1]


def like(rect: Rect, size: tuple[float, float]) -> bool:
    return abs(rect.width_mm - size[0]) < WITHIN_MM and abs(rect.height_mm - size[1]) < WITHIN_MM


def tile(seen: SeenPage, kind: Tray) -> Tile:
    """The tray's own edge, which is on every page of it though most of it is cut off, tells where its corner is."""
    (edge,) = (rect for rect in seen.rects if rect.stroke and rect.stroke_mm > 0.4 and like(rect, kind.outer_mm))
    return Tile(seen, (edge.x_mm, edge.y_mm), seen.clips[0])


@pytest.fixture(scope="module")
def tiled():
    """Tiles by case, read back once: by (row, column)."""
    kept: dict[tuple[str, str], dict[tuple[int, int], Tile]] = {}

    def read(name: str, paper: str) -> dict[tuple[int, int], Tile]:
        if (name, paper) not in kept:
            seen = read_back(printed(list(map_pages(full_size(name, paper)))))[1:]
            tiles = [tile(page, BY_NAME[name]) for page in seen]
            across = sorted({round(found.span[0][0], 2) for found in tiles})
            down = sorted({round(found.span[1][0], 2) for found in tiles})
            kept[name, paper] = {
                (down.index(round(found.span[1][0], 2)), across.index(round(found.span[0][0], 2))): found
                for found in tiles
            }
            assert len(kept[name, paper]) == len(tiles) == len(across) * len(down)
        return kept[name, paper]

    return read


@every_case
def test_every_cell_that_is_seen_whole_is_where_the_table_of_trays_has_it(tiled, name, paper):
    kind = BY_NAME[name]
    for found in tiled(name, paper).values():
        for x, y, width, height in found.cells(kind):
            near = [
                cell
                for cell in range(kind.cells)
                if all(abs(a - b) <= WITHIN_MM for a, b in zip(kind.centre_mm(cell), (x, y), strict=True))
            ]
            assert len(near) == 1
            assert (width, height) == pytest.approx(kind.cell_mm, abs=WITHIN_MM)


@every_case
def test_every_cell_is_whole_on_one_page_or_in_the_overlap_on_a_neighbour_too(tiled, name, paper):
    kind, tiles = BY_NAME[name], tiled(name, paper)
    if kind.cells == 1:
        return
    for cell in range(kind.cells):
        middle = kind.centre_mm(cell)
        pages = {
            place
            for place, found in tiles.items()
            if any(all(abs(a - b) <= WITHIN_MM for a, b in zip(middle, c[:2], strict=True)) for c in found.cells(kind))
        }
        rows, columns = {row for row, _ in pages}, {column for _, column in pages}
        assert pages == set(product(rows, columns))
        assert rows in ({min(rows)}, {min(rows), min(rows) + 1})
        assert columns in ({min(columns)}, {min(columns), min(columns) + 1})


@every_case
def test_tiles_join_without_a_gap_and_share_ten_millimetres(tiled, name, paper):
    kind, tiles = BY_NAME[name], tiled(name, paper)
    for axis, line in product((0, 1), range(3)):
        ordered = sorted(place for place in tiles if place[axis] == line)
        spans = [tiles[place].span[axis] for place in ordered]
        if not spans:
            continue
        assert spans[0][0] <= 0
        assert spans[-1][1] >= kind.outer_mm[axis]
        for before, after in pairwise(spans):
            assert before[1] - after[0] >= LEAST_OVERLAP_MM - 0.01


@every_case
def test_marks_to_cut_at_meet_in_the_middle_of_the_overlap(tiled, name, paper):
    tiles = tiled(name, paper)
    for (row, column), found in tiles.items():
        for axis, (down, right) in enumerate(((0, 1), (1, 0))):
            neighbour = tiles.get((row + down, column + right))
            if neighbour:
                seam = found.cut_marks[axis][-1]
                assert neighbour.cut_marks[axis][0] == pytest.approx(seam, abs=WITHIN_MM)
                overlap = neighbour.span[axis][0], found.span[axis][1]
                assert seam == pytest.approx(sum(overlap) / 2, abs=0.1)
    rows, columns = max(row for row, _ in tiles) + 1, max(column for _, column in tiles) + 1
    for (row, column), found in tiles.items():
        assert len(found.cut_marks[0]) == (column > 0) + (column < columns - 1)
        assert len(found.cut_marks[1]) == (row > 0) + (row < rows - 1)


@every_case
def test_no_letter_of_the_tray_is_lost_or_cut(tiled, name, paper):
    """Against the whole tray laid out flat: every text of a cell, at its place, whole, on some tile."""
    one, kind = full_size(name, paper), BY_NAME[name]
    drawing = TrayDrawing(one)
    scaled = drawing.scaled(kind, 1.0)
    marks = meant.flat(drawing.marks(one.trays[0], 1.0, -scaled.left_mm, -scaled.top_mm))
    wanted = [mark for mark in marks if isinstance(mark, SeenText)]
    wanted = [mark for mark in wanted if mark.x_mm > 0 and mark.y_mm > 0 and mark.x_mm < kind.outer_mm[0]]
    shown = [placed for found in tiled(name, paper).values() for placed in whole_texts(found)]
    by_text = {text: [(x, y) for other, x, y in shown if other == text] for text in {mark.text for mark in wanted}}
    assert wanted
    for mark in wanted:
        assert any(abs(x - mark.x_mm) < WITHIN_MM and abs(y - mark.y_mm) < WITHIN_MM for x, y in by_text[mark.text]), (
            mark
        )


def whole_texts(found: Tile) -> Iterator[tuple[str, float, float]]:
    """The texts in the window and where they begin from the tray's corner; all of them are whole."""
    w = found.window
    for text in found.seen.texts:
        if w.y_mm < text.y_mm < w.y_mm + w.height_mm and w.x_mm < text.x_mm < w.x_mm + w.width_mm:
            assert text.x_mm + text.width_mm <= w.x_mm + w.width_mm + WITHIN_MM
            yield text.text, text.x_mm - found.corner[0], text.y_mm - found.corner[1]


@every_case
def test_every_page_has_its_bar_its_scale_and_its_place_in_the_whole(tiled, name, paper):
    tiles = tiled(name, paper)
    rows, columns = max(row for row, _ in tiles) + 1, max(column for _, column in tiles) + 1
    for (row, column), found in tiles.items():
        words = found.seen.words
        assert "Scale 1:1" in words
        assert f"row {row + 1} of {rows}, column {column + 1} of {columns}" in words
        assert any(
            line.x2_mm - line.x1_mm == pytest.approx(50, abs=0.01) and abs(line.y1_mm - line.y2_mm) < 0.01
            for line in found.seen.lines
        )


@every_case
def test_the_key_shows_the_tile_filled_where_it_is(tiled, name, paper):
    kind, tiles = BY_NAME[name], tiled(name, paper)
    for found in tiles.values():
        key = [rect for rect in found.seen.rects if rect.stroke and 6 < rect.y_mm + rect.height_mm < 17.5]
        assert len(key) == len(tiles)
        left, top = min(rect.x_mm for rect in key), min(rect.y_mm for rect in key)
        width = max(rect.x_mm + rect.width_mm for rect in key) - left
        (filled,) = (rect for rect in key if rect.fill == "#000000")
        scale = width / kind.outer_mm[0]
        own_x, own_y = (
            (filled.x_mm - left) / scale + filled.width_mm / scale / 2,
            (filled.y_mm - top) / scale + filled.height_mm / scale / 2,
        )
        (x1, x2), (y1, y2) = found.span
        assert x1 < own_x < x2
        assert y1 < own_y < y2


@every_case
def test_nothing_meets_or_leaves_its_page(name, paper):
    for page in list(map_pages(full_size(name, paper)))[1:]:
        assert overlaps(page) == []
        for text, (left, top, right, bottom) in text_boxes(page.marks):
            assert left > 6.35, text
            assert top > 6.35, text
            assert right < page.width_mm - 6.35, text
            assert bottom < page.height_mm - 6.35, text


DPI, EDGE_MM = 60, 10.0


def pixels(*sides_mm: float) -> tuple[int, ...]:
    return tuple(round(side / 25.4 * DPI) for side in sides_mm)


def whole_tray(name: str, paper: str) -> Image.Image:
    """The tray drawn on one large page, its corner `EDGE_MM` from the page's."""
    one, kind = full_size(name, paper), BY_NAME[name]
    drawing = TrayDrawing(one)
    scaled = drawing.scaled(kind, 1.0)
    marks = tuple(drawing.marks(one.trays[0], 1.0, EDGE_MM - scaled.left_mm, EDGE_MM - scaled.top_mm))
    width, height = (side + 2 * EDGE_MM for side in kind.outer_mm)
    return render(printed([Page(width, height, marks, margin_mm=0)]), 0, DPI)


def laid_together(name: str, paper: str, size: tuple[int, int]) -> Image.Image:
    """The tiles cut at their marks and laid where they belong."""
    pdf, laid = printed(list(map_pages(full_size(name, paper)))), Image.new("RGB", size, "white")
    for number, page in enumerate(read_back(pdf)[1:], 1):
        found = tile(page, BY_NAME[name])
        own = [(start, *marks, end) for (start, end), marks in zip(found.span, found.cut_marks, strict=True)]
        first = [ends[1] if start > 0 else start for ends, (start, _) in zip(own, found.span, strict=True)]
        last = [
            ends[-2] if end < side else end for ends, (_, end), side in zip(own, found.span, sides(name), strict=True)
        ]
        box = [corner + at for corner, at in zip(found.corner * 2, (*first, *last), strict=True)]
        laid.paste(render(pdf, number, DPI).crop(pixels(*box)), pixels(*(EDGE_MM + at for at in first)))
    return laid


def sides(name: str) -> tuple[float, float]:
    return BY_NAME[name].outer_mm


def unlike(one: Image.Image, other: Image.Image) -> float:
    """The share of two pictures that differs to an eye that does not see a pixel."""
    inner = pixels(
        EDGE_MM + 2, EDGE_MM + 2, one.width / DPI * 25.4 - EDGE_MM - 2, one.height / DPI * 25.4 - EDGE_MM - 2
    )
    parts = (blurred(picture.convert("L"), 1.5).crop(inner) for picture in (one, other))
    differing = ImageChops.difference(*parts).point(lambda value: 255 if value > 60 else 0)
    return differing.histogram()[255] / (differing.width * differing.height)


@pytest.mark.parametrize(("name", "paper"), [("pot-18", "a4"), ("cell-200", "letter"), ("flat-1020", "a5")])
def test_the_pages_laid_together_look_like_the_whole_tray(name, paper):
    whole = whole_tray(name, paper)
    laid = laid_together(name, paper, whole.size)
    assert unlike(whole, laid) < 0.002
    assert unlike(whole, ImageChops.offset(laid, 4, 0)) > 0.005, "pages laid two millimetres off would be seen"


def test_a_tray_that_goes_on_the_paper_at_full_size_takes_one_page():
    (page,) = map_pages(one_tray("pot-3in", (1, "clump 25"), paper="a5", scale="1:1"))
    assert page.title == "Tray 1"
    assert "full size" not in " ".join(text for text, _ in text_boxes(page.marks))


def test_the_first_page_shows_the_tray_as_it_fits_and_tells_where_full_size_is():
    kind = TRAYS["pot-18"]
    batches = [batch(0, kind, 18), batch(1, kind, 18)]
    pages = list(map_pages(job(batches, [fill(kind, [b], number=i + 1) for i, b in enumerate(batches)], scale="1:1")))
    assert [page.title for page in pages[:2]] == ["Tray 1", "Tray 1, row 1 of 3, column 1 of 2"]
    assert pages[7].title == "Tray 2"
    said = [" ".join(text for text, _ in text_boxes(pages[i].marks)) for i in (0, 7, 8)]
    assert "full size on pages 2 to 7" in said[0]
    assert "full size on pages 9 to 14" in said[1]
    assert "page 9 of 14" in said[2]


def test_like_parts_of_trays_are_stored_once():
    kind = TRAYS["cell-72"]
    one = batch(0, kind, 144)
    trays = [replace(fill(kind, [replace(one, cells=72)], number=n)) for n in (1, 2)]
    both = len(printed(list(map_pages(job([one], trays, scale="1:1")))))
    first = len(printed(list(map_pages(job([one], trays[:1], scale="1:1")))))
    assert both < 1.5 * first
