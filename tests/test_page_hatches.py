"""Hatches told apart: printed in black and white at 300 dpi, turned, toner a dot thicker or thinner, and recognised."""

from functools import cache
from itertools import product

import cv2
import numpy as np
import pytest
from eyes import crop, render
from mark_pages import pdf_of
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from traysheets.page import hatches
from traysheets.page.hatches import HATCHES, hatch, hatched
from traysheets.page.marks import Page, Path, Place, Rect, Stamp
from traysheets.page.reach import box

DPI = 300


@cache
def printed(name: str, side_mm: float) -> Image.Image:
    """A swatch as a printer of black dots makes it."""
    swatch = Stamp(name, side_mm, side_mm, (hatched(name, side_mm, side_mm, "#FFFFFF"),))
    picture = render(pdf_of([Page(40, 40, (Place(swatch, 10, 10),))]), 0, DPI, grey=True)
    return crop(picture, (10, 10, 10 + side_mm, 10 + side_mm), DPI).point(lambda level: 255 * (level > 127))


def worn(picture: Image.Image, dots: int, turns: int) -> Image.Image:
    """The swatch with toner a dot thicker (1) or thinner (-1), turned by quarters."""
    filters = {1: ImageFilter.MinFilter(3), -1: ImageFilter.MaxFilter(3)}
    spread = picture.filter(filters[dots]) if dots else picture
    return spread.rotate(-90 * turns)


def features(picture: Image.Image) -> NDArray[np.float64]:
    """What does not change when the pattern is shifted: the strength of its waves, and how dark it is."""
    dark = 1 - np.asarray(picture, dtype=float) / 255
    waves = np.fft.fftshift(np.abs(np.fft.fft2(dark - dark.mean())))
    middle = len(dark) // 2
    low = waves[middle - 24 : middle + 24, middle - 24 : middle + 24]
    return np.append(low.ravel() / dark.size**0.75, 3 * dark.mean())


@pytest.mark.parametrize("side_mm", [12, 6])
def test_every_hatch_is_told_from_the_others_however_it_is_turned(side_mm: float) -> None:
    known = {(name, turns): features(worn(printed(name, side_mm), 0, turns)) for name in HATCHES for turns in range(4)}
    for name, dots, turns in product(HATCHES, (-1, 0, 1), range(4)):
        seen = features(worn(printed(name, side_mm), dots, turns))
        nearest = min(known, key=lambda key: float(np.linalg.norm(known[key] - seen)))
        assert nearest[0] == name, (name, dots, turns)


@pytest.mark.parametrize("name", HATCHES)
def test_a_hatch_is_a_ground_and_at_most_one_path(name: str) -> None:
    clip = hatched(name, 12, 8, "#109EEB", 1)
    ground, *pattern = clip.marks
    assert ground == Rect(0, 0, 12, 8, fill="#109EEB")
    assert (clip.width_mm, clip.height_mm, clip.radius_mm) == (12, 8, 1)
    assert [type(mark) for mark in pattern] == ([] if name == "solid" else [Path])


@pytest.mark.parametrize("name", HATCHES[1:])
def test_a_hatch_goes_over_all_edges(name: str) -> None:
    for width, height in ((12, 8), (5, 20), (76, 76)):
        left, top, right, bottom = box(hatched(name, width, height, "#FFFFFF").marks[1])
        assert left <= 0 <= width <= right, name
        assert top <= 0 <= height <= bottom, name


@pytest.mark.parametrize("name", [name for name in HATCHES[1:] if hatches._PATTERNS[name][1]])
def test_lines_are_wide_enough_to_print(name: str) -> None:
    """Five dots of a 300 dpi printer."""
    assert hatched(name, 12, 12, "#FFFFFF").marks[1].stroke_mm >= 0.42


@pytest.mark.parametrize("name", HATCHES[1:])
def test_gaps_stay_open(name: str) -> None:
    """A disc of 0.75 mm rolls over nearly all that is light: only the tips of corners are narrower."""
    light = (np.asarray(printed(name, 12)) > 127).astype(np.uint8)
    across = round(0.75 / 25.4 * DPI)
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (across, across))
    rolled_over = cv2.morphologyEx(light, cv2.MORPH_OPEN, disc)
    assert rolled_over.sum() >= 0.88 * light.sum()


def test_128_varieties_differ_in_colour_or_hatch() -> None:
    assert [hatch(i) for i in range(16)] == list(HATCHES)
    assert len({(i % 8, hatch(i)) for i in range(128)}) == 128


def test_the_same_hatch_is_made_once() -> None:
    assert hatched("dots", 9, 9, "#FFFFFF") is hatched("dots", 9, 9, "#FFFFFF")
