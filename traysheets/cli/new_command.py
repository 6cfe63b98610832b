"""`traysheets new FILE`: a starter plan to write on in."""

from datetime import date
from pathlib import Path

import click

from traysheets.cli import options
from traysheets.cli.console import say, tells_problems
from traysheets.pipeline.starting import begin


@click.command()
@click.argument("file", type=options.FILE)
@tells_problems
def command(file: Path) -> None:
    """Write a starter plan to FILE, commented, that `make` accepts as it is."""
    begin(file, coming_season(date.today()))
    say(f"Wrote {file}. Next: traysheets check {file}")


def coming_season(today: date) -> int:
    """The year of the next spring that can still be planned: this one until its first sowing days, then the next."""
    return today.year if today.month < 3 else today.year + 1
