"""What somebody meant who typed into the box: a batch code, typed sloppily or wrongly, or words of a batch. Pure."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from traysheets.base.errors import nearest
from traysheets.book.codes import read_typed
from traysheets.bookkeeping import Account

LONGEST = 80
_LEAST_FIGURES = 3


@dataclass(frozen=True, slots=True)
class Found:
    """What was found: the one batch of a code, or those that the words fit; `help` says what may be wrong."""

    code: str | None = None
    accounts: tuple[Account, ...] = ()
    help: str = ""
    near: str | None = None


def find(typed: str, accounts: Sequence[Account]) -> Found:
    """The batch of a code, else the batches with all the words in their code, crop, variety, lot or place."""
    typed = " ".join(typed.split())[:LONGEST]
    codes = [one.batch.code for one in accounts]
    meant = next((code for code in (typed, typed.upper(), read_typed(typed)) if code in codes), None)
    if meant:
        return Found(code=meant)
    words = _folded(typed).split()
    fit = tuple(one for one in accounts if all(word in _text(one) for word in words))
    if fit:
        return Found(accounts=fit)
    near = nearest(read_typed(typed) or typed.upper(), codes)
    return Found(help=_help(typed), near=near)


def _help(typed: str) -> str:
    if read_typed(typed):
        return f"{read_typed(typed)} is a right code, but this book has no such batch. Is the stick of another plan?"
    if sum(character.isdigit() for character in typed) >= _LEAST_FIGURES:
        return (
            f"“{typed}” is no batch code: its last character does not fit those before, so one is misread."
            " A code looks like 27-014-Y. Look at the stick again."
        )
    return f"Nothing in the book is called “{typed}”. Try fewer letters, or the code on the stick, such as 27-014-Y."


def _text(account: Account) -> str:
    batch = account.batch
    named = batch.identity
    parts = (batch.code, named.crop, named.variety, named.lot, named.place, str(batch.told.get("crop", "")))
    return _folded(" ".join(parts))


def _folded(text: str) -> str:
    """Letters without case and accents, so that a phone's keyboard finds what another wrote."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(character for character in apart if not unicodedata.combining(character))
