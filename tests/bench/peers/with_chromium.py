"""The sheets by a browser without a window: `python with_chromium.py JOB.json OUT.pdf`.

The PDF is untagged, as the other tools' are: tags make it several times as large.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

from contents import read, tell
from in_html import write

FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--disable-pdf-tagging")

if __name__ == "__main__":
    contents = read(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        page = write(contents, Path(folder))
        asked = (f"--user-data-dir={folder}/profile", f"--print-to-pdf={sys.argv[2]}", page.as_uri())
        subprocess.run(["chromium", *FLAGS, *asked], check=True, capture_output=True)
    tell(contents)
