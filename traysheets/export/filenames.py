"""Which names a file may have so that every file system takes it and none takes two for one."""

import re
import unicodedata
from collections.abc import Iterable, Iterator

LONGEST_BYTES = 255
"""Of one part of a path: the limit of the usual file systems (NAME_MAX of POSIX `limits.h` on Linux and macOS)."""

# Names of devices and characters that Windows keeps for itself ("Naming Files, Paths, and Namespaces", from memory).
_DEVICE = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
_FORBIDDEN = re.compile(r'[<>:"\\|?*\x00-\x1f\x7f]')


def objection(name: str) -> str | None:
    """Why a path (`/`-separated, below a folder) cannot be used on every file system; None when it can."""
    if reason := next(filter(None, map(_part_objection, name.split("/"))), None):
        return reason
    return _too_long(flat(name))


def flat(name: str) -> str:
    """A path as the name of one file, for a folder without folders."""
    return name.replace("%", "%25").replace("/", "%2F")


def unflat(name: str) -> str:
    """The path that `flat` was made from."""
    return name.replace("%2F", "/").replace("%25", "%")


def _part_objection(part: str) -> str | None:
    if not part.strip(". "):
        return f"'{part}' names no file"
    if found := _FORBIDDEN.search(part):
        return f"{part!r} has the character {found[0]!r}, which cannot stand in a file name"
    if part != part.strip() or part.endswith("."):
        return f"'{part}' begins or ends with a space, or ends with a full stop"
    if _DEVICE.fullmatch(part):
        return f"'{part}' is the name of a device on Windows"
    return _too_long(part)


def _too_long(part: str) -> str | None:
    if len(part.encode("utf-8", "surrogatepass")) <= LONGEST_BYTES:
        return None
    return f"'{part[:20]}...' is longer than {LONGEST_BYTES} bytes"


def clashes(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Pairs of names that are one to a file system that takes A for a, or é for e and an accent."""
    seen: dict[str, str] = {}
    for name in names:
        key = unicodedata.normalize("NFC", name).casefold()
        if key in seen:
            yield seen[key], name
        seen[key] = name
