"""QR codes against the standard's own figures (ISO/IEC 18004), and read by two decoders that know nothing of ours.

`data/qr_capacity.csv` holds the capacities of versions 1 to 10; its last column says where each row comes from.
"""

import csv
import random
from pathlib import Path

import pytest
from eyes import blurred, crop, decode_qr, decode_qr_opencv, render
from hypothesis import given
from hypothesis import strategies as st
from mark_pages import URL, pdf_of
from qrcode import util

from traysheets.base.errors import SheetError
from traysheets.page import masks, qr
from traysheets.page.marks import Page, Place

with (Path(__file__).parent / "data" / "qr_capacity.csv").open(encoding="utf-8", newline="") as table:
    CAPACITY = [row for row in csv.DictReader(table) if row["level"] in qr.LEVELS]

FILL = {"numeric": "7", "alphanumeric": "A", "byte": "a"}


@pytest.mark.parametrize("row", CAPACITY, ids=lambda row: f"{row['version']}-{row['level']}")
def test_versions_hold_what_the_standard_says(row: dict[str, str]) -> None:
    for mode, character in FILL.items():
        most = int(row[mode])
        assert qr.version_for(character * most, row["level"]) == int(row["version"])
        assert qr.version_for(character * (most + 1), row["level"]) == int(row["version"]) + 1


@pytest.mark.parametrize("row", CAPACITY[:12], ids=lambda row: f"{row['version']}-{row['level']}")
def test_a_full_code_has_the_modules_of_its_version(row: dict[str, str]) -> None:
    rows = qr.modules("A" * int(row["alphanumeric"]), row["level"])
    assert [len(line) for line in rows] == [int(row["modules"])] * int(row["modules"])


def test_three_finder_patterns_stand_in_their_corners() -> None:
    """ISO/IEC 18004, 6.3.3: seven modules square, dark, light, and a dark core of three."""
    rows = qr.modules(URL, "M")
    finder = ("1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111")
    size = len(rows)
    for top, left in ((0, 0), (0, size - 7), (size - 7, 0)):
        assert tuple(row[left : left + 7] for row in rows[top : top + 7]) == finder


def test_capitals_pack_tighter_than_small_letters() -> None:
    assert (len(qr.modules(URL[:33], "M")), len(qr.modules(URL[:33].lower(), "M"))) == (25, 29)


def test_long_runs_of_capitals_and_digits_pack_on_their_own() -> None:
    text = "Sown with care: " + "1234567890" * 4
    assert qr.version_for(text, "M") < qr.version_for("Sown with care: " + "abcdefghij" * 4, "M")


@pytest.mark.parametrize(
    ("side_mm", "level", "module_mm"), [(12, "M", 12 / 37), (14, "M", 14 / 33), (16, "Q", 16 / 37), (18, "H", 18 / 41)]
)
def test_the_level_is_the_strongest_that_keeps_modules_good(side_mm: float, level: str, module_mm: float) -> None:
    text = URL if side_mm > 12 else URL + "-LONG"
    made = qr.code(text, side_mm)
    assert (made.level, made.module_mm) == (level, pytest.approx(module_mm))
    assert made.module_mm == qr.module_mm(text, side_mm)
    assert made.stamp.width_mm == pytest.approx(side_mm)


def test_the_smallest_side_just_keeps_modules_good() -> None:
    side = qr.smallest_side_mm(URL)
    assert side == pytest.approx(33 * 0.42)
    assert qr.code(URL, side).module_mm >= qr.GOOD_MODULE_MM - 1e-12
    assert qr.code(URL, side - 0.01).module_mm < qr.GOOD_MODULE_MM


def test_modules_held_down_make_the_stamp_smaller() -> None:
    made = qr.code(URL, 60, largest_module_mm=0.5)
    assert (made.level, made.module_mm) == ("H", 0.5)
    assert made.stamp.width_mm == pytest.approx(0.5 * (17 + 4 * made.version + 8))


def test_a_code_is_made_once() -> None:
    assert qr.code(URL, 15) is qr.code(URL, 15)
    assert qr.code(URL, 15).stamp is qr.code(URL, 15).stamp


def test_too_long_a_text_is_refused() -> None:
    with pytest.raises(SheetError, match="5000 characters are too many for a QR code of level M"):
        qr.code("a" * 5000, 30)


@pytest.mark.parametrize("quiet", [4, 2])
def test_rectangles_are_the_dark_modules_and_no_more(quiet: int) -> None:
    made = qr.code(URL, 16, quiet)
    ground, dark = made.stamp.marks
    seen: set[tuple[int, int]] = set()
    for _, x, y, width, height in dark.d:
        covered = {(x + i, y + j) for i in range(width) for j in range(height)}
        assert not covered & seen
        seen |= covered
    rows = qr.modules(URL, made.level)
    assert seen == {
        (quiet + x, quiet + y) for y, row in enumerate(rows) for x, module in enumerate(row) if module == "1"
    }
    assert ground.width_mm == pytest.approx((len(rows) + 2 * quiet) * made.module_mm)
    assert len(dark.d) < 0.6 * len(seen)


def symbols() -> list[list[list[bool]]]:
    """Squares of dark and light, some with stretches like a finder pattern, from even to nearly dark."""
    chance = random.Random(27)
    drawn = []
    for size in (21, 25, 29, 45) * 12:
        share = chance.choice((0.2, 0.5, 0.5, 0.8, 0.95))
        rows = [[chance.random() < share for _ in range(size)] for _ in range(size)]
        for row in chance.sample(rows, 6):
            start = chance.randrange(size - 10)
            row[start : start + 11] = [module == "1" for module in chance.choice(("10111010000", "00001011101"))]
        drawn.append(rows)
    return drawn


def test_penalties_are_those_that_qrcode_counts() -> None:
    for rows in symbols():
        assert masks.penalty(masks.packed(rows), len(rows)) == util.lost_point(rows)


def test_penalties_counted_by_hand() -> None:
    """All dark, after ISO/IEC 18004, Table 11: 42 runs of 21, 20 x 20 blocks, ten steps of 5 % from the half."""
    assert masks.penalty((1 << 21 * 21) - 1, 21) == 42 * (3 + 21 - 5) + 400 * 3 + 10 * 10


def page_of(made: qr.Code) -> bytes:
    return pdf_of([Page(60, 60, (Place(made.stamp, 15, 15),))])


@pytest.mark.parametrize("dpi", [200, 300])
@pytest.mark.parametrize("side_mm", [14, 16, 20])
def test_two_decoders_read_it(side_mm: float, dpi: int) -> None:
    made = qr.code(URL, side_mm)
    pdf = page_of(made)
    for grey in (False, True):
        picture = render(pdf, 0, dpi, grey=grey)
        assert decode_qr(picture) == {URL}
        assert decode_qr_opencv(crop(picture, (10, 10, 20 + side_mm, 20 + side_mm), dpi)) == {URL}


def test_it_is_read_out_of_focus() -> None:
    made = qr.code(URL, 14)
    assert decode_qr(blurred(render(page_of(made), 0, 300), 0.4 * made.module_mm / 25.4 * 300)) == {URL}


def test_a_spoiled_code_is_not_read() -> None:
    picture = render(page_of(qr.code(URL, 14)), 0, 300)
    spoiled = blurred(picture, 12)
    assert decode_qr(spoiled) == set()
    assert decode_qr_opencv(spoiled) == set()


@given(st.text(st.characters(min_codepoint=32, max_codepoint=0x24F), min_size=1, max_size=60))
def test_any_text_comes_back(text: str) -> None:
    assert decode_qr(render(page_of(qr.code(text, 26)), 0, 200)) == {text}
