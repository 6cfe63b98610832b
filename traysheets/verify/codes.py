"""The QR codes of a page as it would be printed: drawn at the dots of a printer, found, read and measured."""

from collections.abc import Iterator
from math import dist
from typing import Any

from traysheets.page.note import NotedPage
from traysheets.page.qr import GOOD_MODULE_MM, LEAST_MODULE_MM
from traysheets.verify.report import Finding, Part, SeenCode

DPIS = (200, 300)
"""Dots an inch at which a page is drawn: the coarser first, the finer where not all codes were found."""
LEAST_QUIET_MODULES = 2
_MOST_QUIET_MODULES = 4
_MOST_DOTS = 120_000_000
"""A page of more dots is not drawn: it would be larger than any paper."""
_LIGHT = 128
_SLACK_MM = 0.015
"""Half a dot over a code: how exactly modules can be measured here."""


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
    seen = [_seen(picture, code, number, 25.4 / dpi) for code in found]
    return sorted(seen, key=lambda code: (code.corner_mm[1], code.corner_mm[0]))


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


def code_findings(found: list[SeenCode], number: int, noted: NotedPage | None) -> Iterator[Finding]:
    """What there is to say of the codes of a page."""
    if noted and len(found) < noted.codes:
        text = f"{len(found)} of its {noted.codes} QR codes can be read; make the sheet again"
        yield Finding(Part.CODES, text, number)
    stretch = min(noted.across, noted.down) if noted else 1.0
    least_mm = min(LEAST_MODULE_MM, noted.module_mm) if noted else LEAST_MODULE_MM
    for code in found:
        yield from _size_findings(code, code.module_mm / stretch, least_mm)
        if code.quiet_modules < LEAST_QUIET_MODULES:
            text = f"the QR code '{code.text}' has too little white around it: {code.quiet_modules} modules"
            yield Finding(Part.CODES, text, code.page)


def _size_findings(code: SeenCode, module_mm: float, least_mm: float) -> Iterator[Finding]:
    """Whether modules are too small. Small ones that are meant, as on a page to try a printer, are odd, not wrong."""
    if module_mm < least_mm - _SLACK_MM:
        text = f"the modules of the QR code '{code.text}' are {module_mm:.2f} mm; under 0.34 mm phones cannot read it"
        yield Finding(Part.CODES, text, code.page)
    elif module_mm < GOOD_MODULE_MM - _SLACK_MM:
        text = f"the modules of the QR code '{code.text}' are {module_mm:.2f} mm; 0.42 mm or more read more surely"
        yield Finding(Part.CODES, text, code.page, wrong=False)
