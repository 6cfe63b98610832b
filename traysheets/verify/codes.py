"""The QR codes of a page as it would be printed: drawn at the dots of a printer, found, read and measured."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import dist
from typing import Any, TypeAlias

from traysheets.base.units import MM_PER_INCH
from traysheets.page.note import NotedPage
from traysheets.page.qr import GOOD_MODULE_MM, LEAST_MODULE_MM
from traysheets.page.qr_proof import LEAST_QUIET_MODULES
from traysheets.verify.order import out_of_order
from traysheets.verify.report import Finding, Part, SeenCode

DPIS = (200, 300)
"""Dots an inch at which a page is drawn: the coarser first, the finer where not all codes were found."""
_MOST_QUIET_MODULES = 4
_MOST_DOTS = 120_000_000
"""A page of more dots is not drawn: it would be larger than any paper."""
_LIGHT = 128
_SLACK_MM = 0.015
"""Half a dot over a code: how exactly modules can be measured here."""

SAME_MODULE = 0.01
"""Parts of their size by which modules may differ from what is noted, where a code is measured as it is drawn."""
_SAME_SEEN = 0.025
"""The same where it can only be measured on the page as printed, to half a dot at each end."""
_SAME_PLACE_MM, _SAME_SIDE = 1.0, 0.1
"""How far a code that was seen may be from where one is drawn, and by which part of its side it may differ."""

Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, width and height of something drawn, in mm of the page from its top left corner."""


def codes(page: Any, number: int, noted: NotedPage | None) -> list[SeenCode]:
    """All codes found on a page. The finer drawing is made only where the note tells of more than the coarser shows."""
    best: list[SeenCode] = []
    for dpi in DPIS:
        if best and noted and len(best) >= noted.codes:
            break
        width, height = (side / 72 * dpi for side in page.get_size())
        if width * height > _MOST_DOTS or (noted and not noted.codes):
            break
        best = max(best, _found(page, number, dpi), key=len)
    return best


def _found(page: Any, number: int, dpi: int) -> list[SeenCode]:
    import zxingcpp

    picture = page.render(scale=dpi / 72, grayscale=True).to_pil()
    found = zxingcpp.read_barcodes(picture, zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    seen = [_seen(picture, code, number, MM_PER_INCH / dpi) for code in found if _is_of_full_size(code)]
    return sorted(seen, key=lambda code: (code.corner_mm[1], code.corner_mm[0]))


def _is_of_full_size(code: Any) -> bool:
    """Whether it is of the kind that sheets bear: versions of the small ones are no numbers, such as M1."""
    return str(code.extra["Version"]).isdecimal()


def _seen(picture: Any, code: Any, number: int, dot_mm: float) -> SeenCode:
    at = code.position
    corners = [(at.top_left.x, at.top_left.y), (at.top_right.x, at.top_right.y)]
    corners += [(at.bottom_right.x, at.bottom_right.y), (at.bottom_left.x, at.bottom_left.y)]
    version = int(code.extra["Version"])
    side = sum(dist(corners[i], corners[i - 1]) for i in range(4)) / 4
    module = side / (17 + 4 * version)
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    right, bottom = max(x for x, _ in corners), max(y for _, y in corners)
    quiet = _quiet(picture, (left, top, right, bottom), module)
    return SeenCode(number, code.text, version, code.ec_level, module * dot_mm, quiet, (left * dot_mm, top * dot_mm))


def _quiet(picture: Any, box: tuple[int, int, int, int], module: float) -> int:
    """How many modules of white lie round an upright box on all sides, up to 4."""
    for modules in range(_MOST_QUIET_MODULES, 0, -1):
        if all(picture.crop(strip).getextrema()[0] >= _LIGHT for strip in _strips(box, round(modules * module * 0.9))):
            return modules
    return 0


def _strips(box: tuple[int, int, int, int], wide: int) -> Iterator[tuple[int, int, int, int]]:
    """The strips so wide above, below and beside a box, a dot away from it."""
    left, top, right, bottom = box
    yield left - wide, top - wide, right + wide, top - 2
    yield left - wide, bottom + 3, right + wide, bottom + wide + 1
    yield left - wide, top, left - 2, bottom
    yield right + 3, top, right + wide + 1, bottom


def code_findings(found: list[SeenCode], noted: NotedPage | None) -> Iterator[Finding]:
    """What there is to say of the codes of a page."""
    stretch = min(noted.across, noted.down) if noted else 1.0
    least_mm = min(LEAST_MODULE_MM, noted.module_mm) if noted else LEAST_MODULE_MM
    for code in found:
        yield from _size_findings(code, code.module_mm / stretch, least_mm)
        if code.quiet_modules < LEAST_QUIET_MODULES:
            text = f"the QR code '{code.text}' has too little white around it: {code.quiet_modules} modules"
            yield Finding(Part.CODES, text, code.page)


def lost_codes(found: Iterable[SeenCode], noted: Sequence[NotedPage | None]) -> Iterator[Finding]:
    """Codes that cannot be read. Where each number of codes is on another page, it is pages that changed places."""
    seen = Counter(code.page for code in found)
    counts, meant = [seen[i + 1] for i in range(len(noted))], [page.codes if page else 0 for page in noted]
    if counts != meant and all(noted) and sorted(counts) == sorted(meant):
        yield out_of_order()
        return
    for number, (count, codes) in enumerate(zip(counts, meant, strict=True), 1):
        if count < codes:
            yield Finding(Part.CODES, f"{count} of its {codes} QR codes can be read; make the sheet again", number)


def scaled_findings(found: list[SeenCode], drawn: Iterable[Box], number: int, noted: NotedPage) -> Iterator[Finding]:
    """Whether the codes of a page, all of which were found, are as large as noted; sheets of sticks have no bar."""
    if not found or len(found) != noted.codes or not noted.module_mm:
        return
    boxes = list(drawn)
    measured = [(_drawn_module(code, boxes, noted), code.module_mm / noted.across) for code in found]
    least = min(exact or seen for exact, seen in measured)
    slack = SAME_MODULE if all(exact for exact, _ in measured) else _SAME_SEEN
    share = least / noted.module_mm
    if abs(share - 1) > slack:
        text = (
            f"the modules of its QR codes are {least:.3f} mm, and were made {noted.module_mm:.3f} mm: the page was "
            f"scaled to {share:.1%}; print the sheet itself at 100 %"
        )
        yield Finding(Part.SCALE, text, number)


def _drawn_module(code: SeenCode, boxes: Iterable[Box], noted: NotedPage) -> float | None:
    """The modules of a code as it is drawn, freed of a printer's stretch; None where nothing of its size lies there.

    Whichever of across and down is less true is taken.
    """
    modules = 17 + 4 * code.version
    left, top = code.corner_mm
    side = modules * code.module_mm
    for x, y, width, height in boxes:
        near = abs(x - left) < _SAME_PLACE_MM and abs(y - top) < _SAME_PLACE_MM
        if near and all(abs(it - side) < _SAME_SIDE * side for it in (width, height)):
            both = width / modules / noted.across, height / modules / noted.down
            return max(both, key=lambda module: abs(module - noted.module_mm))
    return None


def _size_findings(code: SeenCode, module_mm: float, least_mm: float) -> Iterator[Finding]:
    """Whether modules are too small. Small ones that are meant, as on a page to try a printer, are odd, not wrong."""
    if module_mm < least_mm - _SLACK_MM:
        text = f"the modules of the QR code '{code.text}' are {module_mm:.2f} mm; under 0.34 mm phones cannot read it"
        yield Finding(Part.CODES, text, code.page)
    elif module_mm < GOOD_MODULE_MM - _SLACK_MM:
        text = f"the modules of the QR code '{code.text}' are {module_mm:.2f} mm; 0.42 mm or more read more surely"
        yield Finding(Part.CODES, text, code.page, wrong=False)
