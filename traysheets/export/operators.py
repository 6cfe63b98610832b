"""Content streams: marks turned into the drawing operators of PDF (ISO 32000-1, 8 and 9), as text.

Millimetres become points, and y is turned to run up: the origin of a stream is the top left corner of its page or
stamp, so that a place is `x k, -y k`. How lengths and paths are written is `export/path_operators.py`; what a document
holds beside its streams is `export/pdf.py`.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Any, TypeAlias, cast

from traysheets.export.path_operators import (
    HUNDREDTHS_PER_MM,
    POINTS_PER_MM,
    circle_path,
    grid_piece,
    hundredths,
    number,
    path_pieces,
    points,
    rect_path,
)
from traysheets.page.correction import Stretch
from traysheets.page.lettering import width_mm
from traysheets.page.marks import Circle, Clip, Colour, Line, Link, Mark, Path, Place, Rect, Stamp, Text
from traysheets.page.reach import ANCHORS

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
            outline = rect_path(rect.x_mm, rect.y_mm, rect.width_mm, rect.height_mm, rect.radius_mm)
            self._paint(outline, rect.fill, rect.stroke, points(rect.stroke_mm))

    def _lines(self, lines: Iterable[Line]) -> None:
        for line in lines:
            self._dash([points(part) for part in line.dash_mm])
            ends = (("M", line.x1_mm, line.y1_mm), ("L", line.x2_mm, line.y2_mm))
            self._paint(path_pieces(ends), None, line.stroke, points(line.stroke_mm))

    def _circles(self, circles: Iterable[Circle]) -> None:
        for circle in circles:
            if circle.stroke:
                self._dash(())
            path = circle_path(circle.x_mm, circle.y_mm, circle.radius_mm)
            self._paint(path, circle.fill, circle.stroke, points(circle.stroke_mm))

    def _paths(self, paths: Iterable[Path]) -> None:
        for path in paths:
            if path.unit_mm != 1:
                self._grid_path(path)
                continue
            if path.stroke:
                self._dash([points(part) for part in path.dash_mm])
            self._paint(path_pieces(path.d), path.fill, path.stroke, points(path.stroke_mm))

    def _grid_path(self, path: Path) -> None:
        """A path on a grid of its own: the page is scaled, so that its numbers stay whole, and so stay short."""
        outside = self._save()
        unit = number(path.unit_mm * POINTS_PER_MM, 6)
        self._code.append(f"{unit} 0 0 {unit} 0 0 cm")
        if path.stroke:
            self._dash([number(part / path.unit_mm, 4) for part in path.dash_mm])
        pieces = " ".join([grid_piece(*piece) for piece in cast("Iterable[tuple[Any, ...]]", path.d)])
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
            outline = rect_path(clip.x_mm, clip.y_mm, clip.width_mm, clip.height_mm, clip.radius_mm)
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
            step = f"1 0 0 1 {hundredths(to_x - x)} {hundredths(to_y - y)} cm " if (to_x, to_y) != (x, y) else ""
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
