"""The headings of a spreadsheet plan: which key each column holds, spelling forgiven and the understanding told."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from traysheets.base.errors import nearest
from traysheets.plan.sowing_form import RepeatForm, SowingForm
from traysheets.plan.texts import listed, meant, shown

REPEAT = "repeat_"
COLUMNS = tuple(
    column
    for key in SowingForm.model_fields
    for column in ([f"{REPEAT}{part}" for part in RepeatForm.model_fields] if key == "repeat" else [key])
)
"""Every column a plan may have, in the order of the form; the two keys of `repeat` are columns of their own."""

# How alike a heading must be to a key to be taken for it, as `seed per cell` is; less alike it is only suggested.
_ALIKE = 0.88
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class Headings:
    """The key of each column, None where there is none, and what was made of the spelling.

    `columns` gives the heading as it was written, by key. `wrong` are (sentence, heading) of what cannot be understood;
    `suggested` are keys that such headings may have meant. `blank` are the places of columns without a heading.
    """

    keys: tuple[str | None, ...]
    columns: dict[str, str]
    forgiven: tuple[str, ...]
    wrong: tuple[tuple[str, str], ...]
    suggested: frozenset[str]
    blank: frozenset[int]


def plain(heading: str) -> str:
    """A heading in small letters, words joined by `_`: `Seeds per cell` is `seeds_per_cell`."""
    words = re.findall(r"\w+", unicodedata.normalize("NFC", heading).casefold().replace("_", " "))
    return "_".join(words)


def key_of(heading: str) -> str | None:
    """The key that a heading means, None when it is too far from any."""
    word = plain(heading)
    if word in COLUMNS:
        return word
    near = get_close_matches(word, COLUMNS, n=1, cutoff=_ALIKE)
    return near[0] if near else None


def understood(written: Iterable[str]) -> Headings:
    """What the headings of a plan mean."""
    headings = [_showable(heading) for heading in written]
    keys: list[str | None] = []
    columns: dict[str, str] = {}
    wrong, suggested = [], set()
    for heading in headings:
        key = key_of(heading) if heading else None
        if key in columns:
            wrong.append((f"this column and {shown(columns[key])} are both read as {key}; keep one of them", heading))
            key = None
        elif heading and key is None:
            suggested.add(nearest(plain(heading), COLUMNS) or "")
            wrong.append((f"a plan has no such column{meant(plain(heading), COLUMNS) or _all_columns()}", heading))
        elif key:
            columns[key] = heading
        keys.append(key)
    return Headings(
        keys=tuple(keys),
        columns=columns,
        forgiven=tuple(f"{shown(heading)} as {key}" for key, heading in columns.items() if not _same(heading, key)),
        wrong=tuple(wrong),
        suggested=frozenset(suggested),
        blank=frozenset(place for place, heading in enumerate(headings) if not heading),
    )


def _same(heading: str, key: str) -> bool:
    """Whether a heading is the key itself, but for capitals, spaces, and marks between words."""
    return plain(heading).replace("_", "") == key.replace("_", "")


def _showable(heading: str) -> str:
    """A heading on one line, cut where no heading goes on, with nothing in it that steers a terminal."""
    one_line = " ".join(heading.split())[:_LONGEST]
    return "".join(letter if letter.isprintable() else "?" for letter in one_line)


def _all_columns() -> str:
    return f"; there are: {listed(COLUMNS)}"
