"""The legend of a map and its phrases: condensed first, then smaller, then wrapped, then cut; never under 7 pt."""

import pytest
from map_jobs import TRAYS, batch, fill, job, plans
from meant import flat
from readback import SeenText

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.base.errors import SheetError
from traysheets.base.words import words_for
from traysheets.page.marks import Page
from traysheets.page.proof import overlaps
from traysheets.sheets import phrases
from traysheets.sheets.frame import HEAD_MM, LEAST_PT, head_height_mm
from traysheets.sheets.legend import Legend, entries
from traysheets.sheets.looks import looks

KIND = TRAYS["pot-18"]
WORDS = words_for("en")


def legend(width, *batches):
    one = job(batches, [fill(KIND, batches)])
    return Legend(entries(one, one.trays[0], looks(one)), width, WORDS)


def texts(shown, growth=1.0):
    marks = tuple(shown.marks(0, len(shown.rows), 10, 10, growth))
    assert overlaps(Page(400, 400, marks)) == []
    return [mark for mark in flat(marks) if isinstance(mark, SeenText)]


def named(variety, width):
    """How a variety is set in a legend of that width: the texts that are parts of it, in their order."""
    shown = texts(legend(width, batch(0, KIND, 3, variety=variety)))
    return [mark for mark in shown if mark.text.rstrip("…").strip() in variety and mark.face.endswith("bold")]


def test_a_short_name_is_set_in_full():
    (name,) = named("Ruby", 280)
    assert (name.face, name.size_pt) == ("bold", 10)


def test_a_long_name_is_condensed_then_smaller_then_wrapped_then_cut():
    long = "Extraordinarily Long-Standing Winter Bunching Selection of the Old Valley"
    (condensed,) = named(long, 260)
    assert (condensed.face, condensed.text) == ("condensed-bold", long)
    (smaller,) = named(long, 225)
    assert smaller.size_pt < condensed.size_pt
    first, second = named(long, 160)
    assert f"{first.text} {second.text}" == long
    *_, last = named(long * 5, 160)
    assert last.text.endswith("…")
    assert last.size_pt >= LEAST_PT


def test_rows_are_as_high_as_the_fullest_needs():
    short = batch(0, KIND, 3, variety="Ruby")
    long = batch(1, KIND, 3, variety="A name that goes on and on " * 4)
    assert legend(134, short).row_mm() == pytest.approx(6.0)
    assert legend(134, short, long).row_mm() > 8


def test_a_legend_grows_with_the_room_it_has():
    shown = legend(283, batch(0, KIND, 3), batch(1, KIND, 3))
    assert shown.growth(2, 100) == 1.5
    tight = shown.height_mm(2)
    assert shown.growth(2, tight) == 1.0
    assert shown.height_mm(2, shown.growth(2, tight + 3)) <= tight + 3
    assert max(mark.size_pt for mark in texts(shown, 1.5)) > max(mark.size_pt for mark in texts(shown))


def test_letters_stay_inside_the_width_however_narrow_it_is():
    wide = [batch(i, KIND, 3, variety="Longstalk Winter " * 3, crop_name="Bunching onion " * 3) for i in range(3)]
    for width in (283, 196, 134, 110):
        shown = legend(width, *wide)
        assert all(mark.x_mm >= 10 and mark.x_mm + mark.width_mm <= 10 + width + 0.01 for mark in texts(shown))
        assert all(mark.size_pt >= LEAST_PT for mark in texts(shown))


def test_whereabouts_name_first_and_last_cells_of_runs():
    tray = ArrangedTray(1, KIND, plans.SATURDAY, "", (Run(1, 0, 0, 8), Run(1, 1, 8, 3), Run(1, 0, 14, 1)))
    assert phrases.whereabouts(tray, 0) == "A1–B2, C3"
    assert phrases.whereabouts(tray, 1) == "B3–B5"


@pytest.mark.parametrize(
    ("what", "said", "short"),
    [
        ("clump 25", "25 seeds, scattered", "25"),
        ("clump 1", "1 seed", "1"),
        ("single 1", "1 seed, in the middle", "1"),
        ("single 2", "2 seeds, in the middle", "2"),
        ("stations 3x2", "3 holes × 2 seeds", "3 × 2"),
        ("stations 1x1", "1 hole × 1 seed", "1 × 1"),
    ],
)
def test_what_to_put_in_every_cell(what, said, short):
    one = batch(0, KIND, 3, what)
    assert phrases.in_every_cell(one, WORDS) == said
    assert phrases.count_in_cell(one, WORDS) == short


@pytest.mark.parametrize(
    ("size", "units", "said"),
    [
        ((76, 76), "metric", "76 mm"),
        ((61, 38), "metric", "61 × 38 mm"),
        ((76.2, 76.2), "inch", "3 in"),
        ((61, 38), "inch", "2 3/8 × 1 1/2 in"),
    ],
)
def test_sizes_say_their_unit_once(size, units, said):
    assert phrases.size(*size, WORDS, units) == said


def test_batches_of_a_day_look_different_and_other_days_start_again():
    first = [batch(i, KIND, 1) for i in range(16)]
    later = batch(16, KIND, 1, sow=plans.SATURDAY.replace(day=20))
    found = looks(job([*first, later], [fill(KIND, first)]))
    assert len({found[i].hatch for i in range(16)}) == 16
    assert len({(found[i].colour, found[i].hatch) for i in range(16)}) == 16
    assert found[16] == found[0]


def test_a_head_grows_for_a_long_address_and_refuses_one_too_long():
    assert head_height_mm("") == HEAD_MM
    assert head_height_mm("HTTPS://RECORDS.EXAMPLE.ORG/T/1") == HEAD_MM
    assert HEAD_MM < head_height_mm("https://a-longer-name.example.org/notes/of/the/spring/T/1204?from=map") < 27
    with pytest.raises(SheetError) as refused:
        head_height_mm("https://example.org/" + "long/" * 120)
    assert refused.value.problems[0].text == (
        "the QR code at the head of a page cannot hold 620 characters and still be read: "
        "https://example.org/long/long/long/long/...; a shorter record_url is needed"
    )
