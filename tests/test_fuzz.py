"""A short piece of the fuzzing run, the same each time; `python -m tests.fuzz --inputs 100000` is the long one."""

import time
from typing import Any

import pytest
from fuzz.inputs import TARGETS
from fuzz.targets import answered
from fuzz.watch import HangError, timed, watched
from hypothesis import HealthCheck, given, settings

INPUTS = {
    "toml": 150,
    "csv": 150,
    "settings": 60,
    "check": 15,
    "commands": 25,
    "book": 5,
    "rows": 5,
    "verify": 5,
    "make": 2,
}


@pytest.mark.parametrize("name", TARGETS)
def test_a_few_inputs(name: str) -> None:
    """The target itself raises where an input is answered with a traceback, without its place, or not in time."""
    _, target, strategy = TARGETS[name]
    watched_target = timed(target)

    def run(content: Any) -> None:
        watched_target(content)

    chosen = settings(
        max_examples=INPUTS[name],
        deadline=None,
        database=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    chosen(given(strategy)(run))()


def test_the_shares_are_of_the_whole() -> None:
    assert sum(share for share, _, _ in TARGETS.values()) == pytest.approx(1)


def test_a_hang_is_seen() -> None:
    with pytest.raises(HangError), watched(0.05):
        time.sleep(5)


@pytest.mark.parametrize(
    "result",
    [(3, "", "x"), (1, "", ""), (0, "\x1b[2J", ""), (1, "", "\x9b"), (1, "", "Traceback (most recent call last)")],
)
def test_what_is_no_answer_is_seen(result: tuple[int, str, str]) -> None:
    with pytest.raises(AssertionError):
        answered(result)
    answered((0, "a line\n", ""))
