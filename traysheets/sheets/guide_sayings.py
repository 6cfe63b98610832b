"""What the guide says of a batch, in words: the order at its head, what is right and wrong, the captions."""

from collections.abc import Sequence

from traysheets.base.words import Words, sentence
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets.cautions import Hazard, advice
from traysheets.sheets.guide_text import Saying, say, words_of
from traysheets.sheets.job import Job
from traysheets.sheets.lesson import Covering, Lesson, Vessel
from traysheets.sheets.phrases import scale
from traysheets.sheets.standing_places import in_trays, places
from traysheets.sheets.stick_places import sticks_of
from traysheets.trade.papers import SCALES

_SAME = 1e-6


class Sayings:
    """The sayings of one batch in the languages of the guide."""

    def __init__(self, speaking: Sequence[Job], batch: Batch, lesson: Lesson) -> None:
        self._speaking, self._batch, self._lesson = speaking, batch, lesson

    def _say(self, key: str, **values: object) -> Saying:
        return words_of(self._speaking, f"guide.{key}", **values)

    def _seeds(self, words: Words) -> str:
        """How many seeds; the number stays on the line of its word."""
        return words("sow.seeds", n=self._lesson.in_hole).replace(" ", "\N{NO-BREAK SPACE}", 1)

    def _holes(self, words: Words) -> str:
        key = "sow.places" if self._lesson.covering is Covering.BARE else "sow.holes"
        return words(key, n=self._lesson.holes)

    def _depth(self, mm: float | None) -> object:
        """A depth whose unit stays on the line of its number."""
        units = self._speaking[0].units
        return lambda words: words.length(mm or 0.0, units).replace(" ", "\N{NO-BREAK SPACE}")

    @property
    def order(self) -> Saying:
        """The whole job as one order: `Scatter 25 seeds in every pot`."""
        it = self._lesson
        if it.method is Method.STATIONS:
            key = f"places_{it.vessel}" if it.covering is Covering.BARE else f"stations_{it.vessel}"
            return self._say(key, n=it.holes, holes=self._holes, seeds=self._seeds)
        return self._say(f"{it.method}_{it.vessel}", n=it.seeds_in_cell)

    @property
    def cells(self) -> Saying:
        """How many cells, and where: `8 pots · tray 3: A1–B2`."""

        def said(job: Job) -> str:
            count = job.words(f"guide.{self._lesson.vessel}s", n=self._batch.cells)
            return " · ".join((count, ", ".join(places(job, self._batch))))

        return say(self._speaking, said)

    @property
    def where(self) -> Saying:
        """The trays and cells: `tray 3: A1–B2`."""
        return say(self._speaking, lambda job: sentence(", ".join(places(job, self._batch))))

    @property
    def where_in_short(self) -> Saying:
        """The trays alone, for a batch parted over many: `trays 3–7, 9`."""
        return say(self._speaking, lambda job: sentence(in_trays(job, [self._batch])))

    @property
    def right(self) -> Saying:
        """What is right."""
        return self._say(f"right_{self._lesson.method}")

    @property
    def wrong(self) -> Saying:
        """What is wrong."""
        it = self._lesson
        if it.method is Method.SINGLE or it.seeds_in_cell == 1:
            return self._say("wrong_single")
        key = "wrong_station" if it.holes == 1 else f"wrong_{it.method}"
        return self._say(key)

    @property
    def captions(self) -> tuple[Saying, ...]:
        """A line for each of the six pictures."""
        return (self._fill, self._press, self._sow, self._cover, self._water, self._stick)

    @property
    def in_short(self) -> tuple[Saying, ...]:
        """How it is sown, and how covered where that is not said by the depth of its holes."""
        return (self._sow,) if self._lesson.covering is Covering.HOLES else (self._sow, self._cover)

    @property
    def _fill(self) -> Saying:
        if self._lesson.vessel is Vessel.BLOCK:
            return self._say("fill_block")
        return self._say("fill", gap=self._depth(self._lesson.gap_mm))

    @property
    def _press(self) -> Saying:
        return self._say("press_block" if self._lesson.vessel is Vessel.BLOCK else "press")

    @property
    def _sow(self) -> Saying:
        it = self._lesson
        if not it.holes:
            return self._say("scatter", n=it.seeds_in_cell)
        if it.covering is Covering.BARE:
            return self._say("lay", n=it.holes, seeds=self._seeds)
        key = "holes" if it.covering is Covering.PACKET else "holes_deep"
        return self._say(key, n=it.holes, holes=self._holes, seeds=self._seeds, depth=self._depth(it.cover_mm))

    @property
    def _cover(self) -> Saying:
        it = self._lesson
        return self._say(f"cover_{it.covering}", n=it.holes or 1, depth=self._depth(it.cover_mm))

    @property
    def _water(self) -> Saying:
        return self._say("mist" if self._lesson.fine else "water")

    @property
    def _stick(self) -> Saying:
        batch, sticks = self._batch, self._batch.sowing.sticks
        runs = self._speaking[0].runs(batch)
        if isinstance(sticks, int):
            return self._say("sticks", n=sticks)
        if sticks == "cell":
            return self._say(f"stick_every_{self._lesson.vessel}")
        if len(runs) == 1:
            return self._say("stick_at", cell=batch.tray.cell_name(runs[0].first))
        return self._say("stick_runs")

    @property
    def in_all(self) -> Saying:
        """All seeds of the batch."""
        return self._say("in_all", n=self._batch.seeds_total)

    @property
    def sticks(self) -> Saying:
        """How many sticks the batch gets."""
        return self._say("sticks", n=sticks_of(self._speaking[0], self._batch))

    @property
    def treated(self) -> Saying:
        """The warning of treated seed, in capitals."""
        return words_of(self._speaking, "cautions.badge")

    @property
    def treated_how(self) -> Saying:
        """What to do about treated seed."""
        return say(self._speaking, lambda job: f"{advice(Hazard.TREATED, job.words)} {job.words('cautions.follow')}")

    def note(self, key: str, factor: float) -> Saying:
        """What is said in small below a cell: at which scale it is drawn."""
        name = next((name for name, by in SCALES.items() if abs(by - factor) < _SAME), f"1:{1 / factor:.1f}")
        return self._say(key, n=round(factor, 2), scale=lambda words: scale(name, words))
