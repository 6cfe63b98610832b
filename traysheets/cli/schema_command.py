"""`traysheets schema`: the JSON Schema of the plan file."""

import click

from traysheets.cli.console import show_json
from traysheets.reference import plan_schema


@click.command()
def command() -> None:
    """Print the JSON Schema of the plan file, for editors that check and complete as you type."""
    show_json(plan_schema(), indent=2)
