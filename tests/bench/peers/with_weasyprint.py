"""The sheets by an HTML-to-PDF library: `python with_weasyprint.py JOB.json OUT.pdf`."""

import sys
import tempfile
from pathlib import Path

from contents import read, tell
from in_html import write
from weasyprint import HTML

if __name__ == "__main__":
    contents = read(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        HTML(filename=write(contents, Path(folder))).write_pdf(sys.argv[2])
    tell(contents)
