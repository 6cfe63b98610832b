"""Which way a text runs, and how a name is put among other words so that neither turns the other round.

A name written from right to left between words that run the other way would draw the figures beside it to its wrong
side. An isolate (Unicode Standard Annex #9, 2.4.2) keeps it to itself. How letters come to stand is `page/bidi.py`.
"""

from collections.abc import Iterable
from functools import lru_cache
from unicodedata import bidirectional

LEFT_TO_RIGHT = "\u2066"
RIGHT_TO_LEFT = "\u2067"
ISOLATES = (LEFT_TO_RIGHT, RIGHT_TO_LEFT)
"""What opens a part that runs to the right or to the left whatever is around it."""

CLOSE = "\u2069"
"""What closes such a part."""

_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN", "RLI", "RLE", "RLO"})


def turns(text: str) -> bool:
    """Whether anything in the text runs from right to left."""
    return not text.isascii() and any(bidirectional(character) in _RIGHT_TO_LEFT for character in text)


def runs_left(text: str) -> bool:
    """Whether a text as a whole runs from right to left: as its first letter does that is in no isolate (P2, P3)."""
    depth = 0
    for kind in map(bidirectional, text):
        if kind in {"LRI", "RLI", "FSI"}:
            depth += 1
        elif kind == "PDI":
            depth = max(0, depth - 1)
        elif not depth and kind in {"L", "R", "AL"}:
            return kind != "L"
    return False


@lru_cache(maxsize=16384)
def isolated(text: str) -> str:
    """The text for use among other words: in an isolate where anything in it runs from right to left, else as it is."""
    if not turns(text):
        return text
    return (RIGHT_TO_LEFT if runs_left(text) else LEFT_TO_RIGHT) + text + CLOSE


def side_by_side(parts: Iterable[str], separator: str) -> str:
    """The parts that are not empty, in this order from left to right whichever way each of them runs."""
    return separator.join(isolated(part) for part in parts if part)
