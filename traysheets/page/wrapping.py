"""Wrapping: where a line of text may be broken, and how to break it. Widths come from the measure it is given.

Between words, and between the characters of Chinese and Japanese, which have none; inside a word only where it alone is
too long for a line, and then between what a reader takes for one character each.
"""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

Measure: TypeAlias = Callable[[str], float]

_PIECE = re.compile("[^ \u2010\u2013/-]*[\u2010\u2013/-]* *")
"""Letters with the hyphens, strokes and spaces after them; a line may end there. No-break ones count as letters."""

_IDEOGRAPHS = "\u2e80-\u2fff\u3005-\u3007\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\U00020000-\U0003ffff"
"""Han characters and kana: a line may end after each."""
_NEVER_LAST = r"(\[{「『（【〈《〔［｛〝‘“"
_NEVER_FIRST = (
    r")\]}!?.,:;/\-‐"
    "、。，．・：；？！゠–〜～ーヽヾゝゞ々〻」』）】〉》〕］｝〟’”…"
    "ぁぃぅぇぉっゃゅょゎゕゖァィゥェォッャュョヮヵヶ\u31f0-\u31ff\u3099\u309a\ufe00-\ufe0f\U000e0100-\U000e01ef"
)
"""What no line begins with (classes CL, NS, CJ and CM of Unicode Standard Annex #14, as in JIS X 4051; from memory)."""
_UNSPACED = re.compile(
    f"[{_NEVER_LAST}]*(?:[{_IDEOGRAPHS}]|[^{_IDEOGRAPHS}{_NEVER_LAST}]+|(?<=[{_NEVER_LAST}])$)[{_NEVER_FIRST} ]*"
)
"""A Han character or kana, or other letters between such, with what must stand on the same line."""
_IDEOGRAPH = re.compile(f"[{_IDEOGRAPHS}]")

_WRITTEN_TOGETHER = re.compile("[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff]")
"""Letters of Thai, Lao, Burmese and Khmer, which leave no space between words."""
_MOST_TOGETHER = 20
"""Characters of such that are kept on one line where there is room: a name of some words. Where one of its words ends
only a dictionary tells; a longer name is broken between syllables."""
_BEFORE, _AFTER = "เแโใไເແໂໃໄ", "ะาๅๆฯะາໆຯ"
"""Vowels of Thai and Lao that are written before the consonant they follow in speech; and what no line begins with."""

_JOINER, _NON_JOINER = "\u200d", "\u200c"
_SPACING = "\u0e33\u0eb3"
"""Vowels of Thai and Lao that count as letters but stand on the one before (Unicode Standard Annex #29)."""
_VIRAMA = 9
"""Combining class of signs that tie a consonant to the next."""
_LAM, _ALEFS = "\u0644", "\u0622\u0623\u0625\u0627"
"""Arabic letters that are written as one sign."""

_CLOSE = 1e-6
"""How near, as a part of the width, the narrowest width is searched for."""


def graphemes(text: str) -> Iterator[str]:
    """What a reader takes for one character each: a base with the marks on it, and what a joiner ties together."""
    cluster = ""
    for character in text:
        if cluster and not (_extends(character) or _ties(cluster, character)):
            yield cluster
            cluster = ""
        cluster += character
    if cluster:
        yield cluster


def _extends(character: str) -> bool:
    """Whether a character belongs to the one before whatever that is: marks, joiners, vowels of a Korean syllable."""
    if character.isascii():
        return False
    return (
        unicodedata.category(character) in {"Mn", "Me", "Mc"}
        or character in (_JOINER, _NON_JOINER, *_SPACING)
        or "\u1160" <= character <= "\u11ff"
    )


def _ties(cluster: str, character: str) -> bool:
    """Whether what is there ties the next character to itself."""
    last = cluster[-1]
    if last.isascii():
        return False
    if last == _LAM:
        return character in _ALEFS
    return last == _JOINER or (unicodedata.combining(last) == _VIRAMA and character.isalpha())


def pieces(text: str) -> list[str]:
    """The text cut at every place where a line may end; put together again they are the text."""
    words = [piece for piece in _PIECE.findall(text) if piece]
    return words if text.isascii() else [piece for word in words for piece in _parts(word)]


def _parts(word: str) -> Iterable[str]:
    """Where a line may end in what stands between spaces."""
    if _IDEOGRAPH.search(word):
        return _UNSPACED.findall(word)
    if len(word) > _MOST_TOGETHER and _WRITTEN_TOGETHER.search(word):
        return _syllables(word)
    return (word,)


def _syllables(word: str) -> Iterator[str]:
    """A consonant with its vowels, as far as letters alone tell."""
    syllable = ""
    for cluster in graphemes(word):
        if syllable and syllable[-1] not in _BEFORE and cluster[0] not in _AFTER and cluster.strip(" "):
            yield syllable
            syllable = ""
        syllable += cluster
    yield syllable


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


def filled_whole(text: str, width: float, measure: Measure) -> tuple[str, ...]:
    """As `filled`, where widths do not add up, since letters take other shapes beside others: lines are measured whole.

    An Arabic word is broken inside only where it alone is too long, and then between any two letters.
    """
    lines, line = [], ""
    for piece in pieces(text):
        whole = measure(piece.rstrip(" ")) <= width
        for part in (piece,) if whole else graphemes(piece):
            if line and measure((line + part).rstrip(" ")) > width:
                lines.append(line)
                line = ""
            line += part
    return (*lines, line)


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
