"""The words that `check` and `make` share, and what they are read into."""

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from traysheets.base.days import parse_day
from traysheets.pipeline import PAPERS, SCALES

PLAN = click.argument("plan", type=click.Path(path_type=Path))
SETTINGS = click.option(
    "--settings", type=click.Path(path_type=Path), help="A TOML file with all but the sowings, for a plan in CSV."
)
BOOK = click.option(
    "--book", type=click.Path(path_type=Path), help="The book of batch codes. [default: beside the plan]"
)
PAPER = click.option("--paper", type=click.Choice(PAPERS), help="[default: the plan's, else a4, letter for inches]")
SCALE = click.option("--scale", type=click.Choice(["fit", *SCALES]), default="fit", show_default=True)
QUIET = click.option("-q", "--quiet", is_flag=True, help="Say nothing but errors.")

if TYPE_CHECKING:
    _DaysType = click.ParamType[tuple[date, date]]
else:  # what a type converts to can be said since click 8.4 only
    _DaysType = click.ParamType


class Days(_DaysType):
    """A day or an ISO week as the first and last day that it means."""

    name = "DATE|WEEK"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[date, date]:
        """`2027-03-06` is that day, `2027-W09` the seven days of that week."""
        try:
            first = parse_day(str(value))
        except ValueError as error:
            self.fail(str(error), param, ctx)
        is_week = "W" in str(value).upper() and len(str(value)) <= len("2027-W09")
        return first, first + timedelta(days=6 if is_week else 0)


ON = click.option("--on", "days", type=Days(), help="Only what is sown on that day or in that ISO week.")
