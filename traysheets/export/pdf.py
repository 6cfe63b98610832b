"""PDF: a document's pages written to a file. The only user of reportlab, for the file's objects and its embedded fonts.

Pages come one at a time and leave nothing behind but compressed streams. A stamp becomes a Form XObject when first
placed. The same pages make the same bytes: no date, no name of a machine, no settings of a user get into the file.
What a page looks like is decided by its marks; how marks are written is `export/operators.py`.
"""

from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import count, takewhile
from math import ceil, floor
from typing import Any, BinaryIO
from urllib.parse import quote
from weakref import WeakKeyDictionary

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDocument, PDFObjectReference, PDFString
from reportlab.pdfbase.pdfdoc import format as format_value
from reportlab.pdfbase.ttfonts import TTFont

from traysheets import __version__
from traysheets.base.bundle import bundled
from traysheets.base.errors import SheetError
from traysheets.export.embedding import ShapedFonts
from traysheets.export.operators import Form, Parts, Stream
from traysheets.export.path_operators import POINTS_PER_MM, number, points
from traysheets.export.pdf_file import PdfFile, compressed
from traysheets.page.correction import Stretch
from traysheets.page.faces import FACES
from traysheets.page.lettering import is_plain, shaped
from traysheets.page.marks import Document, Link, Page, Stamp
from traysheets.page.note import KEY, Note, NotedPage
from traysheets.page.printable import corrected
from traysheets.page.proof import BLEED_MM, prove
from traysheets.page.qr_proof import drawn_module_mm
from traysheets.page.shaping import shown

PROGRAM = "traysheets"

_ESCAPES = {ord(character): "\\" + character for character in "()\\"} | {10: "\\n", 13: "\\r"}
_URL_SAFE = "%/:=&?~#+!$,;'@()*[]"

# reportlab runs a settings file out of the user's home; these two would change the file and cannot be passed to it.
rl_config.pdfMultiLine = rl_config.pdfComments = 0


def write_pdf(document: Document, file: BinaryIO) -> None:
    """Write all pages of a document. Raises SheetError, with nothing written, for a page that would print wrong."""
    writer = _Writer(document)
    for place, page in enumerate(document.pages, document.first_page):
        prove(page, f"{document.title}, page {place}" + (f" '{page.title}'" if page.title else ""))
        writer.add(page)
    file.write(writer.finished())


def _apart(value: bytes) -> bytes:
    """A value as it may follow a name: with a space, unless it begins with a delimiter (ISO 32000-1, 7.2.2)."""
    return value if value[:1] in b"/<[(" else b" " + value


@cache
def _font(face: str) -> Any:
    """A face for embedding. It keeps the documents in hand apart."""
    return TTFont(face, str(bundled("fonts") / FACES[face]), asciiReadable=False)


class _Object(pdfdoc.PDFObject):  # type: ignore[misc]
    """An object as it stands in the file; reportlab numbers it."""

    def __init__(self, content: bytes = b"") -> None:
        self.content = content

    def format(self, document: Any) -> bytes:
        """What reportlab asks of every object."""
        return self.content


class _Writer:
    """One PDF file in the making."""

    def __init__(self, document: Document) -> None:
        self._pdf: Any = PDFDocument(
            dummyoutline=1, compression=1, invariant=1, pdfVersion=(1, 7), lang=document.language
        )
        self._forms: WeakKeyDictionary[Stamp, Form] = WeakKeyDictionary()
        self._written: dict[tuple[bytes, tuple[Link, ...]], Form] = {}
        self._titles: list[tuple[str, Any]] = []
        self._parts = lru_cache(maxsize=4096)(self._split)
        self._shaped_fonts = ShapedFonts()
        self._title = document.title
        self._correction, self._first_page = document.correction, document.first_page
        self._noted: list[NotedPage] = []
        self._describe(document)

    def _describe(self, document: Document) -> None:
        """What the file says of itself, and how viewers are to treat it: at true size, with the title in the window."""
        self._facts = {"Title": document.title, "Author": document.author, "Subject": document.subject}
        self._facts |= {"Creator": PROGRAM, "Producer": PROGRAM}
        self._pdf.info = _Object()
        viewer = self._dictionary({"PrintScaling": "/None", "DisplayDocTitle": "true"})
        self._pdf.Catalog.ViewerPreferences = _Object(viewer)
        if document.first_page > 1:
            self._pdf.Catalog.PageLabels = _Object(b"<</Nums [0 <</S /D /St %d>>]>>" % document.first_page)

    def _said(self, entries: dict[str, Any]) -> bytes:
        """What a dictionary says: keys that are plain names, and values (ISO 32000-1, 7.3.7)."""
        return b"".join(
            b"/%b%b" % (key.encode("ascii"), _apart(format_value(entry, self._pdf))) for key, entry in entries.items()
        )

    def _dictionary(self, entries: dict[str, Any]) -> bytes:
        return b"<<%b>>" % self._said(entries)

    def _split(self, text: str, face: str) -> Parts:
        """A text in the codes of its fonts' parts, which grow as new characters are met."""
        if not is_plain(text, face):
            return self._shaped_fonts.parts(shaped(text, face))
        font = _font(face)
        return [
            (font.getSubsetInternalName(part, self._pdf), f"({codes.decode('latin-1').translate(_ESCAPES)})")
            for part, codes in font.splitString(shown(text), self._pdf)
        ]

    def _form(self, stamp: Stamp) -> Form:
        form = self._forms.get(stamp)
        if form is None:
            form = self._forms[stamp] = self._new_form(stamp)
        return form

    def _new_form(self, stamp: Stamp) -> Form:
        """Write a stamp. Its box is a little larger than the stamp, so that strokes along the edge are whole."""
        stream = Stream(self._parts, self._form)
        stream.draw(stamp.marks)
        edges = (-BLEED_MM, -stamp.height_mm - BLEED_MM), (stamp.width_mm + BLEED_MM, BLEED_MM)
        lowest, highest = ([edge * POINTS_PER_MM for edge in corner] for corner in edges)
        box = f"[{' '.join(map(str, (*map(floor, lowest), *map(ceil, highest))))}]"
        heading = {"Subtype": "/Form", "BBox": box, "Resources": self._resources(stream)}
        content = compressed(self._said(heading), stream.code)
        codes_mm = (drawn_module_mm(stamp),) if stamp.reads else tuple(stream.codes_mm)
        # Whoever draws stamps may make the same one twice; how often it does must not show in the file.
        key = content, tuple(stream.links)
        if key not in self._written:
            name = f"S{len(self._written) + 1}"
            self._written[key] = Form(name, self._reference(content), key[1], codes_mm)
        return self._written[key]

    def _resources(self, stream: Stream) -> bytes:
        """What a stream refers to by name: the fonts of the document, and the stamps it places."""
        entries: dict[str, Any] = {}
        if stream.has_text:
            entries["Font"] = PDFObjectReference("BasicFonts")
        if stream.forms:
            entries["XObject"] = self._dictionary(stream.forms)
        return self._dictionary(entries)

    def add(self, page: Page) -> None:
        """Write one page."""
        stream = Stream(self._parts, self._form)
        stream.move(0, -page.height_mm)
        stretch = corrected(page, self._correction) if self._correction else None
        if stretch:
            stream.stretch(stretch)
        stream.draw(page.marks)
        width, height = (number(side_mm * POINTS_PER_MM, 3) for side_mm in (page.width_mm, page.height_mm))
        entries = {
            "Type": "/Page",
            "Parent": self._pdf.Reference(self._pdf.Pages),
            "MediaBox": f"[0 0 {width} {height}]",
            "Contents": self._reference(compressed(b"", stream.code)),
            "Resources": self._resources(stream),
        }
        if stream.links:
            links = b"".join(self._annotation(link, page.height_mm, stretch) for link in stream.links)
            entries["Annots"] = b"[%b]" % links
        leaf = _Object(self._dictionary(entries))
        reference = self._pdf.Reference(leaf)
        self._pdf.Pages.addPage(leaf)
        if page.title:
            self._titles.append((page.title, reference))
        across, down = (stretch.across, stretch.down) if stretch else (1.0, 1.0)
        codes = len(stream.codes_mm), min(stream.codes_mm, default=0.0)
        self._noted.append(NotedPage(page.width_mm, page.height_mm, *codes, across, down))

    def _annotation(self, link: Link, page_height_mm: float, stretch: Stretch | None) -> bytes:
        """A link without a border. Addresses are ASCII in PDF; other characters are percent-encoded (RFC 3986)."""
        area = (link.x_mm, link.y_mm, link.x_mm + link.width_mm, link.y_mm + link.height_mm)
        left, top, right, bottom = stretch.box(area) if stretch else area
        box = " ".join(map(points, (left, page_height_mm - bottom, right, page_height_mm - top)))
        action = self._dictionary({"S": "/URI", "URI": PDFString(quote(link.url, safe=_URL_SAFE))})
        return self._dictionary({"Subtype": "/Link", "Rect": f"[{box}]", "Border": "[0 0 0]", "A": action})

    def finished(self) -> bytes:
        """The whole file. Raises SheetError when no page was added: such a file cannot be opened."""
        if not self._pdf.Pages.pages:
            raise SheetError(f"'{self._title}' has no pages: there is nothing to print in it")
        self._add_fonts()
        self._pdf.Catalog.Outlines = self._bookmarks() if self._titles else None
        said = self._facts | {KEY: str(Note(__version__, self._first_page, self._noted))}
        self._pdf.info.content = self._dictionary({name: PDFString(fact) for name, fact in said.items() if fact})
        tops = (self._pdf.Reference(top) for top in (self._pdf.Catalog, self._pdf.info))
        root, info = (format_value(reference, self._pdf) for reference in tops)
        file = PdfFile()
        for place, content in self._objects():
            file.put(place, content, packed=content != self._pdf.info.content)
        return file.finished(root, info)

    def _add_fonts(self) -> None:
        """Put the fonts in, as far as their characters are shown."""
        for font in self._pdf.delayedFonts:
            font.addObjects(self._pdf)
        fonts = self._pdf.idToObject["BasicFonts"].dict
        for name, reference in self._shaped_fonts.objects(self._put):
            fonts[name] = _Object(reference.encode("ascii"))

    def _reference(self, content: bytes) -> Any:
        """Put an object into the file; what refers to it."""
        return self._pdf.Reference(_Object(content))

    def _put(self, content: bytes) -> str:
        """The same; how others refer to it."""
        reference: bytes = format_value(self._reference(content), self._pdf)
        return reference.decode("ascii")

    def _objects(self) -> Iterator[tuple[int, bytes]]:
        """All objects by number. Some are numbered only while others that refer to them are written."""
        numbered = self._pdf.numberToId
        for place in takewhile(numbered.__contains__, count(1)):
            yield place, format_value(self._pdf.idToObject[numbered[place]], self._pdf, toplevel=1)

    def _bookmarks(self) -> Any:
        """A flat list of bookmarks, each tied to the next (ISO 32000-1, 12.3.3)."""
        root, items = _Object(), [_Object() for _ in self._titles]
        parent, references = self._pdf.Reference(root), [self._pdf.Reference(item) for item in items]
        root.content = self._dictionary({"Count": len(items), "First": references[0], "Last": references[-1]})
        for i, (item, (title, page)) in enumerate(zip(items, self._titles, strict=True)):
            entries = {"Title": PDFString(title), "Parent": parent, "Dest": PDFArray([page, "/Fit"])}
            if i > 0:
                entries["Prev"] = references[i - 1]
            if i + 1 < len(items):
                entries["Next"] = references[i + 1]
            item.content = self._dictionary(entries)
        return root
