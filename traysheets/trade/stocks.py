"""Label stocks: what sticks are printed on. A sheet of adhesive labels, a roll, or card to be cut into stakes."""

from dataclasses import dataclass
from functools import cache

from traysheets.trade.tables import SLACK_MM, pair, read_table


@dataclass(frozen=True, slots=True)
class Stock:
    """A grid of labels on a page, all sizes (across, down) in millimetres as the page lies in the printer.

    `first_mm` is the left and top edge of the first label; `pitch_mm` from one label to the next. A roll is a page
    the size of its label. `point` is "none", or "right": a stake pointed at its right-hand end. `radius_mm` rounds
    the corners of a label. `cut` says that the page is plain card whose outlines must be printed to be cut along.
    """

    name: str
    title: str
    page_mm: tuple[float, float]
    label_mm: tuple[float, float]
    rows: int
    columns: int
    first_mm: tuple[float, float]
    pitch_mm: tuple[float, float]
    point: str = "none"
    radius_mm: float = 0.0
    cut: bool = False
    origin: str = ""
    built_in: bool = True

    @property
    def labels(self) -> int:
        """How many labels a page holds."""
        return self.rows * self.columns

    def corner_mm(self, label: int) -> tuple[float, float]:
        """Left and top edge of a label on its page, labels counted from 0 in reading order."""
        row, column = divmod(label, self.columns)
        return self.first_mm[0] + column * self.pitch_mm[0], self.first_mm[1] + row * self.pitch_mm[1]


@cache
def _table() -> dict[str, Stock]:
    return {row["name"]: _stock(row) for row in read_table("stocks")}


def _stock(row: dict[str, str]) -> Stock:
    return Stock(
        name=row["name"],
        title=row["title"],
        page_mm=pair(row, "page_width_mm", "page_height_mm"),
        label_mm=pair(row, "label_width_mm", "label_height_mm"),
        rows=int(row["rows"]),
        columns=int(row["columns"]),
        first_mm=pair(row, "first_left_mm", "first_top_mm"),
        pitch_mm=pair(row, "pitch_across_mm", "pitch_down_mm"),
        point=row["point"],
        radius_mm=float(row["radius_mm"]),
        cut=row["cut"] == "yes",
        origin=row["origin"],
    )


def built_in_stocks() -> dict[str, Stock]:
    """The stocks of `data/stocks.csv` by name, in its order."""
    return dict(_table())


def misfits(stock: Stock) -> tuple[str, ...]:
    """What cannot be right about a stock's sizes, a sentence each; empty when all labels lie apart and on the page."""
    sides = (
        ("across", "columns", "left", "right", stock.columns, 0),
        ("down", "rows", "top", "bottom", stock.rows, 1),
    )
    found = [text for side in sides for text in _side_misfits(stock, *side)]
    if stock.radius_mm > min(stock.label_mm) / 2 + SLACK_MM:
        found.append(f"corners rounded by {stock.radius_mm:g} mm are more than half the label")
    return tuple(found)


def _side_misfits(stock: Stock, way: str, lines: str, near: str, far: str, count: int, side: int) -> list[str]:
    """What does not fit along one side: labels over each other or over an edge of the page."""
    label, pitch, first, page = (pair[side] for pair in (stock.label_mm, stock.pitch_mm, stock.first_mm, stock.page_mm))
    found = []
    if count > 1 and label > pitch + SLACK_MM:
        found.append(f"labels of {label:g} mm every {pitch:g} mm {way} would overlap: the pitch is at least a label")
    if first < -SLACK_MM:
        found.append(f"the first label begins {-first:g} mm off the {near} of the page")
    end = first + (count - 1) * pitch + label
    if end > page + SLACK_MM:
        grid = f"{count} {lines} of labels reach" if count > 1 else "the label reaches"
        found.append(f"{grid} {end:g} mm {way}, {end - page:g} mm off the {far} of the page")
    return found
