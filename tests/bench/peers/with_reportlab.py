"""The sheets by a script on a PDF library: `python with_reportlab.py JOB.json OUT.pdf`.

A stick and the look of a cell are forms, drawn once and placed often. Lengths are turned into points by a scale of the
page, and y is counted from its top.
"""

import sys
from pathlib import Path

from contents import Code, Contents, Plain, read, tell
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FONTS = Path(__file__).resolve().parents[3] / "fonts"
POINT_MM = 25.4 / 72


class Sheets:
    """A job being drawn."""

    def __init__(self, contents: Contents, target: str) -> None:
        for face in ("Regular", "Bold"):
            pdfmetrics.registerFont(TTFont(face, FONTS / f"NotoSans-{face}.ttf"))
        self.contents, self.values = contents, contents.values
        self.width, self.height = self.values["page"]
        self.canvas = Canvas(target, (self.width * mm, self.height * mm), pageCompression=1, initialFontName="Regular")

    def save(self) -> None:
        """Draw all pages."""
        self.sticks() if "batches" in self.values else self.maps()
        self.canvas.save()

    def say(self, x: float, y: float, text: str, size: float, anchor: str = "start", *, bold: bool = False) -> None:
        """A text on its base line; sizes in mm."""
        self.canvas.setFont("Bold" if bold else "Regular", size)
        draw = {
            "start": self.canvas.drawString,
            "middle": self.canvas.drawCentredString,
            "end": self.canvas.drawRightString,
        }
        draw[anchor](x, self.height - y, text)

    def place(self, form: str, x: float, y: float) -> None:
        """A form with its top left corner there."""
        self.canvas.saveState()
        self.canvas.translate(x, -y)
        self.canvas.doForm(form)
        self.canvas.restoreState()

    def box(self, x: float, y: float, width: float, height: float, radius: float, fill: str, stroke: float = 0) -> None:
        """A rounded rectangle."""
        self.canvas.setFillColor(fill)
        self.canvas.setLineWidth(stroke)
        self.canvas.roundRect(x, self.height - y - height, width, height, radius, stroke=int(stroke > 0), fill=1)
        self.canvas.setFillColor("#000000")

    def code(self, code: Code, x: float, y: float, side: float) -> None:
        """A QR code as one path."""
        unit, path = side / code.side, self.canvas.beginPath()
        for left, top, width in code.runs:
            path.rect(x + left * unit, self.height - y - (top + 1) * unit, width * unit, unit)
        self.canvas.drawPath(path, stroke=0, fill=1)

    def begin_form(self, name: str) -> None:
        """A form on the grid of the page."""
        self.canvas.beginForm(name, 0, -self.height, self.width, 2 * self.height)

    def begin_page(self) -> None:
        """A page in mm."""
        self.canvas.scale(mm, mm)

    # ---- sticks ----

    def sticks(self) -> None:
        """A page for as many sticks as the stock has labels."""
        corners, batches = self.values["corners"], self.values["batches"]
        for batch in batches:
            self.stick(batch)
        sticks = [batch for batch in batches for _ in range(batch["count"])]
        for first in range(0, len(sticks), len(corners)):
            self.begin_page()
            for at, stick in zip(corners, sticks[first : first + len(corners)], strict=False):
                self.place(stick["url"], *at)
            self.canvas.showPage()

    def stick(self, batch: Plain) -> None:
        """One batch's stick as a form."""
        self.begin_form(batch["url"])
        self.say(3, 7.5, batch["name"], 16 * POINT_MM, bold=True)
        self.code(self.contents.codes[batch["url"]], 1, 10, 26)
        for line, text in enumerate(batch["lines"]):
            self.say(28, 14 + 3.7 * line, text, 8 * POINT_MM)
        self.canvas.endForm()

    # ---- maps ----

    def maps(self) -> None:
        """A page for every tray."""
        self.frame()
        for number, tray in enumerate(self.values["trays"], 1):
            for look in tray["looks"]:
                self.look(look)
            self.begin_page()
            self.head(tray)
            self.place("frame", 0, 0)
            for at, look in zip(self.values["corners"], tray["cells"], strict=True):
                self.place(tray["looks"][look]["letters"], *at)
            self.legend(tray)
            self.say(290, 203, f"page {number} of {len(self.values['trays'])}", 2.8, "end")
            self.canvas.showPage()

    def look(self, look: Plain) -> None:
        """The look of a batch's cells as a form."""
        width, height = self.values["cell"]
        hatch = self.values["hatches"][look["hatch"]]
        self.begin_form(look["letters"])
        self.box(0, 0, width, height, 0.5, look["fill"], 0.25)
        self.canvas.setLineWidth(hatch["stroke"])
        self.canvas.setLineCap(1)
        self.canvas.lines([(x1, self.height - y1, x2, self.height - y2) for x1, y1, x2, y2 in hatch["lines"]])
        self.box(1.4, 2.8, width - 2.8, height - 5.6, 0.8, "#FFFFFF")
        self.say(width / 2, height / 2 + 0.9, look["letters"], 2.6, "middle", bold=True)
        self.canvas.endForm()

    def frame(self) -> None:
        """The tray's outline and what stands about it as a form, alike on every page."""
        left, top, width, height = self.values["outer"]
        self.begin_form("frame")
        self.box(left, top, width, height, 2, "#F7F7F2", 0.5)
        path = self.canvas.beginPath()
        for number, (x, y) in enumerate(((left, top), (left + 9, top), (left, top + 9))):
            (path.lineTo if number else path.moveTo)(x, self.height - y)
        self.canvas.drawPath(path, stroke=0, fill=1)
        self.canvas.setLineWidth(0.3)
        base = self.height - 203
        self.canvas.lines([(7, base + 3, 7, base), (7, base, 57, base), (57, base, 57, base + 3)])
        self.say(59, 203, f"50 mm   {self.values['scale']}   black corner = corner A1 of the tray", 2.8)
        self.names()
        for x, heading in zip(self.values["legend_columns"], self.values["headings"], strict=True):
            self.say(x, self.values["legend_top"], heading, 2.8)
        self.canvas.endForm()

    def names(self) -> None:
        """The letters of the rows and the numbers of the columns."""
        left, top, width, _ = self.values["outer"]
        cell, columns = self.values["cell"], self.values["columns"]
        for column, name in enumerate(columns):
            x = self.values["corners"][column][0] + cell[0] / 2
            self.say(x, top - 1.5, name, 3, "middle", bold=True)
        for row, name in enumerate(self.values["rows"]):
            y = self.values["corners"][row * len(columns)][1] + cell[1] / 2 + 1
            for x in (left - 3, left + width + 3):
                self.say(x, y, name, 3, "middle", bold=True)

    def head(self, tray: Plain) -> None:
        """Which tray it is, what goes in, and its QR code."""
        self.say(7, 20, tray["title"], 13, bold=True)
        self.say(62, 20, tray["of"], 5)
        for line, text in enumerate(tray["head"]):
            self.say(90, 11 + 5 * line, text, 4, bold=not line)
        self.code(self.contents.codes[tray["url"]], 268, 3, 22)

    def legend(self, tray: Plain) -> None:
        """A row a batch: its look, then what to sow."""
        columns = self.values["legend_columns"]
        for row, (texts, look) in enumerate(zip(tray["legend"], tray["looks"], strict=True)):
            y = self.values["legend_top"] + 2 + 10 * row
            self.place(look["letters"], columns[0], y)
            for column, (x, text) in enumerate(zip(columns[1:], texts, strict=True)):
                self.say(x, y + 6, text, 4, bold=column < 2)


if __name__ == "__main__":
    job = read(sys.argv[1])
    Sheets(job, sys.argv[2]).save()
    tell(job)
