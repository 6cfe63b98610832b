"""What a sheet is made from: the reckoned plan, its trays, the batch codes, the words, and the choices of this run."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from traysheets.arrange.model import ArrangedTray, Run, Trays
from traysheets.base.words import Words
from traysheets.plan.model import Plan
from traysheets.reckon.model import Batch, Reckoned
from traysheets.trade.papers import Paper
from traysheets.trade.stocks import Stock


@dataclass(frozen=True)
class Choices:
    """How this run wants its sheets. `scale` is "fit" or a named scale as `1:2.5`; `first_label` counts from 1.

    `days` (first, last) keeps only what is sown then, and on the single days of `also`.
    """

    paper: Paper
    stock: Stock
    scale: str = "fit"
    first_label: int = 1
    outlines: bool = False
    grey: bool = False
    days: tuple[date, date] | None = None
    also: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class Noted:
    """What was noted of a batch on a day. `kind` is the end of a key of the words: `emerged`, `planted_out`."""

    day: date
    kind: str
    number: int | None = None
    remark: str = ""


@dataclass(frozen=True)
class Job:
    """Everything a sheet may ask for. `codes` gives the batch code (`27-014-K`) of every batch index.

    `noted` is what was noted of batches by their index, by day, up to `today`.

    `guide_words` are the languages of the guide: first that of all other sheets, alone where there are none given.
    """

    reckoned: Reckoned
    arranged: Trays
    codes: Mapping[int, str]
    words: Words
    choices: Choices
    today: date
    guide_words: tuple[Words, ...] = ()
    noted: Mapping[int, tuple[Noted, ...]] = field(default_factory=dict)

    @property
    def plan(self) -> Plan:
        """The plan behind it all."""
        return self.reckoned.plan

    @property
    def units(self) -> str:
        """`metric` or `inch`."""
        return self.plan.units

    def _chosen(self, day: date) -> bool:
        days = self.choices.days
        return days is None or days[0] <= day <= days[1] or day in self.choices.also

    @cached_property
    def batches(self) -> tuple[Batch, ...]:
        """The batches sown on the chosen days, in plan order."""
        return tuple(batch for batch in self.reckoned.batches if self._chosen(batch.sow))

    @cached_property
    def trays(self) -> tuple[ArrangedTray, ...]:
        """The trays sown on the chosen days, by number."""
        return tuple(tray for tray in self.arranged.trays if self._chosen(tray.sow))

    @cached_property
    def last_tray_number(self) -> int:
        """The highest tray number of the whole plan, for `Tray 3 of 7`."""
        return max((tray.number for tray in self.arranged.trays), default=0)

    def batch(self, index: int) -> Batch:
        """The batch with that index."""
        return self.reckoned.batches[index]

    def runs(self, batch: Batch) -> tuple[Run, ...]:
        """Where a batch stands, in the order of trays and cells."""
        return self.arranged.runs.get(batch.index, ())
