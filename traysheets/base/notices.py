"""Notices: what is odd but possible. They travel beside the result as values; only `cli/` prints them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning about the plan. `line` is where in the plan file it comes from, None when it concerns the whole.

    `file` is named where that may be another file than the plan, as its settings.
    `passing` marks what is true on some days only, or only until the plan is printed: it is told, and never kept.
    """

    text: str
    line: int | None = None
    passing: bool = False
    file: str | None = None
