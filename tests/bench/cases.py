"""The cases measured: each does one job and tells its seconds, and the bytes or the memory it took.

`python cases.py NAME` runs one and prints JSON. Making the plan is not counted, unless it is what is measured.
"""

import io
import json
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from importlib import import_module
from typing import Any

from traysheets.base.collecting import collect_seldom

Result = dict[str, float]


def timed(work: Callable[[], int]) -> Result:
    """Seconds and bytes of a piece of work, and the most memory the whole process ever held.

    Waste is collected as seldom as when the command makes sheets, by whichever tool the work is done.
    """
    collect_seldom()
    start, cpu_start = time.perf_counter(), time.process_time()
    size = work()
    seconds, cpu_seconds = time.perf_counter() - start, time.process_time() - cpu_start
    return {
        "seconds": seconds,
        "cpu_seconds": cpu_seconds,
        "bytes": size,
        "mib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def _sticks(batches: int, each: int) -> Result:
    from jobs import job, plan_text

    from traysheets.export.pdf import write_pdf
    from traysheets.page.marks import Document
    from traysheets.sheets.sticks import stick_pages

    ready = job(plan_text(batches, sticks=each))

    def draw() -> int:
        file = io.BytesIO()
        write_pdf(Document("Sticks", stick_pages(ready)), file)
        return file.tell()

    return timed(draw)


def sticks_3000() -> Result:
    """3,000 sticks of 100 batches as a PDF."""
    return _sticks(100, 30)


def qr_100() -> Result:
    """What cannot be done without: encoding the same 100 texts with the library alone."""
    import qrcode

    def encode() -> int:
        for number in range(100):
            code = qrcode.QRCode(error_correction=qrcode.ERROR_CORRECT_M, border=0)
            code.add_data(f"HTTPS://RECORDS.EXAMPLE.ORG/B/27-{number:03d}-K")
            code.make(fit=True)
            code.get_matrix()
        return 0

    return timed(encode)


def segno_100() -> Result:
    """The same with the library that the other tools are given their codes by."""
    import segno

    def encode() -> int:
        for number in range(100):
            segno.make(f"HTTPS://RECORDS.EXAMPLE.ORG/B/27-{number:03d}-K", error="m", micro=False)
        return 0

    return timed(encode)


def _maps_300(batches: int) -> Result:
    """300 maps of 200-cell trays, as a PDF."""
    from jobs import job, plan_text

    from traysheets.export.pdf import write_pdf
    from traysheets.page.marks import Document
    from traysheets.sheets.maps import map_pages

    ready = job(plan_text(batches, cells=60_000 // batches, tray="cell-200", days=10))
    assert len(ready.trays) == 300

    def draw() -> int:
        file = io.BytesIO()
        write_pdf(Document("Maps", map_pages(ready)), file)
        return file.tell()

    return timed(draw)


def maps_300() -> Result:
    """A batch a tray."""
    return _maps_300(300)


def mixed_maps_300() -> Result:
    """Four batches a tray."""
    return _maps_300(1200)


def bare_maps_300() -> Result:
    """The bare part of the same job on reportlab alone: 200 placed forms and 20 texts a page, no code, no legend."""
    from reportlab.pdfgen.canvas import Canvas

    def draw() -> int:
        file = io.BytesIO()
        canvas = Canvas(file, pagesize=(841.9, 595.3), pageCompression=1, invariant=1)
        for form in range(4):
            canvas.beginForm(f"cell{form}", 0, 0, 32, 32)
            canvas.rect(1, 1, 30, 30)
            canvas.drawString(8, 10, f"V{form}")
            canvas.endForm()
        for page in range(300):
            for cell in range(200):
                canvas.saveState()
                canvas.translate(60 + cell % 20 * 36.5, 480 - cell // 20 * 37)
                canvas.doForm(f"cell{cell // 50}")
                canvas.restoreState()
            for line in range(20):
                canvas.drawString(40, 40 + line * 4, f"page {page} line {line}")
            canvas.showPage()
        canvas.save()
        return file.tell()

    return timed(draw)


def proof_sticks() -> Result:
    """Making 3,000 sticks from the plan, with the processors' time that proofs took of it."""
    from jobs import plan_text

    return _with_proofs(plan_text(100, sticks=30), "sticks")


def proof_maps() -> Result:
    """Making 300 maps, four batches a tray."""
    from jobs import plan_text

    return _with_proofs(plan_text(1200, cells=50, tray="cell-200"), "maps")


def _with_proofs(text: str, sheet: str) -> Result:
    """Making a sheet in this process, every proof of the layout and of the pages timed as it is called."""
    import tempfile
    from datetime import date
    from pathlib import Path

    from traysheets.pipeline.making import make
    from traysheets.pipeline.options import Options

    spent = [0.0]
    for name in ("traysheets.arrange.arrange", "traysheets.export.pdf"):
        module: Any = import_module(name)
        module.prove = _clocked(module.prove, spent)
    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "measured.toml"
        plan.write_text(text, encoding="utf-8")
        options = Options(plan, only=(sheet,), stock="a4-21", jobs=1)
        result = timed(lambda: len(make(options, today=date(2027, 1, 15)).files))
    return result | {"proof": spent[0]}


def _clocked(work: Callable[..., None], spent: list[float]) -> Callable[..., None]:
    """The same work, its seconds added up."""

    def clocked(*given: object) -> None:
        start = time.process_time()
        work(*given)
        spent[0] += time.process_time() - start

    return clocked


def arrange_5000() -> Result:
    """Arranging 5,000 sowings of uneven sizes."""
    from jobs import plan_text

    from traysheets.arrange.arrange import arrange
    from traysheets.plan.read import plan_from_toml
    from traysheets.reckon.reckon import reckon

    parts = [plan_text(100, cells=3 + 7 * size % 90, tray="cell-72", days=20) for size in range(50)]
    text = parts[0] + "".join(part[part.index("[[sowing]]") :] for part in parts[1:])
    reckoned = reckon(plan_from_toml(text, "measured.toml"))
    return timed(lambda: len(arrange(reckoned).trays))


def serve_1000() -> Result:
    """1,000 requests of 20 phones at once, a tenth of them entries, to a server of 100 batches on loopback."""
    import tempfile
    import threading
    from datetime import UTC, date, datetime
    from pathlib import Path

    from jobs import plan_text

    from traysheets.bench_site import site_of
    from traysheets.pipeline.making import make
    from traysheets.pipeline.options import Options
    from traysheets.serve.access import Access
    from traysheets.serve.app import create_app
    from traysheets.serve.passphrase import Secrets
    from traysheets.serve.running import Server

    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "measured.toml"
        plan.write_text(plan_text(100), encoding="utf-8")
        make(Options(plan=plan, only=("records",)), today=date(2027, 2, 1))
        site = site_of(plan, None, None, lambda: datetime(2027, 3, 1, tzinfo=UTC), time.monotonic)
        server = Server(create_app(site, Access(Secrets())), "127.0.0.1", 0)
        threading.Thread(target=server.run, daemon=True).start()
        codes = [account.batch.code for account in site.accounts()]
        command = [sys.executable, "phones.py", "127.0.0.1", str(server.port), "1000", *codes]
        phones: Result = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    return phones | {
        "cpu_seconds": time.process_time(),
        "mib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


if __name__ == "__main__":
    print(json.dumps(globals()[sys.argv[1]]()))
