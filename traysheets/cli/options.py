"""The words that `check` and `make` share, and what they are read into."""

import os
import unicodedata
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from traysheets.base.days import parse_day
from traysheets.pipeline.options import PAPERS, SCALES


class FileName(click.Path):
    """The name of a file, in letters that can be shown and written down."""

    def __init__(self) -> None:
        super().__init__(path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Refuse names with control characters, and those that are no UTF-8; records could not tell them.

        An empty name too, as a variable that is not set gives: it would be taken for the current folder.
        """
        if not os.fspath(value):
            or_none = ", or leave the option out" if isinstance(param, click.Option) and not param.required else ""
            self.fail(f"this name is empty; write one{or_none}", param, ctx)
        wrong = next((letter for letter in os.fspath(value) if unicodedata.category(letter) in ("Cc", "Cs")), None)
        if wrong is not None:
            self.fail(
                f"there is a character in this name that is no letter (U+{ord(wrong):04X}); rename it", param, ctx
            )
        return super().convert(value, param, ctx)


FILE = FileName()

PLAN = click.argument("plan", type=FILE)
SETTINGS = click.option("--settings", type=FILE, help="A TOML file with all but the sowings, for a plan in CSV.")
BOOK = click.option("--book", type=FILE, help="The book of batch codes. [default: beside the plan]")
PAPER = click.option("--paper", type=click.Choice(PAPERS), help="[default: the plan's, else a4, letter for inches]")
SCALE = click.option("--scale", type=click.Choice(["fit", *SCALES]), default="fit", show_default=True)
QUIET = click.option("-q", "--quiet", is_flag=True, help="Say nothing but errors.")

if TYPE_CHECKING:
    from click import ParamType as ParamType
else:

    class ParamType(click.ParamType):
        """What is read into a value of a type, `ParamType[date]`: which, click lets us say since 8.4 only."""

        def __class_getitem__(cls, _: type) -> type:
            """The same, whatever the type."""
            return cls


class Days(ParamType[tuple[date, date]]):
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
