"""From a form that was sent to a note for the book, and from a batch to what its form asks. No request, no page."""

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from traysheets.base.errors import BookError, Problem
from traysheets.book.entries import CARRIED_OFF, MAY_HAVE_NUMBER, Kind, Note
from traysheets.book.numbers import read_count
from traysheets.book.said import said
from traysheets.bookkeeping import Account
from traysheets.serve.speech import Speech

_KEY = re.compile(r"[0-9a-f]{32}")
"""The keys of our forms; what came in any other form was not made by us."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A kind of entry as the form offers it: what to count, whether it is due, and whether it takes a number."""

    kind: Kind
    hint: str
    due: bool

    @property
    def takes_number(self) -> bool:
        """Whether a number may stand with it."""
        return self.kind in MAY_HAVE_NUMBER


def new_key() -> str:
    """A key for an entry that is about to be written, unlike all others."""
    return secrets.token_hex(16)


def is_key(text: str) -> bool:
    """Whether a key is of the form that ours have."""
    return _KEY.fullmatch(text) is not None


def choices(account: Account, say: Speech) -> tuple[Choice, ...]:
    """Every kind of entry for this batch, in the order of its life."""
    due = {step.kind for step in account.due}
    return tuple(Choice(kind, _hint(kind, account, say), kind in due) for kind in Kind)


def _hint(kind: Kind, account: Account, say: Speech) -> str:
    """What to count for a kind of entry, and out of how many."""
    places = account.places
    if kind not in MAY_HAVE_NUMBER:
        return say("bench.hint_none")
    if kind is Kind.SOWN:
        return say("bench.hint_sown", all=account.batch.identity.cells)
    if kind in CARRIED_OFF:
        return say("bench.hint_carried_off", hand=account.standing.cells)
    return say(f"bench.hint_{kind.value}_{places.called}", all=places.places)


def read_note(code: str, form: Mapping[str, str], corrects: int | None = None) -> Note:
    """The note that a form asks to write. Raises BookError with everything that cannot be read."""
    read: dict[str, Any] = {field: form.get(field, "") for field in ("who", "remark", "key")}
    problems: list[Problem] = []
    for field, reader in (("kind", _kind), ("number", read_count), ("day", _day)):
        try:
            read[field] = reader(form.get(field, "").strip())
        except BookError as error:
            problems.extend(error.problems)
    problems.extend(_key_problems(read["key"]))
    if problems:
        raise BookError(problems)
    return Note(batch=code, corrects=corrects, sure=_is_sure(form), **read)


def striking_out(code: str, entry: int, form: Mapping[str, str], today: date) -> Note:
    """The note that takes an entry away. Raises BookError when the form's key is none."""
    who, key = form.get("who", ""), form.get("key", "")
    if problems := _key_problems(key):
        raise BookError(problems)
    return Note(batch=code, kind=Kind.REMARK, day=today, corrects=entry, who=who, key=key, sure=_is_sure(form))


def _is_sure(form: Mapping[str, str]) -> bool:
    """Whether it is to be stored though it is doubtful."""
    return form.get("sure") == "1"


def _key_problems(key: str) -> list[Problem]:
    return [] if is_key(key) else [said("bench.no_key")]


def _kind(text: str) -> Kind:
    try:
        return Kind(text)
    except ValueError:
        raise BookError(said("bench.no_kind")) from None


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BookError(said("bench.no_day")) from None
