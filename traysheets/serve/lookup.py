"""What somebody meant who typed, pasted or scanned into the box: a code, an address, words of a batch. Pure."""

import re
import unicodedata
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from urllib.parse import unquote

from traysheets.base.errors import nearest
from traysheets.base.limits import MOST_LETTERS_SCANNED, MOST_LETTERS_TYPED_TO_FIND
from traysheets.base.words import languages, words_for
from traysheets.book.codes import read_typed
from traysheets.bookkeeping import Account
from traysheets.serve.trays import letters_of, trays_of

_LEAST_FIGURES = 3
_LEAST_LETTERS = 3
_TRAY_PATH = re.compile(r"T/(\d{1,6})", re.IGNORECASE)
_TRAY_TYPED = re.compile(r"(?:(\D+?)\W*)?(\d{1,6})")
"""`8`, `tray 8`, `Platte 8`."""
_TRAY_TEXT = re.compile(r"\D+ (\d{1,6}) \d{4}-\d{2}-\d{2}( .*)?")
"""What the code of a tray says that bears no address: `TRAY 3 2027-03-06 27-001-7`, in any language."""


@dataclass(frozen=True, slots=True)
class Found:
    """What was found: the batch of a code, a tray, or the batches that the words fit, else those `alike`.

    `help` is the key of the words that say what may be wrong, `values` what stands in them.
    """

    code: str | None = None
    tray: int | None = None
    accounts: tuple[Account, ...] = ()
    alike: tuple[Account, ...] = ()
    help: str = ""
    values: Mapping[str, object] = field(default_factory=dict)
    near: str | None = None


def find(typed: str, accounts: Sequence[Account]) -> Found:
    """The batch or tray meant by a code, its letters on the map, an address or a record's short text.

    Else the batches with all the words: in code, crop, variety, lot, place or letters of a batch.
    """
    typed = " ".join(typed.split())[:MOST_LETTERS_SCANNED]
    codes = {one.batch.code for one in accounts}
    if code := _code(typed, codes):
        return Found(code=code)
    parts = _path(typed)
    if tray := _TRAY_PATH.fullmatch("/".join(parts[-2:])) or _TRAY_TEXT.fullmatch(typed):
        return _tray(int(tray[1]), accounts)
    meant = parts[-1] if parts else typed
    if code := _code(meant, codes) or _code_within(typed, codes):
        return Found(code=code)
    if code := _of_letters(typed, accounts):
        return Found(code=code)
    if (number := _tray_typed(typed)) is not None:
        found = _tray(number, accounts)
        if found.tray or not typed.isdigit():
            return found
    return _by_words(meant[:MOST_LETTERS_TYPED_TO_FIND], accounts)


def _path(typed: str) -> list[str]:
    """The parts of the path of an address (RFC 3986, 3.3), without a file's name; none for what is no address."""
    if "/" not in typed or " " in typed:
        return []
    path = re.split(r"[?#]", typed, maxsplit=1)[0]
    return [unquote(part) for part in path.split("/") if part and part.casefold() != "index.html"]


def _code(typed: str, codes: Collection[str]) -> str | None:
    """The code of the book that is meant, however it was typed."""
    return next((code for code in (typed, typed.upper(), read_typed(typed)) if code in codes), None)


def _code_within(typed: str, codes: Collection[str]) -> str | None:
    """The code that a longer text opens with, or the only one that stands in it."""
    text = f"{_folded(typed)} "
    opening = [code for code in codes if text.startswith(f"{_folded(code)} ")]
    if opening:
        return max(opening, key=len)
    words = [unquote(word) for word in re.split(r"[\s/?&=#,;]+", typed) if any(map(str.isdigit, word))]
    inside = {code for word in words if (code := _code(word, codes))}
    return inside.pop() if len(inside) == 1 else None


def _tray(number: int, accounts: Sequence[Account]) -> Found:
    if number in trays_of(one.batch for one in accounts):
        return Found(tray=number)
    return Found(help="bench.help_tray", values={"number": str(number)})


def _of_letters(typed: str, accounts: Sequence[Account]) -> str | None:
    """The only batch of the plan that has these letters on the map, written as they stand there."""
    fit = [one.batch.code for one in accounts if one.batch.in_plan and letters_of(one.batch) == typed]
    return fit[0] if typed and len(fit) == 1 else None


def _tray_typed(typed: str) -> int | None:
    """The number of a tray, typed alone or after the word for a tray in any language."""
    parts = _TRAY_TYPED.fullmatch(typed)
    if parts and (parts[1] is None or _folded(parts[1]) in _tray_words()):
        return int(parts[2])
    return None


@cache
def _tray_words() -> frozenset[str]:
    return frozenset(_folded(words_for(language)("records.tray", number="")).strip() for language in languages())


def _by_words(typed: str, accounts: Sequence[Account]) -> Found:
    words = _folded(typed).split()
    fit = tuple(one for one in accounts if all(word in _text(one) for word in words))
    if fit:
        return Found(accounts=fit)
    help, values = _help(typed)
    alike = _alike(words, accounts)
    near = nearest(read_typed(typed) or typed.upper(), [one.batch.code for one in accounts])
    return Found(help=help, values=values, near=near, alike=alike)


def _alike(words: Sequence[str], accounts: Sequence[Account]) -> tuple[Account, ...]:
    """The batches that have all the words once slips in them are mended."""
    known = sorted({word for one in accounts for word in _text(one).split() if len(word) >= _LEAST_LETTERS})
    meant = [word if any(word in _text(one) for one in accounts) else nearest(word, known) for word in words]
    return tuple(one for one in accounts if all(word and word in _text(one) for word in meant)) if words else ()


def _help(typed: str) -> tuple[str, Mapping[str, object]]:
    if code := read_typed(typed):
        return "bench.help_unknown", {"code": code}
    digits = sum(map(str.isdigit, typed))
    return "bench.help_misread" if digits >= _LEAST_FIGURES else "bench.help_nothing", {"typed": typed}


def _text(account: Account) -> str:
    batch = account.batch
    named = batch.identity
    crop, letters = str(batch.told.get("crop", "")), letters_of(batch)
    parts = (batch.code, named.crop, named.variety, named.lot, named.place, crop, letters)
    return _folded(" ".join(parts))


def _folded(text: str) -> str:
    """Letters without case and accents, so that a phone's keyboard finds what another wrote."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(character for character in apart if not unicodedata.combining(character))
