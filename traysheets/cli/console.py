"""What the commands say and how: results to stdout, messages to stderr, colour only on a terminal."""

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from typing import ParamSpec, TypeVar
from unicodedata import combining, east_asian_width

import click

from traysheets.base.errors import TraysheetsError
from traysheets.base.notices import Notice
from traysheets.cli.harmless import harmless, harmless_json

P = ParamSpec("P")
R = TypeVar("R")

FAILED = 1
"""Exit status when the plan, the book or a file has problems."""


def say(message: str, **style: bool | str) -> None:
    """A message to stderr."""
    click.echo(click.style(harmless(message), **style), err=True)  # type: ignore[arg-type]


def show(result: str) -> None:
    """A result to stdout."""
    click.echo(harmless(result))


def show_json(value: object, indent: int = 1) -> None:
    """A result to stdout as JSON, for people and programs alike."""
    click.echo(harmless_json(json.dumps(value, indent=indent, ensure_ascii=False)))


def hand_over(data: bytes) -> None:
    """Data in UTF-8 to stdout: to the byte into a pipe or a file; on a terminal as text, in which nothing steers it."""
    if sys.stdout.isatty():
        click.echo(harmless(data.decode("utf-8-sig").replace("\r\n", "\n")), nl=False)
    else:
        click.echo(data, nl=False)


def warn(notices: Iterable[Notice], file: str) -> None:
    """Say every notice with its place in the plan."""
    for notice in notices:
        place = ":".join(str(part) for part in (notice.file or file, notice.line) if part is not None)
        warning = click.style("warning: ", fg="yellow", bold=True)
        click.echo(f"{harmless(place)}: {warning}{harmless(notice.text)}", err=True)


def tells_problems(command: Callable[P, R]) -> Callable[P, R]:
    """Turn the error family into messages and exit status 1. Anything else is a fault of ours and is not hidden."""

    @wraps(command)
    def wrapped(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            return command(*args, **kwargs)
        except TraysheetsError as error:
            for problem in error.problems:
                say(str(problem), fg="red")
            raise SystemExit(FAILED) from None

    return wrapped


def cells_wide(text: str) -> int:
    """How many columns of a terminal a text takes."""
    return sum(0 if combining(c) else 2 if east_asian_width(c) in "WF" else 1 for c in text)


def table(headings: Sequence[str], rows: Sequence[Sequence[str]], right: Iterable[int] = ()) -> str:
    """Rows in columns as wide as their content; the columns numbered in `right` are set flush right."""
    flush_right = set(right)
    rows = [[harmless(text) for text in row] for row in rows]  # before it is measured: escapes are wider
    widths = [max(cells_wide(row[i]) for row in (headings, *rows)) for i in range(len(headings))]

    def line(row: Sequence[str]) -> str:
        padded = []
        for i, text in enumerate(row):
            gap = " " * (widths[i] - cells_wide(text))
            padded.append(gap + text if i in flush_right else text + gap)
        return "  ".join(padded).rstrip()

    head = [line(headings), line(["-" * width for width in widths])] if any(headings) else []
    return "\n".join([*head, *(line(row) for row in rows)])


@contextmanager
def progress(quiet: bool) -> Iterator[Callable[[str, int], None]]:
    """A reporter of progress: called with the sheet's name and how many pages it has so far.

    One line that is written over, on a terminal only; otherwise silent.
    """
    shown = not quiet and sys.stderr.isatty()

    def report(name: str, pages: int) -> None:
        if shown and (pages < 10 or pages % 10 == 0):
            click.echo(f"\r\x1b[K{name}: page {pages}", err=True, nl=False)

    try:
        yield report
    finally:
        if shown:
            click.echo("\r\x1b[K", err=True, nl=False)
