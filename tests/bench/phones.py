"""Twenty phones at once: each looks batches up and sends every tenth time the form it was shown.

`python phones.py HOST PORT REQUESTS CODE...` prints the seconds of every request as JSON.
"""

import http.client
import json
import re
import sys
import threading
import time
from urllib.parse import urlencode

PHONES = 20
_FIELD = re.compile(r'name="(token|key|day)"[^>]*?value="([^"]*)"')


def phone(host: str, port: int, requests: int, codes: list[str], took: list[float]) -> None:
    """One phone's requests, one after the other, over one connection."""
    connection = http.client.HTTPConnection(host, port, timeout=60)
    cookie, fields = "", list[tuple[str, str]]()
    for number in range(requests):
        path, body = f"/B/{codes[number % len(codes)]}", None
        if number % 10 == 9:
            path, body = f"{path}/entries", urlencode(dict(fields) | {"kind": "remark", "remark": "seen"})
        headers = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
        start = time.perf_counter()
        connection.request("POST" if body else "GET", path, body, headers)
        answer = connection.getresponse()
        page = answer.read().decode()
        took.append(time.perf_counter() - start)
        assert answer.status == (303 if body else 200), (answer.status, path)
        cookie = (answer.getheader("Set-Cookie") or cookie).partition(";")[0]
        if not body:
            fields = _FIELD.findall(page[page.index('class="entry"') :])
    connection.close()


def main(host: str, port: int, requests: int, codes: list[str]) -> None:
    """All phones at once."""
    took: list[float] = []
    own = [codes[number:] + codes[:number] for number in range(PHONES)]
    threads = [
        threading.Thread(target=phone, args=(host, port, requests // PHONES, own[number], took))
        for number in range(PHONES)
    ]
    start = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(took) == requests
    print(
        json.dumps(
            {"seconds": time.perf_counter() - start, "slowest": max(took), "median": sorted(took)[requests // 2]}
        )
    )


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4:])
