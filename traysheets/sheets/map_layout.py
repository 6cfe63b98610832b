"""How a tray map is laid out: which scale, the paper which way round, how many legend rows beside the tray.

Only sums: nothing is drawn here.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

from traysheets.base.errors import SheetError
from traysheets.sheets.frame import Frame, frame_on
from traysheets.sheets.job import Choices
from traysheets.sheets.legend import Legend
from traysheets.sheets.tray_drawing import ScaledTray
from traysheets.trade.papers import PAPERS, SCALES, Paper
from traysheets.trade.trays import Tray

ABOVE_MM = 1.5
"""Between head and tray."""

BELOW_MM = 2.2
"""Between tray and legend."""

MORE_MM = 4.2
"""Height of the line that says how many batches follow on the next page."""

_LEAST_ROWS = 3
_STEPS_FOR_LEGEND = 1
"""How many steps of scale the whole legend may cost before it goes on on a second page."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A scale by its name and factor, the frame, and how many legend rows stand on the page of the tray."""

    scale: str
    factor: float
    frame: Frame
    rows: int


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be laid out: a kind of tray, its drawing at a factor, its legend in a width, the head's height."""

    kind: Tray
    scaled: Callable[[float], ScaledTray]
    legend: Callable[[float], Legend]
    head_mm: float


def lay_out(asked: Asked, choices: Choices) -> Layout:
    """The layout of a tray's page.

    `fit` takes the largest scale that leaves the whole legend room, unless one more than a step larger leaves room for
    three rows: then the rest goes on on further pages. Raises SheetError for a scale the paper cannot hold; it says
    what would do.
    """
    scales = SCALES if choices.scale == "fit" else {choices.scale: SCALES[choices.scale]}
    asked = replace(asked, legend=cache(asked.legend))
    options = [layout for name in scales for layout in _ways_round(asked, choices.paper, name)]
    if not options:
        raise SheetError(_too_small(asked, choices))
    rows = len(asked.legend(options[0].frame.field_mm[0]).rows)
    part = next((layout for layout in options if layout.rows >= min(rows, _LEAST_ROWS)), options[0])
    whole = next((layout for layout in options if layout.rows >= rows), None)
    return whole if whole and _steps(part, whole) <= _STEPS_FOR_LEGEND else part


def _steps(larger: Layout, smaller: Layout) -> int:
    """How many scales lie from one to the other."""
    names = list(SCALES)
    return names.index(smaller.scale) - names.index(larger.scale)


def _ways_round(asked: Asked, paper: Paper, scale: str) -> Iterator[Layout]:
    """The layouts of a scale on a paper, turned and upright, where the tray goes on it; more rows first."""
    frames = (frame_on(paper, landscape=landscape, head_mm=asked.head_mm) for landscape in (True, False))
    found = [layout for frame in frames for layout in _in_frame(asked, frame, scale)]
    yield from sorted(found, key=lambda layout: -layout.rows)


def _in_frame(asked: Asked, frame: Frame, scale: str) -> Iterable[Layout]:
    """The layout of a scale in a frame; none where the tray does not go in."""
    scaled, (width, height) = asked.scaled(SCALES[scale]), frame.field_mm
    room = height - ABOVE_MM - scaled.height_mm
    if scaled.width_mm > width or room < 0:
        return ()
    return (Layout(scale, SCALES[scale], frame, rows_in(asked.legend(width), room - BELOW_MM)),)


def rows_in(legend: Legend, room_mm: float, first: int = 0) -> int:
    """How many rows from `first` on go into the room, with the line that more follow where some are left."""
    left = len(legend.rows) - first
    if legend.height_mm(left) <= room_mm:
        return left
    rows = int((room_mm - MORE_MM - legend.height_mm(1)) / legend.row_mm()) + 1
    return max(min(rows, left - 1), 0)


def _too_small(asked: Asked, choices: Choices) -> str:
    """Which tray does not fit, and what would."""
    kind, paper, scale = asked.kind, choices.paper, choices.scale
    size = f"{kind.outer_mm[0]:g} x {kind.outer_mm[1]:g} mm"
    shown = min(SCALES, key=lambda name: SCALES[name]) if scale == "fit" else scale
    what = f"a map of the tray {kind.name} ({size}) at {shown} does not fit {paper.name} paper"
    on_paper = [name for name in SCALES if any(_ways_round(asked, paper, name))]
    at_scale = [name for name, other in PAPERS.items() if any(_ways_round(asked, other, shown))]
    would = [f"{paper.name} at {on_paper[0]} or smaller"] if on_paper else []
    would += [f"{shown} on {' or '.join(at_scale)}"] if at_scale else []
    return f"{what}; what fits: {', '.join(would) or 'no paper there is'}"
