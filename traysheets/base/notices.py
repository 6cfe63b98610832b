"""Notices: what is odd but possible. They travel beside the result as values; only `cli/` prints them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning about the plan. `line` is where in the plan file it comes from, None when it concerns the whole."""

    text: str
    line: int | None = None
