"""The kinds of text a plan file may hold: names, codes, addresses, words of a short list; each with its JSON Schema.

At the top is how a complaint shows what was written, what may have been meant, and what there is.

A kind that refuses a value raises ValueError with a sentence; which key it was, and where, is added by `filling`.
"""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Annotated, Any
from urllib.parse import urlsplit

from pydantic import AfterValidator, BeforeValidator, GetCoreSchemaHandler, GetJsonSchemaHandler, WithJsonSchema
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from traysheets.base import limits
from traysheets.base.errors import nearest
from traysheets.base.words import languages

_BATCH = re.compile(r"[A-Z0-9]+(?:-[A-Z0-9]+)*")
_SCHEME = re.compile(r"https?://", re.IGNORECASE)
_CONTROL_KINDS = {"Cc", "Zl", "Zp", "Cs"}
"""Unicode's categories of characters that only steer a device, end a line, or are half a character."""

_NO_WIDTH = "\u00ad\u034f\u180e\u200b\u200c\u200d\u2060\u2061\u2062\u2063\u2064\ufeff"
"""Soft hyphens, joiners, spaces of no width: of use between letters only. Direction marks may be so at an end too."""
_BARE_KINDS = {"Cf", "Mn", "Me", "Zs"}
"""Unicode's categories of what shows nothing where it stands alone: format characters, accents, spaces."""
_BLANK = frozenset("\u2800\u115f\u1160\u3164\uffa0")
"""Letters that show nothing: an empty pattern of Braille, the fillers of Korean."""


def shown(value: object) -> str:
    """A value as a message shows it: text in quotes and cut to 40 letters, nothing in it that steers a terminal."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    text = "".join(letter if letter.isprintable() else f"\\u{ord(letter):04x}" for letter in str(value)[:50])
    text = text if len(text) <= 40 else f"{text[:40]}..."
    return f"'{text}'" if isinstance(value, str) else text


def meant(word: str, known: Iterable[str]) -> str:
    """`; did you mean '...'?` with the nearest known word, or nothing when none is near."""
    near = nearest(word, known)
    return f"; did you mean '{near}'?" if near else ""


def listed(words: Sequence[str], last: str = "and") -> str:
    """Words in a row as a sentence has them: `a, b and c`."""
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def clean(text: str, most: int, allowed: str = "") -> str:
    """Text trimmed and in Unicode's composed form (NFC); empty when there is nothing in it to be seen.

    Raises ValueError for control characters and overlong text.
    """
    if len(text) > most * 2:  # before any work is done on it
        raise ValueError(f"this text has {len(text):,} characters; {most:,} are the most")
    text = unicodedata.normalize("NFC", _trimmed(text.replace("\r\n", "\n")))
    if not text.isprintable():
        _refuse_control(text, allowed)
    if len(text) > most:
        raise ValueError(f"this text has {len(text):,} characters; {most:,} are the most")
    return text if any(map(_is_seen, text)) else ""


def _trimmed(text: str) -> str:
    """Text without spaces and characters of no width at its ends, in whatever order they stand there."""
    before = None
    while before != text:
        before, text = text, text.strip().strip(_NO_WIDTH)
    return text


def _is_seen(letter: str) -> bool:
    """Whether a character shows anything by itself."""
    return letter not in _BLANK and unicodedata.category(letter) not in _BARE_KINDS


def control_character(text: str, allowed: str = "") -> str | None:
    """The first character of a text that only steers a device or ends a line."""
    return next((c for c in text if unicodedata.category(c) in _CONTROL_KINDS and c not in allowed), None)


def _refuse_control(text: str, allowed: str) -> None:
    wrong = control_character(text, allowed)
    if wrong is None:
        return
    if wrong in "\n\r":
        raise ValueError("this text must stand on one line; take the line break out")
    raise ValueError(f"there is a control character in this text (U+{ord(wrong):04X}); take it out")


def _name(text: str) -> str:
    return clean(text, limits.MOST_LETTERS_IN_NAME)


def _notes(text: str) -> str:
    return clean(text, limits.MOST_LETTERS_IN_NOTES, allowed="\n\t")


Name = Annotated[str, AfterValidator(_name)]
Notes = Annotated[str, AfterValidator(_notes)]


class OneOf:
    """Marks a text that must be one of a few words, in small letters or capitals."""

    def __init__(self, *words: str) -> None:
        self._words = words

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self._checked, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "enum": list(self._words)}

    def _checked(self, text: str) -> str:
        word = text.strip().casefold()
        if word in self._words:
            return word
        raise ValueError(f"{shown(text)} is not {listed(self._words, 'or')}{meant(word, self._words)}")


def _code(text: str) -> str:
    code = text.strip().upper()
    if not re.fullmatch(r"[A-Z0-9]{2}", code):
        raise ValueError(f"{shown(text)} is not a code; it is two letters of A to Z or digits, as LW or 2L")
    return code


def _batch(text: str) -> str:
    batch = text.strip().upper()
    most = limits.MOST_LETTERS_IN_BATCH
    if not _BATCH.fullmatch(batch) or len(batch) > most:
        form = f"up to {most} letters of A to Z and digits, with single hyphens between, as 27-014-K"
        raise ValueError(f"{shown(text)} is not a batch code; it is {form}")
    return batch


Code = Annotated[
    str,
    AfterValidator(_code),
    WithJsonSchema({"type": "string", "pattern": "^[A-Za-z0-9]{2}$"}),
]
Batch = Annotated[
    str,
    AfterValidator(_batch),
    WithJsonSchema(
        {"type": "string", "pattern": "^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$", "maxLength": limits.MOST_LETTERS_IN_BATCH}
    ),
]


def _sticks(value: Any) -> str | int:
    word = value.strip().casefold() if isinstance(value, str) else value
    if word in ("run", "cell"):
        return str(word)
    if isinstance(word, int) and not isinstance(word, bool) and 0 <= word <= limits.MOST_STICKS:
        return word
    raise ValueError(f'{shown(value)} cannot be; write "run", "cell" or a number from 0 to {limits.MOST_STICKS:,}')


Sticks = Annotated[
    str | int,
    BeforeValidator(_sticks),
    WithJsonSchema({"anyOf": [{"enum": ["run", "cell"]}, {"type": "integer", "minimum": 0}]}),
]


def _texts(value: Any) -> tuple[str, ...]:
    """Several texts, from a list or from a single one."""
    texts = [value] if isinstance(value, str) else value
    if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        raise ValueError("write one text, or a list of texts in brackets")
    return tuple(_name(text) for text in texts)


def _languages(value: Any) -> tuple[str, ...]:
    known = languages()
    codes = tuple(dict.fromkeys(code.casefold() for code in _texts(value)))
    for code in codes:
        if code not in known:
            raise ValueError(f"there are no words for the language {shown(code)}; there are: {', '.join(known)}")
    if not 1 <= len(codes) <= limits.MOST_LANGUAGES:
        raise ValueError(f"{len(codes)} languages are given; write one, or a list of {limits.MOST_LANGUAGES} at most")
    return codes


_TEXTS = WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]})
Texts = Annotated[tuple[str, ...], BeforeValidator(_texts), _TEXTS]
Languages = Annotated[tuple[str, ...], BeforeValidator(_languages), _TEXTS]

_URL_HELP = 'write it as "https://records.example.org/B/{batch}"'


def _url(text: str) -> str:
    url = _name(text)
    if not _SCHEME.match(url) or not _host(url):
        raise ValueError(f"{shown(text)} is not an address of the web; {_URL_HELP}")
    if not re.fullmatch(r"[!-~]+", url):
        raise ValueError("an address holds no spaces and only plain letters; write others as % and their code")
    if url.count("{batch}") != 1 or re.search(r"[{}]", url.replace("{batch}", "")):
        raise ValueError(f"the address must hold {{batch}} once, where the batch code goes; {_URL_HELP}")
    return url


def _host(url: str) -> str | None:
    try:
        return urlsplit(url).hostname
    except ValueError:
        return None


Url = Annotated[
    str,
    AfterValidator(_url),
    WithJsonSchema({"type": "string", "pattern": r"^[Hh][Tt][Tt][Pp][Ss]?://[!-~]*\{batch\}[!-~]*$"}),
]
