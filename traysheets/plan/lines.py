"""On which line of a TOML text every table, key and list item stands, and whether there are remarks in it. The values
are read elsewhere, by `tomllib`.

The text must be valid TOML with bare newlines; what is not has been complained about before it comes here.
"""

import re
import tomllib

KeyPath = tuple[str | int, ...]
"""Where a value stands: names of keys and, in arrays, positions from 0: `("sowing", 3, "repeat", "every")`."""

# Repeats that give nothing back (`++`, `*+`) need no memory for each turn, however long a text is.
_SPACE = re.compile(r"(?:[ \t\n]++|#[^\n]*+)*+")
_KEY_PART = re.compile(r"""[ \t]*(?:([A-Za-z0-9_-]+)|("(?:[^"\\]++|\\.)*+"|'[^']*'))[ \t]*""")
_STRING = (
    r'"""(?:[^"\\]++|\\.|"(?!""))*+"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:[^"\\]++|\\.)*+"'
    r"|'[^']*'"
)
_SIMPLE_VALUE = re.compile(rf"{_STRING}|[^\[{{\"'\n,\]}}#]+", re.DOTALL)
_STRING_OR_REMARK = re.compile(rf"{_STRING}|(#)", re.DOTALL)


def locate(text: str) -> dict[KeyPath, int]:
    """The line, from 1, on which each table header, key and array item of a valid TOML text begins."""
    return _Locator(text).located()


def has_remarks(text: str) -> bool:
    """Whether anything in a valid TOML text is a remark after `#`, on a line of its own or behind a value."""
    return any(found[1] for found in _STRING_OR_REMARK.finditer(text))


class _Locator:
    """Walks once through the text. `_at` is how far it has come, `_line` the line of `_counted`."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = self._counted = 0
        self._line = 1
        self._lines: dict[KeyPath, int] = {}
        self._last_of_array: dict[KeyPath, int] = {}

    def located(self) -> dict[KeyPath, int]:
        table: KeyPath = ()
        self._skip_space()
        while self._at < len(self._text):
            if self._text[self._at] == "[":
                table = self._header()
            else:
                self._key_and_value(table)
            self._skip_space()
        return self._lines

    def _skip_space(self) -> None:
        self._match(_SPACE)

    def _match(self, pattern: re.Pattern[str]) -> re.Match[str]:
        found = pattern.match(self._text, self._at)
        assert found, f"not valid TOML at character {self._at}"
        self._at = found.end()
        return found

    def _current_line(self) -> int:
        self._line += self._text.count("\n", self._counted, self._at)
        self._counted = self._at
        return self._line

    def _header(self) -> KeyPath:
        """Read `[a.b]` or `[[a.b]]`; a part that is an array of tables means its last table so far."""
        line = self._current_line()
        is_array = self._text.startswith("[[", self._at)
        self._at += 1 + is_array
        path: KeyPath = ()
        *parents, last = self._key()
        for part in parents:
            path = self._last_table((*path, part))
            self._lines.setdefault(path, line)
        path = (*path, last)
        if is_array:
            self._lines.setdefault(path, line)
            self._last_of_array[path] = self._last_of_array.get(path, -1) + 1
            path = self._last_table(path)
        self._lines[path] = line
        self._at += 1 + is_array
        return path

    def _last_table(self, path: KeyPath) -> KeyPath:
        last = self._last_of_array.get(path)
        return path if last is None else (*path, last)

    def _key(self) -> list[str]:
        """Read a key, dotted or not, up to what follows it."""
        parts = []
        while True:
            bare, quoted = self._match(_KEY_PART).groups()
            parts.append(bare or _unquoted(quoted))
            if not self._text.startswith(".", self._at):
                return parts
            self._at += 1

    def _key_and_value(self, table: KeyPath) -> None:
        line = self._current_line()
        path = table
        for part in self._key():
            path = (*path, part)
            self._lines.setdefault(path, line)
        self._at += len("=")
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        self._skip_space()
        opening = self._text[self._at]
        if opening == "[":
            self._items(path, "]")
        elif opening == "{":
            self._items(path, "}")
        else:
            self._match(_SIMPLE_VALUE)

    def _items(self, path: KeyPath, closing: str) -> None:
        """Read what stands between brackets: the values of an array, or the keys and values of an inline table."""
        item = 0
        self._at += 1
        self._skip_space()
        while not self._text.startswith(closing, self._at):
            if closing == "]":
                self._lines[(*path, item)] = self._current_line()
                self._value((*path, item))
            else:
                self._key_and_value(path)
            item += 1
            self._skip_space()
            self._at += self._text.startswith(",", self._at)
            self._skip_space()
        self._at += 1


def _unquoted(key: str) -> str:
    """A quoted key as it is meant, escapes resolved."""
    name: str = tomllib.loads(f"key = {key}")["key"]
    return name
