"""`traysheets serve` from outside: what it prints, how it is stopped, what it says when it cannot serve."""

import errno
import http.client
import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import NoReturn
from urllib.parse import urlencode

import numpy
import pytest
import zxingcpp
from click.testing import CliRunner, Result
from serve_jobs import PHRASE, PLAN, fields, printed

from traysheets.bench_site import terminal_code
from traysheets.book.book import contents
from traysheets.cli import serve_command
from traysheets.cli.main import cli
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options
from traysheets.serve.passphrase import read_secrets, secrets_file
from traysheets.serve.running import address, is_loopback


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    file = tmp_path / "plan.toml"
    file.write_text(PLAN, encoding="utf-8")
    file.with_name("plan.book.sqlite").write_bytes(printed())
    return file


def run(*words: str | Path, **more: str) -> Result:
    return CliRunner().invoke(cli, ["serve", *map(str, words)], catch_exceptions=False, **more)  # type: ignore[arg-type]


@contextmanager
def running(given: Path) -> Iterator[tuple[subprocess.Popen[str], int]]:
    """The command in a process of its own, and its port."""
    command = [sys.executable, "-m", "traysheets", "serve", str(given), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as server:
        assert server.stdout
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)", server.stdout.readline().strip())
        assert found
        try:
            yield server, int(found[1])
        finally:
            server.kill()


@pytest.mark.parametrize("name", ["plan.toml", "plan.book.sqlite"])
def test_it_serves_until_it_is_stopped(plan: Path, name: str) -> None:
    with running(plan.with_name(name)) as (server, port):
        with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=20)) as connection:
            connection.request("GET", "/B/27-001-7")
            answer = connection.getresponse()
            assert answer.status == 200
            assert "Server" not in answer.headers
            answer.read()
        server.send_signal(signal.SIGINT)
        assert server.stdout
        assert server.stderr
        out, err = server.stdout.read(), server.stderr.read()
        server.wait(timeout=20)
    assert server.returncode == 0
    assert "▄" in out
    assert f'record_url = "HTTP://127.0.0.1:{port}/B/{{batch}}"' in err
    assert "Traceback" not in err


def send(port: int, text: bytes) -> bytes:
    """The answer to whatever is sent."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        connection.sendall(text)
        return connection.recv(65536)


def test_what_is_no_request_is_refused(plan: Path) -> None:
    with running(plan) as (_, port):
        # RFC 9112, 3.2 and 6.3; RFC 9110, 15.5.14; RFC 6585, 5.
        assert send(port, b"GET / HTTP/1.1\r\n\r\n").startswith(b"HTTP/1.1 400")
        assert send(port, b"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n").startswith(b"HTTP/1.1 421")
        assert b" 400 " in send(port, b"\x00\x01 nonsense\r\n\r\n")[:20]
        head = b"POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Length: "
        assert b" 400 " in send(port, head + b"-1\r\n\r\n")[:20]
        assert b" 413 " in send(port, head + b"99999999\r\n\r\n")[:20]
        assert b" 431 " in send(port, b"GET / HTTP/1.1\r\nHost: localhost\r\nX: " + b"x" * 20_000 + b"\r\n\r\n")[:20]
        assert send(port, b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n").startswith(b"HTTP/1.1 200")


@pytest.mark.parametrize("after", [1, 4, 9])
def test_what_was_acknowledged_survives_a_killed_server(plan: Path, after: int) -> None:
    today = date.today()
    text = re.sub(r"sow = [\d-]+", f"sow = {today}", PLAN).replace("season = 2027", f"season = {today.year}")
    plan.write_text(text, encoding="utf-8")
    plan.with_name("plan.book.sqlite").unlink()
    make(Options(plan=plan, only=("records",)), today=today)
    acknowledged = []
    with running(plan) as (server, port), closing(http.client.HTTPConnection("127.0.0.1", port, timeout=20)) as phone:
        code = find_code(phone)
        for number in range(100):
            if number == after:
                threading.Timer(0.02, server.kill).start()
            try:
                acknowledged.append(note_over(phone, code, f"seen {number}"))
            except (OSError, http.client.HTTPException):
                break
    assert after <= len(acknowledged) < 100
    book = plan.with_name("plan.book.sqlite")
    kept = [entry.remark for entries in contents(book).entries.values() for entry in entries]
    assert kept[: len(acknowledged)] == acknowledged
    with closing(sqlite3.connect(book)) as opened:
        assert opened.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def find_code(connection: http.client.HTTPConnection) -> str:
    """The first batch of the index."""
    connection.request("GET", "/")
    found = re.search(r'href="/B/([^"]+)"', connection.getresponse().read().decode())
    assert found
    return found[1]


def note_over(connection: http.client.HTTPConnection, code: str, remark: str) -> str:
    """Fetch the form and send it; the remark, once it is acknowledged."""
    connection.request("GET", f"/B/{code}")
    answer = connection.getresponse()
    cookie = str(answer.getheader("Set-Cookie")).partition(";")[0]
    form = fields(answer.read().decode()) | {"kind": "remark", "remark": remark}
    headers = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
    connection.request("POST", f"/B/{code}/entries", urlencode(form), headers)
    answer = connection.getresponse()
    answer.read()
    assert answer.status == 303
    return remark


def test_the_code_on_the_terminal_can_be_scanned() -> None:
    text = "HTTP://192.0.2.17:8000"
    lines = terminal_code(text).splitlines()
    light = {"█": (1, 1), "▀": (1, 0), "▄": (0, 1), " ": (0, 0)}
    rows = [[light[character][half] for character in line] for line in lines for half in (0, 1)]
    picture = numpy.kron(numpy.array(rows, dtype=numpy.uint8) * 255, numpy.ones((8, 8), dtype=numpy.uint8))
    assert [code.text for code in zxingcpp.read_barcodes(numpy.pad(picture, 16, constant_values=255))] == [text]


def test_a_port_that_is_taken_is_told(plan: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        result = run(plan, "--port", str(port))
    assert result.exit_code == 1
    assert f"cannot serve at 127.0.0.1, port {port}: another program has that port" in result.stderr


@pytest.mark.parametrize("host", ["192.0.2.99", "no.such.host.invalid"])
def test_a_host_that_is_not_there_is_told(plan: Path, host: str) -> None:
    result = run(plan, "--host", host, env={serve_command.VARIABLE: PHRASE})
    assert result.exit_code == 1
    assert f"cannot serve at {host}" in result.stderr


def test_the_network_is_not_served_without_a_pass_phrase(plan: Path) -> None:
    result = run(plan, "--host", "0.0.0.0", "--port", "0")
    assert result.exit_code == 1
    assert "Writing from the network needs a pass phrase" in result.stderr


def test_a_pass_phrase_is_asked_for_twice_and_kept(plan: Path) -> None:
    result = run(plan, "--set-passphrase", input=f"{PHRASE}\n{PHRASE}\n")
    assert result.exit_code == 0
    assert PHRASE not in result.output
    book = plan.with_name("plan.book.sqlite")
    assert str(secrets_file(book)) in result.stderr
    assert read_secrets(book).opens(PHRASE)


def test_a_weak_pass_phrase_is_told(plan: Path) -> None:
    result = run(plan, "--set-passphrase", input="short\nshort\n")
    assert result.exit_code == 1
    assert "a pass phrase has 8 to 200 characters" in result.stderr
    assert not secrets_file(plan.with_name("plan.book.sqlite")).exists()


def test_what_is_missing_is_told(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serve_command, "find_spec", lambda name: None)
    result = run(plan)
    assert result.exit_code == 1
    assert "pip install '.[serve]'" in result.stderr


def test_a_plan_with_problems_is_not_served(plan: Path) -> None:
    plan.write_text("[plan]\n", encoding="utf-8")
    result = run(plan)
    assert result.exit_code == 1
    assert "plan.toml" in result.stderr


@pytest.mark.parametrize("host", ["127.0.0.1", "127.1.2.3", "::1", "localhost"])
def test_what_only_this_computer_reaches(host: str) -> None:
    assert is_loopback(host)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.1", "bench", "localhost.example"])
def test_what_others_reach(host: str) -> None:
    assert not is_loopback(host)


def test_addresses_can_be_opened() -> None:
    assert address("192.0.2.1", 8000) == "http://192.0.2.1:8000"
    assert address("2001:db8::2", 8000) == "http://[2001:db8::2]:8000"
    assert address("bench.example", 80) == "http://bench.example:80"
    assert re.fullmatch(r"http://\d+\.\d+\.\d+\.\d+:8000", address("0.0.0.0", 8000))


def test_without_a_network_the_address_is_that_of_this_computer_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    class Unplugged(socket.socket):
        def connect(self, address: object) -> NoReturn:
            raise OSError(errno.ENETUNREACH, os.strerror(errno.ENETUNREACH))

    monkeypatch.setattr(socket, "socket", Unplugged)
    assert address("0.0.0.0", 8000) == "http://127.0.0.1:8000"
    assert address("::", 8000) == "http://[::1]:8000"


@pytest.mark.parametrize("name", ["plan.toml", "plan.book.sqlite"])
def test_a_book_with_a_damaged_page_is_not_served(plan: Path, name: str) -> None:
    book = plan.with_name("plan.book.sqlite")
    content = book.read_bytes()
    spoiled = content[:4096] + b"\xa5" * 600 + content[4696:]
    book.write_bytes(spoiled)
    result = run(plan.with_name(name))
    assert (result.exit_code, result.stdout) == (1, "")
    assert "it is damaged; take a copy of it, and a backup if you have one; nothing was changed" in result.stderr
    assert book.read_bytes() == spoiled
