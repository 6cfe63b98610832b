"""`traysheets check`: what a plan takes, as a table for people or as JSON for programs. Writes nothing."""

import json
from datetime import date
from itertools import groupby
from pathlib import Path

import click

from traysheets.cli import options
from traysheets.cli.console import show, table, tells_problems, warn
from traysheets.pipeline import Options, Prepared, check


@click.command()
@options.PLAN
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of a table.")
@options.ON
@options.SETTINGS
@options.BOOK
@options.QUIET
@tells_problems
def command(
    plan: Path,
    as_json: bool,
    days: tuple[date, date] | None,
    settings: Path | None,
    book: Path | None,
    quiet: bool,
) -> None:
    """Read, reckon and arrange PLAN; print what to sow, in which trays, and what it takes. Writes nothing."""
    prepared = check(Options(plan=plan, settings=settings, book=book, days=days), today=date.today())
    if as_json:
        show(json.dumps(prepared.facts, indent=1, ensure_ascii=False))
        return
    show(report(prepared))
    if not quiet:
        warn(prepared.notices, str(plan))


HEADINGS = ("batch", "", "crop", "variety", "in every cell", "cells", "trays", "seeds", "germination", "plants")
NUMBERS = (5, 7, 9)


def report(prepared: Prepared) -> str:
    """The sowings day by day, then the totals."""
    parts = [f"{prepared.title}\n"]
    for day, lines in groupby(prepared.lines, key=lambda line: line.day):
        parts.append(f"{day}\n{table(HEADINGS, [line.columns for line in lines], right=NUMBERS)}\n")
    parts.append(table(("in all", ""), prepared.totals))
    return "\n".join(parts)
