"""From a form that was sent to a note for the book, and from a batch to what its form asks. No request, no page."""

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from traysheets.base.errors import BookError, Problem
from traysheets.book.checks import places_of
from traysheets.book.entries import CARRIED_OFF, MAY_HAVE_NUMBER, NEEDS_NUMBER, Kind, Note
from traysheets.bookkeeping import Account
from traysheets.serve.shown import kind_words

_MOST_DIGITS = 9
_BREAKS = re.compile(r"[\s'’]")
"""What people set between thousands; a count has no decimals."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A kind of entry as the form offers it: what to count, and whether it is due."""

    kind: Kind
    words: str
    hint: str
    counts: bool
    due: bool


def new_key() -> str:
    """A key for an entry that is about to be written, unlike all others."""
    return secrets.token_urlsafe(16)


def choices(account: Account) -> tuple[Choice, ...]:
    """Every kind of entry for this batch, in the order of its life."""
    due = {step.kind for step in account.due}
    return tuple(
        Choice(kind, kind_words(kind), _hint(kind, account), kind in MAY_HAVE_NUMBER, kind in due) for kind in Kind
    )


def _hint(kind: Kind, account: Account) -> str:
    places, cells = places_of(account.batch), account.standing.cells
    if kind is Kind.SOWN:
        return f"Cells sown in all. Leave it empty for all {places.cells:,}."
    if kind in (Kind.EMERGED, Kind.THINNED):
        counted = "Seedlings" if places.called == "seeds" else f"{places.called.capitalize()} with a plant"
        left = "left" if kind is Kind.THINNED else "so far, in all"
        need = "" if kind in NEEDS_NUMBER else " Or leave it empty."
        return f"{counted} {left}; {places.places:,} {places.called} were sown.{need}"
    if kind in CARRIED_OFF:
        return f"Cells that day, with all that grows in them; {cells:,} on hand."
    return "No number is needed."


def read_note(code: str, form: Mapping[str, str], corrects: int | None = None) -> Note:
    """The note that a form asks to write. Raises BookError with everything that cannot be read."""
    read: dict[str, Any] = {field: form.get(field, "") for field in ("who", "remark", "key")}
    problems = []
    for field, reader in (("kind", _kind), ("number", _number), ("day", _day)):
        try:
            read[field] = reader(form.get(field, "").strip())
        except ValueError as error:
            problems.append(Problem(str(error)))
    if not read["key"]:
        problems.append(Problem("the form came without its key; it has a new one now, so save again"))
    if problems:
        raise BookError(problems)
    return Note(batch=code, corrects=corrects, **read)


def striking_out(code: str, entry: int, form: Mapping[str, str], today: date) -> Note:
    """The note that takes an entry away."""
    who, key = form.get("who", ""), form.get("key", "")
    return Note(batch=code, kind=Kind.REMARK, day=today, corrects=entry, who=who, key=key)


def _kind(text: str) -> Kind:
    if not text:
        raise ValueError("say what you saw: tap one of the buttons")
    try:
        return Kind(text)
    except ValueError:
        raise ValueError("there is no such kind of entry; tap one of the buttons") from None


def _number(text: str) -> int | None:
    digits = _BREAKS.sub("", text)
    if not digits:
        return None
    if not (digits.isascii() and digits.isdigit()) or len(digits) > _MOST_DIGITS:
        raise ValueError("the number must be a whole one, in figures, such as 31")
    return int(digits)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError("the day must be written as 2027-03-16") from None
