"""The sections of a plan file as the form has them: which stand once, which are lists, how each is headed."""

from typing import Any, get_args, get_origin

from traysheets.plan.form import Form
from traysheets.plan.plan_form import PlanFile


def _annotated(name: str) -> Any:
    """What the form says of a section, without the `None` that lets it be left out."""
    return get_args(PlanFile.model_fields[name].annotation)[0]


NAMES = tuple(PlanFile.model_fields)
LISTS = frozenset(name for name in NAMES if get_origin(_annotated(name)) is list)


def form_of(section: str) -> type[Form]:
    """The form that a table of the section fills in."""
    annotated = _annotated(section)
    form: type[Form] = get_args(annotated)[0] if section in LISTS else annotated
    return form


def heading(section: str) -> str:
    """How a table of the section is headed: `[plan]`, `[[sowing]]`."""
    return f"[[{section}]]" if section in LISTS else f"[{section}]"
