"""How many cells an amount fills, and how many seeds are set aside beside those sown. Cells are whole, always."""

from traysheets.plan.model import Sowing, Wanted
from traysheets.reckon.rate import Rate
from traysheets.reckon.rounding import up


def spare_seeds(sown: int, spare: float) -> int:
    """Seeds set aside beside so many sown: that fraction of them, rounded up to a whole seed."""
    return up(sown * spare)


def whole_cells(seeds: int, per_cell: int, spare: float) -> int:
    """How many whole cells so many seeds fill when the spare is to come out of them too."""

    def taken(cells: int) -> int:
        return cells * per_cell + spare_seeds(cells * per_cell, spare)

    cells = int(seeds / (per_cell * (1 + spare))) + 1
    while cells and taken(cells) > seeds:
        cells -= 1
    return cells


def cells_wanted(sowing: Sowing, rate: Rate) -> int:
    """The cells an amount comes to: as given, of whole trays, for the plants wanted, or filled by the seeds."""
    number = sowing.amount.number
    match sowing.amount.wanted:
        case Wanted.CELLS:
            return number
        case Wanted.TRAYS:
            return number * sowing.tray.cells
        case Wanted.PLANTS:
            return rate.stand.cells_for(number, sowing.confidence)
        case Wanted.SEEDS:  # pragma: no branch - nothing else can be wanted
            return whole_cells(number, rate.seeds_per_cell.value, sowing.spare)


def seeds_left(sowing: Sowing, set_out: int) -> int:
    """Seeds of an amount in seeds that filled no cell; 0 for every other amount."""
    return sowing.amount.number - set_out if sowing.amount.wanted is Wanted.SEEDS else 0
