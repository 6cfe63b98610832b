"""The pass phrase that opens writing, and the secret that signs sessions: a file beside the book, for its owner alone.

The phrase is kept as scrypt (RFC 7914) makes it, with a salt. It does not go into the book, which is copied and shared.
"""

import json
import os
import secrets
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from werkzeug.security import check_password_hash, generate_password_hash

from traysheets.base.errors import FileError
from traysheets.base.limits import LEAST_LETTERS_IN_PHRASE, MOST_LETTERS_IN_PHRASE

_METHOD = "scrypt:32768:8:1"
_one_at_a_time = Lock()
"""A check takes 32 MiB on purpose; many at once would take the machine's memory."""


@dataclass(frozen=True, slots=True)
class Secrets:
    """The hashed pass phrase, None when none was ever set, and the secret that signs session cookies."""

    hashed: str | None = None
    signing: str = field(default_factory=lambda: secrets.token_hex(32))

    def opens(self, phrase: str) -> bool:
        """Whether it is the pass phrase. Takes some hundredths of a second, always."""
        if self.hashed is None or len(phrase) > MOST_LETTERS_IN_PHRASE:
            return False
        with _one_at_a_time:
            return check_password_hash(self.hashed, _normal(phrase))

    def closing(self, phrase: str) -> "Secrets":
        """With a new pass phrase, and a new secret so that all sessions end. Raises FileError for a weak phrase."""
        phrase = _normal(phrase)
        if not LEAST_LETTERS_IN_PHRASE <= len(phrase) <= MOST_LETTERS_IN_PHRASE:
            few_to_many = f"{LEAST_LETTERS_IN_PHRASE} to {MOST_LETTERS_IN_PHRASE}"
            raise FileError(f"a pass phrase has {few_to_many} characters; three or four words are good")
        return Secrets(generate_password_hash(phrase, _METHOD))


def secrets_file(book: Path) -> Path:
    """Where the secrets of a book are kept."""
    return book.with_name(f"{book.name}.serve.json")


def read_secrets(book: Path) -> Secrets:
    """The secrets of a book, new ones when none are kept. Raises FileError when they cannot be read."""
    file = secrets_file(book)
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
        hashed, signing = kept["passphrase"], kept["signing"]
        if not isinstance(hashed, str | None) or not isinstance(signing, str) or len(signing) < 32:
            raise ValueError
    except FileNotFoundError:
        return Secrets()
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise FileError(f"the pass phrase in {file} cannot be read; set it anew with --set-passphrase") from error
    return Secrets(hashed, signing)


def keep_secrets(book: Path, kept: Secrets) -> None:
    """Write the secrets beside the book, readable by its owner alone. Raises FileError."""
    file = secrets_file(book)
    beside = file.with_name(f".{file.name}.{secrets.token_hex(4)}")
    try:
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as out:
            json.dump({"passphrase": kept.hashed, "signing": kept.signing}, out)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(file)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise FileError(f"the pass phrase cannot be kept in {file}: {error.strerror}") from error


def _normal(phrase: str) -> str:
    """The phrase as any keyboard may send it: composed, without white space around it (RFC 8265, OpaqueString)."""
    return unicodedata.normalize("NFC", phrase).strip()
