"""What the forms of a plan file have in common: every table of it fills in one, and the JSON Schema is made from them.

A form tells the keys of a table and what kind of value each takes; it checks what can be told from one value alone.
Every key may be left out: what a sowing cannot do without is asked for where sowings and defaults are laid together.
"""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from traysheets.base import limits
from traysheets.plan.texts import OneOf


def whole(least: int, most: int) -> Any:
    """The bounds of a whole number."""
    return Field(ge=least, le=most)


def above_nothing(most: float) -> Any:
    """The bounds of a number above nothing."""
    return Field(gt=0, le=most)


MethodName = Annotated[str, OneOf("single", "clump", "stations")]
SeedsInCell = Annotated[int, whole(1, limits.MOST_SEEDS_IN_CELL)]
SeedsInStation = Annotated[int, whole(1, limits.MOST_SEEDS_IN_STATION)]
Stations = Annotated[int, whole(1, limits.MOST_STATIONS)]
Seeds = Annotated[int, whole(1, limits.MOST_SEEDS)]
Rows = Annotated[int, whole(1, limits.MOST_ROWS)]
Weeks = Annotated[int, whole(0, limits.MOST_WEEKS)]
SeedsInGram = Annotated[float, above_nothing(limits.MOST_SEEDS_IN_GRAM)]
Pace = Annotated[float, above_nothing(limits.MOST_SECONDS_A_CELL)]


class Form(BaseModel):
    """A table of the plan file: unknown keys are errors, nothing is turned silently into another type."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        use_attribute_docstrings=True,
    )
