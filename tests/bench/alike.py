"""Whether a file holds the sheets that were asked for: `python alike.py JOB.json FILE.pdf` says so as JSON.

Looked at are the number of pages, and on the page in the middle: the QR codes, read from a picture of it, and the
texts that a grower looks for, as often as they should be there. `wrong` is empty when all is as it should be.
"""

import json
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import zxingcpp

DPI = 300


Job = dict[str, Any]


def sheets(job: Job) -> list[list[dict[str, Any]]]:
    """The sticks, or the tray, of every page there should be."""
    if "trays" in job:
        return [[tray] for tray in job["trays"]]
    sticks = [batch for batch in job["batches"] for _ in range(batch["count"])]
    labels = len(job["corners"])
    return [sticks[first : first + labels] for first in range(0, len(sticks), labels)]


def words(job: Job, page: list[dict[str, Any]]) -> Counter[str]:
    """The words of a page and how often they stand there: the batch codes, and the letters in the cells of a map."""
    if "batches" in job:
        return Counter(stick["lines"][1] for stick in page)
    looks = [look["letters"] for look in page[0]["looks"]]
    return Counter(looks[look] for look in page[0]["cells"]) + Counter(row[-1] for row in page[0]["legend"])


def wrongs(job: Job, file: Path) -> Iterator[str]:
    """What differs from what is meant."""
    document, meant = pypdfium2.PdfDocument(file), sheets(job)
    if len(document) != len(meant):
        yield f"{len(document)} pages, not {len(meant)}"
        return
    middle = len(meant) // 2
    page, codes = document[middle], {each["url"] for each in meant[middle]}
    picture = page.render(scale=DPI / 72).to_pil().convert("L")
    read = {code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)}
    if read != codes:
        yield f"{len(read & codes)} of {len(codes)} QR codes read"
    text = page.get_textpage().get_text_range()
    for word, times in words(job, meant[middle]).items():
        if text.count(word) < times:
            yield f"{text.count(word)} x {word}, not {times}"


if __name__ == "__main__":
    job = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    print(json.dumps({"wrong": "; ".join(wrongs(job, Path(sys.argv[2])))}))
