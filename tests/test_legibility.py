"""Legibility of all sheets: contrast by WCAG's formula, colours as colour-blind eyes see them, grey, codes."""

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from itertools import combinations, islice

import numpy as np
import pytest
from colorspacious import cspace_convert, deltaE
from eyes import blurred, decode_qr, render
from PIL import Image
from readback import SeenText, read_back
from test_page_palette import contrast

from traysheets.base.bundle import bundled
from traysheets.base.words import words_for
from traysheets.export.pdf import write_pdf
from traysheets.page import palette, qr
from traysheets.page.marks import BLACK, Clip, Document, Mark, Page, Place, Rect, Stamp, Text
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import SHEETS
from traysheets.sheets.cells import FADED
from traysheets.sheets.job import Job
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS

SPRING = bundled("sample_plans") / "spring.toml"
MOST_PAGES = 4
BODY, LEAST = 7.0, 4.5
"""WCAG 2.1, 1.4.6 (7 to 1) for what is to be read, 1.4.3 (4.5 to 1) for what stands back."""
DPI = 100


@cache
def job(grey: bool, scale: str = "fit") -> Job:
    return check(Options(plan=SPRING, grey=grey, scale=scale), date(2027, 3, 1)).job


def pages_of(name: str, *, grey: bool = False) -> list[Page]:
    """The first pages of a sheet of the sample; `tiles` are those of its maps at full size."""
    if name == "printer check":
        return list(printer_pages(PAPERS["a4"], words_for("en"), "metric"))
    if name == "tiles":
        return list(islice(SHEETS["maps"].pages(job(grey, "1:1")), 1, MOST_PAGES))
    return list(islice(SHEETS[name].pages(job(grey)), MOST_PAGES))


def pdf(pages: Iterable[Page]) -> bytes:
    file = io.BytesIO()
    write_pdf(Document("sheet", iter(pages)), file)
    return file.getvalue()


# ---- contrast


def without_texts(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The same marks without any letters: the ground that these stand on."""
    return tuple(bare(mark) for mark in marks if not isinstance(mark, Text))


def bare(mark: Mark) -> Mark:
    if isinstance(mark, Clip):
        return replace(mark, marks=without_texts(mark.marks))
    if isinstance(mark, Place):
        stamp = mark.stamp
        return replace(mark, stamp=Stamp(stamp.name, stamp.width_mm, stamp.height_mm, without_texts(stamp.marks)))
    return mark


@dataclass(frozen=True)
class Read:
    """A text, and what share of the ground under it has less contrast to it than is wanted."""

    text: SeenText
    ground: str
    contrast: float
    poor: float


def reads(page: Page, wanted: float) -> Iterator[Read]:
    """Every text of a page against the pixels of the page that lie under it when no letter is drawn."""
    (seen,) = read_back(pdf([page]))
    ground = np.asarray(render(pdf([replace(page, marks=without_texts(page.marks))]), 0, DPI))
    for text in seen.texts:
        pixels = under(text, ground)
        colours, counts = np.unique(pixels, axis=0, return_counts=True)
        named = ["#" + "".join(f"{part:02X}" for part in colour) for colour in colours]
        poor = sum(count for colour, count in zip(named, counts, strict=True) if contrast(text.colour, colour) < wanted)
        main = named[int(counts.argmax())]
        yield Read(text, main, contrast(text.colour, main), poor / len(pixels))


def under(text: SeenText, ground: np.ndarray) -> np.ndarray:
    """The pixels between the base line and the top of the capitals of a text, in any quarter turn."""
    along, up = ((1, 0), (0, 1), (-1, 0), (0, -1))[text.turns], ((0, -1), (1, 0), (0, 1), (-1, 0))[text.turns]
    high = text.size_pt * 0.3528 * 0.7
    ends = [text.x_mm + along[0] * text.width_mm + up[0] * high, text.y_mm + along[1] * text.width_mm + up[1] * high]
    (left, right), (top, bottom) = sorted((text.x_mm, ends[0])), sorted((text.y_mm, ends[1]))
    x, y, to_x, to_y = (round(side / 25.4 * DPI) for side in (left, top, right, bottom))
    return ground[y : max(to_y, y + 1), x : max(to_x, x + 1)].reshape(-1, 3)


@pytest.mark.parametrize("grey", [False, True], ids=["colour", "grey"])
@pytest.mark.parametrize("name", [*SHEETS, "tiles", "printer check"])
def test_every_text_stands_out_from_its_ground(name: str, grey: bool) -> None:
    """At most a tenth of the ground may be less: thin lines that pass by, and the soft edge of what lies beside."""
    read = [(page, found) for page in pages_of(name, grey=grey) for found in reads(page, BODY)]
    assert read
    for page, found in read:
        where = f"{page.title}: '{found.text.text}' in {found.text.colour} on {found.ground}"
        if found.text.colour == FADED:
            assert found.contrast >= LEAST, where
        else:
            assert found.contrast >= BODY, where
            assert found.poor <= 0.1, where


def test_poor_contrast_would_be_seen() -> None:
    def poorest(colour: str, fill: str) -> Read:
        page = Page(100, 50, (Rect(10, 10, 60, 20, fill=fill), Text(20, 20, "AB", colour=colour)))
        (found,) = reads(page, BODY)
        return found

    assert poorest(BLACK, "#FFFFFF").contrast == pytest.approx(21)
    assert poorest("#767676", "#FFFFFF").poor == 1
    assert poorest(BLACK, "#404040").contrast < 2.1
    turned = Stamp("turned", 20, 10, (Rect(0, 0, 20, 10, fill="#404040"), Text(3, 7, "AB")))
    for turns in range(4):
        (found,) = reads(Page(100, 100, (Place(turned, 50, 50, turns),)), BODY)
        assert found.poor == 1


# ---- colour


def seen(colour: str, deficiency: str | None) -> np.ndarray:
    """A colour as sRGB parts; as somebody who lacks a kind of cone sees it, by Machado, Oliveira and Fernandes 2009."""
    parts = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    if deficiency is None:
        return parts
    space = {"name": "sRGB1+CVD", "cvd_type": deficiency, "severity": 100}
    return np.clip(cspace_convert(parts, space, "sRGB1"), 0, 1)


def least_distance(colours: Iterable[str], deficiency: str | None) -> float:
    """The least distance of any two colours in CAM02-UCS."""
    parts = [seen(colour, deficiency) for colour in colours]
    spaces = {"input_space": "sRGB1", "uniform_space": "CAM02-UCS"}
    return min(float(deltaE(one, other, **spaces)) for one, other in combinations(parts, 2))


@pytest.mark.parametrize(
    ("deficiency", "least"), [(None, 18.4), ("deuteranomaly", 17.2), ("protanomaly", 17.2), ("tritanomaly", 17.2)]
)
def test_fills_are_told_apart_by_usual_and_by_colour_blind_eyes(deficiency: str | None, least: float) -> None:
    """By the library colorspacious: what the palette was chosen for, 18.4 and at the worst 17.2."""
    assert least_distance(palette.FILLS, deficiency) >= least


def test_colours_that_colour_blind_eyes_confuse_would_be_seen() -> None:
    red_and_green = ("#CC6666", "#7F8F4F")
    assert least_distance(red_and_green, None) > 25
    assert least_distance(red_and_green, "deuteranomaly") < 10


@pytest.mark.parametrize("name", SHEETS)
def test_in_grey_no_mark_has_a_colour(name: str) -> None:
    for page in pages_of(name, grey=True):
        for mark in read_back(pdf([page]))[0].marks:
            for colour in (getattr(mark, part, None) for part in ("fill", "stroke", "colour")):
                assert colour is None or len({colour[1:3], colour[3:5], colour[5:7]}) == 1, mark


def test_without_grey_maps_do_have_colours() -> None:
    (page, *_) = read_back(pdf(pages_of("maps")[:1]))
    assert {rect.fill for rect in page.rects} & set(palette.FILLS)


# ---- QR codes


@pytest.mark.parametrize("text", ["HTTPS://RECORDS.EXAMPLE.ORG/B/27-014-K", "0.34 MM"])
def test_a_code_of_the_smallest_module_promised_is_read_turned_and_out_of_focus(text: str) -> None:
    """Seen at 300 dpi in every quarter and eighth turn and some between, blurred by 0.4 of a module."""
    side = qr.smallest_side_mm(text, qr.LEAST_MODULE_MM)
    code = qr.code(text, side)
    assert code.module_mm == pytest.approx(0.34)
    page = Page(side + 8, side + 8, (Place(code.stamp, 4, 4),), margin_mm=0)
    sharp = render(pdf([page]), 0, 600)
    for angle in (0, 10, 30, 45, 60, 90, 135, 180, 200, 270, 315, 350):
        picture = sharp.rotate(angle, expand=True, fillcolor="white", resample=Image.Resampling.BICUBIC)
        soft = blurred(picture, 0.4 * code.module_mm / 25.4 * 600)
        captured = soft.resize((soft.width // 2, soft.height // 2), Image.Resampling.BOX)
        assert decode_qr(captured) == {text}, angle
