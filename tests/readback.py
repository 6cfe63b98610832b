"""Reading a PDF back into marks: what is on each page, in mm from the top left corner, stamps and matrices resolved.

Independent of what wrote the file: operators by pypdf, letters by the file's own ToUnicode tables, widths by its own
tables of widths. Where a page differs from the marks it was made from is told by `meant`.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import hypot
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

from traysheets.page.faces import FACES
from traysheets.page.marks import Circle, Line, Link, Path, Rect

MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1, 0, 0, 1, 0, 0)
_FACE_OF_FILE = {name.removesuffix(".ttf"): face for face, name in FACES.items()}


@dataclass(frozen=True)
class SeenText:
    """A line of text as the file holds it: start of its base line, face, size, width, and quarter turns clockwise."""

    x_mm: float
    y_mm: float
    text: str
    face: str
    size_pt: float
    colour: str
    width_mm: float
    turns: int = 0


@dataclass(frozen=True)
class SeenPlace:
    """A stamp set down: its name in the file, where its origin is, and how it is turned."""

    name: str
    x_mm: float
    y_mm: float
    turns: int


@dataclass
class SeenPage:
    """What a page shows. `marks` are in the order painted; the lists by kind come from it. `clips` are areas alone."""

    width_mm: float
    height_mm: float
    marks: list[Any] = field(default_factory=list)
    places: list[SeenPlace] = field(default_factory=list)
    clips: list[Rect] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)

    @property
    def rects(self) -> list[Rect]:
        return [mark for mark in self.marks if isinstance(mark, Rect)]

    @property
    def lines(self) -> list[Line]:
        return [mark for mark in self.marks if isinstance(mark, Line)]

    @property
    def circles(self) -> list[Circle]:
        return [mark for mark in self.marks if isinstance(mark, Circle)]

    @property
    def paths(self) -> list[Path]:
        return [mark for mark in self.marks if isinstance(mark, Path)]

    @property
    def texts(self) -> list[SeenText]:
        return [mark for mark in self.marks if isinstance(mark, SeenText)]

    @property
    def words(self) -> list[str]:
        """The texts alone, in the order painted."""
        return [text.text for text in self.texts]


def read_back(pdf: bytes) -> list[SeenPage]:
    """Every page of a PDF file as marks."""
    file = _File(PdfReader(io.BytesIO(pdf)))
    return [_Page(file, page).seen for page in file.reader.pages]


# Matrices: x' = a x + c y + e, y' = b x + d y + f.


def times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    A, B, C, D, E, F = then  # noqa: N806
    return (a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F)


def apply(m: Matrix, x: float, y: float) -> tuple[float, float]:
    return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]


def turns(m: Matrix) -> int:
    """Quarter turns clockwise of a matrix that leads to mm with y down."""
    right = m[0], m[1]
    return max(range(4), key=lambda turns: right[0] * (1, 0, -1, 0)[turns] + right[1] * (0, 1, 0, -1)[turns])


class _File:
    """A file, and what of it was read already: forms and fonts stand on many pages."""

    def __init__(self, reader: PdfReader) -> None:
        self.reader = reader
        self._operations: dict[int, list[tuple[Any, str]]] = {}
        self._fonts: dict[str, _Font] = {}

    def operations(self, stream: Any) -> list[tuple[Any, str]]:
        """The operators of a stream with their operands."""
        key = stream.indirect_reference.idnum
        if key not in self._operations:
            found = ContentStream(stream, self.reader).operations
            self._operations[key] = [(operands, operator.decode()) for operands, operator in found]
        return self._operations[key]

    def font(self, font: Any) -> _Font:
        """A font by its name, which has a tag of its own for every part (ISO 32000-1, 9.6.4)."""
        name = str(font["/BaseFont"])
        if name not in self._fonts:
            self._fonts[name] = _Font(font)
        return self._fonts[name]


class _Page:
    """The interpreter: one page's operators followed, stamps entered wherever they are placed."""

    def __init__(self, file: _File, page: Any) -> None:
        self._file = file
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        self.seen = SeenPage(width * MM, height * MM)
        to_mm: Matrix = (MM, 0, 0, -MM, 0, height * MM)
        self._run(page["/Contents"].get_object(), page["/Resources"], _State(to_mm))
        self.seen.links = [_link(annotation.get_object(), to_mm) for annotation in page.get("/Annots", [])]

    def _run(self, stream: Any, resources: Any, state: _State) -> None:
        stack: list[_State] = []
        pieces: list[tuple[Any, ...]] = []
        clipping = False
        for operands, name in self._file.operations(stream):
            if name == "q":
                stack.append(replace(state))
            elif name == "Q":
                state = stack.pop()
            elif name in _PATH_VERBS:
                pieces.append((_PATH_VERBS[name], *map(float, operands)))
            elif name == "W":
                clipping = True
            elif name in {"f", "S", "B", "n"}:
                self._paint(name, pieces, state, clipping=clipping)
                pieces, clipping = [], False
            elif name == "Do":
                self._place(str(operands[0]), resources, state)
            elif name in {"BT", "Td", "Tf", "Tj", "ET"}:
                self._letters(name, operands, resources, state)
            else:
                state.set(name, operands)

    def _paint(self, name: str, pieces: list[tuple[Any, ...]], state: _State, *, clipping: bool) -> None:
        fill = state.fill if name in "fB" else None
        stroke = state.stroke if name in "SB" else None
        path = Path(tuple(pieces), fill, stroke, state.width, state.dash)
        mark = recognised(moved(path, state.matrix, hypot(*state.matrix[:2])))
        if clipping:
            assert isinstance(mark, Rect | Circle), "a clip is a rectangle"
            self.seen.clips.append(mark if isinstance(mark, Rect) else _square(mark))
        elif name != "n":
            self.seen.marks.append(mark)

    def _place(self, name: str, resources: Any, state: _State) -> None:
        form = resources["/XObject"][name].get_object()
        assert form["/Subtype"] == "/Form"
        x, y = apply(state.matrix, 0, 0)
        self.seen.places.append(SeenPlace(name[1:], x, y, turns(state.matrix)))
        self._run(form, form["/Resources"], replace(state))

    def _letters(self, name: str, operands: Any, resources: Any, state: _State) -> None:
        if name == "BT":
            state.at, state.words = (0.0, 0.0), []
        elif name == "Td":
            state.at = (state.at[0] + float(operands[0]), state.at[1] + float(operands[1]))
        elif name == "Tf":
            state.font = self._file.font(resources["/Font"][operands[0]].get_object())
            state.size = float(operands[1])
        elif name == "Tj":
            assert state.font
            state.words.append((state.font, operands[0].original_bytes))
        elif state.words:
            self.seen.marks.append(_text(state))


@dataclass
class _State:
    """The graphics state, as far as it is used."""

    matrix: Matrix
    fill: str = "#000000"
    stroke: str = "#000000"
    width: float = 1.0
    dash: tuple[float, ...] = ()
    font: _Font | None = None
    size: float = 0.0
    at: tuple[float, float] = (0.0, 0.0)
    words: list[tuple[_Font, bytes]] = field(default_factory=list)

    def set(self, name: str, operands: Any) -> None:
        if name == "cm":
            self.matrix = times(tuple(map(float, operands)), self.matrix)  # type: ignore[arg-type]
        elif name in {"rg", "g"}:
            self.fill = _colour(operands)
        elif name in {"RG", "G"}:
            self.stroke = _colour(operands)
        elif name == "w":
            self.width = float(operands[0])
        elif name == "d":
            self.dash = tuple(map(float, operands[0]))
        else:
            raise AssertionError(f"an operator not looked for: {name}")


_PATH_VERBS = {"m": "M", "l": "L", "c": "C", "h": "Z", "re": "R"}


def _colour(numbers: Iterable[Any]) -> str:
    parts = [round(float(number) * 255) for number in numbers]
    return "#" + "".join(f"{part:02X}" for part in (parts if len(parts) == 3 else parts * 3))


class _Font:
    """A font of the file: its face, the characters of its codes, and their widths, in thousandths of its size.

    A composite font has codes of two bytes and goes by its own name (ISO 32000-1, 9.7).
    """

    def __init__(self, font: Any) -> None:
        base = str(font["/BaseFont"]).split("+")[-1].lstrip("/")
        self.composite = font["/Subtype"] == "/Type0"
        self.face = base if self.composite else _FACE_OF_FILE[base]
        self.characters = dict(_to_unicode(font["/ToUnicode"].get_data().decode("latin-1")))
        if self.composite:
            first, widths = font["/DescendantFonts"][0].get_object()["/W"]
        else:
            first, widths = font["/FirstChar"], font["/Widths"]
        self.first, self.widths = int(first), [float(width) for width in widths]

    def codes(self, codes: bytes) -> Sequence[int]:
        """The numbers of the letters in a string."""
        return (
            [high * 256 + low for high, low in zip(codes[::2], codes[1::2], strict=True)] if self.composite else codes
        )

    def read(self, codes: bytes) -> str:
        return "".join(self.characters[code] for code in self.codes(codes))

    def width(self, codes: bytes) -> float:
        return sum(self.widths[code - self.first] for code in self.codes(codes)) / 1000


def _to_unicode(table: str) -> Iterator[tuple[int, str]]:
    """Code and characters of a ToUnicode table (ISO 32000-1, 9.10.3)."""
    for block in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for code, text in re.findall(r"<(\w+)>\s*<(\w+)>", block):
            yield int(code, 16), _utf16(text)
    for block in re.findall(r"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for first, _last, texts in re.findall(r"<(\w+)>\s*<(\w+)>\s*\[(.*?)\]", block, re.DOTALL):
            for i, text in enumerate(re.findall(r"<(\w+)>", texts)):
                yield int(first, 16) + i, _utf16(text)
        for first, last, text in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            for code in range(int(first, 16), int(last, 16) + 1):
                yield code, chr(int(text, 16) + code - int(first, 16))


def _utf16(digits: str) -> str:
    return bytes.fromhex(digits).decode("utf-16-be")


def _text(state: _State) -> SeenText:
    x, y = apply(state.matrix, *state.at)
    wide = sum(font.width(codes) for font, codes in state.words) * state.size * MM
    words = "".join(font.read(codes) for font, codes in state.words)
    return SeenText(x, y, words, state.words[0][0].face, state.size, state.fill, wide, turns(state.matrix))


def _link(annotation: Any, to_mm: Matrix) -> Link:
    left, bottom, right, top = (float(side) for side in annotation["/Rect"])
    x, y = apply(to_mm, left, top)
    return Link(x, y, (right - left) * MM, (top - bottom) * MM, str(annotation["/A"]["/URI"]))


def moved(path: Path, m: Matrix, scale: float) -> Path:
    """A path in the coordinates that a matrix leads to."""
    d = []
    for verb, *numbers in path.d:
        if verb == "R":
            x, y, width, height = numbers
            (x1, y1), (x2, y2) = apply(m, x, y), apply(m, x + width, y + height)
            d.append(("R", min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1)))
        else:
            points = [apply(m, *numbers[i : i + 2]) for i in range(0, len(numbers), 2)]
            d.append((verb, *(number for point in points for number in point)))
    dash = tuple(part * scale for part in path.dash_mm)
    return Path(tuple(d), path.fill, path.stroke, path.stroke_mm * scale, dash)


def recognised(path: Path) -> Rect | Line | Circle | Path:
    """A path as the plainest mark that it is."""
    verbs = "".join(str(piece[0]) for piece in path.d)
    ink: dict[str, Any] = {"fill": path.fill, "stroke": path.stroke, "stroke_mm": path.stroke_mm}
    if verbs == "R":
        return Rect(*path.d[0][1:], **ink)
    if verbs == "ML" and not path.fill and path.stroke:
        return Line(*path.d[0][1:], *path.d[1][1:], path.stroke, path.stroke_mm, path.dash_mm)
    if verbs != "MLCLCLCLCZ":
        return path
    ends = [(float(piece[-2]), float(piece[-1])) for piece in path.d[:-1]]
    xs, ys = [x for x, _ in ends], [y for _, y in ends]
    left, top, width, height = min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)
    radius = max(hypot(ends[2][0] - ends[1][0], ends[2][1] - ends[1][1]) / 2**0.5, 0)
    if abs(width - height) < 0.01 and abs(radius - width / 2) < 0.01:
        return Circle(left + width / 2, top + height / 2, width / 2, **ink)
    return Rect(left, top, width, height, **ink, radius_mm=radius)


def _square(circle: Circle) -> Rect:
    r = circle.radius_mm
    return Rect(circle.x_mm - r, circle.y_mm - r, 2 * r, 2 * r, radius_mm=r)
