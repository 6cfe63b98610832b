"""The front door: which commands there are, and what becomes of an error. Each command lives in a file of its own.

A command's file is imported only when it is called, so that `--version` need not load what draws PDFs.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import click

from traysheets import __version__
from traysheets.cli.harmless import harmless

COMMANDS = {
    "new": "Write a starter plan, commented, that `make` accepts as it is.",
    "check": "Read, reckon and arrange a plan; print what it takes; write nothing.",
    "make": "Make the sheets and the records of a plan.",
    "book": "Look up what became of every batch, note what you see, take a copy.",
    "printer-check": "Make a page to measure with a ruler: what your printer makes of lengths.",
    "verify": "Read a finished sheet back: whole, to scale, scannable.",
    "convert": "Turn a plan from TOML into CSV and back.",
    "serve": "Serve the book to phones on the local network: look a batch up, note what you see.",
    "list": "Show what is built in: trays, stocks, crops, papers, languages.",
    "schema": "Print the JSON Schema of the plan file, for editors.",
}
"""Name and one line of help; the command is the function `command` of `cli/<name>_command.py`, a hyphen become `_`."""


class LazyCommands(click.Group):
    """A group that imports a command when it is called, and knows the one-line helps without importing any."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a newcomer needs them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command's file and hand over the command; None when there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"traysheets.cli.{cmd_name.replace('-', '_')}_command")
        command: click.Command = module.command
        return command

    def make_context(self, *args: Any, **kwargs: Any) -> click.Context:
        """Read the words typed; complaints about them quote them harmlessly."""
        with _harmless_complaints():
            return super().make_context(*args, **kwargs)

    def invoke(self, ctx: click.Context) -> Any:
        """Read the words of the command and run it; complaints as above."""
        with _harmless_complaints():
            return super().invoke(ctx)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands with their one-line helps."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@contextmanager
def _harmless_complaints() -> Iterator[None]:
    try:
        yield
    except click.UsageError as error:
        said = error.format_message()
        if harmless(said) == said:
            raise
        raise click.UsageError(harmless(said), error.ctx) from None


@click.group(cls=LazyCommands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="traysheets", message="%(prog)s %(version)s")
@click.pass_context
def cli(ctx: click.Context) -> None:
    """Tray maps, stick labels and batch records from a sowing plan.

    Start with `traysheets new my-plan.toml`, then `traysheets make my-plan.toml`.
    """
    if os.environ.get("NO_COLOR"):
        ctx.color = False


def main() -> None:
    """Run the program: exit status 0 when done, 1 when the plan or the book has problems, 2 for wrong use."""
    # Names may be in any script; a terminal that cannot show a letter shows its escape instead of ending the run.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    cli(prog_name="traysheets")
