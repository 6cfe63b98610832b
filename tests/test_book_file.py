"""The book as a file: what is entered is there, and whatever goes wrong leaves it as it was."""

import os
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from test_book_allot import PLAN, wanted

from traysheets.base.errors import BookError
from traysheets.book import opening, schema
from traysheets.book.book import allotted, contents, enter
from traysheets.book.model import Wanted
from traysheets.book.schema import APPLICATION_ID, VERSION

TODAY = date(2027, 3, 1)
BATCHES = [wanted("A"), wanted("B"), wanted("C")]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "plan.book.sqlite"


def print_all(file: Path, batches: list[Wanted], only: list[int] | None = None) -> tuple[str, ...]:
    codes = allotted(contents(file), batches, 2027, PLAN).codes
    enter(file, batches, 2027, PLAN, codes, range(len(batches)) if only is None else only, TODAY)
    return codes


def test_asking_makes_no_file(file: Path) -> None:
    assert allotted(contents(file), BATCHES, 2027, PLAN).codes == ("27-001-7", "27-002-5", "27-003-3")
    assert not file.exists()


def test_what_is_entered_is_there(file: Path) -> None:
    codes = print_all(file, BATCHES)
    again = allotted(contents(file), BATCHES[::-1], 2027, PLAN)
    assert again.codes == codes[::-1]
    assert again.printed.keys() == {0, 1, 2}


def test_only_what_is_printed_is_entered(file: Path) -> None:
    print_all(file, BATCHES, only=[2])
    again = allotted(contents(file), BATCHES, 2027, PLAN)
    assert again.codes == ("27-001-7", "27-002-5", "27-003-3")
    assert again.printed.keys() == {2}
    assert allotted(contents(file), [wanted("D")], 2027, PLAN).codes == ("27-001-7",)


def test_printing_again_keeps_the_first_day_and_brings_the_rest_up_to_date(file: Path) -> None:
    print_all(file, BATCHES)
    changed = [replace(BATCHES[0], identity=replace(BATCHES[0].identity, cells=12), facts='{"cells": 12}')]
    enter(file, changed, 2027, PLAN, ("27-001-7",), [0], date(2027, 4, 1))
    with sqlite3.connect(file) as connection:
        rows = connection.execute("SELECT code, cells, facts, in_plan, first_printed, last_printed FROM batches")
        assert rows.fetchall() == [
            ("27-001-7", 12, '{"cells": 12}', 1, "2027-03-01", "2027-04-01"),
            ("27-002-5", 8, "{}", 0, "2027-03-01", "2027-03-01"),
            ("27-003-3", 8, "{}", 0, "2027-03-01", "2027-03-01"),
        ]
    connection.close()


def test_batches_alike_in_everything_keep_their_order(file: Path) -> None:
    """Of two, the one of the later code stands first: nobody can tell them apart, but sticks and map must agree."""
    assert print_all(file, [wanted("B"), wanted("C")]) == ("27-001-7", "27-002-5")
    enter(file, [wanted("C"), wanted("B"), wanted("B")], 2027, PLAN, ("27-002-5", "27-001-7", "27-003-3"), [2], TODAY)
    swapped = sqlite3.connect(file, isolation_level=None)
    swapped.execute("UPDATE batches SET position = 3 - position WHERE variety = 'B'")
    swapped.close()
    assert allotted(contents(file), [wanted("B"), wanted("B")], 2027, PLAN).codes == ("27-003-3", "27-001-7")


def test_a_run_that_was_overtaken_enters_nothing(file: Path) -> None:
    mine = allotted(contents(file), [wanted("A")], 2027, PLAN).codes
    print_all(file, [wanted("B")])
    before = file.read_bytes()
    with pytest.raises(BookError, match="another run has just entered batches"):
        enter(file, [wanted("A")], 2027, PLAN, mine, [0], TODAY)
    assert file.read_bytes() == before


def test_a_failed_first_entry_leaves_no_empty_book(file: Path) -> None:
    with pytest.raises(BookError):
        enter(file, [wanted("A")], 2027, PLAN, ("27-777-X",), [0], TODAY)
    assert not file.exists()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"not a database at all" * 99, "it is not a book, or is damaged"),
        (b"x", "it is not a book, or is damaged"),
    ],
)
def test_a_file_that_is_no_book_is_refused_and_left(file: Path, content: bytes, said: str) -> None:
    file.write_bytes(content)
    with pytest.raises(BookError) as error:
        allotted(contents(file), BATCHES, 2027, PLAN)
    assert str(error.value) == f"the book {file} cannot be used: {said}; nothing was changed"
    with pytest.raises(BookError):
        enter(file, BATCHES, 2027, PLAN, ("a", "b", "c"), [0], TODAY)
    assert file.read_bytes() == content


def test_a_database_of_another_program_is_refused(file: Path) -> None:
    with sqlite3.connect(file) as connection:
        connection.execute("CREATE TABLE batches (code)")
    connection.close()
    with pytest.raises(BookError, match="a database of another program"):
        allotted(contents(file), BATCHES, 2027, PLAN)
    with pytest.raises(BookError, match="a database of another program"):
        enter(file, BATCHES, 2027, PLAN, ("27-001-7", "27-002-5", "27-003-3"), [0], TODAY)


def test_a_newer_book_is_refused(file: Path) -> None:
    print_all(file, BATCHES)
    with sqlite3.connect(file) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    connection.close()
    with pytest.raises(BookError, match="is of a newer traysheets"):
        allotted(contents(file), BATCHES, 2027, PLAN)


def test_the_book_is_marked_as_ours(file: Path) -> None:
    print_all(file, BATCHES)
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
    connection.close()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be opened; see that its folder is there"):
        enter(tmp_path / "no" / "b.sqlite", BATCHES, 2027, PLAN, ("27-001-7", "27-002-5", "27-003-3"), [0], TODAY)


def test_a_folder_in_the_books_place_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be used: it is a folder"):
        allotted(contents(tmp_path), BATCHES, 2027, PLAN)


def test_a_book_held_by_another_run_is_said(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    print_all(file, [wanted("A")])
    monkeypatch.setattr(opening, "WAIT_SECONDS", 0.05)
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(BookError, match="it is being written to by another program; try again"):
        enter(file, [wanted("A")], 2027, PLAN, ("27-001-7",), [0], TODAY)
    other.execute("ROLLBACK")
    other.close()


def test_a_full_disk_is_said_and_changes_nothing(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    print_all(file, [wanted("A")])
    before = file.read_bytes()
    connect = opening._connect

    def cramped(file: Path, mode: str) -> sqlite3.Connection:
        connection = connect(file, mode)
        connection.execute("PRAGMA max_page_count = 1")
        return connection

    monkeypatch.setattr(opening, "_connect", cramped)
    many = [wanted(f"V{number}" * 20) for number in range(200)]
    codes = allotted(contents(file), many, 2027, PLAN).codes
    with pytest.raises(BookError, match="the disk is full; nothing was changed"):
        enter(file, many, 2027, PLAN, codes, range(200), TODAY)
    assert file.read_bytes() == before


def test_a_kill_in_the_middle_of_entering_leaves_the_book_as_it_was(file: Path) -> None:
    codes = print_all(file, [wanted("A")])
    code = f"""
import os, sys
from datetime import date
sys.path.insert(0, {str(Path(__file__).parent)!r})
from test_book_allot import PLAN, wanted
from traysheets.book import book
written = book._write
def killed(*args):
    written(*args)
    os._exit(9)
book._write = killed
from pathlib import Path
both = [wanted("A", cells=9), wanted("B")]
book.enter(Path({str(file)!r}), both, 2027, PLAN, ("27-001-7", "27-002-5"), [0, 1], date(2027, 4, 1))
"""
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 9
    again = allotted(contents(file), [wanted("A"), wanted("B")], 2027, PLAN)
    assert again.codes == (*codes, "27-002-5")
    assert again.printed.keys() == {0}
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()


KILLED = """
import os, sys
from datetime import date
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
sys.path.insert(0, {tests!r})
from test_book_allot import PLAN, wanted
from traysheets.book import book
written, left = book._write, [{rows}]
def killed(*args):
    written(*args)
    left[0] -= 1
    if not left[0]:
        os._exit(9)
book._write = killed
file = Path({file!r})
many = [replace(wanted(f"V{{number}}", cells=9), facts="z" * 2000) for number in range(3000)]
codes = book.allotted(book.contents(file), many, 2027, PLAN).codes
book.enter(file, many, 2027, PLAN, codes, range(3000), date(2027, 4, 1))
"""


def test_a_kill_after_half_the_file_was_written_is_put_right_by_the_next_reader(file: Path) -> None:
    """So much is entered that SQLite writes to the file before the end; its journal then puts the file back."""
    many = [replace(wanted(f"V{number}"), facts="a" * 2000) for number in range(3000)]
    codes = print_all(file, many)
    before = file.read_bytes()
    script = KILLED.format(tests=str(Path(__file__).parent), file=str(file), rows=2900)
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 9
    assert file.read_bytes() != before
    assert allotted(contents(file), many, 2027, PLAN).codes == codes
    assert file.read_bytes() == before
    assert [path.name for path in file.parent.iterdir()] == [file.name]


def test_reading_changes_nothing(file: Path) -> None:
    print_all(file, BATCHES)
    before = file.read_bytes(), file.stat().st_mtime_ns
    file.chmod(0o400)
    allotted(contents(file), [wanted("D")], 2027, PLAN)
    assert (file.read_bytes(), file.stat().st_mtime_ns) == before
    assert [path.name for path in file.parent.iterdir()] == [file.name]


def test_a_damaged_book_is_refused_and_left(file: Path) -> None:
    print_all(file, [wanted(f"V{number}" * 20) for number in range(200)])
    content = bytearray(file.read_bytes())
    content[5000:9000] = b"x" * 4000
    file.write_bytes(content)
    for use in (lambda: allotted(contents(file), BATCHES, 2027, PLAN), lambda: print_all(file, BATCHES)):
        with pytest.raises(BookError, match="it is damaged; take a copy of it, and a backup if you have one; nothing"):
            use()
    assert file.read_bytes() == content


def test_a_book_removed_while_waiting_for_it_is_not_written_into_the_void(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    print_all(file, [wanted("A")])
    connect = opening._connect

    def removed(file: Path, mode: str) -> sqlite3.Connection:
        connection = connect(file, mode)
        connection.create_function("leave", 0, file.unlink)
        return connection

    monkeypatch.setattr(opening, "_connect", removed)
    monkeypatch.setattr(opening, "_transaction", _after(lambda connection: connection.execute("SELECT leave()")))
    with pytest.raises(BookError, match="it was removed or replaced meanwhile; run this again"):
        enter(file, [wanted("A")], 2027, PLAN, ("27-001-7",), [0], TODAY)


def _after(act: Callable[[sqlite3.Connection], object]) -> Callable[[sqlite3.Connection], object]:
    """The book's own transaction, with something done right before it begins."""
    transaction = opening._transaction

    def begun(connection: sqlite3.Connection) -> object:
        act(connection)
        return transaction(connection)

    return begun


AT_ONCE = """
import sys
import time
from datetime import date
from pathlib import Path
sys.path.insert(0, {tests!r})
from test_book_allot import PLAN, wanted
from traysheets.base.errors import BookError
from traysheets.book.book import allotted, contents, enter
file, mine = Path({file!r}), [wanted(f"{name} {{number}}") for number in range(20)]
while True:
    codes = allotted(contents(file), mine, 2027, "{name}.toml").codes
    try:
        enter(file, mine, 2027, "{name}.toml", codes, range(20), date(2027, 3, 1))
        break
    except BookError as error:
        assert "another run has just entered" in str(error), error
print(*codes)
"""


def test_runs_at_once_never_give_a_code_twice(file: Path) -> None:
    tests = str(Path(__file__).parent)
    scripts = [AT_ONCE.format(tests=tests, file=str(file), name=name) for name in "ABCD"]
    runs = [subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True) for script in scripts]
    codes = [code for run in runs for code in run.communicate()[0].split()]
    assert len(codes) == len(set(codes)) == 80


def test_an_older_book_is_read_as_it_is_and_brought_up_to_date_when_written(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    codes = print_all(file, BATCHES)
    before = file.read_bytes()
    steps = (*schema.STEPS, ("CREATE TABLE later (code TEXT)", "ALTER TABLE batches ADD COLUMN more TEXT"))
    monkeypatch.setattr(schema, "STEPS", steps)
    for module in (schema, opening):
        monkeypatch.setattr(module, "VERSION", len(steps))
    assert allotted(contents(file), BATCHES, 2027, PLAN).codes == codes
    assert file.read_bytes() == before
    print_all(file, BATCHES)
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (len(steps),)
        assert connection.execute("SELECT count(*) FROM later").fetchone() == (0,)
        assert connection.execute("SELECT code, more FROM batches").fetchall() == [(code, None) for code in codes]
    connection.close()


def test_an_empty_file_is_no_book_and_nothing_is_printed_with_it(file: Path) -> None:
    """It may have been one: codes from the first on would be given a second time."""
    file.touch()
    os.utime(file, (time.time() - 3600,) * 2)
    said = "it is empty, and no book; put a backup in its place, or remove it if nothing was printed with it"
    for use in (lambda: allotted(contents(file), BATCHES, 2027, PLAN), lambda: print_all(file, BATCHES)):
        with pytest.raises(BookError) as error:
            use()
        assert str(error.value) == f"the book {file} cannot be used: {said}; nothing was changed"
    assert file.read_bytes() == b""


def test_a_file_made_a_moment_ago_is_that_of_a_run_about_to_write_into_it(file: Path) -> None:
    file.touch()
    assert allotted(contents(file), BATCHES, 2027, PLAN).codes == ("27-001-7", "27-002-5", "27-003-3")
    assert file.read_bytes() == b""
    print_all(file, BATCHES)
    assert allotted(contents(file), BATCHES, 2027, PLAN).printed.keys() == {0, 1, 2}
