"""Work shared out among processes: the same results, errors and order as in one; and nobody is left behind."""

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from traysheets.base.errors import PlanError, Problem, TraysheetsError
from traysheets.base.workers import Tell, cores, shared_out

HERE = Path(__file__).parent
METHODS = [method for method in ("fork", "spawn", "forkserver") if method in multiprocessing.get_all_start_methods()]


def squares(piece: int, tell: Tell) -> Iterator[tuple[int, int]]:
    for number in range(piece):
        tell(str(piece), number)
        yield piece, number * number


def big(piece: int, tell: Tell) -> Iterator[bytes]:
    for _ in range(3):
        yield bytes([piece]) * 9_000_000


def slow_then_quick(piece: int, tell: Tell) -> Iterator[int]:
    time.sleep(0.2 if piece == 0 else 0)
    yield piece


def failing(piece: int, tell: Tell) -> Iterator[int]:
    yield piece
    time.sleep(0.2 if piece == 1 else 0)
    if piece in (1, 2):
        raise PlanError([Problem(f"piece {piece} is wrong", "plan.toml", piece)])


def at_fault(piece: int, tell: Tell) -> Iterator[int]:
    yield 1 // piece


class UnportableError(Exception):
    def __init__(self, one: int, two: int) -> None:
        super().__init__(f"{one} and {two}")


def unportable(piece: int, tell: Tell) -> Iterator[int]:
    raise UnportableError(1, 2)
    yield piece


def dying(piece: int, tell: Tell) -> Iterator[int]:
    os.kill(os.getpid(), signal.SIGKILL)
    yield piece


def pid(piece: int, tell: Tell) -> Iterator[int]:
    yield os.getpid()
    time.sleep(60)


@pytest.mark.parametrize("jobs", [1, 2, 3])
def test_results_come_in_the_order_of_the_pieces(jobs: int) -> None:
    pieces = [3, 0, 5, 1]
    told: list[tuple[str, int]] = []
    found = list(shared_out(squares, pieces, jobs, lambda name, number: told.append((name, number))))
    assert found == [(piece, number * number) for piece in pieces for number in range(piece)]
    assert sorted(told) == sorted((str(piece), number) for piece in pieces for number in range(piece))
    assert [number for name, number in told if name == "5"] == [0, 1, 2, 3, 4]


def test_a_slow_piece_holds_its_place() -> None:
    assert list(shared_out(slow_then_quick, range(5), 2, print)) == [0, 1, 2, 3, 4]


def test_those_too_far_ahead_wait_for_their_turn() -> None:
    found = list(shared_out(big, range(4), 2, print))
    assert [it[0] for it in found] == [0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3]


def test_the_first_error_in_order_is_raised_whole() -> None:
    with pytest.raises(PlanError) as error:
        list(shared_out(failing, range(4), 3, print))
    assert str(error.value) == "plan.toml:1: piece 1 is wrong"


def test_a_fault_of_ours_says_where_it_arose() -> None:
    with pytest.raises(ZeroDivisionError) as error:
        list(shared_out(at_fault, [0], 2, print))
    assert "yield 1 // piece" in error.value.__notes__[0]


def test_an_error_that_cannot_be_sent_is_told_as_text() -> None:
    with pytest.raises(RuntimeError, match="UnportableError: 1 and 2"):
        list(shared_out(unportable, [0], 2, print))


def test_a_process_that_is_killed_is_told() -> None:
    with pytest.raises(TraysheetsError, match=r"ended too soon \(exit status -9\): nothing was changed") as error:
        list(shared_out(dying, range(3), 2, print))
    assert "--jobs 1" in str(error.value)


def gone(process: int) -> bool:
    """Whether a process has ended, within ten seconds."""
    for _ in range(200):
        try:
            os.kill(process, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


def test_nobody_is_left_when_results_are_not_used_up() -> None:
    with closing(shared_out(pid, range(2), 2, print)) as found:
        process = next(found)
    assert gone(process)
    assert multiprocessing.active_children() == []


WAITING = """
import multiprocessing, sys
if __name__ == "__main__":
    multiprocessing.set_start_method(sys.argv[1])
    from test_workers import pid
    from traysheets.base.workers import shared_out
    for found in shared_out(pid, range(2), 2, print):
        print(found, flush=True)
"""


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("by", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_all_end_with_the_one_that_started_them(tmp_path: Path, method: str, by: signal.Signals) -> None:
    script = tmp_path / "waiting.py"
    script.write_text(WAITING)
    environment = os.environ | {"PYTHONPATH": str(HERE)}
    command = [sys.executable, str(script), method]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment) as starter:
        assert starter.stdout
        assert starter.stderr
        process = int(starter.stdout.readline())
        starter.send_signal(by)
        assert starter.wait(20) == -by
        assert gone(process)
        said = starter.stderr.read().decode()
    assert said.count("Traceback") == (by == signal.SIGINT), "of the one that was told to end, and of nobody else"


def test_there_is_a_core() -> None:
    assert 1 <= cores() <= (os.cpu_count() or 1)
