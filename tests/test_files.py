"""Writing a folder of files: what is written, what is refused, and what is left alone."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import FileError, PlanError
from traysheets.export import filelock, filenames
from traysheets.export.files import Wrote, write_all, write_one


def holding(content: bytes) -> Callable[[BinaryIO], object]:
    return lambda file: file.write(content)


def files(**contents: bytes) -> list[tuple[str, Callable[[BinaryIO], object]]]:
    return [(name.replace("__", "/") + ".txt", holding(content)) for name, content in contents.items()]


def tree(folder: Path) -> dict[str, bytes]:
    """What a user sees of a folder: the files in it that are not hidden."""
    found = sorted(path for path in folder.rglob("*") if path.is_file())
    names = ((path.relative_to(folder), path) for path in found)
    return {name.as_posix(): path.read_bytes() for name, path in names if not name.parts[0].startswith(".")}


def everything(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


def sentence(error: pytest.ExceptionInfo[FileError], folder: Path) -> str:
    return str(error.value).replace(f"{folder}/", "")


def test_a_new_folder_with_folders_in_it(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "spring"
    wrote = write_all(folder, files(maps=b"one", records__B__X=b"two"))
    assert wrote == Wrote(("maps.txt", "records/B/X.txt"))
    assert tree(folder) == {"maps.txt": b"one", "records/B/X.txt": b"two"}
    assert everything(folder / ".traysheets") == {"written.json", "lock"}


def test_the_list_tells_size_and_sha256(tmp_path: Path) -> None:
    write_all(tmp_path, files(a=b"abc"))
    listed = json.loads((tmp_path / ".traysheets/written.json").read_text())
    # SHA-256 of "abc": FIPS 180-4, example of one block.
    sha256 = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert listed["files"] == {"a.txt": [3, sha256]}
    assert listed["pending"] == {}


def test_files_of_an_earlier_run_are_replaced_and_others_of_it_stay(tmp_path: Path) -> None:
    write_all(tmp_path, files(maps=b"old", sticks=b"old"))
    write_all(tmp_path, files(maps=b"new"))
    assert tree(tmp_path) == {"maps.txt": b"new", "sticks.txt": b"old"}
    write_all(tmp_path, files(sticks=b"newer"))
    assert tree(tmp_path) == {"maps.txt": b"new", "sticks.txt": b"newer"}


def test_force_removes_nothing(tmp_path: Path) -> None:
    write_all(tmp_path, files(gone=b"record of a batch"))
    write_all(tmp_path, files(maps=b"new"), force=True)
    assert "gone.txt" in tree(tmp_path)


def test_what_is_outdated_goes_unless_it_was_changed_or_is_no_file_of_ours(tmp_path: Path) -> None:
    write_all(tmp_path, files(maps=b"1", part__a=b"1", part__b=b"1", part__c=b"1", seeds=b"1"))
    (tmp_path / "part/b.txt").write_bytes(b"mine")
    (tmp_path / "part/c.txt").unlink()
    (tmp_path / "part/z.txt").write_bytes(b"mine too")
    wrote = write_all(tmp_path, files(maps=b"2"), outdated=lambda name: not name.startswith("seeds"))
    assert wrote == Wrote(("maps.txt",), ("part/a.txt",), ("part/b.txt",))
    assert tree(tmp_path) == {
        "maps.txt": b"2",
        "part/b.txt": b"mine",
        "part/z.txt": b"mine too",
        "seeds.txt": b"1",
    }
    assert write_all(tmp_path, files(part__a=b"3"), outdated=lambda name: True).removed == ("maps.txt", "seeds.txt")


def test_files_of_others_and_files_changed_by_hand_are_refused_all_at_once(tmp_path: Path) -> None:
    write_all(tmp_path, files(maps=b"made"))
    (tmp_path / "maps.txt").write_bytes(b"mine")
    (tmp_path / "notes.txt").write_bytes(b"mine too")
    with pytest.raises(FileError) as error:
        write_all(tmp_path, files(new=b"1", maps=b"2", sticks=b"3", notes=b"4"))
    assert sentence(error, tmp_path) == (
        "maps.txt: was changed since it was made; move it away, or replace it with --force\n"
        "notes.txt: was not made by an earlier run; move it away, or replace it with --force"
    )
    assert tree(tmp_path) == {"maps.txt": b"mine", "notes.txt": b"mine too"}


def test_force_replaces_them(tmp_path: Path) -> None:
    (tmp_path / "maps.txt").write_bytes(b"mine")
    write_all(tmp_path, files(maps=b"made"), force=True)
    write_all(tmp_path, files(maps=b"made again"))
    assert tree(tmp_path) == {"maps.txt": b"made again"}


def test_nothing_more_is_made_once_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"mine")
    made: list[str] = []
    with pytest.raises(FileError):
        write_all(tmp_path, [("a.txt", holding(b"")), ("b.txt", lambda _: made.append("b"))])
    assert made == []


@pytest.mark.parametrize(
    "left", ["", "{", "[]", '{"files": [1], "pending": {}}', '{"files": {"a.txt": 3}, "pending": {}}']
)
def test_a_list_that_cannot_be_understood_makes_no_file_ours(tmp_path: Path, left: str) -> None:
    write_all(tmp_path, files(a=b"1"))
    (tmp_path / ".traysheets/written.json").write_text(left)
    with pytest.raises(FileError, match="not made by an earlier run"):
        write_all(tmp_path, files(a=b"2"))
    write_all(tmp_path, files(a=b"2"), force=True)
    write_all(tmp_path, files(a=b"3"))


def test_a_copy_of_the_whole_folder_is_ours_too(tmp_path: Path) -> None:
    write_all(tmp_path / "one", files(a=b"1"))
    (tmp_path / "one").rename(tmp_path / "two")
    write_all(tmp_path / "two", files(a=b"2"))
    assert tree(tmp_path / "two") == {"a.txt": b"2"}


def test_a_symbolic_link_is_never_written_through(tmp_path: Path) -> None:
    treasure = tmp_path / "treasure"
    treasure.write_bytes(b"gold")
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "a.txt").symlink_to(treasure)
    with pytest.raises(FileError):
        write_all(folder, files(a=b"1"))
    write_all(folder, files(a=b"1"), force=True)
    assert treasure.read_bytes() == b"gold"
    assert not (folder / "a.txt").is_symlink()


def test_a_folder_where_a_file_is_to_be(tmp_path: Path) -> None:
    (tmp_path / "maps.txt").mkdir()
    (tmp_path / "records").write_bytes(b"a file")
    with pytest.raises(FileError) as error:
        write_all(tmp_path, files(maps=b"1", records__B=b"2", records__C=b"3"), force=True)
    assert sentence(error, tmp_path) == (
        "maps.txt: is not a file; move it away\nrecords: is a file where a folder is to be; move it away"
    )


@pytest.mark.parametrize("inside", ["", "/spring"])
def test_the_folder_is_a_file(tmp_path: Path, inside: str) -> None:
    (tmp_path / "out").write_bytes(b"a file")
    with pytest.raises(FileError) as error:
        write_all(Path(f"{tmp_path}/out{inside}"), files(a=b"1"))
    assert sentence(error, tmp_path) == (
        "out: is a file where a folder is to be; move it away, or choose another folder"
    )


def test_the_hook_is_called_when_all_is_written_and_nothing_is_moved(tmp_path: Path) -> None:
    write_all(tmp_path, files(a=b"old"))
    seen: list[dict[str, bytes]] = []

    def look() -> None:
        seen.append(tree(tmp_path) | tree(tmp_path / ".traysheets/new"))

    write_all(tmp_path, files(b=b"new"), before_final=look)
    assert seen == [{"a.txt": b"old", "b.txt": b"new"}]


def refuse(*_: object) -> None:
    raise PlanError("no")


def test_a_refusing_hook_or_writer_leaves_no_trace(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "out"
    with pytest.raises(PlanError):
        write_all(folder, files(a=b"1"), before_final=refuse)
    with pytest.raises(PlanError):
        write_all(folder, [*files(a=b"1"), ("b.txt", refuse)])
    assert everything(tmp_path) == set()


def test_two_runs_at_once(tmp_path: Path) -> None:
    def run_again() -> None:
        write_all(tmp_path, files(a=b"second"))

    with pytest.raises(FileError) as error:
        write_all(tmp_path, files(a=b"first"), before_final=run_again)
    assert str(error.value) == f"{tmp_path}: another run is writing here just now; try again when it has ended"
    write_all(tmp_path, files(a=b"third"))
    assert tree(tmp_path) == {"a.txt": b"third"}


@pytest.mark.parametrize("left", [None, "another's"])
def test_a_lock_that_goes_before_it_is_held_holds_nobody_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, left: str | None
) -> None:
    """Who held it has removed it and ended, or one more has made it anew, between the opening and the holding of it."""
    path, take, taken = tmp_path / "lock", filelock._take, list[int]()

    def late(descriptor: int) -> None:
        if not taken:
            path.unlink()
            if left:
                path.write_text(left, encoding="utf-8")
        taken.append(descriptor)
        take(descriptor)

    monkeypatch.setattr(filelock, "_take", late)
    with filelock.locked(path):
        assert len(taken) == 2
        with pytest.raises(BlockingIOError), filelock.locked(path):
            raise AssertionError("two hold it at once")
        assert path.read_text(encoding="utf-8") == (left or "")
    with filelock.locked(path):
        pass


def test_one_file(tmp_path: Path) -> None:
    path = tmp_path / "check.pdf"
    write_one(path, holding(b"1"))
    write_one(path, holding(b"2"))
    with pytest.raises(PlanError):
        write_one(path, refuse)
    assert tree(tmp_path) == {"check.pdf": b"2"}
    assert everything(tmp_path) == {"check.pdf"}


def test_one_file_beside_nothing(tmp_path: Path) -> None:
    with pytest.raises(FileError) as error:
        write_one(tmp_path / "nowhere" / "check.pdf", holding(b"1"))
    assert sentence(error, tmp_path) == "nowhere/check.pdf: cannot be written: its folder is not there"
    assert everything(tmp_path) == set()


def test_one_file_into_a_folder_that_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "plan").write_bytes(b"")
    with pytest.raises(FileError) as error:
        write_one(tmp_path / "plan" / "check.pdf", holding(b"1"))
    assert sentence(error, tmp_path) == (
        "plan: is a file where a folder is to be; move it away, or choose another folder"
    )


# ---- names

BAD_NAMES = {
    "records//index.html": "'' names no file",
    "../index.html": "'..' names no file",
    "B/A?/index.html": "'A?' has the character '?', which cannot stand in a file name",
    "B/A\n/index.html": "'A\\n' has the character '\\n', which cannot stand in a file name",
    "B/A./index.html": "'A.' begins or ends with a space, or ends with a full stop",
    "B/CON/index.html": "'CON' is the name of a device on Windows",
    "B/com1.a/index.html": "'com1.a' is the name of a device on Windows",
    "é" * 128: "'éééééééééééééééééééé...' is longer than 255 bytes",
}


@pytest.mark.parametrize(("name", "reason"), BAD_NAMES.items())
def test_names_that_some_file_system_refuses(tmp_path: Path, name: str, reason: str) -> None:
    with pytest.raises(FileError) as error:
        write_all(tmp_path / "out", [(name, holding(b""))])
    assert str(error.value) == f"{name}: {reason}"
    assert everything(tmp_path) == set()


@pytest.mark.parametrize("pair", [("b/K.txt", "B/k.txt"), ("é.txt", "é.txt"), ("a.txt", "a.txt")])
def test_names_that_some_file_system_takes_for_one(tmp_path: Path, pair: tuple[str, str]) -> None:
    with pytest.raises(FileError) as error:
        write_all(tmp_path, [(name, holding(b"")) for name in pair])
    assert str(error.value) == f"{pair[1]}: is the same name as {pair[0]} on some systems"


@given(st.text(min_size=1))
def test_a_name_that_passes_can_be_written_and_read_back(tmp_path_factory: pytest.TempPathFactory, name: str) -> None:
    if filenames.objection(name) is not None or name.startswith(".traysheets"):
        return
    folder = tmp_path_factory.mktemp("names")
    write_all(folder, [(name, holding(b"x"))])
    assert (folder / name).read_bytes() == b"x"
