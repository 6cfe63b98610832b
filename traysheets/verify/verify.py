"""Verifying a file: the bytes first, then, where the extra is there, the document and every page of it.

Whatever is wrong with a file is a finding, never an error: only a file that cannot be read at all raises.
"""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from traysheets.base.errors import FileError
from traysheets.base.limits import MOST_BYTES_OF_SHEET, MOST_PAGES_OF_SHEET, MOST_PAGES_UNKNOWN
from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.note import KEY, Note, NotedPage, read_note
from traysheets.verify import pdfium
from traysheets.verify.codes import code_findings, codes, lost_codes
from traysheets.verify.order import order, order_findings
from traysheets.verify.pages import document_findings, page_findings
from traysheets.verify.pdfium import UnopenableError
from traysheets.verify.raw import Raw, raw, resized
from traysheets.verify.report import Finding, Part, Report

Progress = Callable[[str, int], None]


def verify(file: Path, progress: Progress = lambda name, pages: None) -> Report:
    """Read a finished sheet back. Raises FileError when the file cannot be read."""
    data = _read(file)
    report, bare = Report(str(file)), raw(data)
    report.add(bare.findings)
    report.as_written = bool(bare.as_written)
    if report.as_written:
        report.known.add(Part.WHOLE)
    if bare.note:
        report.made_by, report.pages = f"traysheets {bare.note.version}", len(bare.note.pages)
        report.corrected = bare.note.corrected
    if not pdfium.is_there():
        report.unchecked.append(f"its pages and QR codes were not looked at: that takes an extra; {pdfium.EXTRA}")
        report.add(_byte_findings(bare))
    elif data and b"%PDF-" in data:
        if resized(data):
            text = "some of its pages are not measured in points, so they come out larger or smaller than they say"
            report.add([Finding(Part.SCALE, text)])
        _look_inside(data, bare, report, progress)
    return report


def _read(file: Path) -> bytes:
    try:
        if file.is_dir():
            raise FileError(f"{file} is a folder; name a file in it, such as {file / 'maps.pdf'}")
        if file.stat().st_size > MOST_BYTES_OF_SHEET:
            raise FileError(f"{file} is larger than 1 GB, which no sheet of ours is")
        if not file.is_file():
            raise FileError(f"{file} is a device, which may have no end; name a file")
        return file.read_bytes()
    except (OSError, ValueError) as error:
        raise FileError(f"{file} cannot be read: {getattr(error, 'strerror', None) or error}") from None


def _byte_findings(bare: Raw) -> Iterator[Finding]:
    """What the digest says: of a file whose own digest its bytes do not have, bytes were changed."""
    if bare.as_written is False:
        text = "some of its bytes are not those that were written: it was damaged or changed; make or copy it again"
        yield Finding(Part.WHOLE, text)


def _look_inside(data: bytes, bare: Raw, report: Report, progress: Progress) -> None:
    try:
        document = pdfium.opened(data)
    except UnopenableError as error:
        if not bare.findings:
            report.add([Finding(Part.WHOLE, str(error))])
        return
    try:
        _look(document, bare, report, progress)
    finally:
        document.close()


def _look(document: Any, bare: Raw, report: Report, progress: Progress) -> None:
    note = _note(document) or bare.note
    report.made_by, report.pages = _made_by(document, note), len(document)
    report.corrected = note.corrected if note else None
    report.add([*_byte_findings(bare), *_saved_again(bare, note), *document_findings(document, note)])
    most = MOST_PAGES_OF_SHEET if note else MOST_PAGES_UNKNOWN
    if report.pages > most:
        report.unchecked.append(f"only the first {most} of its {report.pages} pages were looked at")
    count = min(report.pages, most)
    noted = _noted(document, bare, note, count, report)
    seen = [size for i in range(count) if (size := _look_at(document, i + 1, noted[i], report, progress))]
    report.add(lost_codes(report.codes, noted))
    report.sizes_mm = tuple(dict.fromkeys(seen))
    if report.pages == len(seen):
        report.known |= _known(report, note, noted)


def _noted(document: Any, bare: Raw, note: Note | None, count: int, report: Report) -> list[NotedPage | None]:
    """What is noted of each of the first pages. In a file that is as it was written they stand where they did."""
    if not note:
        return [None] * count
    if bare.as_written and len(document) == len(note.pages):
        return list(note.pages[:count])
    found = order(document, note, count)
    report.add(order_findings(found, len(document)))
    return found.noted()


def _known(report: Report, note: Note | None, noted: Sequence[NotedPage | None]) -> set[Part]:
    """What can be told of a file all of whose pages were looked at: without a note only what the pages show."""
    known = {Part.WHOLE} if report.as_written else set()
    if all(noted) or report.bars_mm:
        known.add(Part.SCALE)
    if all(noted) or (report.codes and not note):
        known.add(Part.CODES)
    return known if report.pages else set()


def _look_at(
    document: Any, number: int, noted: NotedPage | None, report: Report, progress: Progress
) -> tuple[float, float] | None:
    """Look at one page; its size in mm, None when it cannot be read."""
    progress(report.file, number)
    try:
        page = document[number - 1]
    except pdfium.broken():
        report.add([Finding(Part.WHOLE, "it cannot be read: the file was damaged; make or copy it again", number)])
        return None
    try:
        found = codes(page, number, noted)
        report.codes += found
        report.add(page_findings(page, number, noted, report))
        report.add(code_findings(found, noted))
        width, height = page.get_size()
        return round(width * MM_PER_POINT, 1), round(height * MM_PER_POINT, 1)
    finally:
        page.close()


def _note(document: Any) -> Note | None:
    return read_note(document.get_metadata_value(KEY))


def _made_by(document: Any, note: Note | None) -> str:
    if note:
        return f"traysheets {note.version}"
    told = document.get_metadata_value("Producer") or document.get_metadata_value("Creator")
    return f"another program ({told})" if told and told != "traysheets" else "another program, or an older one of ours"


def _saved_again(bare: Raw, note: Note | None) -> Iterator[Finding]:
    if note and bare.as_written is None and not bare.findings:
        text = (
            "written again by another program: what it shows may have been changed, and that cannot be told from here; "
            "look at it, or make it anew"
        )
        yield Finding(Part.WHOLE, text, wrong=False)
    elif not note:
        text = "it tells of no pages and codes it should have: another program made it, or it was printed to a file"
        yield Finding(Part.WHOLE, text, wrong=False)
