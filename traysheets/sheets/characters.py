"""Characters that would print as nothing: looked for in all names of a plan, before anything is drawn.

Names are what growers write: titles, varieties, crops, lots, places, codes. Whatever else stands on a sheet is words
of ours, and proved page by page (`page/proof.py`).
"""

from collections.abc import Iterator

from traysheets.base.errors import Problem, SheetError
from traysheets.page.lettering import require_glyphs
from traysheets.sheets.job import Job


def require_characters(job: Job) -> None:
    """Raise SheetError with every name that no font at hand has whole, each once, and the line it stands on."""
    problems = tuple(character_problems(job))
    if problems:
        raise SheetError(problems)


def character_problems(job: Job) -> Iterator[Problem]:
    """The names that no font at hand has whole, each once."""
    seen: set[tuple[str, str]] = set()
    for line, what, text, face in _names(job):
        if text and (text, face) not in seen:
            seen.add((text, face))
            yield from _problems(job.plan.file, line, what, text, face)


def _problems(file: str, line: int | None, what: str, text: str, face: str) -> Iterator[Problem]:
    try:
        require_glyphs(text, what, face)
    except SheetError as error:
        yield from (Problem(found.text, file, line) for found in error.problems)


def _names(job: Job) -> Iterator[tuple[int | None, str, str, str]]:
    """The line of every name, what it is, itself, and the face it is set in."""
    plan = job.plan
    yield None, "the title", plan.title, "regular"
    yield None, "the grower", plan.grower, "regular"
    for bench in plan.benches:
        yield bench.line, "the bench", bench.name, "regular"
    for batch in job.batches:
        sowing = batch.sowing
        for what, text in (
            ("the variety", sowing.variety),
            ("the crop", sowing.crop_name),
            ("the lot", sowing.lot or ""),
            ("the place", sowing.place),
        ):
            yield sowing.line, what, text, "regular"
        yield sowing.line, "the batch code", job.codes[batch.index], "code"
