"""`traysheets check`: what a plan takes, as a table for people or as JSON for programs. Writes nothing."""

from datetime import date
from pathlib import Path

import click

from traysheets.base.collecting import collect_seldom
from traysheets.cli import options
from traysheets.cli.console import show, show_json, table, tells_problems, warn
from traysheets.pipeline.checking import Checked, check_to_print
from traysheets.pipeline.options import Options


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
    collect_seldom()
    checked = check_to_print(Options(plan=plan, settings=settings, book=book, days=days), today=date.today())
    if as_json:
        show_json(checked.facts)
        return
    if not quiet:
        show(report(checked))
        warn(checked.notices, str(plan))


def report(checked: Checked) -> str:
    """The sowings day by day, then what they take in all."""
    parts = [checked.job.plan.title]
    parts += [f"{part.title}\n{table(part.headings, part.rows, right=part.right)}" for part in checked.tables]
    return "\n\n".join(parts)
