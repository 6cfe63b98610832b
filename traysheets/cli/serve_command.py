"""`traysheets serve`: the book on the local network, for phones."""

import os
import sys
import time
from datetime import datetime
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

import click

from traysheets.book_report import require_whole
from traysheets.cli import options
from traysheets.cli.console import FAILED, say, show, tells_problems

if TYPE_CHECKING:
    from traysheets.serve.passphrase import Secrets
    from traysheets.serve.site import Site

VARIABLE = "TRAYSHEETS_PASSPHRASE"
"""The environment variable that gives the pass phrase of one run."""


@click.command()
@click.argument("given", metavar="PLAN|BOOK", type=options.FILE)
@click.option("--port", type=click.IntRange(0, 65535), default=8000, show_default=True, help="0 takes a free one.")
@click.option("--host", help="The address to serve at; 0.0.0.0 for phones. [default: this computer alone]")
@click.option("--name", "names", multiple=True, help="Another name this computer is reached by; may be given again.")
@click.option("--closed", is_flag=True, help="On the network ask for the pass phrase to read, too.")
@click.option("--set-passphrase", is_flag=True, help="Ask for a new pass phrase, keep it, and stop.")
@options.SETTINGS
@options.BOOK
@tells_problems
def command(
    given: Path,
    port: int,
    host: str | None,
    names: tuple[str, ...],
    closed: bool,
    set_passphrase: bool,
    settings: Path | None,
    book: Path | None,
) -> None:
    """Serve the book of PLAN, or a BOOK alone, to phones: look a batch up, note what you see.

    Without --host only this computer itself reaches it. On the network, writing asks for a pass phrase. Use it in your
    own network only: what is sent is not encrypted.
    """
    _require_extra()
    # Imported here, as what serves may not be installed.
    from traysheets.bench_site import site_of

    site = site_of(given, book, settings, lambda: datetime.now().astimezone(), time.monotonic)
    if set_passphrase:
        _set_passphrase(site.book)
        return
    if not site.book.exists():
        say(f"There is no book {site.book} yet; `traysheets make` begins it with what it prints.", fg="yellow")
    require_whole(site.book)
    _serve(site, host or "127.0.0.1", port, closed, names)


def _require_extra() -> None:
    if not (find_spec("flask") and find_spec("waitress")):
        say("Serving needs two more packages; in your copy of traysheets: pip install '.[serve]'", fg="red")
        raise SystemExit(FAILED)


def _serve(site: "Site", host: str, port: int, closed: bool, names: tuple[str, ...]) -> None:
    """Say where, and serve until interrupted."""
    from traysheets.serve.access import Access
    from traysheets.serve.app import create_app
    from traysheets.serve.running import Server, address, is_loopback

    network = not is_loopback(host)
    known = tuple(name.casefold().rstrip(".") for name in (host, *names))
    access = Access(_secrets(site.book, network), network, closed, known)
    server = Server(create_app(site, access), host, port)
    announce(address(host, server.port), network)
    try:
        server.run()
    except KeyboardInterrupt:
        server.close()


def announce(url: str, network: bool) -> None:
    """Show the address, its QR code, and what to write into the plan."""
    from traysheets.bench_site import terminal_code

    show(url)
    show(terminal_code(url.upper()))
    say(f'For sticks that lead here: record_url = "{url.upper()}/B/{{batch}}"')
    if network:
        say("Use it in your own network only, and write nothing about people. Stop it with Ctrl+C.")
    else:
        say("Only this computer reaches it; for phones add --host 0.0.0.0. Stop it with Ctrl+C.")


def _secrets(book: Path, network: bool) -> "Secrets":
    """The secrets of a run: the phrase of the environment, else the one kept; asked for where there is none."""
    from traysheets.serve.passphrase import Secrets, keep_secrets, read_secrets

    if not network:
        return Secrets()
    if phrase := os.environ.get(VARIABLE):
        return Secrets().closing(phrase)
    kept = read_secrets(book)
    if kept.hashed is None:
        if not sys.stdin.isatty():
            say(f"Writing from the network needs a pass phrase: --set-passphrase, or {VARIABLE}.", fg="red")
            raise SystemExit(FAILED)
        say("Writing from the network needs a pass phrase. Choose one, three or four words.")
        kept = kept.closing(_asked())
        keep_secrets(book, kept)
    return kept


def _set_passphrase(book: Path) -> None:
    from traysheets.serve.passphrase import Secrets, keep_secrets, secrets_file

    keep_secrets(book, Secrets().closing(_asked()))
    say(f"Kept in {secrets_file(book)}; start the server anew. Phones that were signed in must sign in again.")


def _asked() -> str:
    return str(click.prompt("Pass phrase", hide_input=True, confirmation_prompt="Once more", err=True))
