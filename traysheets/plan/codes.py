"""The two characters that stand for a sowing on the map: the grower's own, or made from the name of the variety.

A code depends on nothing that stands further down in the plan, but for codes that the grower has given: a sowing added
at the end leaves all others as they are. None that is made here looks like the name of a cell, as A2 does, which would
mislead on a map. When all 1,036 others of two characters are taken, the next have three, and so on.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from itertools import combinations, islice, product
from string import ascii_uppercase

# Digits that cannot be taken for a letter come first.
_DIGITS = "23456789" + "01"
_SIGNS = ascii_uppercase + _DIGITS
_SHORTEST = 2
_CELL = re.compile(r"[A-Z]{1,2}[0-9]+")
"""How cells are named: the letters of a row, the number of a column."""
_LETTERS_LOOKED_AT = 12
_MOST_TRIED = 80
"""Codes tried for a name before one that says nothing is taken: all that twelve letters make in pairs."""

# Letters that do not come apart into a plain one and an accent; Greek and Cyrillic as ISO 843 and ISO 9 come near to.
_PLAIN = {
    "ß": "SS",
    "Æ": "AE",
    "Œ": "OE",
    "Ø": "O",
    "Đ": "D",
    "Ð": "D",
    "Ł": "L",
    "Þ": "TH",
    "Ħ": "H",
    "ı": "I",
    "Ŋ": "N",
}
_PLAIN |= dict(zip("ΑΒΓΔΕΖΗΙΚΛΜΝΞΟΠΡΣΤΥΦ", "AVGDEZIIKLMNXOPRSTYF", strict=True))
_PLAIN |= {"Θ": "TH", "Χ": "CH", "Ψ": "PS", "Ω": "O"}
_PLAIN |= dict(zip("АБВГДЕЗИІКЛМНОПРСТУФХЦЫЭЈЉЊЋЂ", "ABVGDEZIIKLMNOPRSTUFHCYEJLNCD", strict=True))
_PLAIN |= {"Ж": "ZH", "Ч": "CH", "Ш": "SH", "Щ": "SHCH", "Ю": "YU", "Я": "YA", "Є": "YE", "Ъ": "", "Ь": "", "Џ": "DZH"}


def looks_like_a_cell(code: str) -> bool:
    """Whether a code may be taken for the name of a cell, as `A2`."""
    return _CELL.fullmatch(code) is not None


def plain_words(text: str) -> list[str]:
    """The words of a text in A to Z and digits: accents dropped, Greek and Cyrillic spelled in Latin letters."""
    apart = unicodedata.normalize("NFKD", text.upper().replace("'", "").replace("’", ""))
    bare = "".join(_PLAIN.get(letter, letter) for letter in apart if not unicodedata.combining(letter))
    return re.findall(r"[A-Z0-9]+", bare)


def make_codes(names: Iterable[tuple[str, str]], given: Iterable[str]) -> Iterator[str]:
    """A code for each (variety, crop), in their order, none twice and none of those `given`."""
    taken = set(given)
    rest = _Rest(taken)
    for variety, crop in names:
        words = plain_words(variety) or plain_words(crop)
        speaking = islice(_unlike_cells(_from_words(words, rest.length)), _MOST_TRIED)
        code = next((code for code in speaking if code not in taken), None) or rest.next()
        taken.add(code)
        yield code


def _unlike_cells(codes: Iterable[str]) -> Iterator[str]:
    return (code for code in codes if not looks_like_a_cell(code))


class _Rest:
    """The codes that no name speaks for, in a fixed order; `length` grows when those of a length are used up."""

    def __init__(self, taken: set[str]) -> None:
        self._taken = taken
        self.length = _SHORTEST
        self._codes = self._of_length()

    def _of_length(self) -> Iterator[str]:
        return _unlike_cells(map("".join, product(_SIGNS, repeat=self.length)))

    def next(self) -> str:
        while True:
            for code in self._codes:
                if code not in self._taken:
                    return code
            self.length += 1
            self._codes = self._of_length()


def _from_words(words: list[str], length: int) -> Iterator[str]:
    """Codes that call a name to mind, best first: initials, first letters, letters in their order, digit and letter."""
    letters = "".join(words)[:_LETTERS_LOOKED_AT]
    initials = "".join(word[0] for word in words)[:length]
    if len(initials) == length:
        yield initials
    if len(letters) >= length:
        yield letters[:length]
    yield from map("".join, combinations(letters, length))
    if letters:
        yield from ("".join(start) + letters[0] for start in product(_DIGITS, repeat=length - 1))
