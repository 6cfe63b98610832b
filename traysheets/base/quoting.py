"""What was written, as a message quotes it: on one line, not too long, with nothing that steers a terminal."""


def quoted(value: object) -> str:
    """The value in quote marks, cut to 40 letters, `?` for what cannot be shown."""
    text = "".join(character if character.isprintable() else "?" for character in str(value)[:50])
    return f"'{text}'" if len(text) <= 40 else f"'{text[:39]}…'"
