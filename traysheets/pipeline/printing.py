"""The page to measure a printer by, which takes no plan."""

from functools import partial
from pathlib import Path

from traysheets.base.words import words_for
from traysheets.export.files import may_write, write_one
from traysheets.export.pdf import write_pdf
from traysheets.page.marks import Document
from traysheets.pipeline.options import LETTER_FAMILY
from traysheets.sheets.printer_check import printer_pages
from traysheets.trade.papers import PAPERS


def printer_check(file: Path, paper: str, language: str = "en", *, force: bool = False) -> None:
    """Write the page that shows what a printer makes of lengths, on a paper of `PAPERS`.

    Raises TraysheetsError when there are no words for the language, or the file is there already and `force` is not
    given; nothing is then written.
    """
    words = words_for(language.casefold())
    may_write([file], force)
    pages = printer_pages(PAPERS[paper], words, "inch" if paper in LETTER_FAMILY else "metric")
    write_one(file, partial(write_pdf, Document(words("titles.printer"), pages, language=words.language)))
