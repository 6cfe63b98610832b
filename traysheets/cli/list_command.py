"""`traysheets list`: what is built in."""

import click

from traysheets.cli.console import show, table
from traysheets.reference import KINDS, listing


@click.command()
@click.argument("kind", type=click.Choice(list(KINDS)))
@click.option("--origins", is_flag=True, help="Show where each figure comes from.")
def command(kind: str, origins: bool) -> None:
    """Show what is built in: trays, stocks, crops, papers or languages."""
    found = listing(kind, origins=origins)
    show(table(found.headings, found.rows, right=found.numbers))
