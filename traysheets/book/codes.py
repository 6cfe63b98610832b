"""Batch codes: `27-014-Y`, the season, a running number, and a check character that catches a slip of the pen.

The check character is that of ISO/IEC 7064, MOD 37,36, over the characters before it, hyphens left out. Numbers whose
check character is easily misread are skipped.
"""

from collections.abc import Iterator
from itertools import count, islice

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
MISREAD = frozenset("ILOQSUZ")
"""Check characters that are taken for a figure or for each other, on dirty sticks and in handwriting."""

_MODULUS = len(ALPHABET)
_MEANT = str.maketrans({"O": "0", "I": "1", "L": "1", "S": "5", "Z": "2"})
_LEAST_FIGURES = 3


def check_character(text: str) -> str:
    """The check character of a text of letters A-Z and figures (ISO/IEC 7064, hybrid system MOD 37,36).

    Raises ValueError for any other character.
    """
    product = _MODULUS
    for character in text:
        total = (product + ALPHABET.index(character)) % _MODULUS or _MODULUS
        product = 2 * total % (_MODULUS + 1)
    return ALPHABET[(_MODULUS + 1 - product) % _MODULUS]


def make_code(season: int, number: int) -> str | None:
    """The code of the `number`-th batch of a season; None for a number that is skipped."""
    year, figures = f"{season % 100:02}", f"{number:0{_LEAST_FIGURES}}"
    check = check_character(year + figures)
    return None if check in MISREAD else f"{year}-{figures}-{check}"


def codes_from(season: int, first: int = 1) -> Iterator[str]:
    """The codes of a season without end, from a running number on, skipped numbers left out."""
    return (code for number in count(first) if (code := make_code(season, number)))


def make_codes(season: int, how_many: int) -> list[str]:
    """The first codes of a season."""
    return list(islice(codes_from(season), how_many))


def is_valid(code: str) -> bool:
    """Whether a code has the right check character as its last one."""
    characters = code.replace("-", "")
    if len(characters) < 2 or not set(characters) <= set(ALPHABET):
        return False
    return check_character(characters[:-1]) == characters[-1]


def read_typed(typed: str) -> str | None:
    """The code that somebody meant who typed it from a stick; None when it is none.

    Hyphens and spaces may be missing, letters small; O is read as 0, I and L as 1, S as 5, Z as 2: no code has them.
    """
    characters = "".join(character for character in typed.upper() if character.isalnum()).translate(_MEANT)
    if len(characters) < 2 + _LEAST_FIGURES + 1 or not characters[:-1].isdecimal():
        return None
    code = f"{characters[:2]}-{characters[2:-1]}-{characters[-1]}"
    return code if is_valid(code) and characters[-1] not in MISREAD else None
