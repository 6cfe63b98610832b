"""`traysheets printer-check -o FILE`: a page to measure with a ruler."""

from pathlib import Path

import click

from traysheets.cli import options
from traysheets.cli.console import say, tells_problems
from traysheets.pipeline.options import PAPERS
from traysheets.pipeline.printing import printer_check


@click.command()
@click.option("--paper", type=click.Choice(PAPERS), default="a4", show_default=True)
@click.option("--language", default="en", show_default=True, help="See `traysheets list languages`.")
@click.option("-o", "--output", type=options.FILE, required=True, help="The PDF file to write.")
@click.option("--force", is_flag=True, help="Replace a file that is there already.")
@tells_problems
def command(paper: str, language: str, output: Path, force: bool) -> None:
    """Make a page with rulers, corner marks and samples.

    Print it at 100 %, measure it, and write what the ruler says under [printer] into the plan: every sheet is then
    corrected for that printer.
    """
    printer_check(output, paper, language, force=force)
    say(f"Wrote {output}. Print it at 100 %, not 'fit to page'; it says what to measure.")
