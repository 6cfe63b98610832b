"""The order of a sowing day, as pictures: before, again for every packet, and after; and who does what of it.

What goes round is drawn as a ring of four pictures: a packet is opened, sown and shut before the next one is touched.
"""

from collections.abc import Iterator
from functools import cached_property

from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.marks import BLACK, WHITE, Circle, Line, Mark, Path, Place, Rect, Text
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.guide_text import Room, Saying, in_one_face, lettered, set_in, words_of
from traysheets.sheets.lists import Strip
from traysheets.sheets.pictures import people
from traysheets.sheets.pictures.day_steps import HEIGHT, WIDTH, Step, day_picture
from traysheets.sheets.pictures.pen import BOLD_MM, LINE_MM, Pen

_BLACK, _WHITE, _STRIPED = range(people.SHIRTS)
_TWO: dict[Step, tuple[int, ...]] = {
    Step.FILL: (_BLACK,),
    Step.MARK: (_BLACK,),
    Step.OPEN: (_WHITE,),
    Step.SOW: (_WHITE,),
    Step.FINISH: (_BLACK,),
    Step.CLOSE: (_WHITE,),
    Step.CHECK: (_BLACK,),
    Step.CARRY: (_BLACK, _WHITE),
}
"""Who does what of two: one has the packets in hand, the other the mix and the water (judgement, no source)."""

_RING = "#ECECEC"
_CAPTION_PT = 11.5
_PERSON = 0.72
_GAP_MM = 7.0
_PAD_MM = 2.6
_BELOW_MM = 2.0
_NUMBER_MM = 2.9


def duties(helpers: int) -> dict[Step, tuple[int, ...]]:
    """The shirts of those who do each step; nobody is told apart where one does all.

    From three on the third and all further ones, in stripes, do nothing but sow.
    """
    if helpers < 2:
        return dict.fromkeys(Step, ())
    return _TWO if helpers == 2 else _TWO | {Step.SOW: (_STRIPED,)}


class Steps:
    """The pictures of the order of work, as strips for the first page of a day."""

    def __init__(self, shared: Shared, *, gloved: bool) -> None:
        self._speaking, self._left, self._width = shared.speaking, shared.frame.left_mm, shared.width_mm
        self._grown, self._tints, self._gloved = shared.grown, shared.tints, gloved
        self._helpers = shared.job.plan.pace.helpers
        self._duties = duties(self._helpers)
        self._gap, self._pad = _GAP_MM * self._grown, _PAD_MM * self._grown
        self._box = (self._width - 3 * self._gap - 2 * self._pad) / 4
        self._unit = round(self._box / WIDTH, 4)

    def strips(self) -> Iterator[Strip]:
        """The pictures; and below them, where there are several helpers, a line for the name of each."""
        yield Strip(2 * self._row_mm + 2 * self._pad + self._gap, self._pictures)
        if self._helpers > 1:
            yield Strip(12.5 * self._grown, self._names)

    # ---- how large ----

    def _saying(self, step: Step) -> Saying:
        return words_of(self._speaking, f"guide.day_{step}")

    def _room(self, step: Step) -> Room:
        """Where the words of a step go, seen from the corner of its picture."""
        people_mm = len(self._duties[step]) * people.WIDTH * _PERSON * self._grown
        top = HEIGHT * self._unit + 1.2
        high = (14.0 if len(self._speaking) == 1 else 28.0) * self._grown
        return Room(0.3, top, self._box - people_mm - 1.0, high, _CAPTION_PT * self._grown, lines=4, face=self._face)

    @cached_property
    def _face(self) -> str:
        narrowest = Room(
            0, 0, self._box - 2 * people.WIDTH * _PERSON * self._grown - 1.0, 10.0, _CAPTION_PT * self._grown, 2
        )
        return in_one_face([self._saying(step) for step in Step], narrowest)

    @cached_property
    def _row_mm(self) -> float:
        """A picture and its words."""
        words = max(set_in(self._saying(step), self._room(step)).height_mm for step in Step)
        return HEIGHT * self._unit + 1.2 + max(words, people.HEIGHT * _PERSON * self._grown + 0.4)

    # ---- drawn ----

    def _pictures(self, top: float) -> Iterator[Mark]:
        """Before at the left, the ring of every packet in the middle, after at the right."""
        first, second = self._left, self._left + self._box + self._gap + self._pad
        third = second + self._box + self._gap
        last = third + self._box + self._pad + self._gap
        upper, lower = top + self._pad, top + self._pad + self._row_mm + self._gap
        yield from self._ring(second, third, upper, lower)
        down, up = (upper, lower), (lower, upper)
        ways = ((first, down), (second, up), (third, down), (last, up))
        places = ((left, row) for left, rows in ways for row in rows)
        for number, (step, place) in enumerate(zip(Step, places, strict=True), 1):
            yield from self._step(step, number, *place)
        yield from self._ways(first, second, third, last, upper, lower)

    def _step(self, step: Step, number: int, left: float, top: float) -> Iterator[Mark]:
        high = HEIGHT * self._unit
        yield Rect(left, top, self._box, high, WHITE, BLACK, LINE_MM, radius_mm=2.0)
        yield Place(day_picture(step, self._unit, self._tints, gloved=self._gloved), left, top)
        yield from numbered(left + 0.8, top + 0.8, number, _NUMBER_MM * self._grown)
        yield from lettered(self._saying(step), self._room(step).moved(left, top))
        yield from self._helping(step, left + self._box, top + high + 1.2)

    def _helping(self, step: Step, right: float, top: float) -> Iterator[Mark]:
        """Who does it, below the right corner of the picture."""
        unit = _PERSON * self._grown
        for i, shirt in enumerate(reversed(self._duties[step])):
            yield from people.person(Pen(right - (i + 0.5) * people.WIDTH * unit, top + 5.2 * unit, unit), shirt)

    def _ring(self, left: float, right: float, upper: float, lower: float) -> Iterator[Mark]:
        """The ground of what is done for every packet."""
        pad = self._pad
        height = lower - upper + self._row_mm + 2 * pad
        yield Rect(left - pad, upper - pad, right - left + self._box + 2 * pad, height, _RING, radius_mm=3.0)

    def _ways(
        self, first: float, second: float, third: float, last: float, upper: float, lower: float
    ) -> Iterator[Mark]:
        """From each step to the next, down and up by turns, and from the last of a packet back to the next packet."""
        box, head = self._box, 1.7 * self._grown
        under, low = upper + self._row_mm + 0.7, lower + HEIGHT * self._unit / 2
        for left, start, end in (
            (first, under, lower - 0.8),
            (second, lower, under),
            (third, under, lower - 0.8),
            (last, lower, under),
        ):
            yield from _way((left + box / 2, start), (left + box / 2, end), head)
        high = upper + HEIGHT * self._unit / 2
        yield from _way((second + box, high), (third - 0.6, high), head)
        for start, end in ((first + box, second - 0.6), (third, second + box + 0.6), (third + box, last - 0.6)):
            yield from _way((start, low), (end, low), head)

    def _names(self, top: float) -> Iterator[Mark]:
        """A figure for each kind of helper, and a line to write names on with a pencil."""
        unit, shirts = 0.9 * self._grown, min(self._helpers, people.SHIRTS)
        each = self._width / shirts
        for shirt in range(shirts):
            left = self._left + shirt * each
            yield from people.person(Pen(left + 4.2 * unit, top + 7.4 * unit, unit), shirt)
            yield Line(left + 10 * unit, top + 11 * unit, left + each - 4, top + 11 * unit, BLACK, 0.25, (0.4, 0.9))


def numbered(left: float, top: float, number: int, radius: float) -> Iterator[Mark]:
    """A number in a black disc with its corner there."""
    size_pt = 3.8 * radius
    x, y = left + radius, top + radius
    yield Circle(x, y, radius, fill=BLACK)
    yield Text(x, y + 0.36 * size_pt * MM_PER_POINT, str(number), "bold", size_pt, WHITE, "middle")


def _way(start: tuple[float, float], end: tuple[float, float], head: float) -> Iterator[Mark]:
    """An arrow along a level or an upright line."""
    (x, y), (end_x, end_y) = start, end
    length = max(abs(end_x - x) + abs(end_y - y), 1e-6)
    across, down = (end_x - x) / length, (end_y - y) / length
    back = (end_x - across * head, end_y - down * head)
    yield Path((("M", *start), ("L", *back)), stroke=BLACK, stroke_mm=BOLD_MM)
    side = (-down * head * 0.8, across * head * 0.8)
    tip = (
        ("M", end_x, end_y),
        ("L", back[0] + side[0], back[1] + side[1]),
        ("L", back[0] - side[0], back[1] - side[1]),
    )
    yield Path((*tip, ("Z",)), fill=BLACK)
