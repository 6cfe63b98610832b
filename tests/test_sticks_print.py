"""The finished file of the sticks: codes scan, labels lie where the table has them, text is text, the file is small."""

import io
from collections.abc import Iterator
from itertools import product

import cv2
import numpy as np
import pytest
import readback
import stick_jobs as sj
from eyes import Box, blurred, crop, decode_qr, decode_qr_opencv, render
from PIL import Image

from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Document, Page, Path, Place
from traysheets.sheets.job import Job
from traysheets.sheets.links import batch_text
from traysheets.sheets.sticks import stick_count, stick_pages

MIXED = (
    sj.batch(0, sj.USUAL),
    sj.batch(1, sj.SHORT, "stations 3x2", treated=True),
    sj.batch(2, sj.LONG),
    sj.batch(3, sj.GREEK, "single 2", treated=True),
    sj.batch(4, sj.CYRILLIC, "single 1", sticks=2),
)


def printed(job: Job) -> tuple[bytes, list[Page]]:
    pages = list(stick_pages(job))
    file = io.BytesIO()
    write_pdf(Document("Sticks", iter(pages)), file)
    return file.getvalue(), pages


def codes_on(page: Page) -> Iterator[tuple[Box, float]]:
    """Where on the page each QR code stands, and its module in mm."""
    for placed in page.marks:
        if isinstance(placed, Place):
            for code in placed.stamp.marks:
                if isinstance(code, Place):
                    (path,) = (mark for mark in code.stamp.marks if isinstance(mark, Path))
                    x, y = placed.x_mm + code.x_mm, placed.y_mm + code.y_mm
                    yield (x, y, x + code.stamp.width_mm, y + code.stamp.height_mm), path.unit_mm


def opencv(picture: Image.Image, around: Box, dpi: float) -> set[str]:
    """What OpenCV reads: with its first detector, else with its newer one, which reads more of sharp pictures."""
    found = decode_qr_opencv(picture, [around], dpi)
    for factor in (1, 2, 3):
        if found:
            break
        pixels = np.asarray(crop(picture, around, dpi).convert("L"))
        sized = cv2.resize(pixels, None, fx=factor, fy=factor, interpolation=cv2.INTER_CUBIC)
        text = cv2.QRCodeDetectorAruco().detectAndDecode(sized)[0]
        found = {text} if text else set()
    return found


@pytest.mark.parametrize("url", [sj.URL, None], ids=["address", "short text"])
@pytest.mark.parametrize("name", sj.STOCKS)
def test_every_code_is_read_by_two_decoders(name: str, url: str | None) -> None:
    """In colour and in grey, at 200 and 300 dots an inch; and out of focus by 0.4 of a module at 300."""
    job = sj.job(MIXED, name, record_url=url, outlines=True)
    pdf, pages = printed(job)
    texts = {batch_text(job, batch) for batch in job.batches}
    for dpi, grey in product((200, 300), (False, True)):
        seen = set()
        for number, page in enumerate(pages):
            picture = render(pdf, number, dpi, grey=grey)
            seen |= decode_qr(picture)
            for around, module in codes_on(page):
                text = decode_qr(crop(picture, around, dpi))
                assert len(text) == 1
                assert opencv(picture, around, dpi) == text
                if dpi == 300:
                    soft = blurred(crop(picture, around, dpi), 0.4 * module / 25.4 * dpi)
                    assert decode_qr(soft) == text
        assert seen == texts


@pytest.mark.parametrize("name", sj.STOCKS)
def test_labels_are_read_back_where_the_stock_table_has_them(name: str) -> None:
    """Within 0.05 mm, and the page within 0.01 mm of its size."""
    stock = sj.STOCKS[name]
    pdf, _ = printed(sj.job([sj.batch(0, sticks=stock.labels)], stock))
    (page,) = readback.read_back(pdf)
    assert (page.width_mm, page.height_mm) == pytest.approx(stock.page_mm, abs=0.01)
    names = [place.name for place in page.places]
    (label,) = (name for name in set(names) if names.count(name) == stock.labels and names.index(name) == 0)
    corners = [(place.x_mm, place.y_mm) for place in page.places if place.name == label]
    assert len(corners) == stock.labels
    for n, corner in enumerate(corners):
        row, column = divmod(n, stock.columns)
        left = stock.first_mm[0] + column * stock.pitch_mm[0]
        top = stock.first_mm[1] + row * stock.pitch_mm[1]
        assert corner == pytest.approx((left, top), abs=0.05)


def test_the_text_of_the_file_is_what_the_sticks_say() -> None:
    pdf, _ = printed(sj.job(MIXED, "letter-10"))
    words = [text for page in readback.read_back(pdf) for text in page.words]
    for batch in MIXED:
        assert batch.sowing.crop_name in words
        assert batch.sowing.variety in " ".join(words)
        assert f"lot {batch.sowing.lot}" in " ".join(words)
    assert words.count("27-018-A") == 2
    assert "treated seed" in words
    assert "tray 1, A1–B2" in words


@pytest.mark.parametrize("name", ["letter-30", "letter-80", "a4-21", "a4-65", "stake-16x127-a4"])
@pytest.mark.parametrize("sticks", [30, "cell"])
def test_three_thousand_sticks_take_a_hundred_bytes_each(name: str, sticks: str | int) -> None:
    varieties = [(f"Variety {number}", "Bunching onion", f"QF-{3000 + number}") for number in range(100)]
    batches = [sj.batch(n, names, sticks=sticks, cells=30) for n, names in enumerate(varieties)]
    job = sj.job(batches, name, codes={n: f"27-{n + 14:03d}-K" for n in range(100)})
    pdf, _ = printed(job)
    assert stick_count(job) == 3000
    assert len(pdf) <= 100 * 3000


def test_the_same_sticks_are_the_same_bytes() -> None:
    assert printed(sj.job(MIXED, "a4-21"))[0] == printed(sj.job(MIXED, "a4-21"))[0]
