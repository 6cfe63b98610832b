"""What is said against an entry: in English for messages, and by key and values for pages in other languages. Pure."""

from traysheets.base.errors import Problem
from traysheets.base.words import words_for
from traysheets.book.entries import Kind


def said(key: str, **values: object) -> Problem:
    """The problem that the words under a key tell of; days in it are written as ISO 8601 has them."""
    english = {name: value.words if isinstance(value, Kind) else value for name, value in values.items()}
    return Problem(words_for("en")(key, **english), key=key, values=tuple(values.items()))
