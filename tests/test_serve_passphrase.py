"""The pass phrase beside the book: hashed by scrypt (RFC 7914), for its owner alone, replaced whole."""

import hashlib
import io
from pathlib import Path

import pytest
from click.testing import CliRunner
from serve_jobs import PHRASE, PLAN

from traysheets.base.errors import FileError
from traysheets.cli.main import cli
from traysheets.serve.passphrase import Secrets, keep_secrets, read_secrets, secrets_file
from traysheets.serve.running import Server


def test_the_pass_phrase_is_kept_hashed_and_for_its_owner_alone(tmp_path: Path) -> None:
    book = tmp_path / "b.book.sqlite"
    keep_secrets(book, Secrets().closing(PHRASE))
    file = secrets_file(book)
    assert file.stat().st_mode & 0o777 == 0o600
    assert PHRASE not in file.read_text(encoding="utf-8")
    kept = read_secrets(book)
    assert kept.opens(PHRASE)
    assert not kept.opens(PHRASE + "x")
    assert kept.hashed
    method, salt, digest = kept.hashed.split("$")
    # RFC 7914 with N = 32768, r = 8, p = 1, as the standard library has it.
    n, r, p = map(int, method.split(":")[1:])
    again = hashlib.scrypt(PHRASE.encode(), salt=salt.encode(), n=n, r=r, p=p, maxmem=2**27)
    assert (n, r, p) == (32768, 8, 1)
    assert again.hex() == digest


def test_a_new_pass_phrase_replaces_the_old_one_whole(tmp_path: Path) -> None:
    book = tmp_path / "b.book.sqlite"
    first = Secrets().closing(PHRASE)
    keep_secrets(book, first)
    keep_secrets(book, first.closing("another phrase"))
    assert not read_secrets(book).opens(PHRASE)
    assert read_secrets(book).signing != first.signing
    assert [path.name for path in tmp_path.iterdir()] == [secrets_file(book).name]


@pytest.mark.parametrize("phrase", ["", "short", "x" * 201, " " * 20])
def test_a_weak_pass_phrase_is_refused(phrase: str) -> None:
    with pytest.raises(FileError, match="a pass phrase has 8 to 200 characters"):
        Secrets().closing(phrase)


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", '{"passphrase": 3, "signing": "x"}', '{"passphrase": null, "signing": ""}']
)
def test_a_damaged_file_of_secrets_is_told(tmp_path: Path, text: str) -> None:
    book = tmp_path / "b.book.sqlite"
    secrets_file(book).write_text(text, encoding="utf-8")
    with pytest.raises(FileError, match="set it anew with --set-passphrase"):
        read_secrets(book)


class Terminal(io.BytesIO):
    """What somebody types who sits before the screen."""

    def isatty(self) -> bool:
        return True


def test_before_a_screen_the_pass_phrase_is_asked_for_once_and_for_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(PLAN, encoding="utf-8")

    def interrupted(server: Server) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Server, "run", interrupted)
    words = ["serve", str(plan), "--host", "0.0.0.0", "--port", "0"]
    asked = "Writing from the network needs a pass phrase. Choose one, three or four words."
    first = CliRunner().invoke(cli, words, input=Terminal(f"{PHRASE}\n{PHRASE}\n".encode()))
    assert (first.exit_code, asked in first.stderr, PHRASE in first.output) == (0, True, False)
    assert read_secrets(tmp_path / "plan.book.sqlite").opens(PHRASE)
    again = CliRunner().invoke(cli, words, input=Terminal())
    assert (again.exit_code, asked in again.stderr) == (0, False)
    assert f"There is no book {tmp_path / 'plan.book.sqlite'} yet; `traysheets make` begins it" in again.stderr
    assert "Use it in your own network only, and write nothing about people. Stop it with Ctrl+C." in again.stderr
