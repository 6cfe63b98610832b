"""Jobs for tests of the seed list, the aftercare list and the overview, reckoned and arranged by the program itself;
and pages of lists read back as rows of text.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import plans
from hypothesis import strategies as st

from traysheets.arrange.arrange import arrange
from traysheets.base.words import languages, words_for
from traysheets.page.marks import BLACK, Line, Mark, Page, Place, Rect, Text
from traysheets.page.proof import prove
from traysheets.page.reach import box
from traysheets.plan.model import Pace, Plan, Repeat, Sowing
from traysheets.reckon.reckon import reckon
from traysheets.sheets.frame import EDGE_MM
from traysheets.sheets.job import Choices, Job
from traysheets.sheets.list_parts import RULE
from traysheets.trade.papers import PAPERS
from traysheets.trade.stocks import Stock

STOCK = Stock("card", "card", (210, 297), (150, 25), 1, 1, (10, 10), (150, 25))
LONG = "Grandmother's Long-Keeping Purple Winter Bunching, Early Selection from the Far Valley"
UNKNOWN = plans.crop("Skirret")
PEPPER = plans.crop(
    "Pepper", weeks_to_transplant=(7, 9), emergence=plans.points(None, None, None, 25, 13, 8), soil_c=(21, 24)
)


@dataclass(frozen=True, repr=False)
class ShortJob(Job):
    """A job that says in a line what it was made of, for the report on a generated one that fails."""

    def __repr__(self) -> str:
        sown = (
            f"{one.crop.name} {one.method} {one.amount.number} {one.tray.name} {one.sow}" for one in self.plan.sowings
        )
        return f"<job on {self.choices.paper.name}, {self.units}: {'; '.join(sown)}>"

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        """What hypothesis prints."""
        printer.text(repr(self))


def job_of(
    plan: Plan, paper: str = "a4", *, grey: bool = False, days: tuple[date, date] | None = None, language: str = "en"
) -> Job:
    """The job of a plan, with batch codes in the order of the batches."""
    reckoned = reckon(plan)
    codes = {batch.index: f"27-{batch.index + 1:03d}-{'K9X3A'[batch.index % 5]}" for batch in reckoned.batches}
    choices = Choices(PAPERS[paper], STOCK, grey=grey, days=days)
    return ShortJob(reckoned, arrange(reckoned), codes, words_for(language), choices, date(2027, 3, 1))


def job(*sowings: Sowing, **other: Any) -> Job:
    """The job of these sowings; `paper`, `grey`, `days` and `language` are choices, all other words of the plan."""
    choices = {name: other.pop(name) for name in ("paper", "grey", "days", "language") if name in other}
    return job_of(plans.plan(*sowings, **other), **choices)


# ---- pages read back


def texts(page: Page) -> list[str]:
    """Every text that stands on a page itself, top down and from the left."""
    return [mark.text for mark in sorted(_texts(page.marks), key=lambda mark: (round(mark.y_mm, 2), mark.x_mm))]


def _texts(marks: Iterable[Mark]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def rows(page: Page) -> list[list[str]]:
    """The texts of every row that ends at a thin rule, in columns from the left and down within them."""
    ends = sorted({mark.y1_mm for mark in page.marks if isinstance(mark, Line) and mark.stroke == RULE})
    edge = [mark for mark in page.marks if isinstance(mark, Line | Rect) and box(mark)[0] < EDGE_MM + 0.1]
    starts = [box(mark)[3] for mark in edge]
    found = []
    for end in ends:
        start = max((y for y in starts if y < end - 3), default=0.0)
        inside = [mark for mark in _texts(page.marks) if start < mark.y_mm < end]
        found.append([mark.text for mark in sorted(inside, key=lambda mark: (round(mark.x_mm, 2), mark.y_mm))])
    return found


def row_with(pages: Iterable[Page], text: str) -> list[str]:
    """The first row that has this text."""
    return next(row for page in pages for row in rows(page) if text in row)


def faults(page: Page) -> list[str]:
    """What is wrong with a page of a list beside what its proof refuses: texts too small, or run into what is drawn."""
    prove(page)
    wrong = [f"{text.text!r} is set at {text.size_pt} pt" for text in _texts(page.marks) if text.size_pt < 7]
    for text in _texts(page.marks):
        wrong += [f"{text.text!r} runs into {type(mark).__name__}" for mark in page.marks if _runs_into(text, mark)]
    return wrong


def _runs_into(text: Text, mark: Mark) -> bool:
    """Whether letters reach into a stamp but the grid, or over the edge of a black plate."""
    solid = isinstance(mark, Place) and mark.stamp.name != "weeks and months"
    solid = solid or (isinstance(mark, Rect) and mark.fill == BLACK)
    if not solid:
        return False
    ink, other = box(text), box(mark)
    meets = (
        min(ink[2], other[2]) - max(ink[0], other[0]) > 0.05 and min(ink[3], other[3]) - max(ink[1], other[1]) > 0.05
    )
    inside = ink[0] >= other[0] and ink[2] <= other[2] and ink[1] >= other[1] and ink[3] <= other[3]
    return meets and not inside


# ---- generated jobs

NAMES = ("Longstalk Winter", "Up", LONG, "Ψηλό Χειμωνιάτικο της Πλαγιάς", "Зимний длинноствольный", "Übergröße Åse Ềế")


@st.composite
def sowings(draw: st.DrawFn) -> Sowing:
    """A sowing of any method, tray, day and size, with or without what a plan may leave out."""
    crop = draw(st.sampled_from((plans.ONION, plans.BEET, plans.TOMATO, PEPPER, UNKNOWN)))
    facts: dict[str, Any] = {
        "variety": draw(st.sampled_from(NAMES)),
        "sow": plans.SATURDAY + timedelta(days=draw(st.integers(0, 200))),
        "tray": draw(st.sampled_from((plans.POT_18, plans.CELL_72, plans.CELL_200, plans.POT_3IN))),
        "lot": draw(st.sampled_from((None, "HB-2231", "HB-2231-2026-EXTRA-LONG"))),
        "packet": draw(st.sampled_from((None, 250))),
        "on_hand": draw(st.sampled_from((None, 0, 500))),
        "treated": draw(st.booleans()),
        "spare": draw(st.sampled_from((0.0, 0.1))),
        "code": draw(st.sampled_from(("LW", "WW", "I1"))),
        "place": draw(st.sampled_from(("", "light shelf", "a far corner of the old glasshouse by the water butt"))),
        "germination": draw(st.sampled_from((0.6, 0.9))),
        "soil_temp_c": draw(st.sampled_from((None, 18.0))),
    }
    method = draw(st.sampled_from(("clump", "stations", "single")))
    if method != "stations":
        facts["seeds_per_cell"] = draw(st.integers(1, 40 if method == "clump" else 3))
    if draw(st.booleans()):
        facts["repeat"] = Repeat(draw(st.sampled_from((7, 14, 60))), draw(st.integers(2, 4)))
    return plans.sowing(crop, method, cells=draw(st.sampled_from((1, 5, 8, 18, 61, 250, 1000))), **facts)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """A job of up to six sowings on any paper, in either units, with benches large, small and none."""
    benches = draw(
        st.sampled_from(((), (plans.bench(),), (plans.bench("greenhouse", 9000, 2000), plans.bench("tiny", 90, 90))))
    )
    return job(
        *draw(st.lists(sowings(), min_size=1, max_size=6)),
        paper=draw(st.sampled_from(tuple(PAPERS))),
        grey=draw(st.booleans()),
        language=draw(st.sampled_from(languages())),
        title=draw(st.sampled_from(("Spring", LONG))),
        grower=draw(st.sampled_from(("", "Millbrook Lane Growers"))),
        units=draw(st.sampled_from(("metric", "inch"))),
        compare=draw(st.sampled_from((None, plans.CELL_72, plans.CELL_200))),
        benches=benches,
        pace=Pace(helpers=draw(st.integers(1, 3))),
    )
