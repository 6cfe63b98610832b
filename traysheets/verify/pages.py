"""The pages of an opened file, one by one: their number and sizes, the fonts, what lies outside, the bar.

What they should be is known from the note of the file. Without one, a sheet can still be held to the papers there are.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from traysheets.page.lettering import MM_PER_POINT
from traysheets.page.note import Note, NotedPage
from traysheets.trade.papers import PAPERS
from traysheets.verify import pdfium
from traysheets.verify.bars import BAR_MM, bars_mm
from traysheets.verify.codes import scaled_findings
from traysheets.verify.pdfium import Bounds, Drawn
from traysheets.verify.report import Finding, Part, Report
from traysheets.verify.scales import scale_findings

SAME_SIZE_MM = 0.5
"""Pages whose sides differ by less are of the same size."""
SAME_BAR_MM = 0.1
"""How much a bar may differ from its length, which is less than a ruler shows."""
_STRIP_MM = 40.0
"""Where the head of a page ends, and where its foot begins."""
_OUTSIDE_MM = 0.6
"""How far a mark may reach over the edge of the page: strokes along the edges of labels lie half outside."""

_BOXES = ("mediabox", "cropbox", "trimbox", "bleedbox", "artbox")


def document_findings(document: Any, note: Note | None) -> Iterator[Finding]:
    """What there is to say of the file as a whole."""
    manners = pdfium.manners(document)
    if manners.encrypted:
        yield Finding(Part.WHOLE, "it is encrypted; sheets of ours never are")
    if not manners.table_is_sound:
        yield Finding(Part.WHOLE, "its table of contents is broken, so programs must guess; make or copy it again")
    if manners.scripts or manners.attachments:
        yield Finding(Part.WHOLE, "it holds scripts or attached files, which no sheet of ours does: do not trust it")
    if manners.print_scaling:
        text = "it does not ask viewers to print at 100 %; choose 'actual size' in the print window yourself"
        yield Finding(Part.SCALE, text, wrong=note is not None)


def page_findings(page: Any, number: int, noted: NotedPage | None, report: Report) -> Iterator[Finding]:
    """What there is to say of one page; what is measured on it is put into the report, where its codes are already."""
    width, height = (side * MM_PER_POINT for side in page.get_size())
    yield from _size_findings(page, (width, height), number, noted)
    items = list(pdfium.drawn(page))
    yield from _font_findings(items, number)
    yield from _outside_findings(page, items, number)
    if any(map(pdfium.is_picture, items)):
        text = "it was turned into a picture, which prints less sharp; print the sheet itself"
        yield Finding(Part.WHOLE, text, number)
    paths = [item for item in items if pdfium.is_path(item)]
    lines = [line for path in paths if (line := pdfium.straight(path))]
    found = bars_mm(
        [(x1 * MM_PER_POINT, y1 * MM_PER_POINT, x2 * MM_PER_POINT, y2 * MM_PER_POINT) for x1, y1, x2, y2 in lines]
    )
    report.bars_mm += [(number, length) for length in found]
    scaled = list(_bar_findings(found, number, noted.across if noted else 1.0))
    yield from scaled
    if noted and noted.codes:
        shapes = list(map(pdfium.bounds, paths))
        if not scaled:
            yield from _code_scale(page, shapes, number, noted, report)
        yield from _scale_findings(page, shapes, number, noted)


def _code_scale(
    page: Any, shapes: Iterable[Bounds], number: int, noted: NotedPage, report: Report
) -> Iterator[Finding]:
    """Whether the codes that were found on a page are drawn as large as noted."""
    edge = page.get_mediabox()
    points = ((left - edge[0], edge[3] - top, right - left, top - bottom) for left, bottom, right, top in shapes)
    boxes = ((x * MM_PER_POINT, y * MM_PER_POINT, w * MM_PER_POINT, h * MM_PER_POINT) for x, y, w, h in points)
    yield from scaled_findings([code for code in report.codes if code.page == number], boxes, number, noted)


def _size_findings(page: Any, size: tuple[float, float], number: int, noted: NotedPage | None) -> Iterator[Finding]:
    if page.get_rotation():
        yield Finding(Part.SCALE, f"it is turned by {page.get_rotation()} degrees; no sheet of ours is", number)
        size = size[::-1] if page.get_rotation() % 180 else size
    boxes = {name: getattr(page, f"get_{name}")() for name in _BOXES}
    if any(not _alike(box, boxes["mediabox"]) for box in boxes.values()):
        yield Finding(Part.SCALE, "it was cropped: its boxes differ, and printers may take any of them", number)
    if noted:
        meant = noted.width_mm, noted.height_mm
        if not _alike(size, meant):
            share = size[0] / meant[0]
            text = f"it is {_size(size)}, and was made as {_size(meant)}: {share:.1%} of it; print the sheet itself"
            yield Finding(Part.SCALE, text, number)
    elif paper_of(size) is None:
        yield Finding(Part.SCALE, f"{_size(size)} is the size of no paper we know", number, wrong=False)


def paper_of(size: Sequence[float]) -> str | None:
    """The name of the paper that has that size, upright or turned."""
    short, long = sorted(size)
    near = (it.name for it in PAPERS.values() if _alike((short, long), (it.width_mm, it.height_mm)))
    return next(near, None)


def _alike(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(abs(a - b) < SAME_SIZE_MM for a, b in zip(one, other, strict=True))


def _size(size: Sequence[float]) -> str:
    return f"{size[0]:.1f} x {size[1]:.1f} mm"


def _font_findings(items: Sequence[Drawn], number: int) -> Iterator[Finding]:
    fonts = dict.fromkeys(pdfium.font(item) for item in items if pdfium.is_text(item))
    lacking = sorted(name for name, embedded in fonts if not embedded)
    if lacking:
        text = f"letters of {', '.join(lacking)} are not in the file: other letters may be printed; make it again"
        yield Finding(Part.WHOLE, text, number)


def _outside_findings(page: Any, items: Sequence[Drawn], number: int) -> Iterator[Finding]:
    edges, slack = page.get_mediabox(), _OUTSIDE_MM / MM_PER_POINT
    reach = [pdfium.bounds(item) for item in items if pdfium.is_text(item)]
    if any(_over(box, edges) > slack for box in reach):
        yield Finding(Part.WHOLE, "letters on it reach off the page and would be cut off", number)


def _over(box: Sequence[float], edges: Sequence[float]) -> float:
    """How far a box reaches over edges, on the side where it does most."""
    return max(edges[0] - box[0], edges[1] - box[1], box[2] - edges[2], box[3] - edges[3])


def _scale_findings(page: Any, shapes: Iterable[Bounds], number: int, noted: NotedPage) -> Iterator[Finding]:
    """What the head and foot of a page say of its scale, against all that is drawn, freed of a printer's stretch.

    Asked of maps, which bear a code: a template may show a cell at full size beside another that is enlarged.
    """
    sizes = {
        (round((right - left) * MM_PER_POINT / noted.across, 1), round((top - bottom) * MM_PER_POINT / noted.down, 1))
        for left, bottom, right, top in shapes
    }
    width, height = page.get_size()
    strip = _STRIP_MM / MM_PER_POINT
    text = page.get_textpage()
    foot, head = text.get_text_bounded(0, 0, width, strip), text.get_text_bounded(0, height - strip, width, height)
    yield from scale_findings(foot, head, sizes, number)


def _bar_findings(bars: Sequence[float], number: int, across: float) -> Iterator[Finding]:
    meant = BAR_MM * across
    for length in bars:
        if abs(length - meant) > SAME_BAR_MM:
            text = (
                f"its bar of 50 mm is {length / across:.2f} mm long: the page was scaled to {length / meant:.1%}; "
                "print the sheet itself at 100 %"
            )
            yield Finding(Part.SCALE, text, number)
