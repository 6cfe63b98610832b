"""SVG pictures read back into marks and compared with those they were made from; and what no browser must be given."""

import re
from collections.abc import Callable, Iterator
from math import hypot
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from mark_pages import PLAIN, URL, cell, every_mark
from meant import differences, outline
from readback import (
    IDENTITY,
    Matrix,
    SeenPage,
    SeenText,
    apply,
    moved,
    recognised,
    times,
    turns,
)

from traysheets.base.errors import SheetError
from traysheets.export.svg import svg
from traysheets.page.marks import BLACK, Clip, Line, Link, Mark, Page, Path, Place, Rect, Stamp, Text

Pieces = tuple[tuple[Any, ...], ...]

SVG = "{http://www.w3.org/2000/svg}"
MM_PER_POINT = 25.4 / 72
"""CSS Values and Units, 6.2: a point is 1/72 inch."""


def drawn(*marks: Mark, describe: str = "Tray 3", **options: str) -> ET.Element:
    return ET.fromstring(svg(Page(130, 80, marks, margin_mm=-30), describe=describe, **options))


def seen(picture: ET.Element) -> SeenPage:
    """The picture as marks, symbols and transforms resolved."""
    _, _, width, height = map(float, picture.attrib["viewBox"].split())
    symbols = {symbol.attrib["id"]: symbol for symbol in picture.iter(f"{SVG}symbol")}
    return SeenPage(width, height, list(marks_of(picture, symbols, IDENTITY)))


def marks_of(parent: ET.Element, symbols: dict[str, ET.Element], matrix: Matrix) -> Iterator[object]:
    for element in parent:
        kind = element.tag.removeprefix(SVG)
        inner = times(transform(element.get("transform", "")), matrix)
        if kind == "use":
            yield from marks_of(symbols[element.attrib["href"].removeprefix("#")], symbols, inner)
        elif kind == "g":
            yield from marks_of(element, symbols, inner)
        elif kind == "text":
            yield text_of(element, inner)
        elif kind in _PATHS:
            yield recognised(moved(path_of(element), inner, hypot(*inner[:2])))


def transform(words: str) -> Matrix:
    matrix = IDENTITY
    for name, numbers in reversed(re.findall(r"(\w+)\(([^)]*)\)", words)):
        values = [float(number) for number in numbers.split()]
        if name == "translate":
            step: Matrix = (1, 0, 0, 1, values[0], values[1])
        elif name == "scale":
            step = (values[0], 0, 0, values[0], 0, 0)
        else:
            a, b = ((1, 0), (0, 1), (-1, 0), (0, -1))[round(values[0] / 90)]
            step = (a, b, -b, a, 0, 0)
        matrix = times(matrix, step)
    return matrix


def path_of(element: ET.Element) -> Path:
    pieces = _PATHS[element.tag.removeprefix(SVG)](element)
    fill, stroke = (
        None if value == "none" else value for value in (element.get("fill"), element.get("stroke", "none"))
    )
    dash = tuple(float(part) for part in element.get("stroke-dasharray", "").split())
    return Path(tuple(pieces), fill, stroke, float(element.get("stroke-width", "0")), dash)


def numbers(element: ET.Element, *names: str) -> list[float]:
    return [float(element.get(name, "0")) for name in names]


def rect_pieces(element: ET.Element) -> Pieces:
    x, y, width, height, rx = numbers(element, "x", "y", "width", "height", "rx")
    return outline(Rect(x, y, width, height, radius_mm=rx))


def circle_pieces(element: ET.Element) -> Pieces:
    x, y, r = numbers(element, "cx", "cy", "r")
    return outline(Rect(x - r, y - r, 2 * r, 2 * r, radius_mm=r))


def line_pieces(element: ET.Element) -> Pieces:
    x1, y1, x2, y2 = numbers(element, "x1", "y1", "x2", "y2")
    return ("M", x1, y1), ("L", x2, y2)


def path_pieces(element: ET.Element) -> Pieces:
    d = re.sub(r"M([-\d.]+) ([-\d.]+)h([-\d.]+)v([-\d.]+)h[-\d.]+z", r"R\1 \2 \3 \4", element.attrib["d"])
    found = re.findall(r"([MLCZR])([^MLCZR]*)", d)
    return tuple((verb, *map(float, values.split())) for verb, values in found)


_PATHS: dict[str, Callable[[ET.Element], Pieces]] = {
    "rect": rect_pieces,
    "circle": circle_pieces,
    "line": line_pieces,
    "path": path_pieces,
}


def text_of(element: ET.Element, matrix: Matrix) -> SeenText:
    x, y, size, wide = numbers(element, "x", "y", "font-size", "textLength")
    x -= wide * {"start": 0, "middle": 0.5, "end": 1}[element.get("text-anchor", "start")]
    bold, narrow = element.get("font-weight") == "700", element.get("font-stretch") == "condensed"
    face = "-".join(word for word, said in (("condensed", narrow), ("bold", bold)) if said) or "regular"
    face = "code" if element.get("font-weight") == "500" else face
    words = "".join(element.itertext())
    return SeenText(*apply(matrix, x, y), words, face, size / MM_PER_POINT, element.attrib["fill"], wide, turns(matrix))


def test_every_mark_is_where_it_was_meant_to_be() -> None:
    page = every_mark()
    assert differences(page, seen(ET.fromstring(svg(page, describe="Every mark")))) == []


@pytest.mark.parametrize("mark", PLAIN, ids=lambda mark: type(mark).__name__)
def test_a_mark_alone_is_drawn_whole(mark: Mark) -> None:
    assert differences(Page(130, 80, (mark,)), seen(drawn(mark))) == []


def test_a_moved_mark_is_seen() -> None:
    assert len(differences(Page(130, 80, (Line(10, 10, 20, 20.02),)), seen(drawn(Line(10, 10, 20, 20))))) == 1


def test_it_says_what_it_shows() -> None:
    picture = drawn(Line(10, 10, 20, 20), describe='Tray 3 <of> 7 & "more"', css_class="map wide")
    assert picture.attrib["role"] == "img"
    assert picture.attrib["aria-label"] == 'Tray 3 <of> 7 & "more"'
    assert picture.attrib["class"] == "map wide"
    assert picture.attrib["viewBox"] == "0 0 130 80"
    assert picture[0].tag == f"{SVG}title"
    assert picture[0].text == 'Tray 3 <of> 7 & "more"'


def test_what_a_plan_says_is_never_markup() -> None:
    nasty = "</text><script>alert('x')</script>&amp;\"'"
    picture = drawn(Text(10, 20, nasty), Link(10, 10, 5, 5, 'https://example.org/"><script>'), describe=nasty)
    assert [text.text for text in picture.iter(f"{SVG}text")] == [nasty]
    assert list(picture.iter(f"{SVG}script")) == []
    assert [link.attrib["href"] for link in picture.iter(f"{SVG}a")] == ['https://example.org/"><script>']


@pytest.mark.parametrize("url", ["javascript:alert(1)", "JavaScript:alert(1)", "data:text/html,x", "vbscript:x"])
def test_only_addresses_of_the_web_lead_anywhere(url: str) -> None:
    assert list(drawn(Link(10, 10, 5, 5, url)).iter(f"{SVG}a")) == []


@pytest.mark.parametrize("url", [URL, "https://example.org", "../T/3/index.html", "#cells"])
def test_addresses_of_the_web_and_beside_the_page_do(url: str) -> None:
    assert [link.attrib["href"] for link in drawn(Link(10, 10, 5, 5, url)).iter(f"{SVG}a")] == [url]


def test_a_stamp_is_written_once_however_often_it_is_placed() -> None:
    stamp = cell("waves", "LW")
    picture = drawn(*(Place(stamp, 10 + 15 * i, 10) for i in range(7)))
    assert len(list(picture.iter(f"{SVG}symbol"))) == 1
    assert len(list(picture.iter(f"{SVG}use"))) == 7


def test_equal_stamps_are_one_however_often_they_were_made() -> None:
    def hatched() -> Stamp:
        inner = Stamp("hatch", 10, 10, (Clip(0, 0, 10, 10, (Line(0, 5, 10, 5),), 1),))
        return Stamp("cell", 10, 10, (Place(inner, 0, 0), Clip(0, 0, 10, 10, (Line(5, 0, 5, 10),), 1)))

    once, again = hatched(), hatched()
    one = svg(Page(130, 80, (Place(once, 10, 10), Place(once, 30, 10))), describe="Tray 3")
    assert svg(Page(130, 80, (Place(once, 10, 10), Place(again, 30, 10))), describe="Tray 3") == one
    assert (one.count("<symbol"), one.count("<clipPath")) == (2, 1)


def test_stamps_in_stamps_are_written_before_those_that_place_them() -> None:
    inner = Stamp("inner", 5, 5, (Rect(0, 0, 5, 5, fill=BLACK),))
    outer = Stamp("outer", 10, 10, (Place(inner, 1, 1), Place(inner, 5, 5)))
    symbols = [symbol.attrib["id"] for symbol in drawn(Place(outer, 10, 10), Place(inner, 30, 30)).iter(f"{SVG}symbol")]
    assert symbols == ["p-s1", "p-s2"]


def test_ids_differ_and_begin_with_the_prefix() -> None:
    page = every_mark()
    pictures = [ET.fromstring(svg(page, describe="x", prefix=prefix)) for prefix in ("a", "b")]
    ids = [element.attrib["id"] for picture in pictures for element in picture.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids)) > 30
    assert {name.split("-")[0] for name in ids} == {"a", "b"}


def test_every_reference_leads_to_an_id() -> None:
    text = svg(every_mark(), describe="x")
    ids = set(re.findall(r'id="([^"]+)"', text))
    assert {*re.findall(r'href="#([^"]+)"', text), *re.findall(r"url\(#([^)]+)\)", text)} == ids


def test_text_is_held_to_its_width_on_paper() -> None:
    (text,) = drawn(Text(10, 20, "Longstalk", "condensed-bold", 12)).iter(f"{SVG}text")
    assert text.attrib["lengthAdjust"] == "spacingAndGlyphs"
    assert (text.attrib["font-weight"], text.attrib["font-stretch"]) == ("700", "condensed")
    assert float(text.attrib["font-size"]) == pytest.approx(12 * MM_PER_POINT, abs=0.001)


def test_nothing_is_drawn_for_an_empty_text() -> None:
    assert list(drawn(Text(10, 20, " \u200b"), Text(10, 20, "")).iter(f"{SVG}text")) == []


def test_a_bad_page_is_refused() -> None:
    with pytest.raises(SheetError, match="reaches over"):
        svg(Page(50, 50, (Line(10, 10, 60, 10),)), describe="x")


def test_the_same_page_makes_the_same_picture() -> None:
    assert svg(every_mark(), describe="x") == svg(every_mark(), describe="x")
