"""In which order the characters of a line stand when some run from right to left: Unicode Standard Annex #9.

The rules are named as there. Left out are embeddings and overrides (X2 to X7), which Unicode advises against: such
characters are taken out before a text comes here. Isolates are kept, each a line of its own within the line, which
stands in the outer one as a single neutral character (X5a to X6a, BD13). Nothing is known of fonts here.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from unicodedata import bidirectional

from traysheets.base.directions import CLOSE, ISOLATES, RIGHT_TO_LEFT, runs_left, turns

_NUMBERS = ("EN", "AN")
_NEUTRAL = frozenset({"B", "S", "WS", "ON", "ES", "ET", "CS"})
_UNSEEN = frozenset({"BN", "LRE", "RLE", "LRO", "RLO", "PDF"})
"""What takes no part in finding levels, joiners among it (X9)."""

_BLANK = frozenset({"WS", "S", "B"}) | _UNSEEN
_OPENING = "([{\u2329\u3008\u300a\u300c\u300e\u3010\u3014\u3016\u3018\u301a\uff08\uff3b\uff5b\uff5f\uff62"
_CLOSING = ")]}\u232a\u3009\u300b\u300d\u300f\u3011\u3015\u3017\u3019\u301b\uff09\uff3d\uff5d\uff60\uff63"
_BRACKETS = dict(zip(_OPENING, _CLOSING, strict=True))
"""The brackets that names are likely to hold (of BidiBrackets.txt)."""

_MIRRORED = (
    _BRACKETS | {closing: opening for opening, closing in _BRACKETS.items()} | {"<": ">", ">": "<", "«": "»", "»": "«"}
)

_SAME = {"\u232a": "\u3009"}
"""Brackets that count as the same one (BD16)."""

_MOST_OPEN = 63
"""Brackets open at a time, above which none is looked at (BD16)."""


def levels(text: str) -> list[int]:
    """The level of every character: odd ones run from right to left, higher ones inside lower ones."""
    found = [0] * len(text)
    if not turns(text):
        return found
    base = int(runs_left(text))
    _resolve(text, range(len(text)), base, found)
    for place in range(len(text) - 1, -1, -1):  # L1
        if bidirectional(text[place]) not in _BLANK and text[place] not in (*ISOLATES, CLOSE):
            break
        found[place] = base
    return found


def visual(levels: Sequence[int]) -> list[int]:
    """The indexes of a line from left to right: L2, for characters or for whole runs of one level each."""
    order = list(range(len(levels)))
    for level in range(max(levels, default=0), 0, -1):
        place = 0
        for high, group in groupby([levels[i] >= level for i in order]):
            end = place + len(list(group))
            if high:
                order[place:end] = reversed(order[place:end])
            place = end
    return order


def mirrored(text: str) -> str:
    """A single bracket as it looks where letters run from right to left (L4); any other text as it is."""
    return _MIRRORED.get(text, text)


def lines_kept(text: str, lines: Sequence[str]) -> tuple[str, ...]:
    """Lines that a text was broken into, each so that it stands alone as it does in the text.

    Isolates that go on over the end of a line are closed there and opened anew, and a line that would run the other
    way on its own is put in one.
    """
    if not turns(text):
        return tuple(lines)
    left, open_now = runs_left(text), ""
    kept: list[str] = []
    for line in lines:
        opened = open_now
        for character in line:
            if character in ISOLATES:
                open_now += character
            elif character == CLOSE:
                open_now = open_now[:-1]
        whole = opened + line + CLOSE * len(open_now)
        alone = whole if runs_left(whole) == left else ISOLATES[left] + whole + CLOSE
        kept.append(alone)
    return tuple(kept)


def _resolve(text: str, places: Sequence[int], base: int, found: list[int]) -> None:
    """Find the levels of the characters at `places`, which run at the level `base` as a whole."""
    inner = list(_isolates(text, places))
    inside = {place for isolate in inner for place in isolate}
    own = [place for place in places if place not in inside and bidirectional(text[place]) not in _UNSEEN]
    kinds = [_kind(text[place]) for place in own]
    _weak(kinds, "R" if base % 2 else "L")
    _brackets([text[place] for place in own], kinds, base)
    _neutral(kinds, base)
    resolved = {place: _implicit(kind, base) for place, kind in zip(own, kinds, strict=True)}
    level = base
    for place in places:
        found[place] = level = resolved.get(place, level)
    for isolate in inner:
        left = text[isolate[0] - 1] == RIGHT_TO_LEFT
        _resolve(text, isolate, (base + 1) | 1 if left else (base + 2) & ~1, found)  # X5a, X5b


def _isolates(text: str, places: Sequence[int]) -> Iterator[list[int]]:
    """What is inside each isolate, those in others left out; an isolate without an end reaches to the end (BD9)."""
    inside: list[int] = []
    depth = 0
    for place in places:
        if text[place] == CLOSE and depth:
            depth -= 1
            if not depth and inside:
                yield inside
                inside = []
        if depth:
            inside.append(place)
        if text[place] in ISOLATES:
            depth += 1
    if inside:
        yield inside


def _kind(character: str) -> str:
    """The class of a character; what opens and closes isolates is neutral outside of them."""
    kind = bidirectional(character) or "L"
    return "ON" if kind in {"LRI", "RLI", "FSI", "PDI"} else kind


def _weak(kinds: list[str], start: str) -> None:
    """W1 to W7, in place."""
    before, strong = start, start
    for i, kind in enumerate(kinds):
        if kind == "NSM":
            kinds[i] = kind = before
        if kind == "EN" and strong == "AL":
            kinds[i] = "AN"
        strong = kind if kind in {"L", "R", "AL"} else strong
        before = kind
    kinds[:] = ["R" if kind == "AL" else kind for kind in kinds]
    for i in range(1, len(kinds) - 1):
        before, after = kinds[i - 1], kinds[i + 1]
        if before == after and before in _NUMBERS and (kinds[i] == "CS" or (kinds[i], before) == ("ES", "EN")):
            kinds[i] = before
    for part in _alike(kinds, {"ET"}):
        if "EN" in (kinds[part.start - 1] if part.start else "", kinds[part.stop] if part.stop < len(kinds) else ""):
            kinds[part.start : part.stop] = ["EN"] * len(part)
    strong = start
    for i, kind in enumerate(kinds):
        if kind == "EN" and strong == "L":
            kinds[i] = "L"
        strong = kind if kind in {"L", "R"} else strong


def _alike(kinds: Sequence[str], wanted: Iterable[str]) -> Iterator[range]:
    """The stretches of characters of the wanted classes."""
    place = 0
    for found, group in groupby([kind in wanted for kind in kinds]):
        end = place + len(list(group))
        if found:
            yield range(place, end)
        place = end


def _strong(kind: str) -> str:
    """The way a class runs where neutral ones ask: numbers count as running left (N0, N1)."""
    return "R" if kind in _NUMBERS else kind if kind in {"L", "R"} else ""


def _brackets(characters: Sequence[str], kinds: list[str], base: int) -> None:
    """N0, in place: a pair of brackets runs as what is in it and about it does, both alike."""
    way = "R" if base % 2 else "L"
    for opening, closing in sorted(_pairs(characters, kinds)):
        inside = {_strong(kind) for kind in kinds[opening + 1 : closing]} - {""}
        if not inside:
            continue
        before = next((run for kind in reversed(kinds[:opening]) if (run := _strong(kind))), way)
        run = way if way in inside else before
        for bracket in (opening, closing):
            kinds[bracket] = run
            for mark in range(bracket + 1, len(kinds)):
                if bidirectional(characters[mark]) != "NSM":
                    break
                kinds[mark] = run


def _pairs(characters: Sequence[str], kinds: Sequence[str]) -> list[tuple[int, int]]:
    """The brackets that belong together (BD16)."""
    open_now: list[tuple[str, int]] = []
    found: list[tuple[int, int]] = []
    for i, character in enumerate(characters):
        if kinds[i] != "ON":
            continue
        if character in _BRACKETS:
            if len(open_now) == _MOST_OPEN:
                return []
            open_now.append((_SAME.get(_BRACKETS[character], _BRACKETS[character]), i))
            continue
        closing = _SAME.get(character, character)
        for depth in range(len(open_now) - 1, -1, -1):
            if open_now[depth][0] == closing:
                found.append((open_now[depth][1], i))
                del open_now[depth:]
                break
    return found


def _neutral(kinds: list[str], base: int) -> None:
    """N1 and N2, in place: neutral characters run as both their neighbours do, else as the whole does."""
    way = "R" if base % 2 else "L"
    for part in list(_alike(kinds, _NEUTRAL)):
        before = _strong(kinds[part.start - 1]) if part.start else way
        after = _strong(kinds[part.stop]) if part.stop < len(kinds) else way
        kinds[part.start : part.stop] = [before if before == after else way] * len(part)


def _implicit(kind: str, base: int) -> int:
    """I1 and I2."""
    if base % 2:
        return base if kind == "R" else base + 1
    return base + {"L": 0, "R": 1}.get(kind, 2)
