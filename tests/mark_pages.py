"""Pages drawn by hand for the tests: every kind of mark, in every way it can be set."""

import io
from collections.abc import Iterable

from traysheets.export.pdf import write_pdf
from traysheets.page import hatches, palette, qr
from traysheets.page.faces import FACES
from traysheets.page.marks import BLACK, Circle, Clip, Document, Line, Link, Mark, Page, Path, Place, Rect, Stamp, Text

URL = "HTTPS://RECORDS.EXAMPLE.ORG/B/27-014-K"

CURVED = Path((("M", 0, 0), ("L", 10, 0), ("C", 12, 4, 6, 8, 0, 5), ("Z",)), fill="#E17D27", stroke=BLACK)
ON_A_GRID = Path((("R", 1, 2, 3, 1), ("R", 0, 4, 1, 2)), fill=BLACK, unit_mm=0.75)
DASHED = Path((("M", 2, 3), ("L", 14, 9), ("L", 14, 2)), stroke="#109EEB", stroke_mm=0.5, dash_mm=(2, 1))

PLAIN: tuple[Mark, ...] = (
    Rect(10, 10, 30, 12, fill="#81DFFF"),
    Rect(45, 10, 30, 12, stroke=BLACK, stroke_mm=0.4, radius_mm=2),
    Rect(80, 10, 30, 12, fill="#F1F309", stroke="#9999AB", radius_mm=6),
    Line(10, 30, 60, 31.5),
    Line(10, 35, 60, 35, stroke="#E17D27", stroke_mm=1, dash_mm=(3, 1.5)),
    Circle(80, 33, 4, fill="#C5D8CF"),
    Circle(95, 33, 4.5, stroke=BLACK, stroke_mm=0.3),
    CURVED,
    DASHED,
    ON_A_GRID,
    Text(10, 50, "Longstalk Winter", "bold", 14),
    Text(100, 57, "right (of) it \\ all", "condensed", 9, "#109EEB", "end"),
    Text(100, 63, "in the middle", "regular", 9, BLACK, "middle"),
)


def cell(name: str, text: str) -> Stamp:
    """A picture of a cell, hatched, with its letters on a plate."""
    hatch = hatches.hatched(name, 14, 12, palette.fill(1), 1)
    plate = Rect(3, 3, 8, 6, fill="#FFFFFF")
    return Stamp(f"cell {name}", 14, 12, (hatch, plate, Text(7, 8, text, "bold", 10, anchor="middle")))


def every_mark() -> Page:
    """A page that bears every kind of mark: stamps in stamps, turned every way, clips, links, all faces, a QR code."""
    code = qr.code(URL, 20)
    card = Stamp(
        "card", 40, 24, (Rect(0, 0, 40, 24, stroke=BLACK), Place(code.stamp, 2, 2), Text(23, 8, "27-014-K", "code", 9))
    )
    clipped = Clip(120, 70, 20, 10, (Rect(110, 65, 60, 10, fill="#B2907C"), Line(118, 66, 145, 82)), 2)
    rows = [Place(cell(name, "LW"), 12 + 15 * (i % 8), 75 + 13 * (i // 8)) for i, name in enumerate(hatches.HATCHES)]
    letters = [
        Text(10, 200 + 7 * i, f"Ärtor Örtchen Жито Ωμέγα Tô 3 × 2 {face}", face, 11) for i, face in enumerate(FACES)
    ]
    turned = [Place(card, 100, 150, turns) for turns in range(4)]
    shifted = tuple(
        Place(Stamp("shape", 16, 10, (mark,)), 150, 20 + 12 * i) for i, mark in enumerate((CURVED, DASHED, ON_A_GRID))
    )
    links = (Link(12, 75, 14, 12, URL), Link(30, 75, 14, 12, "https://records.example.org/é?a=1&b=(2)"))
    plain = tuple(mark for mark in PLAIN if not isinstance(mark, Path))
    return Page(210, 297, (*plain, clipped, *shifted, *rows, *turned, *letters, *links), "Every mark")


def pdf_of(pages: Iterable[Page], title: str = "Trial", **facts: str) -> bytes:
    """The pages as a PDF file."""
    file = io.BytesIO()
    write_pdf(Document(title, iter(pages), **facts), file)  # type: ignore[arg-type]
    return file.getvalue()
