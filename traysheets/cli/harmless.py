"""Text on a terminal: nothing in it may steer it."""

import re

_CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Control characters, and what embeds, overrides or isolates a direction (UAX #9): it turns round what stands beside
it. Mere marks of a direction turn nothing else, and names of two scripts need them.
"""


def harmless(text: str) -> str:
    """Text in which nothing steers a terminal, as a name in a book from elsewhere may: each such sign as its escape."""
    return text if text.isprintable() else _CONTROLS.sub(lambda found: _escape(ord(found[0])), text)


def harmless_json(text: str) -> str:
    """JSON of the same value, with what steers a terminal, and it may hold as it is, written as it escapes others."""
    return _CONTROLS.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def _escape(sign: int) -> str:
    return f"\\x{sign:02x}" if sign < 0x100 else f"\\u{sign:04x}"
