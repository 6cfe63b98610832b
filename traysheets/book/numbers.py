"""Numbers as people type them, for every place where an entry is written. Pure.

A count is whole, so a comma, point, space or apostrophe before groups of three figures can only part thousands, in
whatever country: `1,000`, `1.000`, `1 000` and `1'000` are all 1000. Anything else is asked for again, not guessed at.
"""

import re

from traysheets.base.errors import BookError
from traysheets.book.said import said

_PARTED = re.compile(r"[1-9][0-9]{0,2}(?:([,.\s'’])[0-9]{3})(?:\1[0-9]{3})*")
_SPACES = re.compile(r"\s+")
_MOST_FIGURES = 30
"""More are cut off: the rest is too large for any batch all the same, and is told so where the most is known."""


def read_count(typed: str) -> int | None:
    """The number typed; None when nothing was. Raises BookError for what is no whole number."""
    text = _SPACES.sub(" ", typed.strip())
    if not text:
        return None
    sign, figures = ("-", text[1:]) if text.startswith(("-", "−")) else ("", text)
    if _PARTED.fullmatch(figures):
        figures = re.sub(r"[^0-9]", "", figures)
    if not (figures.isascii() and figures.isdigit()):
        shown = "".join(c if c.isprintable() else "?" for c in text[:20]) + ("…" if len(text) > 20 else "")
        raise BookError(said("entry.not_whole", typed=shown))
    return int(sign + (figures.lstrip("0")[:_MOST_FIGURES] or "0"))
