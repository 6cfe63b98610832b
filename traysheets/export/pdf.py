"""PDF: a document's pages written to a file. The only user of reportlab, for the file's objects and the embedded fonts.

Pages come one at a time and leave nothing behind but their compressed streams. A stamp becomes a Form XObject the first time
it is placed. Nothing of the user's surroundings shows in the file: no date, no name of a machine, no settings of reportlab's own.
What a page looks like is decided by its marks; how marks are written is `export/operators.py`.
"""

import zlib
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Any, BinaryIO
from urllib.parse import quote
from weakref import WeakKeyDictionary

from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFObjectReference,
    PDFStream,
    PDFString,
)
from reportlab.pdfbase.ttfonts import TTFont

from traysheets.base.bundle import bundled
from traysheets.export.operators import POINTS_PER_MM, Form, Runs, Stream, number, points
from traysheets.page.lettering import FACES, shown
from traysheets.page.marks import Document, Link, Page, Stamp
from traysheets.page.proof import BLEED_MM, prove

PROGRAM = "traysheets"

_ESCAPES = {ord(character): "\\" + character for character in "()\\"} | {10: "\\n", 13: "\\r"}
_URL_SAFE = "%/:=&?~#+!$,;'@()*[]"


def write_pdf(document: Document, file: BinaryIO) -> None:
    """Write all pages of a document. Raises SheetError for a page that cannot be printed true, before anything is written."""
    writer = _Writer(document)
    for page in document.pages:
        prove(page)
        writer.add(page)
    file.write(writer.finished())


@cache
def _font(face: str) -> Any:
    """A face for embedding. It holds the state of every document in hand apart from the others."""
    return TTFont(face, str(bundled("fonts") / FACES[face]), asciiReadable=False)


class _Dictionary(PDFDictionary):
    """A dictionary in few bytes: keys in the order given, which are all plain names, and no line breaks."""

    def format(self, document: Any) -> bytes:
        """The dictionary as it stands in the file."""
        entries = [f"/{name} ".encode("ascii") + pdfdoc.format(entry, document) for name, entry in self.dict.items()]
        return b"<< " + b" ".join(entries) + b" >>"


class _Stream(PDFStream):
    """A stream whose content is compressed already."""

    def format(self, document: Any) -> bytes:
        """The stream as it stands in the file."""
        self.dictionary["Length"] = len(self.content)
        heading: bytes = self.dictionary.format(document)
        return b"".join((heading, b"\nstream\n", self.content, b"\nendstream\n"))


class _Writer:
    """One PDF file in the making."""

    def __init__(self, document: Document) -> None:
        self._pdf: Any = PDFDocument(
            dummyoutline=1, compression=1, invariant=1, pdfVersion=(1, 7), lang=document.language
        )
        self._forms: WeakKeyDictionary[Stamp, Form] = WeakKeyDictionary()
        self._form_count = 0
        self._titles: list[tuple[str, Any]] = []
        self._runs = lru_cache(maxsize=4096)(self._split)
        self._describe(document)

    def _describe(self, document: Document) -> None:
        """What the file says of itself, and how viewers are to treat it: at true size, with the title in the window."""
        facts = {"Title": document.title, "Author": document.author, "Subject": document.subject}
        facts |= {"Creator": PROGRAM, "Producer": PROGRAM}
        self._pdf.info = _Dictionary({name: PDFString(fact) for name, fact in facts.items() if fact})
        viewer = _Dictionary({"PrintScaling": PDFName("None"), "DisplayDocTitle": "true"})
        self._pdf.Catalog.ViewerPreferences = viewer

    def _split(self, text: str, face: str) -> Runs:
        """A text in the codes of the parts of its font, which grow as characters are met."""
        font = _font(face)
        return [
            (font.getSubsetInternalName(subset, self._pdf), f"({codes.decode('latin-1').translate(_ESCAPES)})")
            for subset, codes in font.splitString(shown(text), self._pdf)
        ]

    def _form(self, stamp: Stamp) -> Form:
        form = self._forms.get(stamp)
        if form is None:
            form = self._forms[stamp] = self._new_form(stamp)
        return form

    def _new_form(self, stamp: Stamp) -> Form:
        """Write a stamp. Its box is a little larger than the stamp, so that strokes along the edge are whole."""
        stream = Stream(self._runs, self._form)
        stream.draw(stamp.marks)
        left, top = number(-BLEED_MM * POINTS_PER_MM), points(BLEED_MM)
        box = f"[ {left} {points(-stamp.height_mm - BLEED_MM)} {points(stamp.width_mm + BLEED_MM)} {top} ]"
        heading = {"Type": PDFName("XObject"), "Subtype": PDFName("Form"), "BBox": box, "Resources": _resources(stream)}
        reference = self._pdf.Reference(self._stream(stream, heading))
        self._form_count += 1
        return Form(f"S{self._form_count}", reference, tuple(stream.links))

    def _stream(self, stream: Stream, heading: dict[str, Any] | None = None) -> Any:
        """A compressed stream; it has its part in the file's fingerprint."""
        content = zlib.compress(stream.code)
        self._pdf.updateSignature(content)
        return _Stream(_Dictionary({**(heading or {}), "Filter": PDFName("FlateDecode")}), content)

    def add(self, page: Page) -> None:
        """Write one page."""
        stream = Stream(self._runs, self._form)
        stream.move(0, -page.height_mm)
        stream.draw(page.marks)
        size = [number(side_mm * POINTS_PER_MM, 3) for side_mm in (page.width_mm, page.height_mm)]
        entries = {
            "Type": PDFName("Page"),
            "Parent": self._pdf.Reference(self._pdf.Pages),
            "MediaBox": PDFArray([0, 0, *size]),
            "Contents": self._pdf.Reference(self._stream(stream)),
            "Resources": _resources(stream),
        }
        if stream.links:
            entries["Annots"] = PDFArray([_annotation(link, page.height_mm) for link in stream.links])
        leaf = _Dictionary(entries)
        reference = self._pdf.Reference(leaf)
        self._pdf.Pages.addPage(leaf)
        if page.title:
            self._titles.append((page.title, reference))

    def finished(self) -> bytes:
        """The whole file."""
        for font in self._pdf.delayedFonts:
            font.addObjects(self._pdf)
        self._pdf.Catalog.Outlines = self._bookmarks()
        data: bytes = self._pdf.format()
        return data

    def _bookmarks(self) -> Any:
        """A flat list of bookmarks, each tied to the next (ISO 32000-1, 12.3.3); none when no page has a title."""
        if not self._titles:
            return None
        root = _Dictionary({"Type": PDFName("Outlines"), "Count": len(self._titles)})
        parent = self._pdf.Reference(root)
        items = [
            _Dictionary({"Title": PDFString(title), "Parent": parent, "Dest": PDFArray([page, PDFName("Fit")])})
            for title, page in self._titles
        ]
        references = [self._pdf.Reference(item) for item in items]
        for item, before, after in zip(items, [None, *references], [*references[1:], None], strict=False):
            if before:
                item["Prev"] = before
            if after:
                item["Next"] = after
        root["First"], root["Last"] = references[0], references[-1]
        return root


def _resources(stream: Stream) -> Any:
    """What a stream refers to by name: the fonts of the document, and the stamps it places."""
    entries: dict[str, Any] = {}
    if stream.has_text:
        entries["Font"] = PDFObjectReference("BasicFonts")
    if stream.forms:
        entries["XObject"] = _Dictionary(stream.forms)
    return _Dictionary(entries)


def _annotation(link: Link, page_height_mm: float) -> Any:
    """A link without a border; addresses are plain ASCII in PDF, other characters are percent-encoded (RFC 3986)."""
    bottom_mm = page_height_mm - link.y_mm - link.height_mm
    corners_mm = (link.x_mm, bottom_mm, link.x_mm + link.width_mm, bottom_mm + link.height_mm)
    action = _Dictionary({"S": PDFName("URI"), "URI": PDFString(quote(link.url, safe=_URL_SAFE))})
    return _Dictionary(
        {
            "Type": PDFName("Annot"),
            "Subtype": PDFName("Link"),
            "Rect": PDFArray([points(side_mm) for side_mm in corners_mm]),
            "Border": PDFArray([0, 0, 0]),
            "A": action,
        }
    )
