"""What to beware of, and where: the cautions that sheets share, so that each says the same in the same words.

Which sheet shows which follows from the work it is for. How they look is the sheet's own.
"""

from collections.abc import Collection, Iterable
from enum import StrEnum

from traysheets.base.words import Words, sentence
from traysheets.reckon.model import Batch
from traysheets.sheets.steps import Task


class Hazard(StrEnum):
    """Something to beware of, the gravest first. The values are keys of the words of the sheets."""

    TREATED = "treated"
    MIX = "mix"
    KNIVES = "knives"
    LIFTING = "lifting"
    WATER = "water"


_IN_WORK: dict[Hazard, frozenset[Task]] = {
    Hazard.MIX: frozenset({Task.SOW, Task.PLANT_OUT}),
    Hazard.KNIVES: frozenset({Task.THIN, Task.TRIM}),
    Hazard.LIFTING: frozenset({Task.SOW, Task.HARDEN_OFF, Task.PLANT_OUT}),
    Hazard.WATER: frozenset(Task),
}
"""The kinds of work in which each is met, treated seed aside: that goes by the batch (common practice, no source)."""


def met(tasks: Collection[Task], batches: Iterable[Batch] = ()) -> tuple[Hazard, ...]:
    """What is met in this work; `batches` are those whose seed is handled in it."""
    return (*handled(batches), *(hazard for hazard, work in _IN_WORK.items() if work & set(tasks)))


def handled(batches: Iterable[Batch]) -> tuple[Hazard, ...]:
    """What is met in handling the seed of batches."""
    return (Hazard.TREATED,) if any(batch.sowing.treated for batch in batches) else ()


def title(hazard: Hazard, words: Words) -> str:
    """What it is: `Potting mix`."""
    return words(f"cautions.{hazard}")


def advice(hazard: Hazard, words: Words) -> str:
    """What to do about it, as a sentence of its own that stands below a title."""
    return sentence(words(f"cautions.{hazard}_how"))


def line(hazard: Hazard, words: Words) -> str:
    """Both in one line: `Potting mix: damp it before handling, ...`."""
    return words("cautions.line", what=title(hazard, words), how=words(f"cautions.{hazard}_how"))
