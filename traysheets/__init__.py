"""traysheets: to-scale tray maps, QR stick labels and batch records from a sowing plan.

The flow, for programs: `read_plan`, `reckon`, `arrange`, `make_sheets`; and the error family. Nothing else is public.
Each is imported when it is first asked for, so that asking for the version costs nothing.
"""

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from traysheets.arrange.arrange import arrange
    from traysheets.base.errors import BookError, FileError, PlanError, SheetError, TraysheetsError
    from traysheets.pipeline.making import make_sheets
    from traysheets.plan.read import read_plan
    from traysheets.reckon.reckon import reckon

__version__ = "0.1.0"
_ROOMS = {
    "read_plan": "plan.read",
    "reckon": "reckon.reckon",
    "arrange": "arrange.arrange",
    "make_sheets": "pipeline.making",
    "TraysheetsError": "base.errors",
    "PlanError": "base.errors",
    "BookError": "base.errors",
    "SheetError": "base.errors",
    "FileError": "base.errors",
}
__all__ = [
    "BookError",
    "FileError",
    "PlanError",
    "SheetError",
    "TraysheetsError",
    "arrange",
    "make_sheets",
    "read_plan",
    "reckon",
]


def __getattr__(name: str) -> Any:
    """Import a public name from its room."""
    if name not in _ROOMS:
        raise AttributeError(f"module 'traysheets' has no attribute '{name}'")
    return getattr(import_module(f"traysheets.{_ROOMS[name]}"), name)


class _Package(ModuleType):
    """The package: two of its functions bear the names of the rooms that they are in, and stay functions.

    Python would set a room as an attribute over them as soon as anything of it is imported.
    """

    def __setattr__(self, name: str, value: object) -> None:
        """Set an attribute, but no room over a function."""
        if not (name in _ROOMS and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
