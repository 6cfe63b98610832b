"""Tray maps whole: what they say, nothing over anything else, codes that scan, the same bytes always."""

import io
import os
import pathlib
import subprocess
import sys

import map_jobs
import pikepdf
import pytest
from eyes import crop, decode_qr, decode_qr_opencv, render
from hypothesis import given, settings
from hypothesis import strategies as st
from map_jobs import TRAYS, batch, fill, job, one_tray
from meant import flat
from readback import SeenText, read_back

from traysheets.export.pdf import write_pdf
from traysheets.page import qr
from traysheets.page.marks import Circle, Document, Link, Path, Place, Rect
from traysheets.page.proof import overlaps, prove
from traysheets.sheets.maps import map_pages
from traysheets.trade.papers import PAPERS

FOUR = ((8, "clump 25"), (4, "clump 22"), (4, "stations 3x2"), (1, "single 1"))
FREE_MM = 6.35
WAYS = ("clump 25", "stations 3x2", "single 1", "clump 4", "stations 9x1", "single 2")
NAMES = (
    "Longstalk Winter",
    "Ασημένιο Κρεμμύδι του Βουνού",
    "Зимний долгоцветный",
    "Żółwia Łąka",
    "Việt Hành Tím",
    "Extraordinarily Long-Standing Winter Bunching Selection of the Old Valley " * 4,
    "X",
)


def pages_of(one):
    return list(map_pages(one))


def words(page):
    return [mark.text for mark in flat(page.marks) if isinstance(mark, SeenText)]


def text(page):
    return " ".join(words(page))


def written(pages):
    file = io.BytesIO()
    write_pdf(Document("Tray maps", iter(pages)), file)
    return file.getvalue()


def sound(page):
    """Nothing outside the printable area or a stamp, no missing glyph, no letters over letters, none under 7 pt."""
    prove(page)
    assert page.margin_mm == FREE_MM
    assert overlaps(page) == []
    assert min(mark.size_pt for mark in flat(page.marks) if isinstance(mark, SeenText)) >= 7


# ---- what it says ----


def test_the_head_says_which_tray_when_what_and_where():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    assert words(page)[:2] == ["Tray 1", "of 1"]
    assert "Sow Saturday 6 March 2027" in words(page)
    assert "flat of 18 pots  ·  3 rows × 6 columns, cells of 86 mm" in words(page)
    line = "17 cells  ·  313 seeds  ·  1 left empty (–)  ·  for: greenhouse  ·  Millbrook Lane Growers"
    assert line in words(page)
    assert page.title == "Tray 1"


def test_the_trays_number_is_the_largest_thing_on_the_page():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    sizes = {mark.text: mark.size_pt for mark in flat(page.marks) if isinstance(mark, SeenText)}
    assert sizes.pop("Tray 1") > 2 * max(sizes.values())


def test_the_legend_says_what_is_sown_how():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    said = text(page)
    assert "LW Longstalk Winter Bunching onion 25 seeds, scattered 8 A1–B2 200 6 mm 27-014-K" in said
    assert "DR Dusky Round Beetroot 3 holes × 2 seeds 4 C1–C4 24 6 mm 27-016-X" in said
    assert "ST Short Stout Carrot 1 seed, in the middle 1 C5 1 6 mm 27-017-3" in said


def test_the_variety_is_the_largest_of_its_row_and_the_batch_code_has_its_own_face():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    seen = {mark.text: mark for mark in flat(page.marks) if isinstance(mark, SeenText)}
    row = [seen["Longstalk Winter"], seen["Bunching onion"], seen["25 seeds, scattered"], seen["27-014-K"]]
    assert row[0].size_pt == max(mark.size_pt for mark in row)
    assert row[0].face == "bold"
    assert seen["27-014-K"].face == "code"


def test_inches_where_the_plan_is_in_inches():
    (page,) = pages_of(one_tray("pot-18", *FOUR, units="inch", paper="letter"))
    assert "flat of 18 pots  ·  3 rows × 6 columns, cells of 3 3/8 in" in words(page)
    assert "1/4 in" in words(page)
    assert "2 in" in words(page)


def test_seed_left_uncovered_and_cover_not_known():
    kind = TRAYS["pot-18"]
    bare = batch(0, kind, 3, cover_mm=map_jobs.Figure(0.0, map_jobs.Source.PLAN))
    unknown = batch(1, kind, 3, cover_mm=None)
    (page,) = pages_of(job([bare, unknown], [fill(kind, [bare, unknown])]))
    assert "on top, do not cover" in words(page)
    assert "6 mm" not in words(page)


def test_stations_on_top_are_places_and_no_holes():
    kind = TRAYS["pot-18"]
    bare = batch(0, kind, 3, "stations 3x2", cover_mm=map_jobs.Figure(0.0, map_jobs.Source.PLAN))
    (page,) = pages_of(job([bare], [fill(kind, [bare])]))
    assert "3 places × 2 seeds" in words(page)
    assert "on top, do not cover" in words(page)


def test_treated_seed_is_marked_and_the_caution_printed():
    kind = TRAYS["pot-18"]
    treated, plain = batch(0, kind, 3, treated=True), batch(1, kind, 3)
    (page,) = pages_of(job([treated, plain], [fill(kind, [treated, plain])]))
    assert words(page).count("treated") == 1
    assert "wear gloves, never food or feed, keep from children" in text(page)
    plain = batch(0, kind, 3)
    (page,) = pages_of(job([plain], [fill(kind, [plain])]))
    assert "treated" not in text(page).lower()


# ---- the foot ----


def bars(page):
    """Lengths of the level lines at the foot that end in ticks."""
    seen = read_back(written([page]))[0]
    level = [line for line in seen.lines if line.y1_mm == line.y2_mm and line.y1_mm > page.height_mm - 15]
    return sorted(abs(line.x2_mm - line.x1_mm) for line in level)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_bar_is_fifty_millimetres_on_paper(paper):
    (page,) = pages_of(one_tray("cell-72", (72, "single 1"), paper=paper))
    assert bars(page) == pytest.approx([50.0], abs=0.01)


def test_plans_in_inches_have_a_bar_of_two_inches_too():
    """The international inch is 25.4 mm exactly (1959)."""
    (page,) = pages_of(one_tray("cell-72", (72, "single 1"), units="inch"))
    assert bars(page) == pytest.approx([50.0, 50.8], abs=0.01)


def test_the_foot_says_scale_printing_corner_and_page():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    for said in (
        "Scale 1:2.5",
        "black corner = corner A1 of the tray",
        "Does a ruler disagree? Print again at 100 %, not “fit to page”.",
        "page 1 of 1",
        "Spring, first sowings",
        "50 mm",
    ):
        assert said in words(page)


# ---- several pages ----


def forty():
    """A tray of forty batches: more than any scale near the largest leaves room for."""
    kind = TRAYS["cell-200"]
    return [batch(i, kind, 5, WAYS[i % 6], code=f"{chr(65 + i // 10)}{i % 10}") for i in range(40)]


def full():
    batches = forty()
    return job(batches, [fill(TRAYS["cell-200"], batches)])


def test_a_legend_too_long_goes_on_on_further_pages():
    first, second, third = pages_of(full())
    assert "33 more batches on the next page" in words(first)
    assert "5 more batches on the next page" in words(second)
    assert "more" not in text(third)
    assert words(second)[:2] == ["Tray 1 of 1", "Sow Saturday 6 March 2027  ·  legend continued"]
    assert (first.title, second.title) == ("Tray 1", "")
    codes = [f"27-{number:03d}-" for number in range(14, 54)]
    found = [word[:7] for page in (first, second, third) for word in words(page)]
    assert [code for code in found if code in codes] == codes
    assert "page 2 of 3" in words(second)
    assert not [word for word in words(second) if word.startswith("Scale")]
    for page in (first, second, third):
        sound(page)


def test_a_tray_of_a_batch_a_cell_has_all_of_them_in_its_legend():
    kind = TRAYS["cell-72"]
    batches = [batch(i, kind, 1, "single 1", code=f"{chr(65 + i // 10)}{i % 10}") for i in range(72)]
    pages = pages_of(job(batches, [fill(kind, batches)]))
    rows = [word for page in pages for word in words(page) if word.startswith("27-0")]
    assert len(rows) == 72
    for page in pages:
        sound(page)


def test_pages_are_numbered_through_and_come_one_at_a_time():
    kind, batches = TRAYS["cell-200"], forty()
    one = batch(40, kind, 5)
    trays = [fill(kind, batches, 1), fill(kind, [one], 2)]
    pages = map_pages(job([*batches, one], trays))
    for number in (1, 2, 3):
        assert f"page {number} of 4" in words(next(pages))
    fourth = next(pages)
    assert "page 4 of 4" in words(fourth)
    assert words(fourth)[:2] == ["Tray 2", "of 2"]
    assert next(pages, None) is None


# ---- nothing over anything else ----


@pytest.mark.parametrize("name", TRAYS)
@pytest.mark.parametrize("paper", PAPERS)
def test_every_built_in_tray_is_drawn_soundly_on_every_paper(name, paper):
    kind = TRAYS[name]
    parts = min(kind.cells, 3)
    pages = pages_of(one_tray(kind, *((kind.cells // parts, WAYS[i]) for i in range(parts)), paper=paper))
    assert pages
    for page in pages:
        sound(page)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_generated_jobs_are_sound(data):
    kind = TRAYS[data.draw(st.sampled_from(sorted(TRAYS)))]
    number = data.draw(st.integers(1, min(kind.cells, 14)))
    most = kind.cells // number
    batches = [
        batch(
            i,
            kind,
            data.draw(st.integers(1, most)),
            data.draw(st.sampled_from(WAYS)),
            variety=data.draw(st.sampled_from(NAMES)).strip(),
            crop_name=data.draw(st.sampled_from(NAMES)).strip(),
            treated=data.draw(st.booleans()),
            code=data.draw(st.sampled_from(["WW", "II", "JQ"])) + str(i)[-1:],
        )
        for i in range(number)
    ]
    one = job(
        batches,
        [fill(kind, batches, data.draw(st.sampled_from([1, 27, 118, 1204])), data.draw(st.sampled_from(["", *NAMES])))],
        paper=data.draw(st.sampled_from(sorted(PAPERS))),
        scale=data.draw(st.sampled_from(["fit", "1:5", "1:10"])),
        units=data.draw(st.sampled_from(["metric", "inch"])),
        grey=data.draw(st.booleans()),
        record_url=data.draw(st.sampled_from([None, map_jobs.URL, "https://a-longer-name.example/notes/{batch}"])),
        title=data.draw(st.sampled_from(NAMES)),
    )
    pages = pages_of(one)
    assert pages
    for page in pages:
        sound(page)


def test_grey_maps_have_no_colour():
    (page,) = pages_of(one_tray("pot-18", *FOUR, grey=True))
    painted = [mark for mark in flat(page.marks) if isinstance(mark, Rect | Circle | Path)]
    inks = {colour for mark in painted for colour in (mark.fill, mark.stroke) if colour}
    assert all(ink[1:3] == ink[3:5] == ink[5:7] for ink in inks)
    assert len({mark.stamp.name for mark in page.marks if isinstance(mark, Place)}) > 4


# ---- codes that scan ----


@pytest.mark.parametrize("dpi", [200, 300])
@pytest.mark.parametrize("grey", [False, True])
@pytest.mark.parametrize("url", [map_jobs.URL, None])
def test_the_code_leads_to_the_tray(dpi, grey, url):
    pdf = written(pages_of(one_tray("pot-18", *FOUR, record_url=url)))
    meant = "HTTPS://RECORDS.EXAMPLE.ORG/T/1" if url else "TRAY 1 2027-03-06 27-014-K 27-015-9 27-016-X"
    picture = render(pdf, dpi=dpi, grey=grey)
    assert decode_qr(picture) == {meant}
    corner = crop(picture, (260, 4, 297, 28), dpi)
    assert decode_qr_opencv(corner) == {meant}


@pytest.mark.parametrize(
    "url", [map_jobs.URL, None, "HTTPS://A-RATHER-LONG-NAME-OF-A-FARM.EXAMPLE.ORG/RECORDS/B/{batch}"]
)
def test_its_modules_are_large_enough(url):
    """LEAST is what phones read; a head grows before modules fall under it."""
    (page,) = pages_of(one_tray("pot-18", *FOUR, record_url=url))
    (place,) = (m for m in page.marks if isinstance(m, Place) and m.stamp.name.startswith("QR code"))
    dark = place.stamp.marks[-1]
    assert isinstance(dark, Path)
    assert dark.unit_mm >= qr.GOOD_MODULE_MM


def test_the_code_can_be_touched_where_it_is_an_address():
    (page,) = pages_of(one_tray("pot-18", *FOUR))
    (link,) = (mark for mark in page.marks if isinstance(mark, Link))
    assert link.url == "HTTPS://RECORDS.EXAMPLE.ORG/T/1"
    (page,) = pages_of(one_tray("pot-18", *FOUR, record_url=None))
    assert not [mark for mark in page.marks if isinstance(mark, Link)]


# ---- the file ----


def test_the_file_is_sound_and_says_in_text_what_the_page_says():
    pages = pages_of(one_tray("cell-72", *FOUR))
    pdf = written(pages)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.check_pdf_syntax() == []
    assert sorted(read_back(pdf)[0].words) == sorted(words(pages[0]))


def test_the_same_bytes_in_fresh_processes():
    code = (
        "import hashlib, sys; sys.path.insert(0, sys.argv[1]); import test_maps as t;"
        "print(hashlib.sha256(t.written(t.pages_of(t.full()))).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code, str(pathlib.Path(__file__).parent)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("0", "1", "4711")
    }
    assert len(digests) == 1


@pytest.mark.parametrize(
    ("url", "batches", "caption"),
    [
        ("HTTPS://A.EXAMPLE/B/{batch}", 9, "all batches in this tray"),
        (None, 3, "all batches in this tray"),
        (None, 9, "3 of 9 batches in this tray"),
    ],
)
def test_the_words_beside_the_code_say_how_many_batches_it_tells_of(
    url: str | None, batches: int, caption: str
) -> None:
    """Short text holds the codes of three batches, an address leads to all."""
    (page,) = map_pages(one_tray("pot-18", *[(2, "clump 25")] * batches, record_url=url))
    assert caption in " ".join(words(page))
