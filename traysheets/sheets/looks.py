"""How each batch looks: its colour and hatch.

Batches of one sowing day are numbered together, so that what lies side by side differs most.
"""

from dataclasses import dataclass

from traysheets.page import hatches, palette
from traysheets.sheets.job import Job


@dataclass(frozen=True, slots=True)
class Look:
    """Full colour, light tint for a ground that seeds stand on, and hatch by name."""

    colour: str
    tint: str
    hatch: str


def looks(job: Job) -> dict[int, Look]:
    """The look of every batch of the plan by its index. Successions on other days start again from the first look."""
    on_day: dict[object, int] = {}
    found: dict[int, Look] = {}
    for batch in job.reckoned.batches:
        number = on_day.get(batch.sow, 0)
        on_day[batch.sow] = number + 1
        colour = palette.fill(number, grey=job.choices.grey)
        found[batch.index] = Look(colour, palette.tint(colour), hatches.hatch(number))
    return found
