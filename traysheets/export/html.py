"""Record pages as HTML that opens from a folder, a web server or a phone, with nothing from outside and no script.

Decides nothing: what stands on a page, in which words and order, is the record's own. Here are escaping, addresses and
the shape of HTML. Text and values are escaped by the template engine, pictures by `svg.py`.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from itertools import count
from pathlib import Path
from typing import BinaryIO

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from traysheets.export.svg import svg
from traysheets.page.fonts import remembered
from traysheets.page.marks import Page
from traysheets.page.record import Picture, RecordPage

STYLE = "style.css"
_FOLDER = Path(__file__).parent / "templates"


def record_files(records: Iterable[RecordPage]) -> Iterator[tuple[str, Callable[[BinaryIO], object]]]:
    """The files of the records by path below their folder, each with its writer; the pages are taken one at a time."""
    yield STYLE, lambda file: file.write(stylesheet().encode())
    for record in records:
        yield record.file, partial(_write, record)


def _write(record: RecordPage, file: BinaryIO) -> None:
    file.write(render(record).encode())


def stylesheet() -> str:
    """The one style sheet that all pages share."""
    return (_FOLDER / STYLE).read_text(encoding="utf-8")


def render(record: RecordPage, depth: int | None = None) -> str:
    """The page as HTML. `depth` is how many folders below the root of the records it stands, by its path when None."""
    if depth is None:
        depth = record.path.count("/") + 1 if record.path else 0
    root = "../" * depth

    def href(path: str) -> str:
        return f"{root}{path}/index.html" if path else f"{root}index.html"

    return _rendered("record.html", record, _Marks(record), href, root)


@dataclass(frozen=True, slots=True)
class Inside:
    """What a record page shows below its head, and the small picture in its head, to be set into another page."""

    sections: str
    look: str


def render_inside(record: RecordPage) -> Inside:
    """The inside of a page as HTML, for a server of pages: links lead to `/` and the path of a record."""
    marks = _Marks(record)
    sections = _rendered("record_inside.html", record, marks, lambda path: f"/{path}", "/")
    return Inside(sections, str(marks.use(record.mark)))


def _rendered(name: str, record: RecordPage, marks: "_Marks", href: Callable[[str], str], root: str) -> str:
    pictures = count(1)

    def drawing(picture: Picture) -> Markup:
        return Markup(svg(picture.page, describe=picture.text, prefix=f"p{next(pictures)}"))

    return _template(name).render(
        record=record, root=root, href=href, drawing=drawing, mark=marks.use, looks=marks.drawn_once
    )


@cache
def _template(name: str) -> Template:
    environment = Environment(
        loader=FileSystemLoader(_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        auto_reload=False,
    )
    return environment.get_template(name)


@remembered(maxsize=1024)
def _drawn(mark: Page, name: str) -> str:
    """A small picture under a name. The same ones stand in page after page."""
    return f'<g id="{name}">{svg(mark, describe="", css_class="", prefix=name)}</g>'


class _Marks:
    """The small pictures of a page: each drawn once, at its head, and used wherever it is shown.

    They are told apart by identity, as whoever makes a record hands over the same picture for the same look.
    """

    def __init__(self, record: RecordPage) -> None:
        shown = [record.mark, *(item.mark for section in record.sections for item in section.items)]
        pages = {id(page): page for page in shown if page is not None}
        self._pages = {key: (f"m{number}", page) for number, (key, page) in enumerate(pages.items(), 1)}

    def drawn_once(self) -> Markup:
        """Where they are drawn, seen by nobody."""
        if not self._pages:
            return Markup()
        drawn = "".join(_drawn(page, name) for name, page in self._pages.values())
        return Markup(f'<svg class="unseen" aria-hidden="true" width="0" height="0"><defs>{drawn}</defs></svg>')

    def use(self, page: Page | None) -> Markup:
        """One of them shown; the letters beside it say the same to those who do not see it."""
        if page is None:
            return Markup()
        name = self._pages[id(page)][0]
        box = f"0 0 {page.width_mm:g} {page.height_mm:g}"
        return Markup(f'<svg class="mark" viewBox="{box}" aria-hidden="true"><use href="#{name}"/></svg>')
