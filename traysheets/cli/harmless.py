"""Text on a terminal: nothing in it may steer it."""

import re

_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def harmless(text: str) -> str:
    """Text in which nothing steers a terminal: control characters, as a name in a book from elsewhere may hold."""
    return text if text.isprintable() else _CONTROL.sub(lambda found: f"\\x{ord(found[0]):02x}", text)


def harmless_json(text: str) -> str:
    """JSON of the same value, with the control characters that it may hold as they are written as it escapes others."""
    return _CONTROL.sub(lambda found: f"\\u{ord(found[0]):04x}", text)
