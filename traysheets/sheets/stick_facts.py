"""What a stick says beside its code and its variety: the facts of a batch, in words, and which matter most.

Where they stand is `stick_layout.py`.
"""

from dataclasses import dataclass
from datetime import date

from traysheets.base.words import Words
from traysheets.plan.model import Method
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job

IMPORTANCE = ("code", "treated", "crop", "do", "sown", "plant_out", "lot", "place")
"""The facts, the most important first. Where there is no room the last are left out first; the batch code never is."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One fact as text. `kind` is one of `IMPORTANCE`; `short` says the same with less, where room is short."""

    kind: str
    text: str
    short: str = ""
    face: str = "regular"


def pieces(job: Job, batch: Batch, place: str = "") -> tuple[Piece, ...]:
    """The facts of a batch in the order they are read: what it is, then what to do. `place` is where its sticks go."""
    sowing, words = batch.sowing, job.words
    return (
        *_what_it_is(sowing.code, sowing.crop_name, job.codes[batch.index], sowing.treated, words),
        Piece("do", *what_to_do(batch, words), face="bold"),
        *_dates(batch.sow, batch.plant_out.value if batch.plant_out else None, words),
        *_origin(sowing.lot, place, words),
    )


def sample_pieces(words: Words) -> tuple[Piece, ...]:
    """Facts of usual length, which the size of type on a stock is chosen by: so it is the same whatever is printed."""
    return (
        *_what_it_is("LW", "Bunching onion", "27-014-Y", False, words),
        Piece("do", words("after.clump", seeds=25), face="bold"),
        *_dates(date(2027, 9, 28), date(2027, 11, 28), words),
        *_origin("HB-2231", words("sticks.place", tray="12", cells="A1–B12"), words),
    )


def what_to_do(batch: Batch, words: Words) -> tuple[str, str]:
    """What is to become of a cell, and the same in short: `25 a cell, do not thin`, `25, do not thin`."""
    key, values = _to_do(batch)
    short = "" if key in ("stations_one", "single") else words(f"after.{key}_short", **values)
    return words(f"after.{key}", **values), short


def _to_do(batch: Batch) -> tuple[str, dict[str, int]]:
    """The key of the words, and the values in them."""
    if batch.sowing.method is Method.CLUMP:
        return "clump", {"seeds": batch.seeds_per_cell.value}
    if batch.stations and batch.seeds_per_station:
        return "stations" if batch.seeds_per_station.value > 1 else "stations_one", {"holes": batch.stations}
    return "single_thin" if batch.seeds_per_cell.value > 1 else "single", {}


def _what_it_is(letters: str, crop: str, code: str, treated: bool, words: Words) -> tuple[Piece, ...]:
    """The letters of the map stand before the crop, so that a stick is soon found for its cells."""
    sign = (Piece("treated", words("cautions.sign"), words("cautions.sign_short"), face="bold"),) if treated else ()
    return Piece("crop", f"{letters} · {crop}" if letters else crop, crop), Piece("code", code, face="code"), *sign


def _dates(sow: date, plant_out: date | None, words: Words) -> tuple[Piece, ...]:
    """The year is said once where both days lie in it."""
    sown = Piece(
        "sown", words("sticks.sown", day=words.short_day(sow)), words("sticks.sown", day=words.day_of_year(sow))
    )
    if plant_out is None:
        return (sown,)
    day = words.day_of_year(plant_out) if plant_out.year == sow.year else words.short_day(plant_out)
    short = words("sticks.plant_out_short", day=words.day_of_year(plant_out))
    return sown, Piece("plant_out", words("sticks.plant_out", day=day), short)


def _origin(lot: str | None, place: str, words: Words) -> tuple[Piece, ...]:
    lots = (Piece("lot", words("sticks.lot", lot=lot)),) if lot else ()
    return (*lots, Piece("place", place)) if place else lots
