"""The record page of a batch: where its stick leads to."""

from collections.abc import Iterator

from traysheets.arrange.model import ArrangedTray
from traysheets.base.directions import side_by_side
from traysheets.base.units import LITRES_PER_CUBIC_FOOT
from traysheets.base.words import sentence
from traysheets.page.record import Caution, Fact, Item, RecordPage, Section, Task
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch, Source
from traysheets.reckon.seeds import is_in_packets
from traysheets.sheets import measures, phrases, steps
from traysheets.sheets.cautions import Hazard, advice, title
from traysheets.sheets.job import Noted
from traysheets.sheets.record_parts import SEPARATOR, RecordParts
from traysheets.sheets.tray_titles import tray_title

MOST_MAPS = 6
"""Trays of one batch that are shown; of the others only those that it shares, as a map of a full one tells nothing."""


def batch_record(parts: RecordParts, batch: Batch, trays: tuple[ArrangedTray, ...]) -> RecordPage:
    """The page of a batch that stands in `trays`, in the order of their numbers."""
    sowing, words = batch.sowing, parts.words
    sections = (
        Section(words("records.to_do"), tasks=tuple(tasks(parts, batch))),
        *_noted(parts, batch),
        _stands(parts, batch, trays),
        Section(words("records.numbers"), facts=tuple(_facts(parts, batch))),
        Section(words("records.notes"), text=sowing.notes),
    )
    return RecordPage(
        path=parts.batch_path(batch),
        title=sowing.variety,
        subtitle=sowing.crop_name,
        language=words.language,
        direction=words.locale.text_direction,
        sections=sections if sowing.notes else sections[:-1],
        code=parts.job.codes[batch.index],
        letters=sowing.code,
        mark=parts.mark(batch),
        lead=lead(parts, batch),
        cautions=cautions(parts, [batch]),
        up=parts.up(),
        footer=parts.footer(),
    )


def cautions(parts: RecordParts, batches: list[Batch]) -> tuple[Caution, ...]:
    """What to beware of where these batches are handled."""
    treated = [batch.sowing.variety for batch in batches if batch.sowing.treated]
    if not treated:
        return ()
    words, heading = parts.words, title(Hazard.TREATED, parts.words)
    if len(batches) > 1:
        heading = words("cautions.line", what=heading, how=", ".join(dict.fromkeys(treated)))
    return (Caution(heading, f"{advice(Hazard.TREATED, words)} {words('cautions.follow')}"),)


def lead(parts: RecordParts, batch: Batch) -> str:
    """The one thing to know of a batch: what is in every cell, and how many cells."""
    return parts.words("records.lead", what=phrases.in_every_cell(batch, parts.words), n=batch.cells)


def tasks(parts: RecordParts, batch: Batch) -> Iterator[Task]:
    """What is to be done to a batch and when, in the order of its steps; thinning of no known day follows sowing."""
    for step, task in dated_tasks(parts, batch):
        yield task
        if step.task is steps.Task.SOW and steps.thins_undated(batch):
            yield _task(parts, batch, steps.Step(steps.Task.THIN, batch.sow), parts.words("steps.true_leaves"))


def dated_tasks(parts: RecordParts, batch: Batch) -> Iterator[tuple[steps.Step, Task]]:
    """What is to be done on known days, each step with its words."""
    for step in steps.steps(batch):
        yield step, _task(parts, batch, step, steps.days(step, parts.words))


def _task(parts: RecordParts, batch: Batch, step: steps.Step, when: str) -> Task:
    return Task(sentence(when), parts.words(f"steps.{step.task}"), _particulars(parts, batch, step))


def _particulars(parts: RecordParts, batch: Batch, step: steps.Step) -> str:
    words = parts.words
    match step.task:
        case steps.Task.SOW:
            cover = phrases.cover(batch, words, parts.job.units)
            return words("records.sow_cover", cover=cover) if cover else ""
        case steps.Task.EMERGE:
            soil = phrases.soil_assumed(batch, words, parts.job.units)
            return " ".join((_seedlings(parts, batch), *([sentence(f"{soil}.")] if soil else [])))
        case steps.Task.THIN if batch.stations:
            return words("records.thin_stations", holes=batch.stations)
        case steps.Task.THIN:
            return words("records.thin_single")
        case steps.Task.TRIM:
            return words("records.trim_details")
        case steps.Task.PLANT_OUT if batch.plant_out and batch.plant_out.source is Source.LAST_FROST:
            return sentence(f"{words(f'source.{Source.LAST_FROST}')}.")
    return ""


def _seedlings(parts: RecordParts, batch: Batch) -> str:
    """How many seedlings to look for: of all seeds in clumps, else of all holes or cells."""
    words, expected = parts.words, round(batch.plants_expected)
    if batch.sowing.method is Method.CLUMP:
        return words("records.emerge_clump", n=expected, seeds=batch.seeds_total)
    key, places = ("records.holes", batch.stations) if batch.stations else ("records.cells", 1)
    return words("records.emerge_cells", n=expected, all=words(key, n=batch.cells * places))


def _noted(parts: RecordParts, batch: Batch) -> Iterator[Section]:
    """What was noted so far, and how far that is; no section when nothing was.

    Who noted it is left out: these pages may stand on the web.
    """
    words, noted = parts.words, parts.job.noted.get(batch.index)
    if noted:
        until = words("records.noted_until", day=words.short_day(parts.job.today))
        lines = tuple(Task(sentence(words.day(one.day)), _what(parts, one), one.remark) for one in noted)
        yield Section(words("records.noted"), tasks=lines, text=until)


def _what(parts: RecordParts, noted: Noted) -> str:
    what = parts.words(f"records.noted_{noted.kind}")
    return what if noted.number is None else parts.words("records.noted_number", what=what, n=noted.number)


def _stands(parts: RecordParts, batch: Batch, trays: tuple[ArrangedTray, ...]) -> Section:
    words = parts.words
    shown = [tray for tray in trays if len(trays) <= MOST_MAPS or len(tray.batches) > 1 or tray.spare]
    unshown = len(trays) - len(shown)
    return Section(
        words("records.stands"),
        items=tuple(_tray_item(parts, batch, tray) for tray in trays),
        pictures=tuple(parts.picture(tray, batch) for tray in shown),
        text=words("records.fills", n=unshown) if unshown else "",
    )


def _tray_item(parts: RecordParts, batch: Batch, tray: ArrangedTray) -> Item:
    words = parts.words
    cells = sum(run.cells for run in tray.runs if run.batch == batch.index)
    details = (phrases.whereabouts(tray, batch.index), words("records.cells", n=cells), tray.place)
    name = words("records.tray", number=str(tray.number))
    return Item(name, side_by_side(details, SEPARATOR), link=parts.tray_path(tray.number))


# ---- figures, each with how it came about


def _facts(parts: RecordParts, batch: Batch) -> Iterator[Fact]:
    words = parts.words
    yield from _seed_facts(parts, batch)
    yield Fact(
        words("records.germination"), words.percent(batch.germination.value), _source(parts, batch.germination.source)
    )
    yield from _stand_facts(parts, batch)
    yield from _growing_facts(parts, batch)
    if batch.successions > 1:
        of = words("records.succession_of", n=batch.succession, last=batch.successions)
        yield Fact(words("records.succession"), of)


def _seed_facts(parts: RecordParts, batch: Batch) -> Iterator[Fact]:
    words = parts.words
    beside = [words("records.seeds_spare", n=batch.seeds_spare)] if batch.seeds_spare else []
    beside += [words("records.seeds_left", n=batch.seeds_left)] if batch.seeds_left else []
    yield Fact(words("records.seeds_total"), words.number(batch.seeds_total), SEPARATOR.join(beside))
    if grams := batch.seed_grams:
        weight = words("records.grams", n=_shown(grams.value))
        yield Fact(words("records.seed_weight"), weight, _source(parts, grams.source))
    if batch.packets is not None and is_in_packets(batch.sowing.on_hand, batch.sowing.packet):
        yield Fact(words("records.packets"), words.number(batch.packets))
    if batch.sowing.lot:
        yield Fact(words("records.lot"), batch.sowing.lot)


def _stand_facts(parts: RecordParts, batch: Batch) -> Iterator[Fact]:
    words = parts.words
    yield Fact(words("records.expected"), words("records.about", n=round(batch.plants_expected)))
    sure = words("records.low_note", chance=words.percent(batch.sowing.confidence))
    yield Fact(words("records.low"), words("records.low_value", n=batch.plants_low), sure)
    if batch.stand_chance is not None:
        key = "records.stand_stations" if batch.stations else "records.stand_single"
        yield Fact(words("records.stand_chance"), words.percent(batch.stand_chance), words(key))


def _growing_facts(parts: RecordParts, batch: Batch) -> Iterator[Fact]:
    words = parts.words
    if cover := batch.cover_mm:
        depth = phrases.cover(batch, words, parts.job.units)
        yield Fact(words("records.cover"), depth, _source(parts, cover.source))
    if (celsius := batch.sowing.soil_temp_c) is not None:
        yield Fact(words("records.soil"), measures.temperature(celsius, words, parts.job.units))
    yield Fact(words("records.mix"), _mix(parts, batch.mix_litres))
    yield Fact(words("records.kind"), tray_title(batch.tray, words, parts.job.units))


def _mix(parts: RecordParts, litres: float) -> str:
    if parts.job.units == "inch":
        return parts.words("records.cubic_feet", n=_shown(litres / LITRES_PER_CUBIC_FOOT))
    return parts.words("records.litres", n=_shown(litres))


def _source(parts: RecordParts, source: Source) -> str:
    """How a figure came about; what the plan says needs no word."""
    return "" if source is Source.PLAN else parts.words(f"source.{source}")


def _shown(number: float) -> float:
    """A measure as exact as a grower can use it: three figures that count."""
    return float(f"{number:.3g}")
