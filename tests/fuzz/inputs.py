"""Where inputs come from: hypothesis strategies that damage what is good, a few pieces at a time."""

import json
from collections.abc import Callable, Sequence
from random import Random
from typing import Any

from fuzz import seeds, targets
from hypothesis import strategies as st


def damaged(*texts: str) -> st.SearchStrategy[bytes]:
    """One of the texts as UTF-8, now and then as something else, with pieces cut out and scraps put in.

    Drawn from one number, as a draw for each piece takes ten times as long as reading what comes of it.
    """
    return st.integers(0, 2**63).map(lambda number: _damage(Random(number), texts))


def _damage(chance: Random, texts: Sequence[str]) -> bytes:
    text = chance.choice(texts)
    for _ in range(chance.randint(1, 5)):
        start = chance.randint(0, len(text))
        text = text[:start] + chance.choice(seeds.SCRAPS) + text[start + chance.choice(_CUTS) :]
    encoding = chance.choice(_ENCODINGS)
    return text.encode(encoding, "surrogatepass" if encoding.startswith("utf") else "replace")


_CUTS = (0, 0, 1, 2, 7, 60)
_ENCODINGS = ("utf-8",) * 12 + ("utf-8-sig", "utf-16", "latin-1")


@st.composite
def revalued(draw: st.DrawFn) -> bytes:
    """The plan with a few of its values replaced: still TOML, and often still a plan."""
    lines = seeds.PLAN.replace("'''two\nlines'''", '"two"').split("\n")
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.sampled_from([n for n, line in enumerate(lines) if " = " in line]))
        key = lines[at].split(" = ")[0]
        value = draw(_VALUES)
        lines[at] = f"{key} = {value}"
    return "\n".join(lines).encode("utf-8", "surrogatepass")


_TEXTS = st.sampled_from([*seeds.NAMES, *seeds.SCRAPS]) | st.text(max_size=20)
_VALUES = (
    _TEXTS.map(lambda text: json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f"))
    | st.integers().map(str)
    | st.floats().map(repr)
    | st.dates().map(str)
    | st.sampled_from(
        ["true", "[]", "{}", '["1: A1", "1: A1"]', '["en", "es"]', "[1, [2]]", '{ every = "1 day", times = 3 }']
    )
)


@st.composite
def named(draw: st.DrawFn) -> bytes:
    """A small plan whose every text tries something."""
    text = seeds.PLAN
    for good in ("Spring", "Millbrook Lane Growers", "Copper Bell", "HB-2231", "Dusky Round", "Little Anchor"):
        if draw(st.booleans()):
            text = text.replace(good, json.dumps(draw(_TEXTS))[1:-1])
    return text.encode("utf-8", "surrogatepass")


@st.composite
def broken(draw: st.DrawFn, good: Callable[[], bytes]) -> bytes:
    """A good file with bytes changed, pieces moved, or its end cut off; or no such file at all."""
    content = bytearray(good())
    for _ in range(draw(st.integers(0, 8))):
        at = draw(st.integers(0, max(0, len(content) - 1)))
        piece = draw(st.binary(min_size=1, max_size=8) | st.sampled_from([b"\0" * 64, b"\xff" * 64]))
        content[at : at + len(piece)] = piece
    end = draw(st.sampled_from([len(content)] * 6 + [0, 100, 512, 4096, len(content) - 1]))
    return draw(st.sampled_from([bytes(content[:end])] * 9 + [draw(st.binary(max_size=600))]))


_COLUMNS = [
    *(
        ("batches", name)
        for name in [
            "plan",
            "season",
            "crop",
            "variety",
            "sow",
            "lot",
            "method",
            "tray",
            "place",
            "cells",
            "seeds_per_cell",
            "facts",
        ]
    ),
    *(("batches", name) for name in ("in_plan", "first_printed", "last_printed")),
    *(
        ("entries", name)
        for name in ["batch", "kind", "day", "number", "who", "remark", "written_at", "key", "corrects"]
    ),
]
_STORED = (
    _TEXTS.filter(lambda text: "\ud800" not in text)
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats()
    | st.binary(max_size=20)
    | st.sampled_from(
        [None, "[" * 5000, "{}", "[]", '{"sow": 1}', "null", '{"days_to_raise": 1e400}', "0001-01-01", "9999-12-31"]
    )
    | st.dates().map(str)
)
rows = st.lists(st.tuples(st.sampled_from(_COLUMNS), _STORED).map(lambda it: (*it[0], it[1])), min_size=1, max_size=3)

_FILES = [
    "plan.toml",
    "plan.csv",
    "plan.book.sqlite",
    "none.toml",
    ".",
    "",
    "..",
    "/dev/null",
    "/dev/full",
    "new.csv",
    "new.toml",
    "n/x.csv",
]
_WORDS = (
    st.sampled_from(_FILES * 3)
    | _TEXTS
    | st.sampled_from(["1", "-1", "0", "2027-03-06", "2027-W09", "a4", "a4-21", "1:4", "en", "de"])
)
_OPTIONS = st.sampled_from(
    [
        "--json",
        "--on",
        "--settings",
        "--book",
        "-q",
        "-o",
        "--only",
        "--paper",
        "--scale",
        "--stock",
        "--first-label",
        "--outlines",
        "--grey",
        "--language",
        "--force",
        "-n",
        "--number",
        "--day",
        "--who",
        "--remark",
        "--corrects",
        "--sure",
        "--help",
        "-h",
        "--origins",
        "--",
    ]
)
_KINDS = ["sown", "emerged", "thinned", "trimmed", "hardened_off", "planted_out", "sold", "lost", "remark"]


@st.composite
def command_lines(draw: st.DrawFn) -> list[str]:
    """The words of a command line, most of them about right. `serve` is given no file that is there: it would serve."""
    command = draw(
        st.sampled_from(
            ["new", "check", "make", "book", "printer-check", "convert", "list", "schema", "verify", "serve"]
        )
    )
    if command == "serve":
        return ["serve", "none.toml", *draw(st.lists(_OPTIONS | _TEXTS, max_size=3))]
    if command == "make":
        return ["make", "plan.toml", "--only", "sticks", *draw(st.lists(_OPTIONS | _WORDS, max_size=4))]
    if command == "book":
        what = draw(st.sampled_from(["show", "note", "note", "note", "export", "backup"]))
        code = draw(st.sampled_from(seeds.codes()) | _TEXTS)
        note = [code, draw(st.sampled_from(_KINDS)), *draw(_note)] if what == "note" else []
        return [
            "book",
            what,
            "plan.book.sqlite",
            *note,
            *draw(st.lists(_OPTIONS | _WORDS, max_size=3 if what != "note" else 1)),
        ]
    return [command, *draw(st.lists(_WORDS | _OPTIONS, max_size=5))]


_note = st.lists(
    st.tuples(st.just("--number"), st.integers().map(str) | _TEXTS)
    | st.tuples(st.just("--day"), st.dates().map(str) | _TEXTS)
    | st.tuples(st.sampled_from(["--who", "--remark", "--corrects"]), _TEXTS | st.sampled_from(["1", "2", "99"])),
    max_size=3,
).map(lambda pairs: [word for pair in pairs for word in pair])

_bytes = damaged(seeds.PLAN, seeds.PLAN, seeds.PLAN, "", "[[sowing]]")
_plans = revalued() | named() | _bytes
TARGETS: dict[str, tuple[float, Callable[[Any], None], st.SearchStrategy[Any]]] = {
    "toml": (0.40, targets.toml, _bytes),
    "csv": (0.40, targets.table, damaged(seeds.TABLE, seeds.TABLE.replace(",", ";"), "")),
    "settings": (0.10, targets.settings, damaged(seeds.SETTINGS, seeds.PLAN.split("[[sowing]]")[0])),
    "check": (0.04, targets.check, _plans),
    "commands": (0.03, targets.commands, command_lines()),
    "book": (0.01, targets.book, broken(seeds.book)),
    "rows": (0.01, targets.rows, rows),
    "verify": (0.006, targets.verify, broken(seeds.sheet)),
    "make": (0.004, targets.make, named() | revalued()),
}
"""By name: the share of all inputs it gets, what runs on one, and where they come from."""
