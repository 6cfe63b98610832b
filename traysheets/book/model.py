"""What the book keeps of a batch and what is asked of it, as plain values; and what tells one batch from another."""

import json
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any


@dataclass(frozen=True, slots=True)
class Identity:
    """What tells one batch from another. The sowing day is always part of it: another day, another batch."""

    crop: str
    variety: str
    sow: date
    lot: str
    method: str
    tray: str
    place: str
    cells: int
    seeds_per_cell: int

    @property
    def plant(self) -> tuple[str, str]:
        """Crop and variety, however their letters are written."""
        return self.crop.casefold(), self.variety.casefold()

    @property
    def same_seed(self) -> tuple[object, ...]:
        """Variety, day, lot and method: what stays when amounts or trays are edited."""
        return self.plant, self.sow, self.lot, self.method

    @property
    def same_packet(self) -> tuple[object, ...] | None:
        """Crop, lot and day: what stays when the spelling of a variety is mended. None without a lot."""
        return (self.crop.casefold(), self.lot, self.sow) if self.lot else None

    @property
    def same_day(self) -> tuple[object, ...]:
        """Variety and day: what stays when the lot or the method is edited too."""
        return self.plant, self.sow


@dataclass(frozen=True, slots=True)
class Wanted:
    """A batch of the plan that needs a code. `own_code` is the grower's own; `line` is where the plan has its sowing.

    `facts` is everything printed about it, as JSON, kept for the day when the plan has changed or is gone.
    """

    identity: Identity
    line: int
    own_code: str | None = None
    repeated: bool = False
    facts: str = "{}"


@dataclass(frozen=True, slots=True)
class Printed:
    """A batch that was printed under a code. `in_plan`: it was still in the plan when that was last printed."""

    code: str
    identity: Identity
    plan: str
    in_plan: bool
    facts: str = "{}"


@dataclass(frozen=True)
class Kept(Printed):
    """All that the book keeps of a printed batch: also its season, and the days it was printed first and last."""

    season: int = 0
    first_printed: date = date.min
    last_printed: date = date.min

    @cached_property
    def told(self) -> dict[str, Any]:
        """What was printed about it, as plain values; empty when that cannot be read."""
        try:
            told = json.loads(self.facts)
        except ValueError:
            return {}
        return told if isinstance(told, dict) else {}
