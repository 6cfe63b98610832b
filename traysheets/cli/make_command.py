"""`traysheets make`: all sheets and the records of a plan."""

from datetime import date
from pathlib import Path

import click

from traysheets.base.collecting import collect_seldom
from traysheets.cli import options
from traysheets.cli.console import progress, say, tells_problems, warn
from traysheets.pipeline.making import Stopped, make
from traysheets.pipeline.options import Options
from traysheets.pipeline.outputs import OUTPUTS


@click.command()
@options.PLAN
@click.option("-o", "--output", type=options.FILE, help="Folder. [default: beside the plan, named after it]")
@click.option("--only", multiple=True, type=click.Choice(OUTPUTS), help="Only these; may be given again.")
@options.ON
@options.PAPER
@options.SCALE
@click.option("--stock", help="Label stock of the sticks; see `traysheets list stocks`.")
@click.option("--first-label", type=click.IntRange(min=1), default=1, help="First free label of a part-used sheet.")
@click.option("--outlines", is_flag=True, help="Draw the outlines of labels, to see how they fall.")
@click.option("--grey", is_flag=True, help="Without colour, for black-and-white printers.")
@click.option(
    "--language",
    "languages",
    multiple=True,
    help="Language of the sheets; see `traysheets list languages`. Given again: one more on the guide.",
)
@click.option(
    "--pages-per-file",
    type=click.IntRange(min=1),
    metavar="N",
    help="Part a sheet of more pages into files of at most N: maps-001.pdf, maps-002.pdf, ... What belongs together"
    " stays in one file. Takes less memory for large plans.",
)
@click.option(
    "--jobs",
    type=click.IntRange(min=1),
    metavar="N",
    help="How many processes draw; 1 is this one alone. The files are the same. [default: what pays on this machine]",
)
@options.SETTINGS
@options.BOOK
@click.option("--force", is_flag=True, help="Replace files in the folder that an earlier run did not write.")
@options.QUIET
@tells_problems
def command(
    plan: Path,
    output: Path | None,
    only: tuple[str, ...],
    days: tuple[date, date] | None,
    paper: str | None,
    scale: str,
    stock: str | None,
    first_label: int,
    outlines: bool,
    grey: bool,
    languages: tuple[str, ...],
    pages_per_file: int | None,
    jobs: int | None,
    settings: Path | None,
    book: Path | None,
    force: bool,
    quiet: bool,
) -> None:
    """Make the sheets and records of PLAN. Nothing is written unless all of it can be."""
    collect_seldom()
    wanted = Options(
        plan=plan,
        settings=settings,
        book=book,
        folder=output,
        only=only,
        days=days,
        paper=paper,
        scale=scale,
        stock=stock,
        first_label=first_label,
        outlines=outlines,
        grey=grey,
        languages=languages,
        pages_per_file=pages_per_file,
        jobs=jobs,
        force=force,
    )
    try:
        with progress(quiet) as report:
            made = make(wanted, today=date.today(), progress=report)
    except Stopped as stop:
        say(f"Stopped: {stop}")
        raise click.Abort from None
    if quiet:
        return
    warn(made.notices, str(plan))
    say(f"{made.folder}: wrote {told(made.files)}")
    if made.removed:
        say(f"{made.folder}: removed {superseded(made.removed)}")
    say("Print at 100 %, not 'fit to page', and hold a ruler to the 50 mm bar.")


def told(files: tuple[str, ...]) -> str:
    """The files at the top of the folder by name, those below it by number."""
    below = sum("/" in file for file in files)
    names = [file for file in files if "/" not in file]
    number = "1 file" if below == 1 else f"{below} files"
    return ", ".join([*names, *([f"records/ ({number})"] if below else [])])


def superseded(files: tuple[str, ...]) -> str:
    """The files of an earlier run that were removed, and why."""
    which, them = ("that", "it") if len(files) == 1 else ("those", "them")
    return f"{told(files)}: an earlier run wrote {which}, and this one supersedes {them}"
