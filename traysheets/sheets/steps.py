"""What is to be done to a batch, and on which days: the order of its life, shared by record pages and later sheets."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from traysheets.base.words import Words
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch


class Task(StrEnum):
    """A kind of work. The values are keys of the words of the sheets."""

    SOW = "sow"
    EMERGE = "emerge"
    THIN = "thin"
    TRIM = "trim"
    HARDEN_OFF = "harden_off"
    PLANT_OUT = "plant_out"


@dataclass(frozen=True, slots=True)
class Step:
    """A piece of work and its days, `first` to `last`; `last` is None where it is one day, or from a day on."""

    task: Task
    first: date
    last: date | None = None


def steps(batch: Batch) -> tuple[Step, ...]:
    """The steps of a batch whose days are known, by day; of one day in the order of the work."""
    found = [Step(Task.SOW, batch.sow)]
    if batch.emergence:
        found.append(Step(Task.EMERGE, batch.emergence.first, batch.emergence.last))
    single_days = ((Task.THIN, batch.thin), (Task.TRIM, batch.trim), (Task.HARDEN_OFF, batch.harden_off))
    found += (Step(task, day) for task, day in single_days if day is not None)
    if batch.plant_out:
        found.append(Step(Task.PLANT_OUT, batch.plant_out.value, batch.plant_out_last))
    return tuple(sorted(found, key=lambda step: step.first))


def thins_undated(batch: Batch) -> bool:
    """Whether a batch is to be thinned though nobody can say when, as no table has the days until it comes up."""
    return batch.thin is None and is_thinned(batch)


def is_thinned(batch: Batch) -> bool:
    """Whether plants of a batch are taken out: several may come up where one is to stand."""
    in_hole = batch.seeds_per_station or batch.seeds_per_cell
    return batch.sowing.method is not Method.CLUMP and in_hole.value > 1


def days(step: Step, words: Words) -> str:
    """The days of a step in words: `Saturday 6 March 2027`, `12 Mar to 18 Mar 2027`."""
    if step.last is None or step.last == step.first:
        return words.day(step.first)
    same_year = step.first.year == step.last.year
    first = words.day_of_year(step.first) if same_year else words.short_day(step.first)
    return words("steps.days", first=first, last=words.short_day(step.last))
