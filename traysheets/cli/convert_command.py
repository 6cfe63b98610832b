"""`traysheets convert PLAN -o FILE`: a plan in its other form, TOML or CSV, without loss."""

from pathlib import Path

import click

from traysheets.cli import options
from traysheets.cli.console import say, tells_problems, warn
from traysheets.pipeline.plan_files import convert


@click.command()
@options.PLAN
@click.option("-o", "--output", type=options.FILE, required=True, help="A file ending in .csv or .toml.")
@options.SETTINGS
@click.option("--force", is_flag=True, help="Replace files that are there already.")
@options.QUIET
@tells_problems
def command(plan: Path, output: Path, settings: Path | None, force: bool, quiet: bool) -> None:
    """Turn PLAN from TOML into CSV, or from CSV into TOML.

    CSV holds one sowing a row; all else goes to a settings file beside it, to be named with --settings.
    """
    converted = convert(plan, output, settings, force=force)
    if quiet:
        return
    warn(converted.notices, str(plan))
    first, *others = (source.file for source in converted.files)
    say(f"Wrote {first}" + "".join(f"; use it with --settings {other}" for other in others))
