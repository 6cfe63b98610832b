"""What the system says when a file cannot be written, as a sentence that tells what to do. Writes nothing."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from traysheets.base.errors import FileError, Problem
from traysheets.export.filenames import unflat

UNFINISHED = ".part"
"""How the name of a file ends that is not yet whole; it also begins with a full stop."""


@contextmanager
def told(folder: Path, state: Path | None = None) -> Iterator[None]:
    """Raise every OSError as a FileError.

    Files one folder down in `state`, under flat names, are spoken of by their paths in `folder`.
    """
    try:
        yield
    except OSError as error:
        where = folder if not isinstance(error.filename, str) else _spoken_of(Path(error.filename), folder, state)
        raise FileError(_problem(error, where, folder)) from error


def _problem(error: OSError, where: Path, folder: Path) -> Problem:
    match error.errno:
        case errno.ENOSPC | errno.EDQUOT:
            return Problem("the disk is full: nothing was changed", str(folder))
        case errno.EAGAIN:
            return Problem("another run is writing here just now; try again when it has ended", str(folder))
        case errno.EEXIST | errno.ENOTDIR:
            text = "is a file where a folder is to be; move it away, or choose another folder"
            return Problem(text, str(_file_among(where)))
        case errno.EACCES | errno.EPERM:
            text = "may not be written: nothing was changed; close it where it is open, or set its permissions"
        case errno.ENOENT:
            text = "cannot be written: its folder is not there"
        case errno.EROFS:
            text = "is on a disk that can only be read; choose another folder"
        case errno.EXDEV:
            text = "lies on another disk than the folder it belongs to; choose one that is on one disk, by -o"
        case errno.ENAMETOOLONG:
            text = "is too long a name for this disk; choose a shorter one"
        case _:
            text = f"cannot be written ({error.strerror or error}): nothing was changed"
    return Problem(text, str(where))


def _spoken_of(path: Path, folder: Path, state: Path | None) -> Path:
    """The name by which a user knows a file."""
    if state is not None and path.is_relative_to(state):
        return folder.joinpath(*map(unflat, path.relative_to(state).parts[1:]))
    if path.suffix == UNFINISHED and path.name.startswith("."):
        return path.with_name(path.name.removesuffix(UNFINISHED)[1:])
    return path


def _file_among(path: Path) -> Path:
    """What, among a path and those above it, is no folder."""
    return next((place for place in (path, *path.parents) if place.exists() and not place.is_dir()), path)
