"""Kills at random moments: of `make`, of `book note`, and of `serve` while phones write."""

import http.client
import re
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from random import Random
from urllib.parse import urlencode

from workshop import KILLED, STATE, TODAY, Child, Workshop, remarks, tree

_COMMIT_SECONDS = 0.03
"""About as long as a run takes from its last file to its end: two kills in three fall in there."""

_HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)"')

_GONE = (OSError, http.client.HTTPException)
"""What a phone sees of a server that is no more."""


def killed_makes(place: Path, runs: int, chance: Random) -> Counter[str]:
    """Runs of `make`, each killed, looked at, and done once more. Counts where the kills fell."""
    shop, counts = Workshop(place), Counter[str](runs=0)
    shop.write_plan(0)
    started = time.monotonic()
    shop.make()
    seconds = time.monotonic() - started
    for number in range(1, runs + 1):
        before, meant = tree(shop.output), shop.meant(number)
        shop.write_plan(number)
        counts[_killed_make(shop, meant, seconds, chance)] += 1
        counts["runs"] += 1
        found = tree(shop.output)
        assert found.keys() >= before.keys(), "a file is gone"
        assert all(content in (before.get(name), meant.get(name)) for name, content in found.items()), "a half file"
        new = {name: content for name, content in meant.items() if before.get(name) != content}
        there = sum(found.get(name) == content for name, content in new.items())
        counts["no file moved" if not there else "some moved" if there < len(new) else "all moved"] += 1
        shop.check()
        shop.make()
        assert tree(shop.output) == before | meant, "the next run does not do all"
        assert shop.at_rest()
    return counts


def _killed_make(shop: Workshop, meant: dict[str, bytes], seconds: float, chance: Random) -> str:
    run = shop.start()
    if chance.random() < 1 / 3:
        time.sleep(chance.uniform(0, seconds))
    else:
        _wait_for(run, shop.output / STATE / "new", len(meant))
        time.sleep(chance.uniform(0, _COMMIT_SECONDS))
    run.kill()
    return "killed" if run.wait() == KILLED else "ended before"


def _wait_for(run: Child, folder: Path, files: int) -> None:
    """Look on until all files are written, none of them moved yet."""
    while not run.ended and not (folder.is_dir() and len(list(folder.iterdir())) >= files):
        time.sleep(0.0005)


def killed_notes(place: Path, runs: int, chance: Random) -> Counter[str]:
    """Runs of `book note`, each killed. Every entry that was acknowledged must be there, and none twice."""
    shop, counts = Workshop(place), Counter[str](runs=0)
    shop.write_plan(0)
    shop.make()
    code, told, seconds = min(shop.printed), [], 0.05
    for number in range(runs):
        remark, started = f"seen {number}", time.monotonic()
        run = Child("book", "note", shop.book, code, "remark", "--remark", remark, said=place / "said")
        if number:
            time.sleep(chance.uniform(0, seconds))
            run.kill()
        counts["killed" if run.wait() == KILLED else "ended before"] += 1
        if not number:
            seconds = time.monotonic() - started
        told += [remark] if "remark" in run.said() else []
        counts["runs"] += 1
    _prove_kept(shop, told, counts)
    return counts


def _prove_kept(shop: Workshop, told: list[str], counts: Counter[str]) -> None:
    kept = remarks(shop.book)
    assert told, "nothing was acknowledged"
    assert set(told) <= set(kept), "an acknowledged entry is lost"
    assert len(set(kept)) == len(kept), "an entry is there twice"
    counts.update({"acknowledged": len(told), "kept": len(kept)})
    shop.check()


def killed_servers(place: Path, runs: int, chance: Random) -> Counter[str]:
    """Servers killed while a phone writes as fast as it can, and plans are printed beside them."""
    shop, counts, told = Workshop(place), Counter[str](runs=0), []
    shop.write_plan(0)
    shop.make()
    code = min(shop.printed)
    for number in range(1, runs + 1):
        shop.write_plan(number)
        with serving(shop) as (server, port):
            printing = shop.start()
            told += list(_written(port, code, f"{number}", server, chance))
            server.kill()
            counts["killed"] += server.wait() == KILLED
            assert printing.wait() == 0, printing.said()
        counts["runs"] += 1
    _prove_kept(shop, told, counts)
    return counts


@contextmanager
def serving(shop: Workshop) -> Iterator[tuple[Child, int]]:
    """A server of the book in a process of its own, and its port."""
    said = shop.place / "served"
    said.unlink(missing_ok=True)
    server = Child("serve", shop.book, "--port", "0", said=said)
    while not (found := re.search(r"http://127\.0\.0\.1:(\d+)", said.read_text() if said.exists() else "")):
        assert not server.ended, server.said()
        time.sleep(0.005)
    try:
        yield server, int(found[1])
    finally:
        server.kill()
        server.wait()


def _written(port: int, code: str, mark: str, server: Child, chance: Random) -> Iterator[str]:
    """Remarks acknowledged until the server is killed, somewhere between the sending of one and its answer."""
    last = chance.randrange(2, 9)
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=60)) as phone, suppress(*_GONE):
        for number in range(1, last + 1):
            _send(phone, code, f"{mark}-{number}")
            if number == last:
                time.sleep(chance.uniform(0, chance.choice((0.002, 0.02, 0.1))))
                server.kill()
            answer = phone.getresponse()
            answer.read()
            assert answer.status == http.HTTPStatus.SEE_OTHER, answer.status
            yield f"{mark}-{number}"


def _send(phone: http.client.HTTPConnection, code: str, remark: str) -> None:
    """Fetch the form of a batch and send it with a remark; the answer is the caller's to read."""
    phone.request("GET", f"/B/{code}")
    answer = phone.getresponse()
    cookie = str(answer.getheader("Set-Cookie")).partition(";")[0]
    form = dict(_HIDDEN.findall(answer.read().decode())) | {"kind": "remark", "remark": remark, "day": str(TODAY)}
    headers = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
    phone.request("POST", f"/B/{code}/entries", urlencode(form), headers)
