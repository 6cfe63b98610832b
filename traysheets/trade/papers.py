"""Sheets of paper and drawing scales, from the standards that fix them."""

from dataclasses import dataclass

from traysheets.trade.tables import read_table


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, portrait: short side `width_mm`, long side `height_mm`."""

    name: str
    title: str
    width_mm: float
    height_mm: float
    origin: str = ""


def _papers() -> dict[str, Paper]:
    return {
        row["name"]: Paper(
            row["name"], row["title"], float(row["width_mm"]), float(row["height_mm"]), origin=row["origin"]
        )
        for row in read_table("papers")
    }


PAPERS: dict[str, Paper] = _papers()

# Named scales, largest first: how many millimetres on paper a millimetre of the tray takes.
SCALES: dict[str, float] = {row["scale"]: 1 / float(row["divided_by"]) for row in read_table("scales")}
