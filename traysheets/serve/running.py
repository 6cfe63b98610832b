"""Running the application: the server, and the address by which phones reach this computer."""

import errno
import ipaddress
import logging
import socket

from flask import Flask
from waitress import wasyncore
from waitress.server import create_server

from traysheets.base.errors import FileError
from traysheets.base.limits import MOST_BYTES_SENT, MOST_CONNECTIONS

_THREADS = 16
_MOST_HEADER_BYTES = 16 * 1024
_IDLE_SECONDS = 30
_NOWHERE = "192.0.2.1", "2001:db8::1"
"""Addresses that lead nowhere (RFC 5737, RFC 3849): asked for the way to them, a machine tells its own address."""


class Server:
    """The server of an application, bound to its port; `run` answers until it is stopped."""

    def __init__(self, app: Flask, host: str, port: int) -> None:
        """Bind the port. Raises FileError when that cannot be."""
        # That requests wait for each other for some milliseconds is no news to anybody.
        logging.getLogger("waitress.queue").setLevel(logging.ERROR)
        bound = _bound(host, port)
        self.port = int(bound.getsockname()[1])
        self._server = create_server(
            app,
            sockets=[bound],
            threads=_THREADS,
            ident=None,
            max_request_body_size=MOST_BYTES_SENT + 1,
            max_request_header_size=_MOST_HEADER_BYTES,
            connection_limit=MOST_CONNECTIONS,
            channel_timeout=_IDLE_SECONDS,
            clear_untrusted_proxy_headers=True,
        )

    def run(self) -> None:
        """Answer until interrupted."""
        self._server.run()

    def close(self) -> None:
        """Give the port back, after `run` has ended."""
        self._server.close()

    def stop(self) -> None:
        """End `run`, which is in another thread, and give the port back: first those who answer, then the sockets."""
        self._server.task_dispatcher.shutdown()
        self._server.trigger.pull_trigger(lambda: wasyncore.close_all(self._server._map))


def _bound(host: str, port: int) -> socket.socket:
    """A socket that listens there. Raises FileError when that cannot be."""
    try:
        family, *_, place = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        return socket.create_server(place[:2], family=family)
    except (OSError, UnicodeError) as error:
        raise FileError(f"cannot serve at {host}, port {port}: {_reason(error)}") from error


def _reason(error: OSError | UnicodeError) -> str:
    if isinstance(error, socket.gaierror | UnicodeError):
        return "there is no such host"
    return _REASONS.get(error.errno or 0, str(error.strerror))


_REASONS = {
    errno.EADDRINUSE: "another program has that port; choose another with --port",
    errno.EACCES: "ports below 1024 are for the administrator; choose another with --port",
    errno.EADDRNOTAVAIL: "this computer has no such address; --host 0.0.0.0 takes all it has",
}


def is_loopback(host: str) -> bool:
    """Whether only this computer itself can reach that host."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def address(host: str, port: int) -> str:
    """The address to open: that of the host, or for all of them the one this machine has on its network."""
    try:
        ip = ipaddress.ip_address(host)
    except ValueError:
        return f"http://{host}:{port}"
    if ip.is_unspecified:
        ip = ipaddress.ip_address(_own(ip.version))
    return f"http://[{ip}]:{port}" if ip.version == 6 else f"http://{ip}:{port}"


def _own(version: int) -> str:
    """The address of this machine on its network; nothing is sent to find it. Loopback when there is no network."""
    family, nowhere = (socket.AF_INET, _NOWHERE[0]) if version == 4 else (socket.AF_INET6, _NOWHERE[1])
    with socket.socket(family, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect((nowhere, 9))
        except OSError:
            return "127.0.0.1" if version == 4 else "::1"
        return str(asked.getsockname()[0])
