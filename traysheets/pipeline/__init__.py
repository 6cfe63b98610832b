"""The order of the stages, and nothing else: plan, reckon, codes, arrange, sheets, export.

`check` stops before anything is drawn and writes nothing. `make` draws and writes all or nothing; the batches it prints
are entered in the book once every file is whole, just before the files get their names.

Each name is imported when it is first asked for, so that checking a plan loads nothing that draws.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from traysheets.pipeline.checking import Checked, check, check_to_print, facts_of
    from traysheets.pipeline.converting import convert
    from traysheets.pipeline.making import Made, make, make_sheets
    from traysheets.pipeline.options import PAPERS, SCALES, Options
    from traysheets.pipeline.outputs import OUTPUTS, RECORDS, SHEETS, USUAL, Output, Progress
    from traysheets.pipeline.printing import printer_check

_FILES = {
    "PAPERS": "options",
    "SCALES": "options",
    "Options": "options",
    "Checked": "checking",
    "check": "checking",
    "check_to_print": "checking",
    "facts_of": "checking",
    "OUTPUTS": "outputs",
    "RECORDS": "outputs",
    "SHEETS": "outputs",
    "USUAL": "outputs",
    "Output": "outputs",
    "Made": "making",
    "Progress": "outputs",
    "make": "making",
    "make_sheets": "making",
    "convert": "converting",
    "printer_check": "printing",
}
__all__ = [
    "OUTPUTS",
    "PAPERS",
    "RECORDS",
    "SCALES",
    "SHEETS",
    "USUAL",
    "Checked",
    "Made",
    "Options",
    "Output",
    "Progress",
    "check",
    "check_to_print",
    "convert",
    "facts_of",
    "make",
    "make_sheets",
    "printer_check",
]


def __getattr__(name: str) -> Any:
    """Import a name from its file."""
    if name not in _FILES:
        raise AttributeError(f"module 'traysheets.pipeline' has no attribute '{name}'")
    return getattr(import_module(f"traysheets.pipeline.{_FILES[name]}"), name)
