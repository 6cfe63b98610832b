"""The sheets by a typesetter: `python with_typst.py JOB.json OUT.pdf`.

Its packages for QR codes come over the network, so the codes are given to it as SVG pictures. The PDF is untagged, as
the other tools' are.
"""

import json
import shutil
import sys
import tempfile
from pathlib import Path

import typst
from contents import Contents, read, tell

HERE = Path(__file__).parent
FONTS = HERE.parents[2] / "fonts"


def compile_in(folder: Path, contents: Contents, target: str) -> None:
    """Put what the template reads beside it and compile it."""
    pictures = {url: f"{number}.svg" for number, url in enumerate(contents.codes)}
    for url, code in contents.codes.items():
        (folder / pictures[url]).write_text(code.svg, encoding="utf-8")
    for each in (*contents.values.get("batches", ()), *contents.values.get("trays", ())):
        each["picture"] = pictures[each["url"]]
    (folder / "job.json").write_text(json.dumps(contents.values), encoding="utf-8")
    shutil.copy(HERE / ("sticks.typ" if "batches" in contents.values else "maps.typ"), folder / "sheets.typ")
    fonts = {"font_paths": [FONTS], "ignore_system_fonts": True}
    typst.compile(folder / "sheets.typ", output=target, pdf_tags=False, **fonts)


if __name__ == "__main__":
    job = read(sys.argv[1])
    with tempfile.TemporaryDirectory() as name:
        compile_in(Path(name), job, sys.argv[2])
    tell(job)
