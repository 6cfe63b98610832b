"""The list of files that runs wrote into a folder: what tells a file of ours from a file of the grower's.

A file is ours while its size and SHA-256 are those of what a run wrote. Nothing here changes any file but the list.
"""

import hashlib
import json
import os
import stat
from dataclasses import dataclass, field
from io import BufferedIOBase
from pathlib import Path

from traysheets.export.disk_errors import UNFINISHED

_ABOUT = (
    "Files that traysheets wrote here. What is listed and unchanged, the next run may replace; all else is left alone."
)


@dataclass(frozen=True, slots=True)
class Fingerprint:
    """What a file holds: its size in bytes and the SHA-256 of its bytes."""

    size: int
    sha256: str


def fingerprint(file: BufferedIOBase) -> Fingerprint:
    """The fingerprint of a file open at its start. Raises OSError when it cannot be read."""
    digest = hashlib.file_digest(file, "sha256").hexdigest()
    return Fingerprint(file.tell(), digest)


def holds(path: Path, mark: Fingerprint) -> bool:
    """Whether `path` is a file, itself and not by a symbolic link, that holds just this."""
    if path.is_symlink() or not path.is_file() or path.stat().st_size != mark.size:
        return False
    with path.open("rb") as file:
        return fingerprint(file) == mark


@dataclass(frozen=True, slots=True)
class Written:
    """Files by their path below the folder, `/`-separated.

    `pending` holds what a run is just moving into place: until all of it is, a file there may be of either list.
    `going` holds what it is just removing from `files`.
    """

    files: dict[str, Fingerprint] = field(default_factory=dict)
    pending: dict[str, Fingerprint] = field(default_factory=dict)
    going: dict[str, Fingerprint] = field(default_factory=dict)

    @property
    def done(self) -> "Written":
        """The list when all is in place, and all that was to go is gone."""
        return Written({name: mark for name, mark in self.files.items() if name not in self.going} | self.pending)

    def settled(self, folder: Path) -> "Written":
        """The list with nothing pending: what of it stands in `folder` is listed; what was listed before stays so,
        unless it was to go and is gone.
        """
        kept = {name for name in self.files if name not in self.going or os.path.lexists(folder / name)}
        came = {name: mark for name, mark in self.pending.items() if holds(folder / name, mark)}
        return Written({name: mark for name, mark in self.files.items() if name in kept} | came)

    def objection(self, folder: Path, name: str) -> str | None:
        """Why the file `name` may not be replaced without force, or None when it is ours or not there."""
        path = folder / name
        if not os.path.lexists(path):
            return None
        ours = [marks[name] for marks in (self.files, self.pending) if name in marks]
        if any(holds(path, mark) for mark in ours):
            return None
        return "was changed since it was made" if ours else "was not made by an earlier run"

    def save(self, path: Path) -> None:
        """Write the list whole or not at all. Raises OSError."""
        lists = {
            name: {file: [mark.size, mark.sha256] for file, mark in sorted(marks.items())}
            for name, marks in (("files", self.files), ("pending", self.pending), ("going", self.going))
        }
        part = path.with_suffix(UNFINISHED)
        with part.open("w", encoding="utf-8", newline="\n") as file:
            json.dump({"about": _ABOUT, **lists}, file, indent=0, ensure_ascii=False)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)


def read_written(path: Path) -> Written:
    """The list an earlier run left, empty when there is none or it cannot be understood: then no file is ours."""
    try:
        lists = json.loads(path.read_text(encoding="utf-8"))
        return Written(_marks(lists["files"]), _marks(lists["pending"]), _marks(lists.get("going", {})))
    except (FileNotFoundError, ValueError, KeyError, TypeError, AttributeError):
        return Written()


def _marks(listed: dict[str, list[object]]) -> dict[str, Fingerprint]:
    return {str(name): Fingerprint(int(str(size)), str(sha256)) for name, (size, sha256) in listed.items()}


def in_the_way(folder: Path, name: str) -> tuple[str, str] | None:
    """What stands where a file or one of its folders is to be, and cannot make room: its path, and the reason."""
    parts = name.split("/")
    for depth in range(1, len(parts) + 1):
        here = "/".join(parts[:depth])
        if reason := _blocks(folder / here, last=depth == len(parts)):
            return here, reason
    return None


def _blocks(path: Path, *, last: bool) -> str | None:
    try:
        mode = (path.lstat() if last else path.stat()).st_mode
    except OSError:
        return None
    if last:
        return None if stat.S_ISREG(mode) or stat.S_ISLNK(mode) else "is not a file"
    return None if stat.S_ISDIR(mode) else "is a file where a folder is to be"
