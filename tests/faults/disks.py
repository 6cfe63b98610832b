"""Disks that are full or fill up, folders and books that may not be written, folders on other disks."""

import ctypes
import errno
import os
import resource
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random

from workshop import STATE, Workshop, tree

_CAPABILITIES_VERSION = 0x20080522
_OVER_RIGHTS = 1 << 1 | 1 << 2
"""CAP_DAC_OVERRIDE and CAP_DAC_READ_SEARCH of linux/capability.h."""
_SAID = (
    "disk is full",
    "lies on another disk",
    "cannot be written",
    "may not be written",
    "cannot be opened",
    "can only be read",
    "cannot be read",
)


_SENTENCE_BYTES = 1000


def limited_files(place: Path, runs: int, chance: Random) -> Counter[str]:
    """Runs that may write no file longer than so many bytes (RLIMIT_FSIZE), from none to enough.

    What they say goes into a file as well: where that may have some bytes, it may have what a sentence takes.
    """
    shop, counts = _begun(place), Counter[str](runs=0)
    longest = 2 * (max(map(len, tree(shop.output).values())) + shop.book.stat().st_size)
    for number in range(1, runs + 1):
        most = chance.choice([0, *range(_SENTENCE_BYTES, longest, 7)])

        def limit(most: int = most) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

        _hindered(shop, number, counts, limit)
    return counts


def full_disks(place: Path, runs: int, chance: Random) -> Counter[str]:
    """Runs on a disk of its own with so much room left, from none to enough."""
    with _small_disk(place, "8m") as disk:
        shop, counts = _begun(disk / "shop"), Counter[str](runs=0)
        shop.told_in = place
        for number in range(1, runs + 1):
            filler = disk / "filler"
            _fill(filler, leave=chance.randrange(0, 600_000, 4096), disk=disk)
            _hindered(shop, number, counts, after=filler.unlink)
            shutil.rmtree(shop.output)
    return counts


def read_only(place: Path, runs: int, _: Random) -> Counter[str]:
    """Runs of one who may not write the folder, what is in it, the list of what was written, or the book."""
    shop, counts = _begun(place), Counter[str](runs=0)
    closed = (shop.output, shop.output / STATE, shop.output / "records", shop.book, shop.place)
    for number in range(1, runs + 1):
        here = closed[number % len(closed)]
        _open_all(place)
        here.chmod(0o555 if here.is_dir() else 0o444)
        _hindered(shop, number, counts, _bound_by_rights, after=lambda: _open_all(place))
    return counts


def other_disks(place: Path, runs: int, _: Random) -> Counter[str]:
    """The folder of the sheets, or a folder in it, is on another disk than the plan and its book."""
    counts = Counter[str](runs=0)
    with _small_disk(place, "64m") as disk:
        for number in range(runs):
            shop = Workshop(place / f"shop-{number}")
            shop.write_plan(number)
            kind = ("folder", "link", "link inside")[number % 3]
            if kind == "folder":
                shop.output = disk / f"{number}"
            else:
                (disk / f"{number}").mkdir()
                shop.output.mkdir()
                link = shop.output / "records" if kind == "link inside" else shop.output
                link.rmdir() if kind == "link" else None
                link.symlink_to(disk / f"{number}")
            inside = shop.output / "records"
            _hindered(
                shop, number, counts, after=lambda inside=inside: inside.unlink() if inside.is_symlink() else None
            )
    return counts


def _begun(place: Path) -> Workshop:
    shop = Workshop(place)
    shop.write_plan(0)
    shop.make()
    return shop


def _hindered(
    shop: Workshop,
    number: int,
    counts: Counter[str],
    prepare: Callable[[], object] = lambda: None,
    after: Callable[[], object] = lambda: None,
) -> None:
    """A run under a hindrance does all or nothing and says why; without it the next does all."""
    before = tree(shop.output)
    shop.write_plan(number)
    run = shop.start(prepare)
    status, said = run.wait(), run.said()
    counts.update({"runs": 1, "went through": status == 0, "refused": status == 1})
    assert status in (0, 1), said
    if status:
        assert "Traceback" not in said, said
        assert any(sentence in said for sentence in _SAID) or not said, said
        assert tree(shop.output) == before, "something was changed"
    after()
    shop.check()
    shop.make()


def _bound_by_rights() -> None:
    """Give up root's power over the rights of files (capabilities(7), capset(2)); others never had it."""
    system, heading = ctypes.CDLL(None, use_errno=True), (ctypes.c_uint32 * 2)(_CAPABILITIES_VERSION, 0)
    held = (ctypes.c_uint32 * 6)()
    assert system.capget(heading, held) == 0
    held[0] &= ~_OVER_RIGHTS
    assert system.capset(heading, held) == 0


def _open_all(place: Path) -> None:
    """Let everything be written again."""
    for path in (place, *place.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)


def _fill(filler: Path, leave: int, disk: Path) -> None:
    """Write a file that leaves so many bytes of the disk free."""
    with filler.open("wb") as file:
        room = os.statvfs(disk)
        os.posix_fallocate(file.fileno(), 0, max(1, room.f_bavail * room.f_frsize - leave))


@contextmanager
def _small_disk(place: Path, size: str) -> Iterator[Path]:
    """A disk in memory. Raises PermissionError where none may be mounted."""
    disk = place / "disk"
    disk.mkdir(parents=True)
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        raise PermissionError(errno.EPERM, "no disk may be mounted here")
    try:
        yield disk
    finally:
        subprocess.run(["umount", "-l", str(disk)], check=True)
