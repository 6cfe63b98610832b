"""Writing a folder of files while things go wrong: full disks, files that will not move, runs killed at any moment."""

import errno
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO, NoReturn

import pytest
from test_files import everything, files, holding, tree

from traysheets.base.errors import FileError, SheetError
from traysheets.export.files import write_all, write_one

FULL = "the disk is full: nothing was changed"


def failing(number: int) -> Callable[..., NoReturn]:
    def fail(*arguments: object, **_: object) -> NoReturn:
        raise OSError(number, os.strerror(number), str(arguments[0]))

    return fail


def full(file: BinaryIO) -> None:
    file.write(b"half of")
    raise OSError(errno.ENOSPC, "No space left on device")


@pytest.fixture
def made(tmp_path: Path) -> Path:
    """A folder with what an earlier run wrote: a, b and c."""
    write_all(tmp_path, files(a=b"1", b=b"1", c=b"1"))
    return tmp_path


OLD = {"a.txt": b"1", "b.txt": b"1", "c.txt": b"1"}
STATE = {".traysheets", ".traysheets/written.json", ".traysheets/lock"}


def refused(folder: Path, **contents: bytes) -> str:
    """What is said when files cannot be written; the folder is proved to be as it was, and good for another run."""
    with pytest.raises(FileError) as error:
        write_all(folder, files(**contents))
    assert tree(folder) == OLD
    assert everything(folder) == set(OLD) | STATE
    return str(error.value).replace(f"{folder}/", "")


def test_a_disk_that_fills_while_a_file_is_written(made: Path) -> None:
    with pytest.raises(FileError, match=f": {FULL}$"):
        write_all(made, [*files(a=b"2"), ("b.txt", full)])
    assert tree(made) == OLD
    assert everything(made) == set(OLD) | STATE


def test_a_full_disk_leaves_no_new_folder(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=FULL):
        write_all(tmp_path / "deep" / "out", [("a.txt", full)])
    assert everything(tmp_path) == set()


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT])
def test_a_disk_that_tells_only_when_synced(made: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    monkeypatch.setattr(os, "fsync", failing(number))
    assert refused(made, a=b"2").endswith(f": {FULL}")


def test_the_real_full_disk(made: Path) -> None:
    def fill(_: BinaryIO) -> None:
        with Path("/dev/full").open("wb", buffering=0) as device:
            device.write(b"x")

    if not Path("/dev/full").exists():
        return
    with pytest.raises(FileError, match=FULL):
        write_all(made, [("a.txt", fill)])
    assert tree(made) == OLD


SENTENCES = {
    errno.EACCES: "b.txt: may not be written: nothing was changed; close it where it is open, or set its permissions",
    errno.EROFS: "b.txt: is on a disk that can only be read; choose another folder",
    errno.ENAMETOOLONG: "b.txt: is too long a name for this disk; choose a shorter one",
    errno.EXDEV: "b.txt: lies on another disk than the folder it belongs to; choose one that is on one disk, by -o",
    errno.EIO: "b.txt: cannot be written (Input/output error): nothing was changed",
}


@pytest.mark.parametrize("number", SENTENCES)
def test_a_file_that_will_not_move_gives_all_their_old_content_back(
    made: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    replace = Path.replace

    def stubborn(path: Path, target: Path) -> Path:
        if path.parent.name == "new" and target.name == "b.txt":
            failing(number)(path)
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", stubborn)
    assert refused(made, a=b"2", new__n=b"2", b=b"2", c=b"2") == SENTENCES[number]
    monkeypatch.undo()
    write_all(made, files(a=b"3", b=b"3", c=b"3"))


def test_a_disk_without_hard_links(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", failing(errno.EPERM))
    test_a_file_that_will_not_move_gives_all_their_old_content_back(made, monkeypatch, errno.EIO)
    monkeypatch.setattr(os, "link", failing(errno.EPERM))
    write_all(made, files(a=b"4"))
    assert tree(made) == {**OLD, "a.txt": b"4", "b.txt": b"3", "c.txt": b"3"}


def test_a_folder_that_may_not_be_written(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "mkdir", failing(errno.EACCES))
    said = f"{made / 'out'}: may not be written: nothing was changed; close it where it is open, or set its permissions"
    with pytest.raises(FileError) as error:
        write_all(made / "out", files(a=b"2"))
    assert str(error.value) == said


def test_a_stop_by_hand_while_files_are_moved(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    replace = Path.replace

    def interrupted(path: Path, target: Path) -> Path:
        if path.parent.name == "new" and target.name == "b.txt":
            raise KeyboardInterrupt
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_all(made, files(a=b"2", b=b"2"))
    assert tree(made) == OLD
    assert everything(made) == set(OLD) | STATE


def test_a_list_that_cannot_be_written_at_the_end_is_mended_by_the_next_run(
    made: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    replace = Path.replace
    saved: list[Path] = []

    def once(path: Path, target: Path) -> Path:
        if target.name == "written.json":
            saved.append(target)
            if len(saved) > 1:
                failing(errno.ENOSPC)(path)
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", once)
    write_all(made, files(a=b"2"))
    monkeypatch.undo()
    write_all(made, files(a=b"3", b=b"3"))
    assert tree(made) == {"a.txt": b"3", "b.txt": b"3", "c.txt": b"1"}


def test_one_file_on_a_full_disk(tmp_path: Path) -> None:
    write_one(tmp_path / "a.txt", holding(b"1"))
    with pytest.raises(FileError, match=FULL):
        write_one(tmp_path / "a.txt", full)
    assert everything(tmp_path) == {"a.txt"}
    assert tree(tmp_path) == {"a.txt": b"1"}


# ---- kills

NAMES = ("maps.txt", "records/B/X.txt", "records/index.txt", "sticks.txt")
SIZE = 50_000


def version(number: int) -> list[tuple[str, Callable[[BinaryIO], object]]]:
    def write(file: BinaryIO) -> None:
        for _ in range(10):
            file.write(bytes([number]) * (SIZE // 10))

    return [(name, write) for name in NAMES]


def write_2(folder: Path) -> None:
    write_all(folder, version(2))


def run_killed(folder: Path, prepare: Callable[[], None], write: Callable[[Path], None] = write_2) -> int:
    """A run of version 2 in a process of its own, after `prepare`; gives its exit status, or -signal."""
    child = os.fork()
    if not child:
        try:
            prepare()
            write(folder)
            os._exit(0)
        finally:
            os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def versions(folder: Path) -> list[int]:
    """The version of every file, each proved whole."""
    contents = tree(folder)
    assert sorted(contents) == sorted(NAMES)
    assert all(content == content[:1] * SIZE for content in contents.values())
    return [content[0] for content in contents.values()]


def check_after_kill(folder: Path) -> None:
    before = versions(folder)
    assert set(before) <= {1, 2}
    announced = b'"maps.txt"' in (folder / ".traysheets/written.json").read_bytes().partition(b"pending")[2]
    with pytest.raises(SheetError):
        write_all(folder, [], before_final=lambda: (_ for _ in ()).throw(SheetError("only looked")))
    assert set(versions(folder)) == ({2} if announced else {before[0]})
    assert everything(folder / ".traysheets") == {"written.json", "lock"}
    write_all(folder, version(3))
    assert versions(folder) == [3] * len(NAMES)


STEPS = {"open", "os.rename", "os.link", "os.mkdir", "os.remove", "os.rmdir"}
"""Names of audit events (PEP 578) of calls that open or change files."""


def killed_at(step: int) -> Callable[[], None]:
    """Kill this process at a step, counted from 0."""
    seen = 0

    def count(event: str, _: tuple[object, ...]) -> None:
        nonlocal seen
        if event in STEPS:
            seen += 1
            if seen > step:
                os.kill(os.getpid(), signal.SIGKILL)

    return lambda: sys.addaudithook(count)


@pytest.mark.parametrize("links", [True, False], ids=["hard links", "no hard links"])
def test_a_run_killed_at_every_single_step(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool) -> None:
    """A kill between setting the old file aside and moving the new one may take a name away where there are no hard
    links; the next run brings it back.
    """
    if not links:
        monkeypatch.setattr(os, "link", failing(errno.EPERM))
    step, status = 0, -signal.SIGKILL
    while status:
        folder = tmp_path / str(step)
        write_all(folder, version(1))
        status = run_killed(folder, killed_at(step))
        assert status in (0, -signal.SIGKILL)
        if status and (links or len(tree(folder)) == len(NAMES)):
            check_after_kill(folder)
        elif status:
            write_all(folder, version(3))
            assert versions(folder) == [3] * len(NAMES)
        step += 1
    assert step > 40


def test_a_first_run_killed_at_every_single_step(tmp_path: Path) -> None:
    step, status = 0, -signal.SIGKILL
    while status:
        folder = tmp_path / str(step)
        status = run_killed(folder, killed_at(step))
        assert status in (0, -signal.SIGKILL)
        assert all(content == b"\2" * SIZE for content in tree(folder).values())
        write_all(folder, version(3))
        assert versions(folder) == [3] * len(NAMES)
        step += 1


def test_runs_killed_at_random_moments(tmp_path: Path) -> None:
    write_all(tmp_path, version(1))
    for _ in range(20):
        child = os.fork()
        if not child:
            try:
                while True:
                    write_all(tmp_path, version(2))
                    write_all(tmp_path, version(1))
            finally:
                os._exit(1)
        time.sleep(random.uniform(0.0, 0.05))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert set(versions(tmp_path)) <= {1, 2}
    write_all(tmp_path, version(3))
    assert versions(tmp_path) == [3] * len(NAMES)
    assert everything(tmp_path / ".traysheets") == {"written.json", "lock"}


# ---- files that are outdated


def is_stick(name: str) -> bool:
    return name.startswith("sticks")


def with_fewer(folder: Path) -> None:
    write_all(folder, [it for it in version(2) if not is_stick(it[0])], outdated=is_stick)


def test_an_outdated_file_that_will_not_go_keeps_all_as_it_was(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    replace = Path.replace

    def stubborn(path: Path, target: Path) -> Path:
        if path.name == "c.txt" and target.parent.name == "old":
            failing(errno.EACCES)(path)
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", stubborn)
    with pytest.raises(FileError, match=r"c\.txt: may not be written: nothing was changed"):
        write_all(made, files(a=b"2", d=b"2"), outdated=lambda name: name in ("b.txt", "c.txt"))
    assert tree(made) == OLD
    assert everything(made) == set(OLD) | STATE
    monkeypatch.undo()
    assert write_all(made, files(a=b"2"), outdated=lambda name: name != "a.txt").removed == ("b.txt", "c.txt")


def test_a_run_that_removes_killed_at_every_single_step(tmp_path: Path) -> None:
    step, status = 0, -signal.SIGKILL
    while status:
        folder = tmp_path / str(step)
        write_all(folder, version(1))
        status = run_killed(folder, killed_at(step), with_fewer)
        assert status in (0, -signal.SIGKILL)
        announced = b'"maps.txt"' in (folder / ".traysheets/written.json").read_bytes().partition(b"pending")[2]
        done = announced or tree(folder)["maps.txt"][0] == 2
        with pytest.raises(SheetError):
            write_all(folder, [], before_final=lambda: (_ for _ in ()).throw(SheetError("only looked")))
        found = {name: content[0] for name, content in tree(folder).items()}
        assert found == {name: 2 if done else 1 for name in NAMES if not (done and is_stick(name))}
        assert everything(folder / ".traysheets") == {"written.json", "lock"}
        write_all(folder, version(3))
        assert versions(folder) == [3] * len(NAMES)
        step += 1
    assert step > 40
