"""`traysheets book`: show, note, export and backup, for a book or for the plan it stands beside."""

import secrets
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import click

from traysheets.base.days import parse_day
from traysheets.base.errors import BookError, DoubtfulEntry
from traysheets.book_report import (
    KINDS,
    Sheet,
    backup,
    batch,
    exported,
    overview,
    typed_note,
    typed_number,
    write_export,
    write_note,
)
from traysheets.cli import options
from traysheets.cli.console import hand_over, say, show, table, tells_problems

BOOK = click.argument("book", type=options.FILE)
FORCE = click.option("--force", is_flag=True, help="Replace a file that is there already.")


class Day(options.ParamType[date]):
    """One day."""

    name = "DATE"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """`2027-03-06`."""
        try:
            return parse_day(str(value))
        except ValueError as error:
            self.fail(str(error), param, ctx)


class Number(options.ParamType[int | None]):
    """How many."""

    name = "NUMBER"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int | None:
        """`1000`, also as `1,000` or `1 000`."""
        try:
            return typed_number(str(value))
        except BookError as error:
            self.fail(str(error), param, ctx)


@click.group()
def command() -> None:
    """What became of every batch: look it up, note what you see, take a copy.

    BOOK is the book (`my-plan.book.sqlite`), or the plan that it stands beside.
    """


@command.command("show", short_help="Show all batches, or one with every entry.")
@BOOK
@click.argument("code", required=False)
@tells_problems
def show_command(book: Path, code: str | None) -> None:
    """Show all batches of BOOK, or the one with CODE: what is on hand, what is due, every entry."""
    today = date.today()
    show("\n\n".join(map(text, batch(book, code, today) if code else overview(book, today))))


@command.command("note", short_help="Note what was seen of a batch or done to it.")
@BOOK
@click.argument("code")
@click.argument("kind", type=click.Choice(KINDS))
@click.option(
    "-n",
    "--number",
    type=Number(),
    help="Sown (cells), came up or left: in all so far. Planted out, sold, lost: cells that day.",
)
@click.option("--day", type=Day(), help="The day it was seen or done. [default: today]")
@click.option("--who", default="", help="Who saw or did it.")
@click.option("--remark", default="", help="Anything else.")
@click.option("--corrects", type=int, help="The entry it stands in for; a remark only strikes that out.")
@click.option("--sure", is_flag=True, help="It is so, though it contradicts what was noted before.")
@tells_problems
def note_command(book: Path, code: str, kind: str, day: date | None, **other: Any) -> None:
    """Note what was seen of the batch CODE or done to it.

    Nothing in a book is ever changed: to put an entry right, write another with --corrects and its number.
    """
    today = date.today()
    note = typed_note(code, kind, day or today, key=secrets.token_urlsafe(16), **other)
    try:
        show("\n".join(write_note(book, note, today, datetime.now(UTC))))
    except DoubtfulEntry:
        say("Nothing was stored: this does not fit what is noted. If it is so all the same, add --sure;")
        say("if an earlier entry is wrong, put that right with --corrects and its number.")
        raise


@command.command("export", short_help="Give all of the book as CSV or JSON.")
@BOOK
@click.option("--json", "as_json", is_flag=True, help="JSON with all that was printed, instead of CSV.")
@click.option("-o", "--output", type=options.FILE, help="The file to write. [default: print it]")
@FORCE
@tells_problems
def export_command(book: Path, as_json: bool, output: Path | None, force: bool) -> None:
    """Give all of BOOK as CSV, a row an entry, or as JSON."""
    if output is None:
        hand_over(exported(book, as_json=as_json))
        return
    write_export(book, output, as_json=as_json, force=force)
    say(f"Wrote {output}.")


@command.command("backup", short_help="Take a safe copy, also while it is in use.")
@BOOK
@click.option("-o", "--output", type=options.FILE, required=True, help="The copy to write.")
@FORCE
@tells_problems
def backup_command(book: Path, output: Path, force: bool) -> None:
    """Take a safe copy of BOOK, also while it is in use."""
    size = backup(book, output, force=force)
    say(f"Wrote {output}, {size:,} bytes, checked.")


def text(sheet: Sheet) -> str:
    """A sheet as it stands on a terminal."""
    parts = [sheet.title] if sheet.title else []
    parts += sheet.lines
    if sheet.rows:
        parts.append(table(sheet.headings, sheet.rows, right=sheet.numbers))
    elif sheet.headings:
        parts.append("nothing yet")
    return "\n".join(parts)
