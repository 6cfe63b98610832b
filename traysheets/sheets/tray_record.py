"""The record page of a tray: where the code on its map leads to."""

from collections.abc import Iterator

from traysheets.arrange.model import ArrangedTray
from traysheets.page.record import Fact, Item, RecordPage, Section
from traysheets.reckon.model import Batch
from traysheets.sheets import phrases
from traysheets.sheets.batch_record import cautions
from traysheets.sheets.record_parts import RecordParts
from traysheets.sheets.tray_titles import tray_title


def tray_record(parts: RecordParts, tray: ArrangedTray, beside: tuple[int, ...] = ()) -> RecordPage:
    """The page of a tray; it leads on to the trays `beside` it, by number."""
    words, job = parts.words, parts.job
    batches = [job.batch(index) for index in tray.batches]
    return RecordPage(
        path=parts.tray_path(tray.number),
        title=words("records.tray_of", number=str(tray.number), last=str(job.last_tray_number)),
        subtitle=tray_title(tray.kind, words, job.units),
        language=words.language,
        direction=words.locale.text_direction,
        lead=words("records.sow_on", day=words.day(tray.sow)),
        sections=(
            Section(
                words("records.contents"),
                items=tuple(_item(parts, tray, batch) for batch in batches),
                pictures=(parts.picture(tray),),
            ),
            Section(words("records.about_tray"), facts=tuple(_facts(parts, tray))),
        ),
        cautions=cautions(parts, batches),
        up=parts.up(),
        on=tuple(parts.tray_way(number) for number in beside),
        footer=parts.footer(),
    )


def _item(parts: RecordParts, tray: ArrangedTray, batch: Batch) -> Item:
    words = parts.words
    return parts.batch_item(batch, phrases.in_every_cell(batch, words), phrases.whereabouts(tray, batch.index))


def _facts(parts: RecordParts, tray: ArrangedTray) -> Iterator[Fact]:
    words, kind = parts.words, tray.kind
    seeds = sum(run.cells * parts.job.batch(run.batch).seeds_per_cell.value for run in tray.runs)
    yield Fact(words("records.seeds_total"), words.number(seeds))
    yield Fact(words("records.cells_in_use"), words.number(kind.cells - tray.spare))
    if tray.spare:
        yield Fact(words("records.free"), words.number(tray.spare))
    yield Fact(words("records.cell"), phrases.size(*kind.cell_mm, words, parts.job.units))
    if tray.place:
        yield Fact(words("records.place"), tray.place)
