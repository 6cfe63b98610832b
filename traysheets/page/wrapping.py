"""Wrapping: where a line of text may be broken, and how to break it. Widths come from the measure it is given."""

import re
import unicodedata
from collections.abc import Callable, Iterator
from typing import TypeAlias

Measure: TypeAlias = Callable[[str], float]

_PIECE = re.compile("[^ \u2010\u2013/-]*[\u2010\u2013/-]* *")
"""Letters with the hyphens, strokes and spaces after them; a line may end there. No-break ones count as letters."""

_JOINER = "\u200d"


_CLOSE = 1e-6
"""How near, as a part of the width, the narrowest width is searched for."""


def graphemes(text: str) -> Iterator[str]:
    """What a reader takes for one character each: a base with the marks on it, and what a joiner ties together."""
    cluster = ""
    for character in text:
        if cluster and not (_extends(character) or cluster.endswith(_JOINER)):
            yield cluster
            cluster = ""
        cluster += character
    if cluster:
        yield cluster


def _extends(character: str) -> bool:
    return not character.isascii() and (unicodedata.category(character) in {"Mn", "Me", "Mc"} or character == _JOINER)


def pieces(text: str) -> list[str]:
    """The text cut at every place where a line may end; put together again they are the text."""
    return [piece for piece in _PIECE.findall(text) if piece]


def balanced(text: str, lines: int, measure: Measure) -> tuple[str, ...]:
    """The text over at most so many lines, broken between pieces so that the widest line is as narrow as can be."""
    parts = pieces(text)
    narrow, wide = max((measure(part.rstrip(" ")) for part in parts), default=0.0), measure(text)
    if len(_greedy(parts, narrow, measure)) <= lines:
        wide = narrow
    while wide - narrow > _CLOSE * wide:
        middle = (narrow + wide) / 2
        if len(_greedy(parts, middle, measure)) <= lines:
            wide = middle
        else:
            narrow = middle
    return tuple(line.rstrip(" ") for line in _greedy(parts, wide, measure))


def filled(text: str, width: float, measure: Measure) -> tuple[str, ...]:
    """The text over as many lines as it takes, each as full as can be; a piece wider than a line is broken inside.

    Spaces at the ends of lines are kept, so that the lines put together again are the text.
    """
    parts: list[str] = []
    for piece in pieces(text):
        parts.extend([piece] if measure(piece.rstrip(" ")) <= width else graphemes(piece))
    return _greedy(parts, width, measure)


def _greedy(parts: list[str], width: float, measure: Measure) -> tuple[str, ...]:
    lines: list[str] = []
    line = ""
    for part in parts:
        if line and measure((line + part).rstrip(" ")) > width:
            lines.append(line)
            line = ""
        line += part
    return (*lines, line)
