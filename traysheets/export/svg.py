"""SVG: a page as a picture for record pages, from the same marks as the paper (SVG 1.1 and 2).

Stamps become symbols, so a tray of two hundred cells stays small. Everything that comes from a plan is escaped here.
Letters are left to the reader's fonts, but each text is held to the width it has on paper: nothing runs into its
neighbour. Which way a text runs is said with it, as the reader's program orders and shapes its letters.
"""

from collections.abc import Callable, Iterable
from html import escape
from typing import Any
from urllib.parse import urlsplit

from traysheets.base.directions import runs_left, turns
from traysheets.page.fonts import family, fonts_at_hand
from traysheets.page.lettering import MM_PER_POINT, width_mm
from traysheets.page.marks import Circle, Clip, Line, Link, Mark, Page, Path, Place, Rect, Stamp, Text
from traysheets.page.proof import prove
from traysheets.page.shaping import logical, shown

_FAMILY = "Noto Sans"
_FACES: dict[str, dict[str, str]] = {
    "regular": {},
    "bold": {"font-weight": "700"},
    "condensed": {"font-stretch": "condensed"},
    "condensed-bold": {"font-weight": "700", "font-stretch": "condensed"},
    "code": {"font-weight": "500", "style": "font-feature-settings:'zero'"},
}
_TURNED = {"start": "end", "middle": "middle", "end": "start"}
_NO_QUOTES = str.maketrans("", "", "'\\\"")
_SAFE_SCHEMES = ("", "http", "https")


def svg(page: Page, *, describe: str, css_class: str = "picture", prefix: str = "p") -> str:
    """The page as one `<svg>` element, for HTML or to stand alone. Raises SheetError when it cannot be drawn true.

    `describe` is what a reader hears who cannot see it. `prefix` begins every id: each picture of an HTML page has
    its own.
    """
    prove(page)
    picture = _Picture(prefix)
    drawn = picture.marks(page.marks)
    heading = {
        "xmlns": "http://www.w3.org/2000/svg",
        "class": css_class,
        "viewBox": f"0 0 {_n(page.width_mm)} {_n(page.height_mm)}",
        "role": "img",
        "aria-label": describe,
        "font-family": _families(),
    }
    symbols = "".join(picture.symbols)
    return _tag("svg", heading, f"<title>{escape(describe)}</title>{symbols}{drawn}")


def _families() -> str:
    """The built-in family and those of the fonts at hand, for a reader who has them; else any without serifs."""
    names = [_FAMILY, *filter(None, map(family, fonts_at_hand()))]
    quoted = (f"'{name.translate(_NO_QUOTES)}'" for name in dict.fromkeys(names))
    return ", ".join((*quoted, "sans-serif"))


def _n(value: float) -> str:
    """A number to a thousandth, without trailing zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _tag(name: str, attributes: dict[str, str], content: str = "") -> str:
    """An element; every attribute is escaped, the content is not: it is markup."""
    shown_attributes = "".join(f' {key}="{escape(value)}"' for key, value in attributes.items())
    return f"<{name}{shown_attributes}>{content}</{name}>" if content else f"<{name}{shown_attributes}/>"


def _numbers(**values: float) -> dict[str, str]:
    """Attributes that are numbers."""
    return {name: _n(value) for name, value in values.items()}


def _paint(mark: Any, unit_mm: float = 1.0) -> dict[str, str]:
    """How a mark is filled and stroked; lengths in the unit of its numbers."""
    attributes = {"fill": getattr(mark, "fill", None) or "none"}
    if mark.stroke:
        attributes |= {"stroke": mark.stroke, "stroke-width": _n(mark.stroke_mm / unit_mm)}
        dash_mm = getattr(mark, "dash_mm", ())
        if dash_mm:
            attributes["stroke-dasharray"] = " ".join(_n(part / unit_mm) for part in dash_mm)
    return attributes


class _Picture:
    """One picture in the making: its symbols and clips, each written once, and the ids given out.

    They go by what is in them, so that it does not show whether a stamp was made once or twice.
    """

    def __init__(self, prefix: str) -> None:
        self._prefix = prefix
        self._names: dict[Stamp, str] = {}
        self._written: dict[tuple[str, str], str] = {}
        self.symbols: list[str] = []

    def marks(self, marks: Iterable[Mark]) -> str:
        """Marks in their order."""
        return "".join(_DRAW[type(mark)](self, mark) for mark in marks)

    def _rect(self, rect: Rect) -> str:
        return _tag("rect", _box(rect) | _rounding(rect.radius_mm) | _paint(rect))

    def _line(self, line: Line) -> str:
        ends = _numbers(x1=line.x1_mm, y1=line.y1_mm, x2=line.x2_mm, y2=line.y2_mm)
        return _tag("line", ends | _paint(line))

    def _circle(self, circle: Circle) -> str:
        return _tag("circle", _numbers(cx=circle.x_mm, cy=circle.y_mm, r=circle.radius_mm) | _paint(circle))

    def _path(self, path: Path) -> str:
        attributes = {"d": "".join(_piece(piece) for piece in path.d)} | _paint(path, path.unit_mm)
        if path.unit_mm != 1:
            attributes["transform"] = f"scale({path.unit_mm:.6g})"
        return _tag("path", attributes)

    def _text(self, text: Text) -> str:
        words = shown(text.text)
        if not words.strip():
            return ""
        attributes = _numbers(x=text.x_mm, y=text.y_mm) | {"font-size": _n(text.size_pt * MM_PER_POINT)}
        if text.anchor != "start":
            attributes["text-anchor"] = text.anchor
        attributes |= {
            "textLength": _n(width_mm(text.text, text.face, text.size_pt)),
            "lengthAdjust": "spacingAndGlyphs",
        }
        if turns(text.text):
            words = logical(text.text)
            attributes |= _direction(words, text.anchor)
        return _tag("text", attributes | {"fill": text.colour} | _FACES[text.face], escape(words))

    def _clip(self, clip: Clip) -> str:
        name = self._once("clipPath", {}, _tag("rect", _box(clip) | _rounding(clip.radius_mm)))
        return _tag("g", {"clip-path": f"url(#{name})"}, self.marks(clip.marks))

    def _place(self, place: Place) -> str:
        where = f"translate({_n(place.x_mm)} {_n(place.y_mm)})"
        if place.turns % 4:
            where += f" rotate({90 * (place.turns % 4)})"
        return _tag("use", {"href": f"#{self._symbol(place.stamp)}", "transform": where})

    def _symbol(self, stamp: Stamp) -> str:
        """The id of a stamp, drawn when it is met first. Marks along its edge are seen whole."""
        if stamp not in self._names:
            self._names[stamp] = self._once("symbol", {"overflow": "visible"}, self.marks(stamp.marks))
        return self._names[stamp]

    def _once(self, kind: str, attributes: dict[str, str], content: str) -> str:
        """The id of an element that is not seen until it is used, written when it is met first."""
        if (kind, content) not in self._written:
            name = self._written[kind, content] = f"{self._prefix}-{kind[0]}{len(self._written) + 1}"
            self.symbols.append(_tag(kind, {"id": name} | attributes, content))
        return self._written[kind, content]

    def _link(self, link: Link) -> str:
        """A touch area over what is drawn; an address that is not one of the web or beside the page leads nowhere."""
        if urlsplit(link.url).scheme.lower() not in _SAFE_SCHEMES:
            return ""
        return _tag("a", {"href": link.url}, _tag("rect", _box(link) | {"fill": "transparent"}))


_DRAW: dict[type, Callable[[_Picture, Any], str]] = {
    Rect: _Picture._rect,
    Line: _Picture._line,
    Path: _Picture._path,
    Circle: _Picture._circle,
    Text: _Picture._text,
    Clip: _Picture._clip,
    Place: _Picture._place,
    Link: _Picture._link,
}
"""How a mark of each kind is drawn."""


def _direction(words: str, anchor: str) -> dict[str, str]:
    """How a text runs. One that runs from right to left starts at its right end (SVG 2, 11.10.2)."""
    if not runs_left(words):
        return {"direction": "ltr", "unicode-bidi": "isolate"}
    return {"direction": "rtl", "unicode-bidi": "isolate", "text-anchor": _TURNED[anchor]}


def _box(mark: Rect | Clip | Link) -> dict[str, str]:
    return _numbers(x=mark.x_mm, y=mark.y_mm, width=mark.width_mm, height=mark.height_mm)


def _rounding(radius_mm: float) -> dict[str, str]:
    return {"rx": _n(radius_mm)} if radius_mm else {}


def _piece(piece: tuple[Any, ...]) -> str:
    verb, *numbers = piece
    if verb == "R":
        x, y, width, height = (_n(number) for number in numbers)
        return f"M{x} {y}h{width}v{height}h{_n(-numbers[2])}z"
    return f"{verb}{' '.join(_n(number) for number in numbers)}"
