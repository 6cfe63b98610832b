"""How the name of a stick is set in its box: as large as it goes, over more lines only where that makes it much larger.

It is cut only where even at `LEAST_PT` it has no room.
"""

from collections.abc import Sequence
from itertools import pairwise

from traysheets.page.faces import NARROWER
from traysheets.page.fonts import remembered
from traysheets.page.lettering import MM_PER_POINT, Fitted, fit, fits, over_lines, width_mm
from traysheets.sheets.stick_layout import NAME_LEADING, Box
from traysheets.sheets.stick_lines import LEAST_PT, Setting, reach_mm, whole_steps

MOST_NAME_LINES = 4
WORTH_A_LINE = 1.12
"""How much larger a name must come out over more lines to be broken."""


def set_name(text: str, box: Box, size_pt: float) -> tuple[tuple[Setting, ...], bool]:
    """The name in its box, over as many lines as make it largest; and whether it had to be cut."""
    fitted = _name(text, box.width_mm, box.height_mm, size_pt)
    bases, height = _bases_mm(fitted.lines, fitted.face, fitted.size_pt)
    top = box.y_mm + max(0.0, (box.height_mm - height) / 2)
    lines = zip(fitted.lines, bases, strict=True)
    face, size_pt = fitted.face, fitted.size_pt
    return tuple(Setting("name", line, face, size_pt, box.x_mm, top + base) for line, base in lines), fitted.cut


def _bases_mm(lines: Sequence[str], face: str, size_pt: float) -> tuple[list[float], float]:
    """The base lines of lines of a name from the top of the first, and how high they are together."""
    reaches = [reach_mm(line, face, size_pt) for line in lines]
    bases = [reaches[0][0]]
    for (_, below), (above, _) in pairwise(reaches):
        bases.append(bases[-1] + max(NAME_LEADING * size_pt * MM_PER_POINT, below + above))
    return bases, bases[-1] + reaches[-1][1]


@remembered(maxsize=16384)
def _name(text: str, width: float, height: float, size_pt: float) -> Fitted:
    one = _over(text, 1, width, height, size_pt)
    if one.size_pt >= LEAST_PT and size_pt <= WORTH_A_LINE * one.size_pt:
        return one
    tries = [one, *(_over(text, lines, width, height, size_pt) for lines in range(2, MOST_NAME_LINES + 1))]
    largest = max(tries, key=lambda fitted: fitted.size_pt)
    if one.size_pt >= LEAST_PT and largest.size_pt <= WORTH_A_LINE * one.size_pt:
        return one
    if largest.size_pt >= LEAST_PT:
        return largest
    return _cut(text, width, height)


def _cut(text: str, width: float, height: float) -> Fitted:
    """The name at `LEAST_PT` over as many lines as go in, one at any rate, the last ending in an ellipsis."""
    cuts = [fit(text, "bold", width, LEAST_PT, LEAST_PT, lines) for lines in range(MOST_NAME_LINES, 0, -1)]
    return next((it for it in cuts if fits(_bases_mm(it.lines, it.face, it.size_pt)[1], height)), cuts[-1])


def _over(text: str, lines: int, width: float, height: float, size_pt: float) -> Fitted:
    """The name over so many lines, as large as it goes, were it below `LEAST_PT`; condensed where that is larger."""
    tries = []
    for face in ("bold", NARROWER["bold"]):
        broken = over_lines(text, lines, face)
        wide_pt = width / max(width_mm(line, face, 1) for line in broken)
        high_pt = height / _bases_mm(broken, face, 1)[1]
        tries.append(Fitted(broken, face, whole_steps(min(size_pt, wide_pt, high_pt)), cut=False))
    return max(tries, key=lambda fitted: fitted.size_pt)
