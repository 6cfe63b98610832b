"""The line of every key, against `tomllib` as the judge of what keys there are, and against the text itself."""

import tomllib
from collections.abc import Iterator
from itertools import count
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from traysheets.plan.lines import KeyPath, locate


def paths(value: Any, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Where everything stands in what `tomllib` read: keys of tables and items of arrays."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield (*path, key)
        yield from paths(inner, (*path, key))


class Writer:
    """Writes valid TOML from drawn choices, each key under a name of its own so that its line can be told."""

    def __init__(self, draw: st.DrawFn) -> None:
        self._choose = lambda *choices: draw(st.sampled_from(choices))
        self._names = (f"k{number}" for number in count())
        self._lists: list[str] = []

    def text(self) -> str:
        parts = [self.pair(3) for _ in range(self._choose(0, 1, 2))]
        for _ in range(self._choose(0, 1, 2, 3)):
            parts += [self.header(), *(self.pair(3) for _ in range(self._choose(0, 1, 2)))]
        return self.line_end().join(parts) + self._choose("", "\n", "\n# end")

    def line_end(self) -> str:
        return self._choose("\n", "\n\n", "  # a 'remark' with \"quotes\" and [brackets\n", "\n \t\n")

    def header(self) -> str:
        if self._lists and self._choose(True, False):
            name = self._choose(*self._lists)
            return self._choose(f"[[{name}]]", f"[{name}.{self.key()}]", f"[[ {name}.{self.key()} ]]")
        name = next(self._names)
        if self._choose(True, False):
            self._lists.append(name)
            return f"[[{name}]]"
        return self._choose(f"[{name}]", f"[ {name} . {self.key()} ]", f'["{name}"]')

    def key(self) -> str:
        name = next(self._names)
        return self._choose(name, f'"{name} \\" ="', f"'{name} ] #'")

    def pair(self, depth: int) -> str:
        dotted = self._choose("", f"{self.key()}.", f"{self.key()} . ")
        return f"{dotted}{self.key()} = {self.value(depth)}"

    def value(self, depth: int) -> str:
        if depth == 0:
            return self.simple()
        return self._choose(self.simple, self.simple, lambda: self.array(depth), lambda: self.inline(depth))()

    def simple(self) -> str:
        return self._choose(
            "1", "-1_000", "0.5e-3", "true", "nan", "2027-03-06", "2027-03-06 07:00:00", '""', "''", '"a # b"',
            '"a \\" [ b"', "'a \" { b'", '"""\nk0 = 1\n"""', '"""a \\\n  ""b"""""', "'''\n[k0]\n''a'''''", '"\\\\"',
        )  # fmt: skip

    def array(self, depth: int) -> str:
        between = self._choose(", ", ",\n  ", ", # remark ]\n")
        items = between.join(self.value(depth - 1) for _ in range(self._choose(0, 1, 2, 3)))
        return f"[{self._choose('', ' ', chr(10))}{items}{self._choose('', ' ', ',' if items else '', chr(10))}]"

    def inline(self, depth: int) -> str:
        return f"{{ {', '.join(self.pair(depth - 1) for _ in range(self._choose(0, 1, 2)))} }}"


@st.composite
def toml_texts(draw: st.DrawFn) -> str:
    return Writer(draw).text()


@given(toml_texts())
def test_every_key_is_found_on_a_line_that_holds_it(text: str) -> None:
    found = locate(text)
    rows = text.split("\n")
    assert set(found) == set(paths(tomllib.loads(text)))
    for path, line in found.items():
        if isinstance(path[-1], str):
            assert path[-1].split()[0] in rows[line - 1]


def test_headers_keys_and_items_have_their_lines() -> None:
    text = """\
# a remark

[plan]
title = "a"
fonts = [
    "one.ttf",  # the first
    "two.ttf", "three.ttf",
]

[[sowing]]
notes = '''
crop = "not a key"
'''
repeat = { every = "2 weeks", times = 4 }
at.first = 1

[[sowing]]
"quoted key" = 1
"""
    assert locate(text) == {
        ("plan",): 3,
        ("plan", "title"): 4,
        ("plan", "fonts"): 5,
        ("plan", "fonts", 0): 6,
        ("plan", "fonts", 1): 7,
        ("plan", "fonts", 2): 7,
        ("sowing",): 10,
        ("sowing", 0): 10,
        ("sowing", 0, "notes"): 11,
        ("sowing", 0, "repeat"): 14,
        ("sowing", 0, "repeat", "every"): 14,
        ("sowing", 0, "repeat", "times"): 14,
        ("sowing", 0, "at"): 15,
        ("sowing", 0, "at", "first"): 15,
        ("sowing", 1): 17,
        ("sowing", 1, "quoted key"): 18,
    }
