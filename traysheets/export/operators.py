"""Content streams: marks turned into the drawing operators of PDF (ISO 32000-1, 8 and 9), as text.

Here millimetres become points, and y is turned to run up: the origin of a stream is the top left corner of its page or
stamp, so that a place is `x k, -y k`. What a document holds beside its streams is `export/pdf.py`.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from math import sqrt
from typing import Any, TypeAlias, cast

from traysheets.page.correction import Stretch
from traysheets.page.lettering import width_mm
from traysheets.page.marks import Circle, Clip, Colour, Line, Link, Mark, Path, Place, Rect, Stamp, Text
from traysheets.page.reach import ANCHORS

POINTS_PER_MM = 72 / 25.4
HUNDREDTHS_PER_MM = 100 * POINTS_PER_MM

_ARC = 4 / 3 * (sqrt(2) - 1)
"""How far the control points of a cubic quarter circle stand off, for a radius of one."""

_TURNS = ("1 0 0 1", "0 -1 1 0", "-1 0 0 -1", "0 1 -1 0")
"""Quarter turns clockwise, as the first four numbers of a matrix."""


Parts: TypeAlias = Sequence[tuple[str, str]]
"""A text as fonts hold it: name of the font, and the string in that font's own code, in parentheses or brackets."""


@dataclass(frozen=True, slots=True)
class Form:
    """A stamp as it stands in the document: its name in streams, what refers to it, the links in it, and the sizes of
    the modules of the QR codes in it.
    """

    name: str
    reference: Any
    links: tuple[Link, ...]
    codes_mm: tuple[float, ...] = ()


def number(value: float, decimals: int = 2) -> str:
    """A number in short: at most so many decimals, no trailing zeros."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


@lru_cache(maxsize=65536)
def _hundredths(count: int) -> str:
    return number(count / 100)


def points(length_mm: float) -> str:
    """A length in points, to a hundredth, which is 0.0035 mm."""
    return _hundredths(round(length_mm * HUNDREDTHS_PER_MM))


@lru_cache(maxsize=256)
def _rgb(colour: Colour) -> tuple[str, bool]:
    """The numbers of a colour, and whether it is a grey, which needs but one."""
    parts = [number(int(colour[i : i + 2], 16) / 255, 3) for i in (1, 3, 5)]
    grey = len(set(parts)) == 1
    return (parts[0] if grey else " ".join(parts)), grey


class Stream:
    """One content stream: `draw` marks, then take `code`. `forms` are those placed, `links` the links met, in mm,
    `codes_mm` the sizes of the modules of the QR codes.

    The state of the pen is kept, so that what is set already is not set again. A form starts with the pen of whoever
    places it, so at the start nothing counts as set.
    """

    def __init__(self, parts: Callable[[str, str], Parts], form: Callable[[Stamp], Form]) -> None:
        self._parts = parts
        self._form = form
        self._code: list[str] = []
        self._pen: dict[str, str] = {}
        self.forms: dict[str, Any] = {}
        self.links: list[Link] = []
        self.codes_mm: list[float] = []
        self.has_text = False

    @property
    def code(self) -> bytes:
        """The operators written so far."""
        return "\n".join(self._code).encode("latin-1")

    def move(self, x_mm: float, y_mm: float) -> None:
        """Move the origin for all that follows."""
        self._code.append(f"1 0 0 1 {points(x_mm)} {points(-y_mm)} cm")

    def stretch(self, stretch: Stretch) -> None:
        """Stretch and shift all that follows."""
        factors = f"{number(stretch.across, 6)} 0 0 {number(stretch.down, 6)}"
        self._code.append(f"{factors} {points(stretch.right_mm)} {points(-stretch.down_mm)} cm")

    def draw(self, marks: Iterable[Mark]) -> None:
        """Write marks in their order."""
        for kind, group in groupby(marks, type):
            _DRAW[kind](self, group)

    def _set(self, what: str, value: str) -> None:
        if self._pen.get(what) != value:
            self._pen[what] = value
            self._code.append(f"{value} {what}")

    def _ink(self, colour: Colour, of_rgb: str, of_grey: str) -> None:
        """Set a colour: grey and rgb are two operators for one and the same state, kept under the name of the first."""
        numbers, grey = _rgb(colour)
        operator = of_grey if grey else of_rgb
        if self._pen.get(of_rgb) != numbers:
            self._pen[of_rgb] = numbers
            self._code.append(f"{numbers} {operator}")

    def _paint(self, path: str, fill: Colour | None, stroke: Colour | None, width: str) -> None:
        """Write a path and the operator that fills it, strokes it or both; nothing for one that is not seen."""
        if fill:
            self._ink(fill, "rg", "g")
        if stroke:
            self._ink(stroke, "RG", "G")
            self._set("w", width)
        if fill or stroke:
            self._code.append(f"{path} {'B' if fill and stroke else 'f' if fill else 'S'}")

    def _dash(self, lengths: Sequence[str]) -> None:
        self._set("d", f"[{' '.join(lengths)}] 0")

    def _rects(self, rects: Iterable[Rect]) -> None:
        for rect in rects:
            if rect.stroke:
                self._dash(())
            outline = _outline(rect.x_mm, rect.y_mm, rect.width_mm, rect.height_mm, rect.radius_mm)
            self._paint(outline, rect.fill, rect.stroke, points(rect.stroke_mm))

    def _lines(self, lines: Iterable[Line]) -> None:
        for line in lines:
            self._dash([points(part) for part in line.dash_mm])
            ends = (("M", line.x1_mm, line.y1_mm), ("L", line.x2_mm, line.y2_mm))
            self._paint(_pieces(ends), None, line.stroke, points(line.stroke_mm))

    def _circles(self, circles: Iterable[Circle]) -> None:
        for circle in circles:
            if circle.stroke:
                self._dash(())
            path = _circle(circle.x_mm, circle.y_mm, circle.radius_mm)
            self._paint(path, circle.fill, circle.stroke, points(circle.stroke_mm))

    def _paths(self, paths: Iterable[Path]) -> None:
        for path in paths:
            if path.unit_mm != 1:
                self._grid_path(path)
                continue
            if path.stroke:
                self._dash([points(part) for part in path.dash_mm])
            self._paint(_pieces(path.d), path.fill, path.stroke, points(path.stroke_mm))

    def _grid_path(self, path: Path) -> None:
        """A path on a grid of its own: the page is scaled, so that its numbers stay whole, and so stay short."""
        outside = self._save()
        unit = number(path.unit_mm * POINTS_PER_MM, 6)
        self._code.append(f"{unit} 0 0 {unit} 0 0 cm")
        if path.stroke:
            self._dash([number(part / path.unit_mm, 4) for part in path.dash_mm])
        pieces = " ".join([_grid_piece(*piece) for piece in cast("Iterable[tuple[Any, ...]]", path.d)])
        self._paint(pieces, path.fill, path.stroke, number(path.stroke_mm / path.unit_mm, 4))
        self._restore(outside)

    def _texts(self, texts: Iterable[Text]) -> None:
        self.has_text = True
        for text in texts:
            self._ink(text.colour, "rg", "g")
            shift_mm = ANCHORS[text.anchor]
            if shift_mm:
                shift_mm *= width_mm(text.text, text.face, text.size_pt)
            self._code.append(f"BT {points(text.x_mm - shift_mm)} {points(-text.y_mm)} Td")
            for font, string in self._parts(text.text, text.face):
                self._set("Tf", f"{font} {number(text.size_pt)}")
                self._code.append(f"{string} Tj")
            self._code.append("ET")

    def _clips(self, clips: Iterable[Clip]) -> None:
        for clip in clips:
            outside = self._save()
            outline = _outline(clip.x_mm, clip.y_mm, clip.width_mm, clip.height_mm, clip.radius_mm)
            self._code.append(f"{outline} W n")
            self.draw(clip.marks)
            self._restore(outside)

    def _save(self) -> dict[str, str]:
        self._code.append("q")
        return dict(self._pen)

    def _restore(self, outside: dict[str, str]) -> None:
        self._code.append("Q")
        self._pen = outside

    def _places(self, places: Iterable[Place]) -> None:
        """Stamps set down one after the other. Upright ones share a saved state: each moves on from the last.

        The steps are differences of rounded places, written whole, so their sum is as true as the places are.
        """
        for turned, group in groupby(places, lambda place: place.turns % 4):
            if turned:
                for place in group:
                    self._turned(place, turned)
            else:
                self._upright(group)

    def _turned(self, place: Place, turns: int) -> None:
        self._code.append(f"q {_TURNS[turns]} {points(place.x_mm)} {points(-place.y_mm)} cm {self._do(place)} Q")

    def _upright(self, places: Iterable[Place]) -> None:
        x = y = 0
        self._code.append("q")
        for place in places:
            to_x, to_y = round(place.x_mm * HUNDREDTHS_PER_MM), round(-place.y_mm * HUNDREDTHS_PER_MM)
            step = f"1 0 0 1 {_hundredths(to_x - x)} {_hundredths(to_y - y)} cm " if (to_x, to_y) != (x, y) else ""
            self._code.append(f"{step}{self._do(place)}")
            x, y = to_x, to_y
        self._code.append("Q")

    def _do(self, place: Place) -> str:
        """The operator that draws the stamp; its links are moved to where it stands."""
        form = self._form(place.stamp)
        self.forms[form.name] = form.reference
        self.links.extend(_moved(link, place) for link in form.links)
        self.codes_mm += form.codes_mm
        return f"/{form.name} Do"

    def _links(self, links: Iterable[Link]) -> None:
        self.links.extend(links)


_DRAW: dict[type, Callable[[Stream, Any], None]] = {
    Rect: Stream._rects,
    Line: Stream._lines,
    Path: Stream._paths,
    Circle: Stream._circles,
    Text: Stream._texts,
    Clip: Stream._clips,
    Place: Stream._places,
    Link: Stream._links,
}
"""How a run of marks of one kind is written."""


def _moved(link: Link, place: Place) -> Link:
    """A link of a stamp as it lies where the stamp is placed."""
    x, y, width, height = link.x_mm, link.y_mm, link.width_mm, link.height_mm
    for _ in range(place.turns % 4):
        x, y, width, height = -y - height, x, height, width
    return Link(place.x_mm + x, place.y_mm + y, width, height, link.url)


def _pieces(d: Iterable[tuple[Any, ...]]) -> str:
    """The pieces of a path in mm."""
    return " ".join([_PIECES[piece[0]](*piece[1:]) for piece in d])


def _rect(x: float, y: float, width: float, height: float) -> str:
    return f"{points(x)} {points(-y)} {points(width)} {points(-height)} re"


def _curve(x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> str:
    return f"{points(x1)} {points(-y1)} {points(x2)} {points(-y2)} {points(x)} {points(-y)} c"


_PIECES: dict[Any, Callable[..., str]] = {
    "M": lambda x, y: f"{points(x)} {points(-y)} m",
    "L": lambda x, y: f"{points(x)} {points(-y)} l",
    "C": _curve,
    "Z": lambda: "h",
    "R": _rect,
}
"""How the pieces of a path are written, by their verb."""


def _grid_piece(verb: str, *numbers: int) -> str:
    """A piece of a path on a grid: whole numbers, or it is a fault of ours."""
    if verb == "R":
        x, y, width, height = numbers
        return f"{x:d} {-y:d} {width:d} {-height:d} re"
    if verb == "Z":
        return "h"
    shown = " ".join([f"{-part if i % 2 else part:d}" for i, part in enumerate(numbers)])
    return f"{shown} {verb.lower()}"


def _outline(x: float, y: float, width: float, height: float, radius: float) -> str:
    """A rectangle, its corners rounded."""
    if not radius:
        return _rect(x, y, width, height)
    r = min(radius, width / 2, height / 2)
    off = r * (1 - _ARC)
    right, bottom = x + width, y + height
    x0, x1, x2, x3, x4, x5 = map(points, (x, x + off, x + r, right - r, right - off, right))
    y0, y1, y2, y3, y4, y5 = map(points, (-y, -y - off, -y - r, r - bottom, off - bottom, -bottom))
    return (
        f"{x2} {y0} m {x3} {y0} l {x4} {y0} {x5} {y1} {x5} {y2} c {x5} {y3} l {x5} {y4} {x4} {y5} {x3} {y5} c"
        f" {x2} {y5} l {x1} {y5} {x0} {y4} {x0} {y3} c {x0} {y2} l {x0} {y1} {x1} {y0} {x2} {y0} c h"
    )


def _circle(x: float, y: float, radius: float) -> str:
    return _outline(x - radius, y - radius, 2 * radius, 2 * radius, radius)
