"""Lettering: the faces, how wide a text is, how to make it fit, and which characters no face has.

Measured from the font files alone, so that laying out never needs the printer.
"""

from dataclasses import dataclass

FACES: dict[str, str] = {
    "regular": "NotoSans-Regular.ttf",
    "bold": "NotoSans-Bold.ttf",
    "condensed": "NotoSansCondensed-Regular.ttf",
    "condensed-bold": "NotoSansCondensed-Bold.ttf",
    "code": "NotoSansCode-Medium.ttf",
}
"""Name of a face and its file in `fonts/`."""

NARROWER: dict[str, str] = {"regular": "condensed", "bold": "condensed-bold"}
"""The condensed face to fall back to."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Text made to fit: its lines, the face and size they are to be set in, and whether an ellipsis cut it."""

    lines: tuple[str, ...]
    face: str
    size_pt: float
    cut: bool


def width_mm(text: str, face: str, size_pt: float) -> float:
    """Advance width of a line of text."""
    raise NotImplementedError


def cap_height_mm(face: str, size_pt: float) -> float:
    """Height of capital letters and figures above the base line."""
    raise NotImplementedError


def ascent_mm(face: str, size_pt: float) -> float:
    """How far the tallest usual letter (accented capital) reaches above the base line."""
    raise NotImplementedError


def descent_mm(face: str, size_pt: float) -> float:
    """How far letters reach below the base line, as a positive length."""
    raise NotImplementedError


def missing(text: str, face: str = "regular") -> tuple[str, ...]:
    """The characters of `text` that the face has no glyph for, each once, leaving joiners and variation selectors out."""
    raise NotImplementedError


def fit(
    text: str,
    face: str,
    width_mm: float,
    size_pt: float,
    least_pt: float,
    lines: int = 1,
    leading: float = 1.15,
    height_mm: float | None = None,
) -> Fitted:
    """Make a text fit a width: condensed first, then set smaller down to `least_pt`, then wrapped over up to
    `lines` lines (when they fit `height_mm`), then cut with an ellipsis.
    """
    raise NotImplementedError
