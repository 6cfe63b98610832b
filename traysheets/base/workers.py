"""Work shared out among processes: pieces are done side by side, and what they give comes in the order of the pieces.

A piece of work is a value; the work itself is a function that gives results of a piece one by one, and tells how it
gets on. Both go to other processes as they are, so whatever the work depends on must be in it. The processes write
nothing, and end with the one that started them, however that ends.

`concurrent.futures` would not do: it hands over what a piece gives only when all of it is there, so a sheet in volumes
would be held whole, twice; and before Python 3.14 it cannot end its processes, which an error must not wait for.
"""

import os
import pickle
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from multiprocessing import Pipe, Process, get_start_method, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from multiprocessing.resource_tracker import ensure_running
from threading import Thread
from traceback import format_exception
from typing import Any, TypeAlias, TypeVar

from traysheets.base.errors import TraysheetsError

P = TypeVar("P")
R = TypeVar("R")

Tell: TypeAlias = Callable[[str, int], None]
"""Told how work gets on."""

MOST_HELD = 16 * 2**20
"""Bytes that a process may be ahead; then it waits for its turn, so that memory does not grow with the work."""

_TOLD, _RESULT, _FAILED, _DONE = "told", "result", "failed", "done"
_LOST = (EOFError, OSError)
"""What is raised when the process at the other end is gone."""


def cores() -> int:
    """How many processors this process may use."""
    usable = getattr(os, "sched_getaffinity", None)
    return len(usable(0)) if usable else os.cpu_count() or 1


def shared_out(work: Callable[[P, Tell], Iterator[R]], pieces: Sequence[P], jobs: int, tell: Tell) -> Iterator[R]:
    """What the work gives of all pieces, in their order, done by `jobs` processes. Close it if you do not use it up.

    An error of a piece is raised when it is its turn, so it is the same one that a single process would raise. Raises
    TraysheetsError when a process was ended from outside.
    """
    with _started(work, jobs) as workers:
        yield from _Shared(pieces, workers, tell).results()


@dataclass(slots=True)
class _Worker:
    """A process, the line to it, and the number of the piece it does; None while it waits for one."""

    process: BaseProcess
    line: "Connection[Any, Any]"
    piece: int | None = None


@dataclass(slots=True)
class _Came:
    """What came of a piece and waits for its turn: kinds of message with their content, and bytes in all."""

    messages: deque[tuple[str, Any]] = field(default_factory=deque)
    held: int = 0


class _Shared:
    """Pieces being done by workers."""

    def __init__(self, pieces: Sequence[Any], workers: Sequence[_Worker], tell: Tell) -> None:
        self._waiting = deque(enumerate(pieces))
        self._came = [_Came() for _ in pieces]
        self._workers = workers
        self._tell = tell

    def results(self) -> Iterator[Any]:
        """Everything, piece by piece."""
        for turn, came in enumerate(self._came):
            kind = _RESULT
            while kind != _DONE:
                while not came.messages:
                    self._listen(turn)
                kind, content = came.messages.popleft()
                if kind == _FAILED:
                    raise content
                if kind == _RESULT:
                    yield content

    def _listen(self, turn: int) -> None:
        """Hand out pieces, and take what comes from all who are not too far ahead of the piece whose turn it is."""
        for worker in self._workers:
            if worker.piece is None and self._waiting:
                self._hand_out(worker)
        at_work = [(worker, worker.piece) for worker in self._workers if worker.piece is not None]
        heard = [worker for worker, piece in at_work if piece == turn or self._came[piece].held < MOST_HELD]
        ready = wait([worker.line for worker in heard])
        for worker in heard:
            if worker.line in ready:
                self._take(worker)

    def _hand_out(self, worker: _Worker) -> None:
        worker.piece, piece = self._waiting.popleft()
        with _none_lost(worker):
            worker.line.send(piece)

    def _take(self, worker: _Worker) -> None:
        with _none_lost(worker):
            message = worker.line.recv_bytes()
        kind, content = pickle.loads(message)
        if kind == _TOLD:
            self._tell(*content)
            return
        assert worker.piece is not None, "a worker without work says nothing"
        came = self._came[worker.piece]
        came.messages.append((kind, content))
        came.held += len(message)
        if kind == _DONE:
            worker.piece = None


@contextmanager
def _none_lost(worker: _Worker) -> Iterator[None]:
    """Raise TraysheetsError when the process at the other end is gone."""
    try:
        yield
    except _LOST:
        worker.process.join()
        raise TraysheetsError(
            f"a process that was drawing ended too soon (exit status {worker.process.exitcode}): nothing was changed;"
            " perhaps memory ran out: try --jobs 1, and --pages-per-file for large jobs"
        ) from None


# ---- starting and ending


@contextmanager
def _started(work: Callable[..., Any], jobs: int) -> Iterator[list[_Worker]]:
    """So many processes that wait for pieces. None is left when the block ends, however it ends."""
    workers: list[_Worker] = []
    try:
        with _undisturbed():
            workers += (_start(work) for _ in range(jobs))
        yield workers
    finally:
        for worker in workers:
            worker.process.kill()
        for worker in workers:
            worker.process.join()
            worker.line.close()


def _start(work: Callable[..., Any]) -> _Worker:
    ours, theirs = Pipe()
    process = Process(target=_serve, args=(work, theirs), daemon=True)
    process.start()
    theirs.close()
    return _Worker(process, ours)


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Put off a stop by hand until the block ends; what is started in it hears none, from its first instruction on."""
    if not hasattr(signal, "pthread_sigmask"):  # pragma: no cover - lacking on Windows alone
        yield
        return
    if get_start_method() != "fork":
        ensure_running()  # A helper of these ways to start, which lets stops through again when it is started itself.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


# ---- in the other process, which is killed in the end, and then counts no lines


def _serve(work: Callable[[Any, Tell], Iterator[Any]], line: "Connection[Any, Any]") -> None:
    """Do pieces as they come, until there is nobody who sends any."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()
    with suppress(*_LOST):
        while True:
            _do(work, line.recv(), line)


def _do(work: Callable[[Any, Tell], Iterator[Any]], piece: Any, line: "Connection[Any, Any]") -> None:
    try:
        for result in work(piece, lambda name, number: line.send((_TOLD, (name, number)))):
            line.send((_RESULT, result))
    except Exception as error:
        line.send((_FAILED, _portable(error)))
    line.send((_DONE, None))  # pragma: no cover - counted only of processes that end by themselves


def _portable(error: Exception) -> Exception:  # pragma: no cover - counted as little
    """An error that can be sent: itself where that is possible. One of ours by a fault says where it arose."""
    if not isinstance(error, TraysheetsError):
        error.add_note("".join(format_exception(error)))
    try:
        pickle.loads(pickle.dumps(error))
    except Exception:
        return RuntimeError("".join(format_exception(error)))
    return error


def _end_with_parent() -> None:
    """End at once when the process that started this one is gone, even if it was killed."""
    parent = parent_process()
    assert parent is not None, "this one was started by another"
    wait([parent.sentinel])
    os._exit(1)
