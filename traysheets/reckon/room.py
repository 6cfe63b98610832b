"""How many cells and trays a plan comes to in all, and whether that is within what can be arranged and drawn."""

from collections.abc import Iterable
from dataclasses import dataclass

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import MOST_CELLS_IN_PLAN, MOST_TRAYS_IN_PLAN
from traysheets.reckon.model import Batch


@dataclass(slots=True)
class Room:
    """What the batches of a plan so far take: cells, and trays that they fill."""

    file: str
    cells: int = 0
    trays: int = 0

    def take(self, batches: Iterable[Batch]) -> None:
        """Add the batches of one sowing. Raises PlanError at the one with which the plan becomes too large."""
        for batch in batches:
            self.cells += batch.cells
            self.trays += batch.cells // batch.sowing.tray.cells
            self._refuse(self.cells, "cells", MOST_CELLS_IN_PLAN, batch.sowing.line)
            self._refuse(self.trays, "full trays", MOST_TRAYS_IN_PLAN, batch.sowing.line)

    def _refuse(self, number: int, what: str, most: int, line: int) -> None:
        if number > most:
            text = f"with this the plan comes to {number:,} {what}; {most:,} are the most; make several plans of it"
            raise PlanError(Problem(text, self.file, line))
