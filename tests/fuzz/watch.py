"""What no answer may take: how long, and how much memory. A hang ends in an error, not in waiting."""

import resource
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

SECONDS = 10
"""Of an input, on the clock; a busy machine is given three times as much."""
MIB = 500
"""Of the whole process, at its peak."""


class HangError(BaseException):
    """An input took too long. Not an Exception, so that nothing takes it for an error of its own."""


@contextmanager
def watched(seconds: float = 3 * SECONDS) -> Iterator[None]:
    """Ends what takes longer."""

    def ring(number: int, frame: FrameType | None) -> None:
        raise HangError(f"no answer after {seconds} seconds")

    before = signal.signal(signal.SIGALRM, ring)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def timed(target: Callable[[Any], None]) -> Callable[[Any], None]:
    """The target, each of its inputs watched."""

    def run(given: Any) -> None:
        with watched():
            target(given)

    return run


def limit_memory() -> None:
    """Let no more than four times the stated memory be asked for: what goes on asking ends in a MemoryError."""
    resource.setrlimit(resource.RLIMIT_AS, (4 * MIB * 2**20,) * 2)


def peak_mib() -> float:
    """The most memory this process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
