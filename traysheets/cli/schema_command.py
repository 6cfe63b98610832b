"""`traysheets schema`: the JSON Schema of the plan file."""

import json

import click

from traysheets.cli.console import show
from traysheets.reference import plan_schema


@click.command()
def command() -> None:
    """Print the JSON Schema of the plan file, for editors that check and complete as you type."""
    show(json.dumps(plan_schema(), indent=2, ensure_ascii=False))
