"""A small reader of HTML for tests: it refuses what is not well-formed, and gives the page as a tree."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

# Void elements: HTML Living Standard, 13.1.2 "Elements".
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


class HtmlError(Exception):
    """HTML that is not well-formed."""


@dataclass
class Element:
    """An element: its name, attributes, text in all, and those inside it."""

    name: str
    attributes: dict[str, str]
    text: str = ""
    children: list["Element"] = field(default_factory=list)

    def all(self, *names: str) -> list["Element"]:
        """The elements of these names inside it, in order; of any name when none is given."""
        found = []
        for child in self.children:
            if not names or child.name in names:
                found.append(child)
            found += child.all(*names)
        return found


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open = [Element("", {})]
        self.declared = ""

    def handle_decl(self, decl: str) -> None:
        self.declared = decl

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_startendtag(tag, attrs)
        if tag not in VOID:
            self.open.append(self.open[-1].children[-1])

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        if len(set(names)) < len(names):
            raise HtmlError(f"<{tag}> says an attribute twice: {names}")
        self.open[-1].children.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if len(self.open) < 2 or self.open[-1].name != tag:
            raise HtmlError(f"</{tag}> at {self.getpos()} does not close <{self.open[-1].name}>")
        self.open.pop()

    def handle_data(self, data: str) -> None:
        for element in self.open:
            element.text += data


def read_html(text: str) -> Element:
    """The document as a tree. Raises HtmlError when elements do not close in order or the page has no doctype."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    if len(reader.open) > 1:
        raise HtmlError(f"<{reader.open[-1].name}> is never closed")
    if reader.declared.lower() != "doctype html":
        raise HtmlError("the page has no doctype")
    return reader.open[0]
