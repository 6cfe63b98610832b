"""What cannot be on a stick, said as errors before anything is drawn, and what is odd about the sticks, as notices."""

from collections import Counter
from collections.abc import Iterable, Iterator

from traysheets.base.errors import Problem, SheetError
from traysheets.base.notices import Notice
from traysheets.page import qr
from traysheets.page.lettering import fits, width_mm
from traysheets.reckon.model import Batch
from traysheets.sheets.characters import character_problems
from traysheets.sheets.job import Job
from traysheets.sheets.links import batch_text
from traysheets.sheets.stick_design import Design, Lettering, design, letter
from traysheets.sheets.stick_facts import pieces
from traysheets.sheets.stick_lines import LEAST_CODE_PT
from traysheets.sheets.stick_places import widest_place
from traysheets.trade.stocks import Stock


def checked_design(job: Job) -> Design:
    """The design of a job's sticks. Raises SheetError with everything that keeps them from being drawn true."""
    problems = [*_first_label_problems(job), *character_problems(job)]
    made = design(job.choices.stock, job.words, longest_text(job))
    if made is None:
        problems.append(Problem(_too_small(job)))
    else:
        problems.extend(_code_problems(job, made))
    if problems or made is None:
        raise SheetError(problems)
    return made


def longest_text(job: Job) -> str:
    """What the largest QR code of the job says."""
    texts = (batch_text(job, batch) for batch in job.batches)
    return max(texts, key=lambda text: (qr.version_for(text, "M"), len(text)), default="")


def _first_label_problems(job: Job) -> Iterator[Problem]:
    first, labels, stock = job.choices.first_label, job.choices.stock.labels, job.choices.stock
    if not 1 <= first <= labels:
        holds = "one label" if labels == 1 else f"labels 1 to {labels}"
        yield Problem(f"the first free label cannot be {first}: a page of the stock '{stock.name}' has {holds}")


def _code_problems(job: Job, made: Design) -> Iterator[Problem]:
    """Batch codes of the grower's own that are too long to be printed in words."""
    width = min(form.columns[0].width_mm for form in (made.form, made.roomy))
    for batch in job.batches:
        code = job.codes[batch.index]
        if not fits(width_mm(code, "code", LEAST_CODE_PT), width):
            room = f"which has room for {width:.0f} mm of it at {LEAST_CODE_PT:g} pt"
            text = (
                f"the batch code '{code}' is too long for the stock '{job.choices.stock.name}', {room}{_instead(job)}"
            )
            yield Problem(text, job.plan.file, batch.sowing.line)


def _too_small(job: Job) -> str:
    """Why no stick fits the label: its size, or what the QR codes are to hold."""
    stock, text = job.choices.stock, longest_text(job)
    size = f"labels of {stock.label_mm[0]:g} × {stock.label_mm[1]:g} mm (stock '{stock.name}') are too small for"
    if design(stock, job.words, text[:1]) is None:
        return f"{size} a QR code that scans, the variety and the batch code{_instead(job)}"
    least = f"its modules would come out under {qr.LEAST_MODULE_MM:g} mm, too small to scan"
    return f"{size} the QR code of '{text}': {least}{_instead(job)}; a shorter record_url helps as well"


def _instead(job: Job) -> str:
    """Another stock that holds the longest QR code and batch code of the job, as the end of a sentence."""
    text = longest_text(job)
    for stock in sorted(job.plan.stocks.values(), key=lambda it: _unlikeness(it, job.choices.stock)):
        made = design(stock, job.words, text)
        if made and stock != job.choices.stock and _roomy_enough(job, made):
            return f"; the stock '{stock.name}' would do"
    return ""


def _unlikeness(stock: Stock, wanted: Stock) -> tuple[bool, bool, float]:
    """Of the same kind, for the same paper, as small as can be."""
    return stock.point != wanted.point, stock.page_mm != wanted.page_mm, stock.label_mm[0] * stock.label_mm[1]


def _roomy_enough(job: Job, made: Design) -> bool:
    width = made.roomy.columns[0].width_mm
    codes = (job.codes[batch.index] for batch in job.batches)
    return made.module_mm >= qr.GOOD_MODULE_MM and all(
        fits(width_mm(code, "code", LEAST_CODE_PT), width) for code in codes
    )


def stick_notices(job: Job) -> tuple[Notice, ...]:
    """What is odd about the sticks: small QR modules, facts that had no room, names that were cut.

    Raises SheetError as drawing them does.
    """
    made = checked_design(job)
    lettered = [(batch, _lettering(job, made, batch)) for batch in job.batches]
    return (*_module_notices(job, made), *_left_out_notices(job, lettered), *_cut_notices(lettered))


def _lettering(job: Job, made: Design, batch: Batch) -> Lettering:
    return letter(made, batch.sowing.variety, pieces(job, batch, widest_place(job, batch)))


def _module_notices(job: Job, made: Design) -> Iterator[Notice]:
    if made.module_mm < qr.GOOD_MODULE_MM:
        size = f"modules of {made.module_mm:.2f} mm, and phones read {qr.GOOD_MODULE_MM:g} mm or more well"
        yield Notice(f"sticks on '{job.choices.stock.name}': the QR codes have {size}{_instead(job)}")


def _left_out_notices(job: Job, lettered: Iterable[tuple[Batch, Lettering]]) -> Iterator[Notice]:
    """One notice for all facts, with how many batches each has no room for."""
    kinds = Counter(kind for _, lettering in lettered for kind in lettering.left_out)
    if kinds:
        named = ", ".join(f"{_NAMED[kind]} ({_batches(number)})" for kind, number in kinds.most_common())
        yield Notice(f"sticks on '{job.choices.stock.name}' have no room for {named}; the records show it all")


_NAMED = {
    "treated": "the sign for treated seed",
    "crop": "the crop",
    "do": "what to do",
    "sown": "the sowing day",
    "plant_out": "the planting-out day",
    "lot": "the lot",
    "place": "tray and cells",
}


def _batches(number: int) -> str:
    return "1 batch" if number == 1 else f"{number} batches"


def _cut_notices(lettered: Iterable[tuple[Batch, Lettering]]) -> Iterator[Notice]:
    """A notice for every sowing whose variety, crop or lot ends in an ellipsis."""
    texts = {"name": "variety", "crop": "crop", "lot": "lot", "do": "line that says what to do"}
    said = (
        (batch.sowing.line, texts[kind]) for batch, lettering in lettered for kind in lettering.cut if kind in texts
    )
    for line, what in dict.fromkeys(said):
        yield Notice(f"the {what} is too long for its stick and ends in …; the record shows it whole", line)
