"""The words of a finished page: a list of marks with positions in millimetres. What prints it decides nothing.

The origin is the top left corner, x to the right, y down. A mark is a frozen value. There are few kinds on purpose:

    Rect Line Path Circle Text     what is seen
    Clip                           marks seen only inside a rectangle
    Stamp and Place                marks drawn once, placed many times
    Link                           where a touch on the page leads

A stamp has an origin of its own at its top left corner and a box that holds all its marks. Stamps are compared by
identity: make one, place it often.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from traysheets.page.correction import Correction

Colour: TypeAlias = str
"""An sRGB colour as `#RRGGBB`."""

BLACK: Colour = "#000000"
WHITE: Colour = "#FFFFFF"


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle, filled, stroked or both; `radius_mm` rounds its corners. The edge is the middle of the stroke."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    fill: Colour | None = None
    stroke: Colour | None = None
    stroke_mm: float = 0.25
    radius_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; `dash_mm` gives lengths on and off."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    stroke: Colour = BLACK
    stroke_mm: float = 0.25
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Path:
    """Straight and curved pieces: `d` holds ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y), ("Z",) or
    ("R", x, y, width, height), a whole rectangle.

    Filled by the nonzero rule. A path may be drawn on a grid of its own: then `unit_mm` is the size of its squares,
    and the numbers of `d` are whole ones that count squares from the origin.
    """

    d: tuple[tuple[str | float, ...], ...]
    fill: Colour | None = None
    stroke: Colour | None = None
    stroke_mm: float = 0.25
    dash_mm: tuple[float, ...] = ()
    unit_mm: float = 1.0


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle about its centre."""

    x_mm: float
    y_mm: float
    radius_mm: float
    fill: Colour | None = None
    stroke: Colour | None = None
    stroke_mm: float = 0.25


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its base line. `face` is a name of `page.faces.FACES`.

    `anchor` says what part of the text stands at `x_mm`: "start", "middle" or "end".
    """

    x_mm: float
    y_mm: float
    text: str
    face: str = "regular"
    size_pt: float = 9.0
    colour: Colour = BLACK
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Clip:
    """Marks seen only inside a rectangle (rounded by `radius_mm`)."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    marks: tuple["Mark", ...]
    radius_mm: float = 0.0


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Stamp:
    """Marks drawn once: `width_mm` x `height_mm`, origin at the top left. `name` tells what it is, for messages
    alone; `stands_for` what it counts as where things on pages are counted, empty when it is mere drawing.

    `reads` is the text of a stamp that is a QR code, quiet zone included: what a scanner must find in its marks.
    """

    name: str
    width_mm: float
    height_mm: float
    marks: tuple["Mark", ...]
    reads: str = ""
    stands_for: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """A stamp set down with its origin at (x, y). `turns` quarter turns clockwise about that point."""

    stamp: Stamp
    x_mm: float
    y_mm: float
    turns: int = 0


@dataclass(frozen=True, slots=True)
class Link:
    """A rectangle that leads to `url` when touched on a screen."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    url: str


MARGIN_MM = 6.35
"""Edge of a page that most printers leave blank: a quarter of an inch."""

Mark: TypeAlias = Rect | Line | Path | Circle | Text | Clip | Place | Link


@dataclass(frozen=True, slots=True)
class Page:
    """A finished page. `title` names it in the bookmarks (none when empty).

    `margin_mm` is the edge that must stay free of marks, alike on all sides; 0 where the stock fills the page.
    `stands_for` is what it counts as where pages are counted, nothing when it only goes on with another.
    """

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    title: str = ""
    margin_mm: float = MARGIN_MM
    stands_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """What one file is to hold: its title, and its pages one at a time; and how to correct them for a printer.

    `first_page` is the number of its first page, not 1 where the file goes on with what another begins.
    """

    title: str
    pages: Iterator[Page]
    subject: str = ""
    author: str = ""
    language: str = "en"
    correction: Correction | None = None
    first_page: int = 1
