"""What all pages of a job's guide share: the languages, the paper, how large all is drawn, the foot."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from traysheets.page.marks import Mark
from traysheets.sheets.foot import Foot, foot
from traysheets.sheets.frame import A4_FIELD_MM, Frame
from traysheets.sheets.guide_text import speakers
from traysheets.sheets.job import Job
from traysheets.sheets.looks import Look, looks
from traysheets.sheets.pictures.pen import Tints, tints
from traysheets.sheets.tray_drawing import TrayDrawing

_LEAST_GROWTH, _MOST_GROWTH = 0.68, 1.45


@dataclass(frozen=True)
class Shared:
    """What all pages of a job's guide share."""

    job: Job

    @cached_property
    def speaking(self) -> Sequence[Job]:
        """The job once for each language."""
        return speakers(self.job)

    @cached_property
    def drawing(self) -> TrayDrawing:
        """The trays, their stamps kept from page to page."""
        return TrayDrawing(self.job)

    @cached_property
    def looks(self) -> dict[int, Look]:
        """Colour and hatch of every batch."""
        return looks(self.job)

    @cached_property
    def tints(self) -> Tints:
        """The fills of the pictures."""
        return tints(grey=self.job.choices.grey)

    @cached_property
    def frame(self) -> Frame:
        """The page, upright on any paper."""
        paper = self.job.choices.paper
        return Frame(paper.width_mm, paper.height_mm)

    @property
    def width_mm(self) -> float:
        """Width of what may be drawn on."""
        return self.frame.field_mm[0]

    @property
    def two(self) -> bool:
        """Whether all is said in two languages."""
        return len(self.speaking) > 1

    @cached_property
    def grown(self) -> float:
        """How much larger than on A4 all is drawn."""
        return min(max(self.width_mm / A4_FIELD_MM, _LEAST_GROWTH), _MOST_GROWTH)

    def foot(self, page: int, pages: int) -> Iterator[Mark]:
        """The bar to hold a ruler to, whose plan it is, which page."""
        words, plan = self.job.words, self.job.plan
        above = " · ".join(part for part in (plan.title, plan.grower) if part)
        below = words("frame.page", page=page, pages=pages)
        yield from foot(self.frame, Foot("", "", above, below), words, self.job.units)
