"""Wrapping: where a line of text may be broken, and how to break it. Widths come from the measure it is given."""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class _Piece:
    """What is not to be broken: its text, its width, and its width at the end of a line, without its spaces."""

    text: str
    width: float
    last_width: float


def balanced(text: str, lines: int, measure: Measure) -> tuple[str, ...]:
    """The text over at most so many lines, broken between pieces so that the widest line is as narrow as can be."""
    parts = _measured(pieces(text), measure)
    narrow = max((part.last_width for part in parts), default=0.0)
    wide = sum(part.width for part in parts) * (1 + _CLOSE)
    if len(_starts(parts, narrow)) <= lines:
        wide = narrow
    while wide - narrow > _CLOSE * wide:
        middle = (narrow + wide) / 2
        if len(_starts(parts, middle)) <= lines:
            wide = middle
        else:
            narrow = middle
    return tuple(line.rstrip(" ") for line in _greedy(parts, wide))


def filled(text: str, width: float, measure: Measure) -> tuple[str, ...]:
    """The text over as many lines as it takes, each as full as can be; a piece wider than a line is broken inside.

    Spaces at the ends of lines are kept, so that the lines put together again are the text.
    """
    parts: list[_Piece] = []
    for part in _measured(pieces(text), measure):
        parts.extend([part] if part.last_width <= width else _measured(graphemes(part.text), measure))
    return _greedy(parts, width)


def _measured(texts: Iterable[str], measure: Measure) -> list[_Piece]:
    return [_Piece(text, measure(text), measure(text.rstrip(" "))) for text in texts]


def _greedy(parts: list[_Piece], width: float) -> tuple[str, ...]:
    """The lines, each as full as can be."""
    starts = _starts(parts, width)
    ends = (*starts[1:], len(parts))
    return tuple("".join(part.text for part in parts[start:end]) for start, end in zip(starts, ends, strict=True))


def _starts(parts: list[_Piece], width: float) -> list[int]:
    """Which pieces lines begin with when each line is as full as can be. Widths add up, as nothing is kerned."""
    starts, used = [0], 0.0
    for i, part in enumerate(parts):
        if i > starts[-1] and used + part.last_width > width:
            starts.append(i)
            used = 0.0
        used += part.width
    return starts
