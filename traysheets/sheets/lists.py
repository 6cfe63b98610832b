"""Lists over pages: strips one below the other, heads kept with what follows and said again where a list goes on.

What is owned: how strips fall onto pages, and the page around them. What a strip says is the sheet's own.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from traysheets.base.directions import side_by_side
from traysheets.page.lettering import fit, fits, width_mm
from traysheets.page.marks import Mark, Page, Text
from traysheets.sheets.frame import A4_FIELD_MM, EDGE_MM, LEAST_PT, Frame, Head, frame_on, head
from traysheets.sheets.job import Job

_MOST_GROWTH = 1.5
_FOOT_PT = 8.0
_GAP_MM = 5.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip across the field: its height, and its marks below a given top edge.

    A strip of a `level` is a head: 1 the outermost. It never stands last on a page, and `again` is how it is said
    at the top of the next page when its rows go on there.
    """

    height_mm: float
    marks: Callable[[float], Iterable[Mark]]
    level: int = 0
    again: "Strip | None" = None


@dataclass(frozen=True, slots=True)
class Listing:
    """A list: its head, its strips, `heading` on top and `closing` at the bottom of each of its pages.

    `title` names its first page in the bookmarks.
    """

    title: str
    head: Head
    strips: Sequence[Strip]
    heading: Strip | None = None
    closing: Strip | None = None


def list_frame(job: Job) -> Frame:
    """The frame of a list on the job's paper: upright, but turned where the paper is too narrow for its columns."""
    paper = job.choices.paper
    return frame_on(paper, landscape=frame_on(paper, landscape=False).narrow)


def growth(frame: Frame) -> float:
    """How much larger than usual a list is drawn, where the paper is wider than A4."""
    return min(max(frame.field_mm[0] / A4_FIELD_MM, 1.0), _MOST_GROWTH)


def height_mm(strips: Iterable[Strip]) -> float:
    """Height of strips one below the other."""
    return sum(strip.height_mm for strip in strips)


@dataclass
class _Flow:
    """Strips falling onto pages, one after the other."""

    room_mm: float
    pages: list[list[Strip]] = field(default_factory=lambda: [[]])
    waiting: list[Strip] = field(default_factory=list)
    open_heads: dict[int, Strip] = field(default_factory=dict)

    def add(self, strip: Strip) -> None:
        """Put a row down with the heads that wait for it; a head waits for its first row."""
        self.waiting.append(strip)
        if strip.level:
            return
        if self.pages[-1] and not fits(height_mm([*self.pages[-1], *self.waiting]), self.room_mm):
            self.pages.append(self._carried())
        self.pages[-1] += self.waiting
        for opened in self.waiting[:-1]:
            self.open_heads = {level: head for level, head in self.open_heads.items() if level < opened.level}
            self.open_heads[opened.level] = opened
        self.waiting = []

    def _carried(self) -> list[Strip]:
        """The heads that a new page says again: those that what waits stands under."""
        outermost = min(
            (strip.level for strip in self.waiting if strip.level), default=max(self.open_heads, default=0) + 1
        )
        heads = (self.open_heads[level] for level in sorted(self.open_heads) if level < outermost)
        return [opened.again for opened in heads if opened.again]


def paginate(strips: Iterable[Strip], room_mm: float) -> list[list[Strip]]:
    """The strips of each page, in a room of that height. A page has one row at least, whatever its height."""
    flow = _Flow(room_mm)
    for strip in strips:
        flow.add(strip)
    flow.pages[-1] += flow.waiting
    return flow.pages


def listing_pages(job: Job, listing: Listing) -> Iterator[Page]:
    """The pages of a list, each counted within it."""
    frame = list_frame(job)
    fixed = [strip for strip in (listing.heading, listing.closing) if strip]
    pages = paginate(listing.strips, frame.field_mm[1] - height_mm(fixed))
    yield from drawn(job, frame, listing, pages)


def drawn(job: Job, frame: Frame, listing: Listing, pages: Sequence[Sequence[Strip]]) -> Iterator[Page]:
    """The pages of a list whose strips have been dealt out."""
    for number, strips in enumerate(pages, start=1):
        page = job.words("frame.page", page=number, pages=len(pages))
        marks = (
            *head(frame, listing.head),
            *_stacked([listing.heading, *strips] if listing.heading else strips, frame.top_mm),
            *(listing.closing.marks(frame.bottom_mm - listing.closing.height_mm) if listing.closing else ()),
            *plan_line(job, frame.left_mm, frame.right_mm, frame.height_mm - EDGE_MM - 1.0, page),
        )
        yield Page(frame.width_mm, frame.height_mm, marks, title=listing.title if number == 1 else "")


def _stacked(strips: Iterable[Strip], top: float) -> Iterator[Mark]:
    for strip in strips:
        yield from strip.marks(top)
        top += strip.height_mm


def plan_line(job: Job, left: float, right: float, base: float, page: str) -> Iterator[Mark]:
    """The foot of a list: which plan it is and whose at the left, which page at the right."""
    yield Text(right, base, page, "regular", _FOOT_PT, anchor="end")
    room = right - left - width_mm(page, "regular", _FOOT_PT) - _GAP_MM
    plan = side_by_side((job.plan.title, str(job.plan.season), job.plan.grower), " · ")
    placed = fit(plan, "regular", room, _FOOT_PT, LEAST_PT)
    yield Text(left, base, placed.lines[0], placed.face, placed.size_pt)
