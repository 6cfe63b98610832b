"""The way to pdfium, which opens and draws PDF files: the one place that knows its names.

It and the reader of QR codes are an extra of the program. What is asked of pages is `pages.py` and `codes.py`.
"""

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Any, TypeAlias

EXTRA = "in your copy of traysheets: pip install '.[verify]'"

Bounds: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right and top of something drawn, in points of the page."""
Matrix: TypeAlias = tuple[float, float, float, float, float, float]
_IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_MOST_DEEP = 12
"""Stamps in stamps are followed no further: no sheet of ours needs it, and a file that means harm may go round."""


class UnopenableError(Exception):
    """A file that pdfium cannot open: its message says why."""


def is_there() -> bool:
    """Whether the extra is installed."""
    return find_spec("pypdfium2") is not None and find_spec("zxingcpp") is not None


@dataclass(frozen=True, slots=True)
class Drawn:
    """An object of a page, and two matrices to the page's coordinates, in points, y up: from its own, and from those
    of the stamp it is in.
    """

    kind: int
    handle: Any
    matrix: Matrix
    outer: Matrix


def opened(data: bytes) -> Any:
    """The document. Raises UnopenableError."""
    import pypdfium2

    try:
        return pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        if getattr(error, "err_code", None) == pypdfium2.raw.FPDF_ERR_PASSWORD or "password" in str(error).lower():
            raise UnopenableError("it is locked with a password; sheets of ours never are") from None
        raise UnopenableError("it cannot be opened: it was damaged or changed; make or copy it again") from None


def foot(document: Any, index: int, high: float) -> str:
    """The text in the lowest part of a page, so many points high; nothing where the page cannot be read."""
    try:
        page = document[index]
    except broken():
        return ""
    try:
        text: str = page.get_textpage().get_text_bounded(0, 0, page.get_width(), high)
        return text
    except broken():
        return ""
    finally:
        page.close()


def bookmarks(document: Any) -> list[tuple[str, int | None]]:
    """The title of every bookmark and the index of the page that it leads to; none where they cannot be read."""
    try:
        marks = [(mark.get_title(), mark.get_dest()) for mark in document.get_toc()]
        return [(title, where.get_index() if where else None) for title, where in marks]
    except broken():
        return []


def drawn(page: Any) -> Iterator[Drawn]:
    """Everything on a page that leaves ink, stamps opened."""
    from pypdfium2 import raw

    for i in range(raw.FPDFPage_CountObjects(page.raw)):
        yield from _opened(raw.FPDFPage_GetObject(page.raw, i), _IDENTITY, 0)


def _opened(handle: Any, outer: Matrix, deep: int) -> Iterator[Drawn]:
    from pypdfium2 import raw

    kind, matrix = raw.FPDFPageObj_GetType(handle), _times(_matrix(handle), outer)
    if kind != raw.FPDF_PAGEOBJ_FORM:
        yield Drawn(kind, handle, matrix, outer)
    elif deep < _MOST_DEEP:
        for i in range(raw.FPDFFormObj_CountObjects(handle)):
            yield from _opened(raw.FPDFFormObj_GetObject(handle, i), matrix, deep + 1)


def _matrix(handle: Any) -> Matrix:
    from pypdfium2 import raw

    found = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(handle, ctypes.byref(found))
    return found.a, found.b, found.c, found.d, found.e, found.f


def _times(first: Matrix, then: Matrix) -> Matrix:
    """One matrix after the other."""
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m


def straight(drawn_path: Drawn) -> tuple[float, float, float, float] | None:
    """The ends of a path that is one straight line, in points of the page; None for any other."""
    from pypdfium2 import raw

    handle = drawn_path.handle
    if raw.FPDFPath_CountSegments(handle) != 2:
        return None
    ends: list[float] = []
    for i in range(2):
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(handle, i), ctypes.byref(x), ctypes.byref(y))
        ends += _point(drawn_path.matrix, x.value, y.value)
    return ends[0], ends[1], ends[2], ends[3]


def _point(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def bounds(item: Drawn) -> Bounds:
    """Left, bottom, right and top of an object in points of the page."""
    from pypdfium2 import raw

    sides = [ctypes.c_float() for _ in range(4)]
    raw.FPDFPageObj_GetBounds(item.handle, *map(ctypes.byref, sides))
    left, bottom, right, top = (side.value for side in sides)
    ends = [_point(item.outer, x, y) for x in (left, right) for y in (bottom, top)]
    xs, ys = [x for x, _ in ends], [y for _, y in ends]
    return min(xs), min(ys), max(xs), max(ys)


def font(item: Drawn) -> tuple[str, bool]:
    """The name of the font of a text, and whether the file carries it."""
    from pypdfium2 import raw

    found = raw.FPDFTextObj_GetFont(item.handle)
    name = ctypes.create_string_buffer(256)
    raw.FPDFFont_GetBaseFontName(found, name, len(name))
    return name.value.decode("utf-8", "replace"), raw.FPDFFont_GetIsEmbedded(found) == 1


def is_text(item: Drawn) -> bool:
    """Whether an object is letters."""
    from pypdfium2 import raw

    return bool(item.kind == raw.FPDF_PAGEOBJ_TEXT)


def is_path(item: Drawn) -> bool:
    """Whether an object is lines or areas."""
    from pypdfium2 import raw

    return bool(item.kind == raw.FPDF_PAGEOBJ_PATH)


def is_picture(item: Drawn) -> bool:
    """Whether an object is a picture made of dots."""
    from pypdfium2 import raw

    return bool(item.kind == raw.FPDF_PAGEOBJ_IMAGE)


@dataclass(frozen=True, slots=True)
class Manners:
    """How a file is to be treated, and what in it is no sheet."""

    encrypted: bool
    table_is_sound: bool
    print_scaling: bool
    scripts: int
    attachments: int


def manners(document: Any) -> Manners:
    """What a document says of how to treat it."""
    from pypdfium2 import raw

    return Manners(
        raw.FPDF_GetSecurityHandlerRevision(document.raw) != -1,
        bool(raw.FPDF_DocumentHasValidCrossReferenceTable(document.raw)),
        bool(raw.FPDF_VIEWERREF_GetPrintScaling(document.raw)),
        raw.FPDFDoc_GetJavaScriptActionCount(document.raw),
        raw.FPDFDoc_GetAttachmentCount(document.raw),
    )


def broken() -> type[Exception]:
    """What is raised for a page that cannot be read."""
    import pypdfium2

    error: type[Exception] = pypdfium2.PdfiumError
    return error
