"""A lock on a folder, so that two runs never write into it at once.

The system lets the lock go when its holder ends, however it ends; a lock file left behind locks nobody out.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

if sys.platform == "win32":  # pragma: no cover - has locks of its own, tried on Windows alone
    import errno
    import msvcrt

    def _take(descriptor: int) -> None:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            raise BlockingIOError(errno.EAGAIN, error.strerror) from None

else:
    import fcntl

    def _take(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold the lock file `path`, made with its folder when it is not there.

    Raises BlockingIOError when somebody else holds it. The file stays; whoever removes it
    does so while holding it.
    """
    descriptor = _opened(path)
    try:
        yield
    finally:
        os.close(descriptor)


def _opened(path: Path) -> int:
    """The lock file, open and held. One removed between opening and holding locks nothing: then the next is tried."""
    while True:
        path.parent.mkdir(parents=True, exist_ok=True)
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _take(descriptor)
            if _is(descriptor, path):
                return descriptor
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)


def _is(descriptor: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except FileNotFoundError:
        return False
