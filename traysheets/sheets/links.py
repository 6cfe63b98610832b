"""What the QR codes say: the address of a record page, or the record itself as short text.

Short text keeps to the characters that QR codes pack tightest, and to a length that leaves the modules large.
"""

from collections.abc import Iterator

from traysheets.arrange.model import ArrangedTray
from traysheets.base.notices import Notice
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.plain_letters import plain_letters

AIM = 38
"""Characters that a code of 25 modules holds at level M."""
MOST = 47
"""Characters that a code of 25 modules holds at all."""

_BATCH_END = "B/{batch}"


def batch_text(job: Job, batch: Batch) -> str:
    """What the QR code of a batch says: its address, or `27-014-K LONGSTALK 2027-03-06 25/CELL`.

    Short text is `AIM` characters at most, `MOST` where the grower's own batch code is long.
    """
    code = job.codes[batch.index]
    if job.plan.record_url:
        return job.plan.record_url.replace("{batch}", code)
    before, after = plain_letters(code), f"{batch.sow.isoformat()} {_what_to_do(job, batch)}"
    room = AIM - len(before) - len(after) - 2
    variety = plain_letters(batch.sowing.variety)[: max(room, 0)].strip()
    return " ".join(part for part in (before, variety, after) if part)[:MOST].strip()


def tray_text(job: Job, tray: ArrangedTray) -> str:
    """What the QR code of a tray says: its address where that follows from `record_url`, else its day and batches."""
    return tray_url(job, tray) or _short_text(job, tray)[0]


def batches_told(job: Job, tray: ArrangedTray) -> int:
    """How many batches of a tray its QR code tells of: all by its address, else those whose codes its text holds."""
    return len(tray.batches) if tray_url(job, tray) else _short_text(job, tray)[1]


def _short_text(job: Job, tray: ArrangedTray) -> tuple[str, int]:
    """The number and day of a tray with the codes of its batches, as many as go in, and how many those are."""
    text, told = plain_letters(f"{job.words('links.tray', number=tray.number)} {tray.sow.isoformat()}"), 0
    for index in tray.batches:
        longer = f"{text} {plain_letters(job.codes[index])}"
        if len(longer) > MOST:
            break
        text, told = longer, told + 1
    return text[:MOST].strip(), told


def tray_url(job: Job, tray: ArrangedTray) -> str | None:
    """The address of the tray's page: that of a batch with `T/{number}` for `B/{batch}`; None without such an end."""
    url = (job.plan.record_url or "").rstrip("/")
    return f"{url.removesuffix(_BATCH_END)}T/{tray.number}" if url.endswith(_BATCH_END) else None


def _what_to_do(job: Job, batch: Batch) -> str:
    """What to put in a cell, as `25/CELL` or `3X2/CELL`."""
    seeds: int | str = batch.seeds_per_cell.value
    if batch.sowing.method is Method.STATIONS and batch.seeds_per_station:
        seeds = f"{batch.stations}X{batch.seeds_per_station.value}"
    return plain_letters(job.words("links.in_cell", what=str(seeds)))


def address_notices(job: Job) -> Iterator[Notice]:
    """A notice when the record address does not end as the record pages are filed, and so leads nowhere by itself."""
    url = job.plan.record_url
    if url and not url.rstrip("/").endswith(f"/{_BATCH_END}"):
        yield Notice(
            f"record_url ends with neither /{_BATCH_END} nor /{_BATCH_END}/, as the record pages are filed: your web"
            " server must lead it there, and the codes of trays hold text, not an address"
        )
