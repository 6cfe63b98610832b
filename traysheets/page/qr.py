"""QR codes: the level that fits the room, and the code as one stamp. ISO/IEC 18004."""

from dataclasses import dataclass

from traysheets.page.marks import Stamp

QUIET_MODULES = 4
GOOD_MODULE_MM = 0.42
LEAST_MODULE_MM = 0.34


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code made to fit: its stamp (quiet zone included), error correction level, version and module size."""

    stamp: Stamp
    text: str
    level: str
    version: int
    module_mm: float


def code(text: str, side_mm: float, quiet_modules: int = QUIET_MODULES, largest_module_mm: float | None = None) -> Code:
    """The code of a text in a square of `side_mm`, quiet zone included: the highest of H, Q, M that keeps modules at
    `GOOD_MODULE_MM` or more, else M however small. Encoded once a text and level. The caller judges `module_mm`.
    Raises SheetError when the text does not fit any version that could be printed here.
    """
    raise NotImplementedError
