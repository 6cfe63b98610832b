"""Codes read back from their modules (ISO/IEC 18004), against encoders and decoders that know nothing of ours."""

import random
from dataclasses import replace
from typing import Any

import cv2
import numpy as np
import pytest
import segno
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from qrcode import base
from segno import consts

from traysheets.page import qr, qr_reading
from traysheets.page.marks import BLACK, Path, Rect, Stamp
from traysheets.page.qr_proof import broken, drawn_module_mm
from traysheets.page.qr_reading import UnreadableError, read

URL = "HTTPS://RECORDS.EXAMPLE.ORG/B/27-014-K"
TEXTS = (URL, URL.lower(), "0123456789" * 4, "27-014-K", "Zwiebel größe 日本 ☃", "A", "7", "42", "ABC" * 40, "x" * 250)


def symbol(rows: Any) -> tuple[str, int]:
    """Rows of modules as one text, and their number."""
    lines = ["".join("1" if str(int(module)) == "1" else "0" for module in row) for row in rows]
    return "".join(lines), len(lines)


def picture(found: str, side: int, module: int = 6) -> Image.Image:
    """A symbol as a picture with its quiet zone."""
    dots = np.array([module == "0" for module in found], dtype=np.uint8).reshape(side, side) * 255
    framed = np.pad(dots, 4, constant_values=255)
    return Image.fromarray(np.kron(framed, np.ones((module, module), dtype=np.uint8)))


@pytest.mark.parametrize("level", "MQH")
@pytest.mark.parametrize("text", TEXTS)
def test_our_own_codes_are_read_as_two_decoders_read_them(text: str, level: str) -> None:
    found, side = symbol(qr.modules(text, level))
    assert read(found, side) == text
    (seen,) = zxingcpp.read_barcodes(picture(found, side))
    assert seen.text == text
    if text.isascii():
        assert cv2.QRCodeDetector().detectAndDecode(np.array(picture(found, side)))[0] == text


@pytest.mark.parametrize("mask", range(8))
@pytest.mark.parametrize("version", range(1, 21))
def test_codes_of_another_encoder_are_read_in_every_version_and_mask(version: int, mask: int) -> None:
    """segno, which shares nothing with what makes our codes."""
    level = "LMQH"[(version + mask) % 4]
    bits = consts.SYMBOL_CAPACITY[version][getattr(consts, f"ERROR_LEVEL_{level}")] - 4 - (9 if version < 10 else 11)
    most = bits // 11 * 2
    for text in ("B" * most, "27-014-K"[:most]):
        made = segno.make_qr(text, version=version, error=level, mask=mask, boost_error=False)
        assert read(*symbol(made.matrix)) == text


@settings(max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=40), st.sampled_from("LMQH"))
def test_any_text_of_another_encoder_is_read(text: str, level: str) -> None:
    made = segno.make_qr(text, error=level, mode="byte", encoding="utf-8", boost_error=False)
    assert read(*symbol(made.matrix)) == text


def test_blocks_are_those_that_two_libraries_hold_to() -> None:
    """ISO/IEC 18004, Table 9."""
    for version in range(1, 21):
        for i, level in enumerate("LMQH"):
            blocks = base.rs_blocks(version, (1, 0, 3, 2)[i])
            assert len(blocks) == qr_reading._BLOCKS[level][version - 1]
            assert {it.total_count - it.data_count for it in blocks} == {qr_reading._CORRECTION[level][version - 1]}
            theirs = consts.ECC[version][getattr(consts, f"ERROR_LEVEL_{level}")]
            assert sum(it.num_blocks for it in theirs) == len(blocks)


@pytest.mark.parametrize(("text", "level"), [(URL, "M"), (URL, "H"), ("7", "Q"), ("ABC" * 40, "M")])
def test_every_single_module_counts(text: str, level: str) -> None:
    found, side = symbol(qr.modules(text, level))
    for place, module in enumerate(found):
        flipped = found[:place] + "10"[int(module)] + found[place + 1 :]
        with pytest.raises(UnreadableError):
            read(flipped, side)


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_damage_is_an_error_and_never_another_text(data: st.DataObject) -> None:
    found, side = symbol(qr.modules(URL, "M"))
    places = data.draw(st.sets(st.integers(0, len(found) - 1), min_size=1, max_size=60))
    damaged = "".join("10"[int(module)] if place in places else module for place, module in enumerate(found))
    with pytest.raises(UnreadableError):
        read(damaged, side)


@pytest.mark.parametrize("side", [0, 17, 20, 22, 101, 177])
def test_no_code_has_such_a_side(side: int) -> None:
    with pytest.raises(UnreadableError, match="the side of no code"):
        read("0" * side * side, side)


def test_noise_is_no_code() -> None:
    chance = random.Random(27)
    for side in (21, 25, 45):
        with pytest.raises(UnreadableError):
            read("".join(chance.choice("01") for _ in range(side * side)), side)


# ---- as drawn

STAMP = qr.code(URL, 16).stamp
GROUND, DARK = STAMP.marks
assert isinstance(GROUND, Rect)
assert isinstance(DARK, Path)


def drawn(*marks: Any, reads: str = URL, side_mm: float = STAMP.width_mm) -> str | None:
    return broken(Stamp("QR code", side_mm, side_mm, marks or STAMP.marks, reads))


def test_codes_are_read_as_they_are_drawn() -> None:
    for text in TEXTS:
        for quiet in (2, 4):
            assert broken(qr.code(text, 40, quiet).stamp) is None
    assert drawn_module_mm(STAMP) == DARK.unit_mm


def test_what_is_read_is_told_where_it_is_another_text() -> None:
    assert drawn(reads=URL + "X") == f"reads '{URL}', and should read '{URL}X'"


def without(piece: int) -> Path:
    return replace(DARK, d=DARK.d[:piece] + DARK.d[piece + 1 :])


def test_every_rectangle_counts() -> None:
    for piece in range(len(DARK.d)):
        assert str(drawn(GROUND, without(piece))).startswith("cannot be read")


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ((GROUND,), "it is not black rectangles on white"),
        ((DARK, GROUND), "it is not black rectangles on white"),
        ((replace(GROUND, fill="#EEEEEE"), DARK), "it is not black rectangles on white"),
        ((GROUND, replace(DARK, fill="#333333")), "it is not black rectangles on white"),
        ((replace(GROUND, width_mm=9), DARK), "its ground is not white all over"),
        ((GROUND, replace(DARK, unit_mm=0.47)), "its modules do not fill its square"),
        ((GROUND, replace(DARK, unit_mm=float("nan"))), "its size is none that a code can have"),
        ((GROUND, replace(DARK, d=(*DARK.d, ("R", 0, 0, 1, 1)))), "the white around it is too narrow"),
        ((GROUND, replace(DARK, d=(*DARK.d, ("R", 1, 20, 1, 1)))), "something dark stands in the white around it"),
        ((GROUND, replace(DARK, d=(*DARK.d, DARK.d[0]))), "cannot be read"),
        ((GROUND, replace(DARK, d=(*DARK.d, ("M", 4, 4)))), "something else than whole modules"),
        ((GROUND, replace(DARK, d=(*DARK.d, ("R", 4.5, 4, 1, 1)))), "something else than whole modules"),
        ((GROUND, replace(DARK, d=(*DARK.d, ("R", 0, 90, 1, 1)))), "the white around it is too narrow"),
        ((GROUND, replace(DARK, d=())), "the white around it is too narrow"),
    ],
)
def test_what_is_drawn_otherwise_is_refused(marks: tuple[Any, ...], words: str) -> None:
    assert words in str(drawn(*marks))


def test_a_square_of_another_size_is_refused() -> None:
    assert "its modules do not fill its square" in str(drawn(side_mm=STAMP.width_mm * 1.5))
    assert broken(Stamp("no code", 5, 5, (Rect(0, 0, 5, 5, fill=BLACK),), "A")) is not None
