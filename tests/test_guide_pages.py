"""The pages of batches in the guide: whole and legible on every paper, true to size, in one language or two."""

import io
import itertools
import math
from dataclasses import replace
from typing import Any

import guide_jobs
import map_jobs
import plans
import pytest

from traysheets.arrange.model import Run
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Circle, Document, Link, Page, Path, Place, Rect, Stamp, Text
from traysheets.page.proof import overlaps, prove
from traysheets.page.reach import box
from traysheets.sheets.guide import guide_pages
from traysheets.sheets.job import Job
from traysheets.sheets.pictures.pen import COLOURED, GREY

WHAT = [
    "single 1",
    "single 2",
    "clump 1",
    "clump 25",
    "clump 300",
    *(f"stations {k}x{1 + k % 4}" for k in range(1, 10)),
]
CROPS = ("Onion", "Beet", "Lettuce", "Pumpkin", "Thyme", "Cabbage")
COVERS = (6.0, 0.0, None, 2.0, 40.0, 12.5)
PAPERS = ("a4", "letter", "a3", "tabloid", "a5", "legal")
LANGUAGES = (("en",), ("de", "fr"), ("es",), ("pt", "en"))


def batch_pages(job: Job) -> list[Page]:
    """The pages of the batches: those with pictures of right and wrong."""
    return [page for page in guide_pages(job) if guide_jobs.placed(page, "right")]


def page_of(*args: Any, **other: Any) -> Page:
    (page,) = batch_pages(guide_jobs.one(*args, **other))
    return page


def numbers(page: Page) -> list[float]:
    return sorted({text.size_pt for text in guide_jobs.texts(page)})


# ---- whole


def generated(kind: str, turn: int) -> Job:
    """A job that sows a tray in a few of all ways, on a paper and in languages that go by turns."""
    ways = [what for i, what in enumerate(WHAT) if (turn + i) % 5 == 0]
    cells = guide_jobs.TRAYS[kind].cells
    batches = [
        guide_jobs.batch(
            i,
            kind,
            min(cells, 1 + 3 * i),
            what,
            CROPS[(turn + i) % 6],
            COVERS[(turn + i) % 6],
            treated=(turn + i) % 4 == 0,
        )
        for i, what in enumerate(ways)
    ]
    units, grey = ("inch" if turn % 3 == 0 else "metric"), turn % 2 == 0
    return guide_jobs.job(
        batches, LANGUAGES[turn % 4], helpers=1 + turn % 4, paper=PAPERS[turn % 6], units=units, grey=grey
    )


@pytest.mark.parametrize(("turn", "kind"), list(enumerate(guide_jobs.TRAYS)), ids=str)
def test_every_page_can_be_printed_and_no_words_meet(turn: int, kind: str) -> None:
    """Nothing in the outer 6.35 mm, nothing outside its stamp, no character without a glyph: the proof of pages."""
    for again in (0, 7):
        for page in guide_pages(generated(kind, turn + again)):
            prove(page)
            assert overlaps(page) == []
            assert numbers(page)[0] >= 6.999


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("languages", [("en",), ("de", "fr")], ids="-".join)
def test_every_method_goes_on_every_paper(paper: str, languages: tuple[str, ...]) -> None:
    batches = [guide_jobs.batch(i, "pot-18-3in", 2, what) for i, what in enumerate(WHAT)]
    for page in guide_pages(guide_jobs.job(batches, languages, paper=paper)):
        prove(page)
        assert overlaps(page) == []


@pytest.mark.parametrize("languages", [("en",), ("de",), ("fr",), ("es",), ("pt",), ("de", "fr")], ids="-".join)
@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
def test_no_words_are_cut_on_usual_paper(paper: str, languages: tuple[str, ...]) -> None:
    batches = [
        guide_jobs.batch(i, ("cell-72", "flat-1020")[i % 2], 1, what, treated=i == 3) for i, what in enumerate(WHAT)
    ]
    for page in guide_pages(guide_jobs.job(batches, languages, helpers=3, paper=paper)):
        assert guide_jobs.cut_off(page) == []


def odd_tray(**facts: Any) -> Any:
    usual = {"outer_mm": (540, 279), "depth_mm": 50, "volume_ml": 100, "built_in": False}
    return plans.Tray("own", "own", **usual | facts)


ODD = {
    "tiny": odd_tray(rows=200, columns=200, cell_mm=(2, 2), pitch_mm=(2.5, 2.5), outer_mm=(520, 520), depth_mm=5),
    "huge": odd_tray(rows=1, columns=1, cell_mm=(4900, 4800), pitch_mm=(4900, 4800), outer_mm=(5000, 5000)),
    "narrow": odd_tray(rows=1, columns=40, cell_mm=(12, 60), pitch_mm=(13, 60), outer_mm=(540, 70)),
    "low": odd_tray(rows=40, columns=1, cell_mm=(60, 12), pitch_mm=(60, 13), outer_mm=(70, 540)),
    "deep": odd_tray(rows=5, columns=8, cell_mm=(50, 50), pitch_mm=(55, 55), outer_mm=(480, 300), depth_mm=400),
    "round": odd_tray(rows=2, columns=4, cell_mm=(120, 120), pitch_mm=(125, 125), shape="round"),
}


@pytest.mark.parametrize("kind", ODD)
@pytest.mark.parametrize("paper", ["a4", "a5"])
def test_odd_trays_and_amounts_go_too(kind: str, paper: str) -> None:
    odd = ("clump 20000", "stations 9x100", "single 4", "stations 1x1")
    batches = [
        guide_jobs.batch(
            i, ODD[kind], 1, what, CROPS[i], (500.0, 0.0, None, 0.5)[i], sticks=(0, 100_000, "cell", "run")[i]
        )
        for i, what in enumerate(odd)
    ]
    for page in guide_pages(guide_jobs.job(batches, helpers=1000, paper=paper)):
        prove(page)
        assert overlaps(page) == []


def test_long_names_are_kept_in_their_room() -> None:
    name = "Grandmother's Long-Keeping Purple Winter Bunching, Early Selection " * 7
    for languages in (("en",), ("de", "fr")):
        batches = [guide_jobs.batch(0, variety=name, lot="L" * 200, treated=True)]
        for page in guide_pages(guide_jobs.job(batches, languages, paper="a5")):
            prove(page)
            assert overlaps(page) == []


@pytest.mark.parametrize("languages", [("es", "fr"), ("pt", "fr"), ("de", "es")])
@pytest.mark.parametrize("kind", ["pot-18", "pot-9cm", "flat-1020"])
def test_the_fullest_page_there_can_be_holds_all_parts(kind: str, languages: tuple[str, str]) -> None:
    """Two languages on small paper, treated seed, and names that stand one below the other."""
    long = "Winterheckenzwiebelwunderstrauch mit Ellipsenverdacht " * 3
    made = guide_jobs.batch(0, kind, 1, "stations 9x100", variety=long, treated=True)
    made = replace(made, sowing=replace(made.sowing, crop_name=long))
    for page in guide_pages(guide_jobs.job([made], languages, paper="a5")):
        prove(page)


# ---- legible


def test_the_order_is_read_from_a_metre_away() -> None:
    page = page_of("pot-18", 8, "clump 25")
    title = guide_jobs.texts(page)[0]
    assert title.text == "Scatter 25 seeds in every pot"
    assert title.size_pt >= 24
    large = {text.text for text in guide_jobs.texts(page) if text.size_pt >= 13.5}
    assert {"Like this: spread out", "Not like this: in a heap", "Press level, no dips", "Water gently"} <= large


@pytest.mark.parametrize("what", WHAT)
def test_titles_and_captions_are_large_on_a_usual_sheet(what: str) -> None:
    job = guide_jobs.one("pot-18", 8, what)
    page = batch_pages(job)[0]
    assert guide_jobs.texts(page)[0].size_pt >= 24
    captions = [text for text in guide_jobs.texts(page) if text.text in {"Water gently", "Press level, no dips"}]
    assert len(captions) == 2
    assert all(text.size_pt >= 14 for text in captions)


def test_captions_are_all_in_one_face() -> None:
    page = page_of("pot-18", 8, "stations 3x2", "Beet")
    below = [
        t
        for t in guide_jobs.texts(page)
        if t.text in {"Fill to 8\u00a0mm below the rim", "Close the holes", "Stick at A1"}
    ]
    assert len(below) == 3
    assert len({text.face for text in below}) == 1


# ---- true


@pytest.mark.parametrize("what", WHAT)
def test_the_page_shows_the_seeds_that_are_sown(what: str) -> None:
    job = guide_jobs.one("pot-18", 8, what)
    page = batch_pages(job)[0]
    (right,) = guide_jobs.placed(page, "right")
    assert len(guide_jobs.placed(right.stamp, "seed")) == job.batches[0].seeds_per_cell.value


REAL = [kind for kind, tray in guide_jobs.TRAYS.items() if max(tray.cell_mm) < 100]


@pytest.mark.parametrize("kind", REAL)
@pytest.mark.parametrize("paper", ["a4", "a3"])
def test_every_pot_and_cell_is_at_its_real_size(kind: str, paper: str) -> None:
    page = page_of(kind, 1, "clump 9", paper=paper)
    (right,) = guide_jobs.placed(page, "right")
    left, top, end, bottom = box(right)
    assert (end - left, bottom - top) == pytest.approx(guide_jobs.TRAYS[kind].cell_mm, abs=0.01)
    assert "Real size" in guide_jobs.said(page)


@pytest.mark.parametrize("kind", ["cell-512", "cell-288", "cell-128", "block-0.75in"])
def test_small_cells_are_drawn_larger_as_well(kind: str) -> None:
    page = page_of(kind, 1, "single 1")
    (larger,) = guide_jobs.placed(page, "right, larger")
    times = larger.stamp.width_mm / guide_jobs.TRAYS[kind].cell_mm[0]
    assert times >= 2
    assert f"{times:g} times as large" in guide_jobs.said(page)
    assert len(guide_jobs.placed(larger.stamp, "seed")) == 1


@pytest.mark.parametrize(("kind", "scale"), [("flat-1020", "Scale 1:5"), ("flat-1010", "Scale 1:3")])
def test_large_cells_are_drawn_smaller_beside_a_part_at_real_size(kind: str, scale: str) -> None:
    page = page_of(kind, 1, "clump 200")
    (right,) = guide_jobs.placed(page, "right")
    assert right.stamp.width_mm * int(scale.partition(":")[2]) == pytest.approx(guide_jobs.TRAYS[kind].cell_mm[0])
    assert scale in guide_jobs.said(page)
    assert len(guide_jobs.placed(page, "right, real size")) == 1


def test_the_sum_is_right() -> None:
    """8 pots of 3 holes with 2 seeds: 48 seeds."""
    said = guide_jobs.said(page_of("pot-18", 8, "stations 3x2", "Beet"))
    assert "8 × 6 = 48" in said
    assert "48 seeds in all" in said


def test_the_cells_of_the_batch_are_picked_out_of_its_tray() -> None:
    """A black frame round each row of them: A1 to A6 and B1 to B2."""
    page = page_of("pot-18", 8)
    frames = [mark for mark in page.marks if isinstance(mark, Rect) and mark.stroke_mm > 0.5 and not mark.fill]
    assert len(frames) == 2
    assert frames[0].width_mm / frames[1].width_mm == pytest.approx(6 / 2, rel=0.05)
    assert "Tray 1: A1–B2" in guide_jobs.said(page)


def test_right_and_wrong_are_told_by_shape_not_by_colour() -> None:
    """The tick stands in a disc, the cross in a square, in colour and without."""
    for grey in (False, True):
        marks = page_of("pot-18", 8, grey=grey).marks
        discs = [m for m in marks if isinstance(m, Circle) and m.fill and m.radius_mm == pytest.approx(4.5, abs=0.3)]
        squares = [m for m in marks if isinstance(m, Path) and m.fill in (COLOURED.wrong, GREY.wrong) and len(m.d) == 5]
        assert len(discs) == 1
        assert len(squares) == 1


def test_without_colour_no_mark_has_any() -> None:
    job = guide_jobs.job([guide_jobs.batch(0, treated=True)], grey=True)
    for page in guide_pages(job):
        for mark, _ in guide_jobs.walk(page.marks):
            for name in ("fill", "stroke", "colour"):
                colour = getattr(mark, name, None)
                assert not colour or colour[1:3] == colour[3:5] == colour[5:7], mark


def without_words(page: Page) -> list[str]:
    """Every mark of a page but its texts, in order; what stands in stamps as well."""
    return [repr(mark) for mark, _ in guide_jobs.walk(page.marks) if not isinstance(mark, Text | Place | Link)]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("clump 25", "clump 26"),
        ("clump 3", "single 3"),
        ("clump 6", "stations 3x2"),
        ("stations 3x2", "stations 2x3"),
        ("single 1", "single 2"),
    ],
)
def test_method_and_number_are_seen_without_words(one: str, other: str) -> None:
    assert without_words(page_of("pot-18", 8, one)) != without_words(page_of("pot-18", 8, other))


@pytest.mark.parametrize(("one", "other"), [(6.0, 7.0), (6.0, 0.0), (6.0, None)])
@pytest.mark.parametrize("what", ["clump 25", "stations 3x2", "single 1"])
def test_depth_is_seen_without_words(what: str, one: float, other: float | None) -> None:
    pages = [page_of("pot-18", 8, what, cover_mm=cover) for cover in (one, other)]
    assert without_words(pages[0]) != without_words(pages[1])


# ---- words


ORDERS = {
    ("pot-18", "clump 25"): "Scatter 25 seeds in every pot",
    ("pot-18", "clump 1"): "Put 1 seed in every pot",
    ("cell-72", "single 1"): "1 seed in the middle of every cell",
    ("block-2in", "single 2"): "2 seeds in the middle of every block",
    ("pot-18", "stations 3x2"): "3 holes in every pot, 2 seeds in each",
    ("pot-18", "stations 1x3"): "1 hole in every pot, 3 seeds in it",
    ("flat-1020", "clump 400"): "Scatter 400 seeds over every tray",
}


@pytest.mark.parametrize(("kind", "what"), ORDERS)
def test_the_title_is_an_order(kind: str, what: str) -> None:
    page = page_of(kind, 1, what)
    assert guide_jobs.said(page).startswith(ORDERS[kind, what])
    assert page.title == f"Longstalk Winter: {ORDERS[kind, what]}"


def test_seed_on_top_has_places_not_holes() -> None:
    said = guide_jobs.said(page_of("pot-18", 8, "stations 3x2", cover_mm=0.0))
    assert said.startswith("3 places in every pot, 2 seeds on each")
    assert "Do not cover" in said
    assert "hole" not in said


def test_sticks_are_said_as_the_plan_has_them() -> None:
    assert "Stick at A1" in guide_jobs.said(page_of("pot-18", 8))
    assert "Stick at the first cell" in guide_jobs.said(page_of("pot-18", 20))
    assert "A stick in every pot" in guide_jobs.said(page_of("pot-18", 8, sticks="cell"))
    assert "8 sticks" in guide_jobs.said(page_of("pot-18", 8, sticks="cell"))
    assert "3 sticks" in guide_jobs.said(page_of("pot-18", 8, sticks=3))


def test_treated_seed_is_warned_of_on_its_page_alone() -> None:
    treated, plain = page_of("pot-18", 8, treated=True), page_of("pot-18", 8)
    said = guide_jobs.said(treated)
    assert "TREATED SEED: WEAR GLOVES" in said
    assert "Wear gloves, never food or feed, keep from children, wash hands after." in said
    assert "Follow the packet, the safety sheet and local rules." in said
    assert "TREATED" not in guide_jobs.said(plain)


@pytest.mark.parametrize("paper", PAPERS)
def test_two_languages_say_all_in_both(paper: str) -> None:
    job = guide_jobs.job(
        [guide_jobs.batch(0, "pot-18", 8, "stations 3x2", "Beet", treated=True)], ("en", "es"), paper=paper
    )
    page = batch_pages(job)[0]
    said = guide_jobs.said(page)
    for part in ("3 holes in every pot, 2 seeds in each", "3 hoyos en cada maceta, 2 semillas en cada uno"):
        assert part in said
    for part in (
        "Close the holes",
        "Cerrar los hoyos",
        "Water gently",
        "Regar con suavidad",
        "48 seeds in all",
        "48 semillas",
    ):
        assert part in said
    assert guide_jobs.cut_off(page) == []


def test_lengths_are_in_the_units_of_the_plan() -> None:
    job = guide_jobs.job([guide_jobs.batch(0, "pot-18", 8, cover_mm=6.35)], units="inch", paper="letter")
    said = guide_jobs.said(batch_pages(job)[0])
    assert "Cover 1/4 in, loosely" in said
    assert "mm" not in said.replace("50 mm", "")


# ---- files


def test_pages_come_one_at_a_time() -> None:
    batches = [guide_jobs.batch(i, "cell-72", 72) for i in range(40)]
    pages = guide_pages(guide_jobs.job(batches))
    assert next(pages).title.startswith("Sow ")
    assert len(list(itertools.islice(pages, 3))) == 3


def pdf_bytes(job: Job) -> int:
    file = io.BytesIO()
    write_pdf(Document("Guide", guide_pages(job)), file)
    return len(file.getvalue())


def test_batches_alike_share_their_pictures() -> None:
    """Forty more batches sown alike add little more than their trays, names and codes: under 12 KiB each."""
    few, many = (guide_jobs.job([guide_jobs.batch(i, "cell-72", 72) for i in range(n)]) for n in (2, 42))
    assert (pdf_bytes(many) - pdf_bytes(few)) / 40 < 12 * 1024


def test_the_same_job_makes_the_same_pages() -> None:
    def shown() -> list[str]:
        return [
            repr(m) for page in guide_pages(generated("cell-72", 3)) for m in page.marks if not isinstance(m, Place)
        ]

    assert shown() == shown()


def test_a_batch_without_cells_in_trays_is_taught_all_the_same() -> None:
    job = guide_jobs.one("pot-18", 8)
    bare = replace(job, arranged=replace(job.arranged, trays=(), runs={}))
    pages = list(guide_pages(bare))
    assert pages
    for page in pages:
        prove(page)


def test_every_stamp_of_a_page_has_a_size() -> None:
    for mark, _ in guide_jobs.walk(page_of("pot-18", 8).marks):
        if isinstance(mark, Place):
            assert isinstance(mark.stamp, Stamp)
            assert math.isfinite(mark.stamp.width_mm * mark.stamp.height_mm)
            assert mark.stamp.width_mm > 0


def test_the_stick_is_shown_with_its_code() -> None:
    page = page_of("pot-18", 8)
    codes = [
        mark for mark, _ in guide_jobs.walk(page.marks) if isinstance(mark, Place) and "QR code" in mark.stamp.name
    ]
    assert len(codes) == 1
    assert map_jobs.URL.replace("{batch}", "27-014-K") in codes[0].stamp.name


def test_a_batch_parted_over_many_trays_tells_them_all_and_cuts_none():
    """Its head and its row say the cells; the box below the pictures says the trays where it has room for no more."""
    one = guide_jobs.batch(0, "cell-50", 40, "single 1", crop="Melon")
    made = guide_jobs.job([one])
    runs = tuple(Run(number, 0, 3, 12) for number in (30, 31, 32, 33, 34, 36))
    trays = tuple(replace(made.arranged.trays[0], number=run.tray, runs=(run,)) for run in runs)
    made = replace(made, arranged=replace(made.arranged, trays=trays, runs={0: runs}))
    *_, page = guide_pages(made)
    assert "Trays 30–34, 36" in guide_jobs.said(page)
    assert "tray 30: A4–B5" in guide_jobs.said(page)
    assert guide_jobs.cut_off(page) == []
