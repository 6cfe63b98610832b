"""Two renderers that share no code, poppler and pdfium, show every page alike: its text and its picture.

Pictures of 150 dots an inch agree when no dark dot of one is farther than two dots (0.34 mm) from ink of the other, and
the mean colour of every square of 5 mm differs by no more than 35 of 255: what is left is how the two smooth edges, and
how bold they draw lines thinner than a dot.
"""

import io
import os
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from mark_pages import pdf_of
from PIL import Image
from sample_sheets import NAMES, sheet

from traysheets.page.marks import BLACK, Page, Rect, Text

DPI, SQUARE = 150, 30
NEAR = np.ones((5, 5), np.uint8)
DARK, PALE, MOST_OFF = 100, 190, 35
NEEDED = "TRAYSHEETS_NEEDS_POPPLER"

Dots = npt.NDArray[np.uint8]


@pytest.fixture(scope="module", autouse=True)
def poppler() -> None:
    if not (shutil.which("pdftoppm") and shutil.which("pdftotext")):
        reason = "poppler is not installed: apt-get install poppler-utils"
        (pytest.fail if os.environ.get(NEEDED) else pytest.skip)(reason)


def texts(pdf: bytes, folder: Path) -> tuple[list[Counter[str]], list[Counter[str]]]:
    """The letters of every page, as each program reads them."""
    file = folder / "sheet.pdf"
    file.write_bytes(pdf)
    said = subprocess.run(["pdftotext", "-enc", "UTF-8", file, "-"], capture_output=True, check=True).stdout.decode()
    document = pypdfium2.PdfDocument(pdf)
    ours = ["".join(page.get_textpage().get_text_bounded().split()) for page in document]
    theirs = ["".join(page.split()) for page in said.split("\f")]
    return [Counter(page) for page in ours], [Counter(page) for page in theirs][: len(ours)]


def pictures(pdf: bytes, folder: Path) -> list[tuple[Dots, Dots]]:
    """Every page drawn by both."""
    file = folder / "sheet.pdf"
    file.write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(DPI), file, folder / "page"], capture_output=True, check=True)
    document = pypdfium2.PdfDocument(pdf)
    ours = [np.asarray(page.render(scale=DPI / 72).to_pil().convert("RGB")) for page in document]
    theirs = [np.asarray(Image.open(io.BytesIO(page.read_bytes()))) for page in sorted(folder.glob("page*.ppm"))]
    return list(zip(ours, theirs, strict=True))


def alone(one: Dots, other: Dots) -> int:
    """How many dark dots of one have no ink of the other near them."""
    nearest = cv2.erode(other.min(axis=2), NEAR)
    return int(((one.min(axis=2) < DARK) & (nearest > PALE)).sum())


def off(one: Dots, other: Dots) -> int:
    """How much the mean colours of a square differ, where they do most."""
    size = one.shape[1] // SQUARE, one.shape[0] // SQUARE
    means = [cv2.resize(it, size, interpolation=cv2.INTER_AREA).astype(int) for it in (one, other)]
    return int(np.abs(means[0] - means[1]).max())


def differ(pdf: bytes, folder: Path) -> list[str]:
    """Where the pictures of pages do not agree."""
    found = []
    for number, (one, other) in enumerate(pictures(pdf, folder), 1):
        told = one.shape != other.shape, alone(one, other), alone(other, one), off(one, other)
        if any(told[:3]) or told[3] > MOST_OFF:
            found.append(f"page {number}: {told}")
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_page_of_a_sheet_looks_alike(name: str, tmp_path: Path) -> None:
    assert differ(sheet(name), tmp_path) == []


@pytest.mark.parametrize("language", ["de", "es", "fr", "pt"])
@pytest.mark.parametrize("name", ["maps", "sticks", "guide", "logs"])
def test_sheets_in_other_languages_look_alike(name: str, language: str, tmp_path: Path) -> None:
    assert differ(sheet(name, most=1, languages=(language, "en")), tmp_path) == []


@pytest.mark.parametrize("plan", ["spring", "season"])
@pytest.mark.parametrize("name", NAMES)
def test_every_page_of_both_samples_reads_alike(name: str, plan: str, tmp_path: Path) -> None:
    ours, theirs = texts(sheet(name, plan=plan), tmp_path)
    assert ours == theirs
    assert sum(map(Counter.total, ours)) > 100


def test_a_page_that_is_another_is_seen(tmp_path: Path) -> None:
    """The comparers are shown to fail: a small text, a thin line, a tint that are not on the other page."""
    square = Rect(20, 20, 50, 50, fill="#C5D8CF")
    page, others = Page(100, 100, (square,)), (Text(30, 40, "LW", size_pt=7), Rect(30, 30, 20, 0.4, fill=BLACK))
    ((one, _),) = pictures(pdf_of([page]), tmp_path)
    for number, mark in enumerate(others):
        folder = tmp_path / str(number)
        folder.mkdir()
        ((other, _),) = pictures(pdf_of([Page(100, 100, (square, mark))]), folder)
        assert alone(other, one) > 0
        assert alone(one, other) == 0
    tinted = tmp_path / "tinted"
    tinted.mkdir()
    ((other, _),) = pictures(pdf_of([Page(100, 100, (Rect(20, 20, 50, 50, fill="#F1F309"),))]), tinted)
    assert off(one, other) > MOST_OFF
