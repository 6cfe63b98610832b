"""The sheets as one HTML page with CSS for print: what a browser or a library turns into PDF.

Written to be light for both, of the ways that were tried: places are absolute and in mm, the QR code of a batch is one
picture, a map is one picture in which the look of a cell is drawn once and used by reference, its hatch plain lines.
"""

from collections.abc import Iterator
from html import escape
from pathlib import Path

from contents import Contents, Plain

FONTS = Path(__file__).resolve().parents[3] / "fonts"
STYLE = """
@font-face {{ font-family: Sheet; src: url("{fonts}/NotoSans-Regular.ttf") }}
@font-face {{ font-family: Sheet; font-weight: bold; src: url("{fonts}/NotoSans-Bold.ttf") }}
@page {{ size: {width}mm {height}mm; margin: 0 }}
* {{ margin: 0; padding: 0 }}
body {{ font: 8pt/1.3 Sheet }}
section {{ position: relative; width: {width}mm; height: {height}mm; overflow: hidden; break-after: page }}
section:last-child {{ break-after: auto }}
svg {{ width: {width}mm; height: {height}mm; font-family: Sheet }}
div, b, p, img {{ position: absolute; white-space: nowrap }}
b {{ left: 3mm; top: 1mm; font-size: 16pt }}
img {{ left: 1mm; top: 10mm; width: 26mm; height: 26mm }}
p {{ left: 28mm; top: 11mm }}
"""


def html(contents: Contents) -> str:
    """The whole page for a job of sticks or of maps."""
    values = contents.values
    width, height = values["page"]
    style = STYLE.format(fonts=FONTS.as_uri(), width=width, height=height)
    body = _sticks(contents) if "batches" in values else _maps(contents)
    return f'<!DOCTYPE html><meta charset="utf-8"><title>Sheets</title><style>{style}</style>{"".join(body)}'


def write(contents: Contents, folder: Path) -> Path:
    """The page as a file in a folder, with its QR codes as pictures beside it."""
    for number, code in enumerate(contents.codes.values()):
        (folder / f"{number}.svg").write_text(code.svg, encoding="utf-8")
    page = folder / "page.html"
    page.write_text(html(contents), encoding="utf-8")
    return page


def _sticks(contents: Contents) -> Iterator[str]:
    """A page for as many sticks as the stock has labels."""
    corners, number = contents.values["corners"], {url: number for number, url in enumerate(contents.codes)}
    sticks = [batch for batch in contents.values["batches"] for _ in range(batch["count"])]
    for first in range(0, len(sticks), len(corners)):
        page = sticks[first : first + len(corners)]
        labels = (_stick(stick, number[stick["url"]], *at) for at, stick in zip(corners, page, strict=False))
        yield f"<section>{''.join(labels)}</section>"


def _stick(stick: Plain, code: int, left: float, top: float) -> str:
    return (
        f'<div style="left:{left:.2f}mm;top:{top:.2f}mm"><b>{escape(stick["name"])}</b>'
        f'<img src="{code}.svg"><p>{"<br>".join(map(escape, stick["lines"]))}</p></div>'
    )


def _maps(contents: Contents) -> Iterator[str]:
    """A page for every tray, as one picture in mm."""
    values = contents.values
    width, height = values["page"]
    hatches = [_hatch(**hatch) for hatch in values["hatches"]]
    frame = _frame(values)
    for number, tray in enumerate(values["trays"], 1):
        foot = _text(290, 203, f"page {number} of {len(values['trays'])}", 2.8, "end")
        parts = (
            *_looks(values, tray, hatches),
            *_head(contents, tray),
            frame,
            *_cells(values, tray),
            *_legend(values, tray),
            foot,
        )
        yield f'<section><svg viewBox="0 0 {width} {height}">{"".join(parts)}</svg></section>'


def _hatch(lines: list[list[float]], stroke: float) -> str:
    if not lines:
        return ""
    path = "".join(f"M{x1:.2f} {y1:.2f}L{x2:.2f} {y2:.2f}" for x1, y1, x2, y2 in lines)
    return f'<path d="{path}" stroke="#000" stroke-width="{stroke}" stroke-linecap="round"/>'


def _looks(values: Plain, tray: Plain, hatches: list[str]) -> Iterator[str]:
    """The look of each batch's cells, drawn once a page and used by its letters."""
    width, height = values["cell"]
    yield "<defs>"
    for look in tray["looks"]:
        yield (
            f'<g id="{look["letters"]}">'
            f"{_box(0, 0, width, height, 0.5, look['fill'], 0.25)}{hatches[look['hatch']]}"
            f"{_box(1.4, 2.8, width - 2.8, height - 5.6, 0.8, '#FFFFFF')}"
            f"{_text(width / 2, height / 2 + 0.9, look['letters'], 2.6, 'middle', bold=True)}</g>"
        )
    yield "</defs>"


def _cells(values: Plain, tray: Plain) -> Iterator[str]:
    for (left, top), look in zip(values["corners"], tray["cells"], strict=True):
        yield f'<use href="#{tray["looks"][look]["letters"]}" x="{left:.2f}" y="{top:.2f}"/>'


def _head(contents: Contents, tray: Plain) -> Iterator[str]:
    yield _text(7, 20, tray["title"], 13, bold=True) + _text(62, 20, tray["of"], 5)
    for line, text in enumerate(tray["head"]):
        yield _text(90, 11 + 5 * line, text, 4, bold=not line)
    code = contents.codes[tray["url"]]
    yield f'<path transform="translate(268 3) scale({22 / code.side:.4f})" d="{code.path}"/>'


def _frame(values: Plain) -> str:
    """The tray's outline and what stands about it, alike on every page."""
    left, top, width, height = values["outer"]
    across, down = (values["corners"][-1][axis] - values["corners"][0][axis] for axis in (0, 1))
    first, cell = values["corners"][0], values["cell"]
    parts = [
        _box(left, top, width, height, 2, "#F7F7F2", 0.5),
        f'<path d="M{left} {top}h9l-9 9z"/>',
        '<path d="M7 200v3h50v-3" fill="none" stroke="#000" stroke-width=".3"/>',
        _text(59, 203, f"50 mm   {values['scale']}   black corner = corner A1 of the tray", 2.8),
    ]
    for number, name in enumerate(values["columns"]):
        x = first[0] + cell[0] / 2 + across * number / (len(values["columns"]) - 1)
        parts.append(_text(x, top - 1.5, name, 3, "middle", bold=True))
    for number, name in enumerate(values["rows"]):
        y = first[1] + cell[1] / 2 + 1 + down * number / (len(values["rows"]) - 1)
        parts += (_text(x, y, name, 3, "middle", bold=True) for x in (left - 3, left + width + 3))
    return "".join(parts)


def _legend(values: Plain, tray: Plain) -> Iterator[str]:
    top, columns = values["legend_top"], values["legend_columns"]
    yield "".join(_text(x, top, heading, 2.8) for x, heading in zip(columns, values["headings"], strict=True))
    for row, (texts, look) in enumerate(zip(tray["legend"], tray["looks"], strict=True)):
        y = top + 2 + 10 * row
        yield f'<use href="#{look["letters"]}" x="{columns[0]}" y="{y:.2f}"/>'
        for column, (x, text) in enumerate(zip(columns[1:], texts, strict=True)):
            yield _text(x, y + 6, text, 4, bold=column < 2)


def _box(x: float, y: float, width: float, height: float, radius: float, fill: str, stroke: float = 0) -> str:
    edge = f' stroke="#000" stroke-width="{stroke}"' if stroke else ""
    place = f'x="{x}" y="{y}" width="{width:.2f}" height="{height:.2f}" rx="{radius}"'
    return f'<rect {place} fill="{fill}"{edge}/>'


def _text(x: float, y: float, text: str, size: float, anchor: str = "start", *, bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    place = f' text-anchor="{anchor}"' if anchor != "start" else ""
    return f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}"{place}{weight}>{escape(text)}</text>'
