"""Who may read and who may write: sessions, the pass phrase, tokens in forms, and the names the server answers to.

On this computer alone (loopback) anybody may write. On the network a pass phrase opens writing, and reading too when
that is closed. A session is a signed cookie, and ends with the pass phrase it was opened with.
"""

import hashlib
import hmac
import ipaddress
import secrets
import socket
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from flask import request, session

from traysheets.serve.passphrase import Secrets
from traysheets.serve.throttle import Attempts, Rates


@dataclass(frozen=True)
class Access:
    """The rules of one run. `network`: reached from other machines; `names`: further names it is reached by."""

    secrets: Secrets
    network: bool = False
    closed: bool = False
    names: tuple[str, ...] = ()
    attempts: Attempts = field(default_factory=Attempts)
    reads: Rates = field(default_factory=lambda: Rates(a_second=50, burst=500))
    writes: Rates = field(default_factory=lambda: Rates(a_second=2, burst=60))

    @property
    def mark(self) -> str:
        """What a session bears that was opened with today's pass phrase."""
        return hashlib.sha256(f"{self.secrets.hashed}".encode()).hexdigest()[:16]

    def signed_in(self) -> bool:
        """Whether this session was opened with the pass phrase."""
        return hmac.compare_digest(str(session.get("opened", "")).encode(), self.mark.encode())

    def may_write(self) -> bool:
        """Whether this request may write."""
        return not self.network or self.signed_in()

    def may_read(self) -> bool:
        """Whether this request may read."""
        return not (self.network and self.closed) or self.signed_in()

    def try_phrase(self, phrase: str, now: float) -> float | None:
        """Open the session with a pass phrase: None when it is right, 0 when it is wrong, else seconds to wait."""
        wait = self.attempts.wait(address(), now)
        if wait > 0:
            return wait
        if not self.secrets.opens(phrase):
            self.attempts.failed(address(), now)
            return 0.0
        self.attempts.succeeded(address())
        who = session.get("who", "")
        session.clear()
        session.update(opened=self.mark, who=who)
        session.permanent = True
        return None

    def seconds_until_try(self, now: float) -> float:
        """How long until this address may try a pass phrase."""
        return self.attempts.wait(address(), now)

    def answers_to(self, host: str) -> bool:
        """Whether a request is meant for this server, not led here by another site's name (DNS rebinding)."""
        try:
            name = (urlsplit(f"//{host}").hostname or "").rstrip(".")
        except ValueError:
            return False
        try:
            ip = ipaddress.ip_address(name)
        except ValueError:
            own = socket.gethostname().casefold()
            return name == "localhost" or name in self.names or (self.network and name in (own, f"{own}.local"))
        return self.network or ip.is_loopback

    def seconds_to_wait(self, now: float) -> float:
        """How long this address must wait before it is answered; this computer itself never."""
        if ipaddress.ip_address(address()).is_loopback:
            return 0.0
        rates = self.reads if request.method in ("GET", "HEAD", "OPTIONS") else self.writes
        return rates.wait(address(), now)


def address() -> str:
    """The address a request comes from."""
    return request.remote_addr or "0.0.0.0"


def token() -> str:
    """The token that every form of this session carries."""
    if not isinstance(session.get("token"), str):
        session["token"] = secrets.token_urlsafe(24)
        session.permanent = True
    return str(session["token"])


def token_fits() -> bool:
    """Whether a form was sent from a page of this session."""
    held = session.get("token")
    return isinstance(held, str) and hmac.compare_digest(held.encode(), request.form.get("token", "").encode())


def from_elsewhere() -> bool:
    """Whether another site sent this request, as browsers tell of it (Fetch Metadata; RFC 6454, 7).

    Our pages let browsers say where a form of ours comes from, so `Origin: null` is none of them. A browser too old to
    say anything is known by its token.
    """
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        return True
    origin = request.headers.get("Origin")
    return origin is not None and origin.partition("://")[2].casefold() != request.host.casefold()


def own_path(path: str) -> str:
    """A path to go on to after signing in, `/` for anything that may lead elsewhere."""
    plain = path.startswith("/") and not path.startswith("//") and "\\" not in path and path.isascii()
    return path if plain and path.isprintable() and " " not in path else "/"
