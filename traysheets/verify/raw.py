"""The bytes of a file: whether it is a PDF that ends where it should, and whether its bytes are those once written.

Nothing is needed for it but the bytes, so it can be told without any library. A file of ours carries a digest of its
bytes in its table of objects (`export/pdf_file.py`), and a note of its pages that can be read as it stands.
"""

import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import md5

from traysheets.page.note import KEY, Note, read_note
from traysheets.verify.report import Finding, Part

_LOOKED_AT_FOR_HEADER = 1024
_LOOKED_AT_FOR_END = 2048
_END = re.compile(rb"startxref\s+(\d{1,12})\s+%%EOF\s*\Z")
_ANY_END = re.compile(rb"startxref\s+(\d{1,12})\s+%%EOF\s?")
_BEGUN_END = re.compile(rb"startxref\s*\d*\s*(?:%(?:%(?:E(?:O)?)?)?)?\Z")
"""An end as it begins, of which the rest is missing."""
_LENGTH_OF_END = 48
_OURS = re.compile(rb"\d+ 0 obj\n<</Type ?/XRef ?/Size \d+ ?/W ?\[1 4 2\]")
_TABLE = re.compile(
    rb"(\d{1,9}) 0 obj\n<<(/Type ?/XRef ?/Size (\d{1,9}) ?/W ?\[1 4 2\] ?/Root \d+ 0 R ?/Info \d+ 0 R"
    rb" ?/ID ?\[<([0-9a-f]{32})> ?<)([0-9a-f]{32})>\]( ?/Filter ?/FlateDecode)? ?/Length (\d{1,9})>>\nstream\n"
)
"""The table of objects as we write it: its number, its heading, its size, both fingerprints, packing and length."""
_PACK = re.compile(rb"<<[^<>]*/ObjStm[^<>]*/FlateDecode[^<>]*>>\s*stream\r?\n")
_MOST_UNPACKED = 1 << 24
_UNIT = b"/UserUnit"
_NOTE = re.compile(rb"/" + KEY.encode() + rb"\s*\(([^()\\]*)\)")


@dataclass(frozen=True, slots=True)
class Raw:
    """What the bytes tell: whether all are as written (None when the file bears no digest), and the note if any."""

    as_written: bool | None
    note: Note | None
    findings: tuple[Finding, ...]


def raw(data: bytes) -> Raw:
    """Look at the bytes of a file."""
    findings = tuple(_findings(data))
    found = _NOTE.search(data)
    note = read_note(found[1].decode("ascii", "replace")) if found else None
    return Raw(None if findings else _as_written(data), note, findings)


def _findings(data: bytes) -> Iterator[Finding]:
    """What keeps it from being a PDF file, the plainest first."""
    if not data:
        yield Finding(Part.WHOLE, "the file is empty; make or copy it again")
    elif b"%PDF-" not in data[:_LOOKED_AT_FOR_HEADER]:
        yield Finding(Part.WHOLE, "this is not a PDF file; name one of the sheets that `traysheets make` wrote")
    elif not (end := _END.search(data[-_LOOKED_AT_FOR_END:])):
        yield Finding(Part.WHOLE, f"{_lacks_its_end(data)}; make or copy it again")
    elif not 0 < int(end[1]) < len(data):
        yield Finding(
            Part.WHOLE, "its table of contents is not where the file says: it was cut or changed; make it again"
        )


def _lacks_its_end(data: bytes) -> str:
    """What became of a file that does not end as PDF files do (ISO 32000-1, 7.5.5)."""
    if after := _bytes_after_end(data):
        return f"{after:,} {'byte was' if after == 1 else 'bytes were'} added after the end of the file"
    tail = data[-_LENGTH_OF_END:]
    if (b"startxref" in tail or b"%%EOF" in tail) and not _BEGUN_END.search(tail):
        return "the end of the file is damaged: bytes there were changed"
    return "the end of the file is missing: it was cut off on the way"


def _bytes_after_end(data: bytes) -> int:
    """How many bytes stand after the last end of a file in it; none where there is no end whose place can be true."""
    ends = [end for end in _ANY_END.finditer(data) if 0 < int(end[1]) < end.start()]
    return len(data) - ends[-1].end() if ends else 0


def resized(data: bytes) -> bool:
    """Whether a page says that its units are not points (UserUnit, ISO 32000-1, 14.11.2), also in packed objects."""
    return _UNIT in data or any(_UNIT in content for content in _packs(data))


def _packs(data: bytes) -> Iterator[bytes]:
    """What is in the packs of objects, as far as they can be unpacked."""
    for pack in _PACK.finditer(data):
        try:
            yield zlib.decompressobj().decompress(data[pack.end() :], _MOST_UNPACKED)
        except zlib.error:
            continue


def _as_written(data: bytes) -> bool | None:
    """Whether the digest in the file is that of its bytes; None where it has none, as of files of older versions."""
    end = _END.search(data[-_LOOKED_AT_FOR_END:])
    place = int(end[1]) if end else 0
    if not _OURS.match(data, place):
        return None
    table = _TABLE.match(data, place)
    if not table:
        return False
    number, heading, size, first_id, digest, packed, length = table.groups()
    if first_id == digest:
        return None
    content = data[table.end() : table.end() + int(length)]
    tail = b"\nendstream\nendobj\nstartxref\n%d\n%%%%EOF\n" % place
    if int(size) != int(number) + 1 or data[table.end() + int(length) :] != tail:
        return False
    try:
        entries = zlib.decompress(content) if packed else content
    except zlib.error:
        return False
    return md5(data[:place] + heading + entries, usedforsecurity=False).hexdigest().encode("ascii") == digest
