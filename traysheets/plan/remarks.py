"""What is odd but possible, as far as the plan alone can tell. What takes figures of the trade is for reckoning."""

from collections.abc import Iterator, Mapping

from traysheets.base.notices import Notice
from traysheets.base.words import words_for
from traysheets.plan.codes import looks_like_a_cell
from traysheets.plan.filling import Answers
from traysheets.plan.model import Plan, Sowing
from traysheets.plan.texts import shown
from traysheets.trade.trays import Tray

_LOW_GERMINATION = 0.1
_FAR_FROM_SEASON_YEARS = 1


def remarks(plan: Plan, lists: Mapping[str, list[Answers]]) -> Iterator[Notice]:
    """A notice for everything odd, in the order: settings that nothing uses, then the sowings."""
    used = {sowing.tray.name for sowing in plan.sowings} | ({plan.compare.name} if plan.compare else set())
    yield from _unused("tray", lists["tray"], used)
    yield from _unused("crop", lists["crop"], {sowing.crop.name for sowing in plan.sowings})
    yield from _copies(plan)
    yield from _places(plan)
    for sowing in plan.sowings:
        yield from _of_one(plan, sowing)


def _unused(kind: str, own: list[Answers], used: set[str]) -> Iterator[Notice]:
    for answers in own:
        if answers.values["name"] not in used:
            text = f"no sowing uses the {kind} {shown(answers.values['name'])}"
            yield Notice(text, answers.table.line, file=answers.table.file)


def _copies(plan: Plan) -> Iterator[Notice]:
    """Sowings that another repeats in everything that tells batches apart."""
    first: dict[object, int] = {}
    for sowing in plan.sowings:
        day = (sowing.sow, sowing.plant_out, sowing.weeks_before_frost)
        same = (sowing.crop.name, sowing.variety, sowing.lot, sowing.method, sowing.tray.name, sowing.place, day)
        line = first.setdefault(same, sowing.line)
        if line != sowing.line:
            text = f"{sowing.variety} is sown like this in line {line} already; if that is meant, both are made"
            yield Notice(text, sowing.line)


def _places(plan: Plan) -> Iterator[Notice]:
    """Places that only spaces, hyphens or capitals tell apart: their trays would not be shared."""
    spelled: dict[str, str] = {}
    told = set()
    for sowing in plan.sowings:
        bare = "".join(letter for letter in sowing.place.casefold() if letter.isalnum())
        first = spelled.setdefault(bare, sowing.place)
        if first != sowing.place and sowing.place not in told:
            told.add(sowing.place)
            text = f"the places {shown(first)} and {shown(sowing.place)} are taken as two; their sowings share no tray"
            yield Notice(text, sowing.line)


def _of_one(plan: Plan, sowing: Sowing) -> Iterator[Notice]:
    if sowing.germination is not None and sowing.germination < _LOW_GERMINATION:
        yield Notice(f"a germination of {sowing.germination * 100:.4g} % is very low; check it", sowing.line)
    if sowing.cover_mm is not None and sowing.cover_mm >= sowing.tray.depth_mm:
        yield Notice(_too_deep(sowing.cover_mm, sowing.tray, plan.units), sowing.line)
    if looks_like_a_cell(sowing.code):
        text = f"the code {sowing.code} may be taken for the name of a cell on the map; two letters are safer"
        yield Notice(text, sowing.line)
    day = sowing.sow or sowing.plant_out
    if day and abs(day.year - plan.season) > _FAR_FROM_SEASON_YEARS:
        yield Notice(f"{day} is far from the season {plan.season}; check the year", sowing.line)


def _too_deep(cover_mm: float, tray: Tray, units: str) -> str:
    length = words_for("en").length
    cover, depth = length(cover_mm, units), length(tray.depth_mm, units)
    remedy = "check the cover and its unit, or take a deeper tray"
    return f"a cover of {cover} does not go into a cell of {tray.name}, which is {depth} deep; {remedy}"
