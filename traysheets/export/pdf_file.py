"""The file around the objects of a PDF: streams as they are, all others packed, and a table of where each one is.

Packed objects and a packed table (ISO 32000-1, 7.5.7 and 7.5.8; since PDF 1.5) take a fraction of the room of plain
ones, and a file of many small stamps is mostly objects. What the objects say is `export/pdf.py`.
"""

import zlib
from collections.abc import Sequence
from hashlib import md5
from typing import TypeAlias

HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
"""The version; and bytes that tell programs which move files that this one is no text (ISO 32000-1, 7.5.2)."""

PACKED_TOGETHER = 200
"""Objects in a pack. A reader must unpack all of a pack to come to one."""

_FLATE = b" /Filter /FlateDecode"

_Entry: TypeAlias = tuple[int, int, int]
"""Where an object is: (1, its place in the file, 0) or (2, the number of its pack, its place in there)."""

_WIDTHS = (1, 4, 2)
"""Bytes of the three parts of an entry."""


def compressed(heading: bytes, content: bytes) -> bytes:
    """A stream: what is said of it, as `/Key value`, and its content, compressed where that makes it shorter."""
    packed = zlib.compress(content)
    if len(packed) + len(_FLATE) < len(content):
        heading, content = heading + _FLATE, packed
    return b"<<%b /Length %d>>\nstream\n%b\nendstream" % (heading, len(content), content)


class PdfFile:
    """A file in the making: objects are put in under the numbers by which others refer to them."""

    def __init__(self) -> None:
        self._parts = [HEADER]
        self._length = len(HEADER)
        self._digest = md5(HEADER, usedforsecurity=False)
        self._entries: dict[int, _Entry] = {0: (0, 0, 0)}
        self._others: list[tuple[int, bytes]] = []

    def put(self, number: int, content: bytes, *, packed: bool = True) -> None:
        """Put in an object; what is no stream waits to be packed, unless it is to be read without unpacking."""
        if not packed or content.rstrip().endswith(b"endstream"):
            self._write(number, content)
        else:
            self._others.append((number, content))

    def _write(self, number: int, content: bytes) -> None:
        part = b"%d 0 obj\n%b\nendobj\n" % (number, content)
        self._entries[number] = (1, self._length, 0)
        self._parts.append(part)
        self._length += len(part)
        self._digest.update(part)

    def finished(self, root: bytes, info: bytes) -> bytes:
        """The whole file. `root` and `info` refer to its catalogue and to what it says of itself (`12 0 R`).

        Two fingerprints stand in it (ISO 32000-1, 14.4): the first, which tells files apart, is the MD5 of all bytes
        before the table; the second, which tells whether it is still as it was made, of these and the table.
        """
        number = max((*self._entries, *(number for number, _ in self._others))) + 1
        for start in range(0, len(self._others), PACKED_TOGETHER):
            self._pack(number, self._others[start : start + PACKED_TOGETHER])
            number += 1
        place = self._length
        self._entries[number] = (1, place, 0)
        heading = b"/Type /XRef /Size %d /W [1 4 2] /Root %b /Info %b" % (number + 1, root, info)
        heading += b" /ID [<%b> <" % self._digest.hexdigest().encode("ascii")
        table = self._table(number)
        self._digest.update(heading + table)
        self._write(number, compressed(b"%b%b>]" % (heading, self._digest.hexdigest().encode("ascii")), table))
        return b"".join((*self._parts, b"startxref\n%d\n%%%%EOF\n" % place))

    def _pack(self, number: int, objects: Sequence[tuple[int, bytes]]) -> None:
        """A pack: the number and place of each object in it, then the objects one after the other."""
        places, length = [], 0
        for place, (held, content) in enumerate(objects):
            places.append(f"{held} {length}")
            self._entries[held] = (2, number, place)
            length += len(content) + 1
        index = " ".join(places).encode("ascii") + b"\n"
        heading = f"/Type /ObjStm /N {len(objects)} /First {len(index)}"
        self._write(number, compressed(heading.encode("ascii"), index + b"\n".join(content for _, content in objects)))

    def _table(self, last: int) -> bytes:
        """The table of all objects from 0, which is none, to the last."""
        entries = (self._entries[number] for number in range(last + 1))
        return b"".join(
            part.to_bytes(width, "big") for entry in entries for part, width in zip(entry, _WIDTHS, strict=True)
        )
